//! Type styles of texts, their widths, and how they are shortened, broken into lines and kept apart.

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

/// A text shortened at its end with an ellipsis to a maximum width, px.
pub fn fit(words: &str, set: Type, width: f64) -> Result<String, DrawError> {
    shortened(words, set, width, |_| 0)
}

/// A name shortened in its middle to a maximum width, px: names of one study may begin alike and differ at their ends. It is cut
/// between words where its first and its last words have room beside each other.
pub fn fit_name(words: &str, set: Type, width: f64) -> Result<String, DrawError> {
    let letters = shortened(words, set, width, |letters| letters * 2 / 5)?;
    if width_of(words, set)? <= width {
        return Ok(letters);
    }
    let shown = scales::shown(&plain(words));
    let parts = inseparable(&shown);
    let cut = |start: usize, end: usize| {
        let head = parts[..start].join(" ");
        format!("{} … {}", head.trim_end_matches([',', ';', ':']), parts[end..].join(" "))
    };
    // As many first words as stand whole before the cut between letters, and as many last ones as then have room.
    let before = letters.chars().position(|c| c == '…').unwrap_or_default();
    let first = (1..parts.len()).take_while(|start| parts[..*start].join(" ").chars().count() <= before).count();
    let mut best = None;
    'heads: for start in (1..=first).rev() {
        for end in start + 1..parts.len() {
            let tried = cut(start, end);
            if width_of(&tried, set)? <= width {
                best = Some(tried);
                break 'heads;
            }
        }
    }
    // Long words leave little of a name that is cut between them.
    let enough = |cut: &String| 2 * cut.chars().count() > letters.chars().count();
    if let Some(best) = best.filter(enough) {
        return Ok(best);
    }
    // A last number stands whole, with its sign.
    let Some(last) = parts.last().filter(|last| last.contains(|c: char| c.is_ascii_digit())) else {
        return Ok(letters);
    };
    let head: Vec<char> = shown.chars().take(before).collect();
    for kept in (1..=head.len()).rev() {
        let tried = format!("{}… {last}", head[..kept].iter().collect::<String>().trim_end());
        if width_of(&tried, set)? <= width {
            return Ok(tried);
        }
    }
    Ok(letters)
}

/// A text shortened to a maximum width, px, of whose letters that are left this many are its last.
fn shortened(words: &str, set: Type, width: f64, last: fn(usize) -> usize) -> Result<String, DrawError> {
    let whole: String = plain(words).chars().take(400).collect();
    if width_of(&whole, set)? <= width {
        return Ok(whole);
    }
    let letters: Vec<char> = scales::shown(&whole).chars().collect();
    let cut = |left: usize| -> String {
        let (start, end) = (&letters[..left - last(left)], &letters[letters.len() - last(left)..]);
        let [start, end]: [String; 2] = [start, end].map(|part| part.iter().collect());
        format!("{}…{}", start.trim_end(), end.trim_start())
    };
    let (mut fits, mut long) = (0, letters.len());
    while long - fits > 1 {
        let half = usize::midpoint(fits, long);
        if width_of(&cut(half), set)? <= width { fits = half } else { long = half }
    }
    Ok(cut(fits))
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
fn inseparable(paragraph: &str) -> Vec<String> {
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
    fn shortened_names_that_differ_at_their_ends_still_differ() {
        let names = ["vehicle mass 430 kg, gear ratio 10", "vehicle mass 430 kg, gear ratio 8.5"];
        let short = names.map(|name| fit_name(name, Type::LABEL, 150.0).expect("a name"));
        assert!(short[0] != short[1] && short.iter().all(|name| name.contains('…')), "{short:?}");
        assert!(short.iter().all(|name| width_of(name, Type::LABEL).expect("a width") <= 150.0), "{short:?}");
    }

    #[test]
    fn names_are_cut_between_words_where_these_have_room() {
        let name = "vehicle mass 430 kg, gear ratio 10";
        let cut = |width| fit_name(name, Type::LABEL, width).expect("a name");
        for width in 120..200 {
            let short = cut(f64::from(width));
            assert!(width_of(&short, Type::LABEL).expect("a width") <= f64::from(width), "{short}");
            let (head, tail) = short.split_once(" … ").expect(&short);
            assert!(name.starts_with(head) && name[head.len()..].starts_with([' ', ',']), "{short}");
            assert!(name.ends_with(&format!(" {tail}")), "{short}");
            assert!(!head.ends_with(|c: char| c.is_ascii_digit()), "a number without its unit: {short}");
        }
        for width in 85..200 {
            let cold =
                fit_name("mini bike, ambient temperature -15 °C", Type::LABEL, f64::from(width)).expect("a name");
            assert!(cold.ends_with("… -15 °C"), "{cold}");
        }
        // One long word is cut all the same.
        let long = fit_name("a_very_long_name_without_a_space_in_it", Type::LABEL, 120.0).expect("a name");
        assert!(long.contains('…') && long.chars().count() > 8, "{long}");
    }

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
