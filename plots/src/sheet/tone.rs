//! Tones: every colour as it is on a light and on a dark background.

use crate::sheet::palette::{COLOURS, CURVES, Ink, PIGMENT, RANKS, STEPS};
use crate::sheet::ramp;
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// Background of a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// paper
    #[default]
    Light,
    /// a dark screen
    Dark,
}

/// Every tone: its name, and its red, green and blue on a light and on a dark background. A curve's colour is chosen
/// for lines; its letters have the same hue, dark enough to read.
const TONES: [(&str, [u8; 3], [u8; 3]); CURVES + 2 * COLOURS] = [
    ("paper", [255, 255, 255], [23, 26, 30]),
    ("text", [34, 34, 34], [232, 232, 230]),
    ("quiet", [92, 92, 92], [170, 175, 181]),
    ("faint", [222, 222, 222], [58, 63, 70]),
    ("curve-1", [213, 94, 0], [244, 138, 58]),
    ("curve-2", [0, 114, 178], [90, 176, 232]),
    ("curve-3", [0, 145, 106], [48, 190, 148]),
    ("curve-4", [184, 98, 146], [226, 146, 192]),
    ("curve-5", [45, 45, 45], [214, 214, 210]),
    ("curve-6", [192, 128, 0], [232, 180, 62]),
    ("curve-7", [48, 148, 204], [140, 208, 250]),
    ("curve-8", [128, 118, 30], [190, 182, 92]),
    ("words-1", [190, 84, 0], [244, 138, 58]),
    ("words-2", [0, 114, 178], [90, 176, 232]),
    ("words-3", [0, 131, 95], [48, 190, 148]),
    ("words-4", [168, 88, 133], [226, 146, 192]),
    ("words-5", [45, 45, 45], [214, 214, 210]),
    ("words-6", [156, 104, 0], [232, 180, 62]),
    ("words-7", [38, 121, 167], [140, 208, 250]),
    ("words-8", [124, 114, 28], [190, 182, 92]),
];

/// A colour: its name, and its red, green and blue on each background.
pub struct Tone {
    name: String,
    light: [u8; 3],
    dark: [u8; 3],
}

impl Tone {
    /// The tone that a placeholder stands for; none if the colour is exact.
    pub fn of(pigment: [u8; 3]) -> Option<&'static Self> {
        let [PIGMENT, 1, row] = pigment else { return None };
        ALL.get(usize::from(row))
    }

    /// Red, green and blue on a background.
    pub const fn on(&self, theme: Theme) -> [u8; 3] {
        match theme {
            Theme::Light => self.light,
            Theme::Dark => self.dark,
        }
    }

    /// Class of shapes or of lines in this colour, by which a page chooses it.
    pub fn class(&self, lines: bool) -> String {
        format!("{}-{}", if lines { "line" } else { "fill" }, self.name)
    }
}

/// Red, green and blue, on a background, of a colour or of what a placeholder stands for.
pub fn resolved(pigment: [u8; 3], theme: Theme) -> [u8; 3] {
    Tone::of(pigment).map_or(pigment, |tone| tone.on(theme))
}

/// Name and colours of a ramp.
type Ramp = (&'static str, fn(f64) -> [u8; 3]);

/// Every colour that depends on the background: the table's, the ramp's and those of letters on the ramp.
static ALL: LazyLock<Vec<Tone>> = LazyLock::new(|| {
    let row =
        |(name, light, dark): &(&str, [u8; 3], [u8; 3])| Tone { name: (*name).to_owned(), light: *light, dark: *dark };
    let step = |(name, of): Ramp| {
        (0..=STEPS).map(move |k| {
            let at = |k: u8| of(f64::from(k) / f64::from(STEPS));
            Tone { name: format!("{name}-{k}"), light: at(k), dark: at(STEPS - k) }
        })
    };
    let ramps: [Ramp; 2] = [("amount", ramp::colour), ("on-amount", ramp::contrasting)];
    let ranks = [
        ("rank", [ramp::rank(false, false), ramp::rank(true, false)]),
        ("rank-words", [ramp::rank(false, true), ramp::rank(true, true)]),
    ];
    let rank = ranks.into_iter().flat_map(|(name, [light, dark])| {
        (0..=RANKS).map(move |k| {
            let share = f64::from(k) / f64::from(RANKS);
            Tone { name: format!("{name}-{k}"), light: light(share), dark: dark(share) }
        })
    });
    TONES.iter().map(row).chain(ramps.into_iter().flat_map(step)).chain(rank).collect()
});

/// A colour as in SVG and CSS.
pub fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02X}{green:02X}{blue:02X}")
}

