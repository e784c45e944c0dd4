//! Type styles of texts, their widths, and how they are broken into lines and kept apart.

use crate::sheet::axis::Axis;
use crate::sheet::draw_error::DrawError;
use crate::sheet::font::Face;
use crate::sheet::palette::{Ink, TEXT};
use crate::sheet::scales;

/// Allowance for a browser's own typeface: this much wider than the embedded one.
const WIDER: f64 = 1.178;
/// Type style of a text.
#[derive(Clone, Copy)]
pub struct Type {
    pub size: f64,
    pub ink: Ink,
    pub bold: bool,
    /// alignment: −1 starts at the position, 0 is centred on it, 1 ends there
    pub side: i8,
    /// rotated to read upwards
    pub upright: bool,
}

impl Type {
    /// Heading of a figure.
    pub const TITLE: Self = Self::of(18.0);
    /// Heading of a panel.
    pub const HEADING: Self = Self::of(14.0);
    /// Title of an axis, and label.
    pub const LABEL: Self = Self::of(13.0);
    /// Tick and note.
    pub const TICK: Self = Self::of(12.5);

    /// Plain text of this size that starts at its position.
    pub const fn of(size: f64) -> Self {
        Self { size, ink: TEXT, bold: false, side: -1, upright: false }
    }

    pub const fn size(self, size: f64) -> Self {
        Self { size, ..self }
    }

    pub const fn side(self, side: i8) -> Self {
        Self { side, ..self }
    }

    pub const fn ink(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    pub const fn bold(self, bold: bool) -> Self {
        Self { bold, ..self }
    }

    pub const fn upright(self) -> Self {
        Self { upright: true, side: 0, ..self }
    }
}

/// Width of a text on any sheet, px, with an allowance for a browser's wider typeface.
pub fn width_of(words: &str, set: Type) -> Result<f64, DrawError> {
    Ok(WIDER * bare_width(words, set)?)
}

/// Width of a text in the embedded typeface, px.
pub fn bare_width(words: &str, set: Type) -> Result<f64, DrawError> {
    Ok(set.size * Face::of(set.bold)?.width(&scales::shown(&plain(words))))
}

/// About `most` ticks of a horizontal scale, or fewer, so that their labels do not touch.
pub fn apart(axis: &Axis, set: Type, most: u32) -> Result<Vec<(f64, String)>, DrawError> {
    for about in (2..=most).rev() {
        let ticks = axis.ticks(about);
        let half = ticks.iter().map(|tick| Ok(0.5 * width_of(&tick.1, set)?)).collect::<Result<Vec<_>, _>>()?;
        let gap = |k: usize| axis.at(ticks[k].0) - axis.at(ticks[k - 1].0) - half[k] - half[k - 1];
        if (1..ticks.len()).all(|k| gap(k) >= 4.0) {
            return Ok(ticks);
        }
    }
    Ok(axis.ticks(1))
}

/// Ticks of a horizontal scale, without those labels that would touch the one before.
pub fn thinned(axis: &Axis, mut ticks: Vec<(f64, String)>, set: Type) -> Result<Vec<(f64, String)>, DrawError> {
    let mut free = f64::NEG_INFINITY;
    for (value, words) in &mut ticks {
        let half = 0.5 * width_of(words, set)?;
        if axis.at(*value) - half < free {
            words.clear();
        } else {
            free = axis.at(*value) + half + 4.0;
        }
    }
    Ok(ticks)
}

/// Lines of a text, broken between words at a maximum width, px, but never beside an equals sign or after a number.
pub fn wrapped(words: &str, set: Type, width: f64) -> Result<Vec<String>, DrawError> {
    broken(words, width, |line| width_of(line, set))
}

/// The same of a text that a page may show with both scales of temperature.
pub fn wrapped_in_both(words: &str, set: Type, width: f64) -> Result<Vec<String>, DrawError> {
    broken(words, width, |line| width_of(&scales::both(line), set))
}

fn broken(words: &str, width: f64, wide: impl Fn(&str) -> Result<f64, DrawError>) -> Result<Vec<String>, DrawError> {
    let mut lines = vec![];
    for paragraph in words.lines().filter(|line| !line.is_empty()) {
        let mut line = String::new();
        for word in inseparable(paragraph) {
            let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
            if !line.is_empty() && wide(&longer)? > width {
                lines.push(std::mem::replace(&mut line, word));
            } else {
                line = longer;
            }
        }
        lines.push(line);
    }
    Ok(lines)
}

/// Words of a paragraph, joined where no line may end: beside an equals sign, and between a number and what is counted.
pub(super) fn inseparable(paragraph: &str) -> Vec<String> {
    let mut words: Vec<String> = vec![];
    for word in scales::words(paragraph).take(400) {
        let signs = |word: &str| matches!(word, "=" | "≈");
        let counts = |last: &str| {
            last.ends_with(|c: char| c.is_ascii_digit())
                && word.starts_with(|c: char| c.is_alphabetic() || "×°%".contains(c))
        };
        let joins =
            |last: &&mut String| signs(word) || ["=", "≈", "×"].iter().any(|sign| last.ends_with(sign)) || counts(last);
        match words.last_mut().filter(joins) {
            Some(last) => *last = format!("{last} {word}"),
            None => words.push(word.to_owned()),
        }
    }
    words
}

/// Text without characters that XML does not allow.
pub fn plain(words: &str) -> String {
    words.chars().map(|c| if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') { ' ' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_ends_within_a_temperature_or_after_a_number() {
        let text = format!(
            "The lining peaks at {}, over its limit in 2 of 6 runs",
            scales::pair("146 to 295 °C", "295 to 563 °F")
        );
        for width in 60..600 {
            let lines = wrapped_in_both(&text, Type::TITLE, f64::from(width)).expect("lines");
            let shown: Vec<String> = lines.iter().map(|line| scales::shown(line)).collect();
            assert!(
                shown.iter().any(|line| line.contains("146 to 295 °C")) && !shown.concat().contains("°F"),
                "{shown:?}"
            );
            assert!(shown.iter().all(|line| !line.ends_with(|c: char| c.is_ascii_digit())), "{shown:?}");
            assert_eq!(lines.join(" "), text);
        }
    }
}
