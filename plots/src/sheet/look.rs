//! Requested look of a figure: size, background, title and caption.

use crate::sheet::axis::extent;
use crate::sheet::tone::Theme;
use crate::sheet::when::When;
use crate::words::number::{figures, power};
use slipsoak_engine::parts::settings::{bushing, lining, oiling, washer};
use slipsoak_engine::parts::{Confidence, Parameter, lining_set};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// Size of a figure, px.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// width, px
    pub width: u32,
    /// smallest height, px; a figure grows with its panels and rows
    pub height: u32,
}

impl Default for Size {
    fn default() -> Self {
        Self { width: 960, height: 600 }
    }
}

/// Look of a figure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// size
    pub size: Size,
    /// light or dark background
    pub theme: Theme,
    /// whether a drawing by itself shows °F in place of °C
    pub fahrenheit: bool,
    /// title that replaces the figure's own; empty for none
    pub title: Option<String>,
    /// caption that replaces the assumptions under the note; empty for neither
    pub caption: Option<String>,
    /// times of the pictures of the clutch; empty for the recorded moments
    pub at: Vec<When>,
    /// start of figures over time; none for that of the run
    pub from: Option<When>,
    /// end of figures over time; none for that of the run
    pub to: Option<When>,
    /// names of the runs, machines or duties that figures of panels show; empty for the longest-lived, the reference and
    /// the shortest-lived
    pub of: Vec<String>,
}

/// Largest width of a figure for a printed column, px.
const COLUMN: u32 = 720;
/// Width for the layout of such a figure, px: printed 80 mm wide, its letters are at least 6 pt.
const LAID: u32 = 420;
/// Smallest height of such a figure, px.
const LOW: u32 = 320;

/// Heads of constants in a caption: of an assumed default, of a value that the machine sets, and of one that a calibration learned.
const ASSUMED: &str = "Assumed";
const SET: &str = "Set";
const LEARNED: &str = "Learned";
/// Relative difference below which a value counts as its default.
const SAME: f64 = 1e-9;

/// Constants listed in a caption: setting, unit, and its conversion from SI.
static CONSTANTS: [(&Parameter, &str, f64); 5] = [
    (&oiling::leak, "/h", HOUR),
    (&lining::wear, " mm³/MJ", 1e15),
    (&washer::wear_oiled, " mm³/(N·m)", 1e9),
    (&bushing::wear_boundary, " mm³/(N·m)", 1e9),
    (&lining::contact, " W/(m²·K)", 1.0),
];

impl Look {
    /// Whether the figure is for a printed column: labels and panels are stacked.
    pub(crate) fn narrow(&self) -> bool {
        self.size.width <= COLUMN
    }

    /// Width of the layout, px. A figure for a printed column is laid out at a fixed width and scaled to the requested
    /// one, so that its letters have one size in print.
    pub(crate) fn width(&self) -> f64 {
        f64::from(if self.narrow() { LAID } else { self.size.width })
    }

    /// Smallest height of the layout, px.
    pub(crate) fn height(&self) -> f64 {
        f64::from(if self.narrow() { self.size.height.min(LOW) } else { self.size.height })
    }

    /// Number of columns of panels: two on a wide sheet if there are many.
    pub(crate) fn columns(&self, many: bool) -> usize {
        if many && self.width() >= 900.0 { 2 } else { 1 }
    }

    /// The note under a figure without a caption of its own, followed by the requested caption if any.
    pub(crate) fn under(&self, note: &str) -> String {
        self.caption.as_ref().map_or_else(|| note.to_owned(), |caption| format!("{note}\n{caption}"))
    }

    /// The note under a figure, followed by the caption.
    pub(crate) fn note(&self, record: &Record, note: &str) -> String {
        let caption = self.caption.clone().unwrap_or_else(|| caption(record));
        format!("{note}\n{caption}")
    }
}

/// Source of the numbers and the constants that they depend on, by where their values are from.
fn caption(record: &Record) -> String {
    let hash: String = record.head.script_hash.chars().take(8).collect();
    let source = [record.head.program.as_str(), &record.head.script, &hash].map(str::trim);
    let source: Vec<&str> = source.into_iter().filter(|w| !w.is_empty()).collect();
    let mut words = vec![source.join(" · ")];
    words.retain(|word| !word.is_empty());
    for head in [ASSUMED, "Published", "Common practice", SET, LEARNED] {
        let all: Vec<String> = CONSTANTS
            .iter()
            .filter(|(p, ..)| from(record, p) == head)
            .filter_map(|one| constant(record, one))
            .collect();
        if !all.is_empty() {
            words.push(format!("{head}: {}", all.join(", ")));
        }
    }
    words.join(". ")
}

/// Where the value of a setting is from: its default's source, or the machine, if any run has another value than the
/// default or that of its lining; learned, if a calibration learned each of these.
fn from(record: &Record, p: &Parameter) -> &'static str {
    let default = |run: &Run| {
        let of_lining = lining_set(run.lining_kind).find(|(row, _)| *row == p);
        of_lining.map_or(p.default, |(_, value)| value)
    };
    let other = |run: &Run| {
        let default = default(run);
        run.setting(p).is_some_and(|value| (value - default).abs() > SAME * default.abs())
    };
    let mut others = record.runs.iter().filter(|run| other(run) || run.knows(p).is_some()).peekable();
    if others.peek().is_some() {
        return if others.all(|run| run.knows(p).is_some()) { LEARNED } else { SET };
    }
    match p.confidence {
        Confidence::Assumed => ASSUMED,
        Confidence::Published => "Published",
        Confidence::Practice => "Common practice",
        Confidence::Chosen => SET,
    }
}

/// A constant over all runs, `end leakage 0.1/h`, or a range if runs differ.
fn constant(record: &Record, (p, unit, per): &(&Parameter, &str, f64)) -> Option<String> {
    let (least, most) = extent(record.runs.iter().filter_map(|run| run.setting(p)).map(|v| v * per));
    if least > most {
        return None;
    }
    let value = if least == most { short(least) } else { format!("{} to {}", short(least), short(most)) };
    Some(format!("{} {value}{unit}", p.name))
}

/// A number with two significant digits.
fn short(value: f64) -> String {
    if value == 0.0 || (0.01..1e4).contains(&value.abs()) {
        let places = (1.0 - value.abs().max(0.01).log10().floor()).clamp(0.0, 4.0) as usize;
        let text = format!("{value:.places$}");
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    } else if value.abs() < 1.0 {
        power(value, 0.1)
    } else {
        figures(value, 2)
    }
}