/// Style rules that let a page choose the colours of a drawing, given the classes that it uses; the default is its own
/// background.
pub fn rules(used: &BTreeSet<String>, theme: Theme) -> String {
    let rule = |tone: &Tone| {
        let value = format!("var(--slipsoak-{},{})", tone.name, hex(tone.on(theme)));
        let of = |lines: bool, paint: &str| {
            let class = tone.class(lines);
            if used.contains(&class) { format!(".slipsoak .{class}{{{paint}:{value}}}") } else { String::new() }
        };
        of(false, "fill") + &of(true, "stroke")
    };
    ALL.iter().map(rule).collect()
}

/// An opaque colour as in CSS: of the background that a page chooses, or of a light one.
pub fn css(ink: Ink) -> String {
    let pigment = ink.pigment();
    let own = hex(resolved(pigment, Theme::Light));
    Tone::of(pigment).map_or_else(|| own.clone(), |tone| format!("var(--slipsoak-{},{own})", tone.name))
}

/// Style declarations that a page sets on any element around its figures to choose a background:
/// `--slipsoak-paper:#171A1E;…`
pub fn variables(theme: Theme) -> String {
    ALL.iter().flat_map(|tone| ["--slipsoak-", &tone.name, ":", &hex(tone.on(theme)), ";"].map(str::to_owned)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::palette::{QUIET, TEXT, colour, rank};

    /// Relative luminance (WCAG 2.2).
    fn luminance(colour: [u8; 3]) -> f64 {
        let linear = colour.map(|c| f64::from(c) / 255.0);
        let linear = linear.map(|c| if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    /// Contrast ratio (WCAG 2.2), 1 to 21.
    fn contrast(a: [u8; 3], b: [u8; 3]) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn contrast_is_that_of_the_guideline() {
        // #767676 is the lightest grey of 4.5 on white (from memory), black on white is 21 (WCAG 2.2, definition).
        assert!((contrast([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
        assert!(contrast([118; 3], [255; 3]) >= 4.5 && contrast([119; 3], [255; 3]) < 4.5);
    }

    #[test]
    fn every_text_is_dark_enough_and_every_line_is_visible_on_both_backgrounds() {
        let inks = [TEXT, QUIET].into_iter().chain((0..COLOURS).map(|k| colour(k).of_words()));
        let row = |ink: Ink| if let Ink::Tone(tone, _) = ink { TONES[tone as usize] } else { unreachable!() };
        for (name, light, dark) in inks.map(row) {
            assert!(name != "faint" && !name.starts_with("curve"), "{name}");
            // WCAG 2.2, criterion 1.4.3: 4.5 for text.
            assert!(contrast(light, TONES[0].1) >= 4.5, "{name} on light: {}", contrast(light, TONES[0].1));
            assert!(contrast(dark, TONES[0].2) >= 4.5, "{name} on dark: {}", contrast(dark, TONES[0].2));
        }
        for (name, light, dark) in (0..COLOURS).map(|k| row(colour(k))) {
            // Criterion 1.4.11: 3 for graphics without text.
            assert!(contrast(light, TONES[0].1) >= 3.0 && contrast(dark, TONES[0].2) >= 3.0, "{name}");
        }
        for k in 0..=usize::from(RANKS) {
            let ink = rank(k, usize::from(RANKS) + 1);
            for (ink, least) in [(ink, 3.0), (ink.of_words(), 4.5)] {
                for (theme, paper) in [(Theme::Light, TONES[0].1), (Theme::Dark, TONES[0].2)] {
                    let found = contrast(resolved(ink.pigment(), theme), paper);
                    assert!(found >= least, "rank {k} on {theme:?}: {found} of {least}");
                }
            }
        }
    }
}
