//! Lines of a terminal: what steers it is shown, words are never broken, bold is counted for nothing.

use crate::words::text::{Piece, Words};
use slipsoak_engine::say;
use unicode_width::UnicodeWidthStr;

/// Turns bold on.
const BOLD: &str = "\u{1b}[1m";
/// Turns it off.
const PLAIN: &str = "\u{1b}[0m";

/// Whether a character steers a terminal or turns the order of what is read.
pub fn steers(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
}

/// A character as it is shown: a picture of one that would steer the terminal.
pub fn visible(c: char) -> char {
    match c {
        '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        c if steers(c) => '\u{fffd}',
        c => c,
    }
}

/// A text in one line, with pictures of what would steer the terminal.
pub fn clean(text: &str) -> String {
    text.chars().map(|c| if matches!(c, '\n' | '\t') { ' ' } else { visible(c) }).collect()
}

/// A text in bold.
pub fn strong(text: &str) -> String {
    format!("{BOLD}{text}{PLAIN}")
}

/// Columns that a text takes, without what turns bold on and off.
pub fn wide(text: &str) -> usize {
    text.replace(BOLD, "").replace(PLAIN, "").width()
}

/// The lines of a text that is broken between its words alone, the first at most so wide and the others so, but for a word that
/// is wider; what a space that does not break holds together is a word.
fn lines(text: &str, first: usize, rest: usize) -> Vec<String> {
    let (mut lines, mut line, mut taken) = (vec![], String::new(), 0);
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let (own, width) = (wide(word), if lines.is_empty() { first } else { rest });
        if taken > 0 && taken + 1 + own > width {
            lines.push(std::mem::take(&mut line));
            taken = 0;
        }
        if taken > 0 {
            line.push(' ');
            taken += 1;
        }
        line.push_str(&word.replace('\u{a0}', " "));
        taken += own;
    }
    lines.push(line);
    lines
}

/// The lines of a text in a column of a width.
pub(super) fn broken(text: &str, width: usize) -> Vec<String> {
    lines(text, width, width)
}

/// A paragraph of a width, its first line and the others set in by so many spaces.
pub fn paragraph(text: &str, width: usize, (first, rest): (usize, usize)) -> String {
    let set = |(k, line): (usize, String)| format!("{:1$}{line}\n", "", if k == 0 { first } else { rest });
    let lines = lines(text, width.saturating_sub(first), width.saturating_sub(rest));
    lines.into_iter().enumerate().map(set).collect()
}

/// Words with what stands out in them in bold, temperatures in both scales.
pub(super) fn marked(words: &Words) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Plain(text) => clean(text),
        Piece::Strong(text) => strong(&clean(text)),
        Piece::Temperature(kelvin) => say::temperature(*kelvin),
        Piece::Temperatures(low, high) => say::temperatures(*low, *high),
    };
    words.pieces().iter().map(piece).collect()
}
