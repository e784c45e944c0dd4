//! How a figure is asked for: size, ground, title and caption.

use crate::pages::origin::asked;
use crate::sheet::drawing::{DrawError, Drawing};
use crate::sheet::palette::Theme;
use crate::words::reading::setting;
use slipsoak_engine::document::Head;
use slipsoak_engine::parts::Confidence;
use slipsoak_engine::record::Record;

/// Size of a figure, px.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// width, px
    pub width: u32,
    /// least height, px; a figure is as tall as its panels and rows need
    pub height: u32,
}

impl Default for Size {
    fn default() -> Self {
        Self { width: 960, height: 600 }
    }
}

/// How a figure is to look.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// size
    pub size: Size,
    /// light or dark ground
    pub theme: Theme,
    /// in place of the study's title
    pub title: Option<String>,
    /// in place of the assumptions under the note; empty for none
    pub caption: Option<String>,
    /// times of the duty at which the cutaway is shown, s; none for its moments
    pub at: Vec<f64>,
}

/// Width up to which a figure is one for a column of print, px.
const COLUMN: u32 = 720;
/// Width for which such a figure is laid out, px: 80 mm wide it has letters of 6 pt and more.
pub const LAID: u32 = 420;
/// Its least height, px.
const LOW: u32 = 320;

/// Constants that a result leans on: setting, symbol, unit, and the unit's number in one SI unit.
const LEANS: [(&str, &str, &str, f64); 5] = [
    ("oiling.leak", "λ", "/h", 3600.0),
    ("lining.wear", "w", " mm³/MJ", 1e15),
    ("washer.wear_oiled", "k_w", " m²/N", 1.0),
    ("bushing.wear_dry", "k_b", " m²/N", 1.0),
    ("lining.contact", "h", " W/m²K", 1.0),
];

impl Look {
    /// Draws on the ground that was asked for. A figure for a column is laid out for one, whatever its width, and shown larger or
    /// smaller, so that its letters are of one size in print.
    pub(crate) fn laid_out(
        &self,
        draw: impl FnOnce(&Self) -> Result<Drawing, DrawError>,
    ) -> Result<Drawing, DrawError> {
        let width = self.size.width;
        if !(320..=COLUMN).contains(&width) {
            return Ok(draw(self)?.on(self.theme));
        }
        let size = Size { width: LAID, height: self.size.height.min(LOW) };
        Ok(draw(&Self { size, ..self.clone() })?.on(self.theme).shown(width))
    }

    /// Whether the figure is one for a column: labels and panels stand below one another.
    pub(crate) fn narrow(&self) -> bool {
        self.size.width <= LAID
    }

    /// The title that was asked for, or else the figure's own.
    pub(crate) fn titled(&self, own: impl FnOnce() -> String) -> String {
        self.title.clone().unwrap_or_else(own)
    }

    /// The title that was asked for, or else what the study asks.
    pub(crate) fn asked(&self, head: &Head) -> String {
        self.titled(|| asked(head))
    }

    /// The note under a figure that has no caption of its own, with the one that was asked for.
    pub(crate) fn under(&self, note: &str) -> String {
        self.caption.as_ref().map_or_else(|| note.to_owned(), |caption| format!("{note}\n{caption}"))
    }

    /// The note under a figure with the caption below it.
    pub(crate) fn note(&self, record: &Record, note: &str) -> String {
        let caption = self.caption.clone().unwrap_or_else(|| caption(record));
        format!("{note}\n{caption}")
    }
}

/// Where the numbers come from and the constants that they lean on, in symbols: ≈ is assumed, = is not.
fn caption(record: &Record) -> String {
    let hash: String = record.head.script_hash.chars().take(8).collect();
    let source = [record.head.program.as_str(), &record.head.script, &hash].map(str::trim);
    let mut words: Vec<String> = source.into_iter().filter(|w| !w.is_empty()).map(str::to_owned).collect();
    words.extend(LEANS.iter().filter_map(|lean| constant(record, lean)));
    words.join(" · ")
}

/// A constant over all runs: `λ ≈ 0.1/h`, or from least to most where runs differ.
fn constant(record: &Record, (path, symbol, unit, per): &(&str, &str, &str, f64)) -> Option<String> {
    let values: Vec<f64> = record.runs.iter().filter_map(|run| setting(run, path)).map(|v| v * per).collect();
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !(least.is_finite() && most.is_finite()) {
        return None;
    }
    let assumed = record.runs[0].settings.iter().any(|s| s.path == *path && s.confidence == Confidence::Assumed);
    let sign = if assumed { '≈' } else { '=' };
    let value = if least == most { short(least) } else { format!("{}…{}", short(least), short(most)) };
    Some(format!("{symbol} {sign} {value}{unit}"))
}

/// Two digits that count.
fn short(value: f64) -> String {
    if value == 0.0 || (0.01..1e4).contains(&value.abs()) {
        let places = (1.0 - value.abs().max(0.01).log10().floor()).clamp(0.0, 4.0) as usize;
        let text = format!("{value:.places$}");
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    } else {
        format!("{value:.0e}")
    }
}
