//! Lines of a terminal: control characters are made visible, words are not broken, bold has no width.

use crate::words::text::{Piece, Words};
use unicode_width::UnicodeWidthStr;

/// Code that turns bold on.
const BOLD: &str = "\u{1b}[1m";
/// Code that turns bold off.
const PLAIN: &str = "\u{1b}[0m";

/// Whether a character controls a terminal or changes the reading order.
pub fn steers(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
}

/// Whether a text has such characters.
pub fn steered(text: &str) -> bool {
    text.contains(steers)
}

/// A character as displayed: a visible symbol for a control character.
pub fn visible(c: char) -> char {
    match c {
        '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        c if steers(c) => '\u{fffd}',
        c => c,
    }
}

/// A text in one line, with visible symbols for control characters.
pub fn clean(text: &str) -> String {
    text.chars().map(|c| if matches!(c, '\n' | '\t') { ' ' } else { visible(c) }).collect()
}

/// A text in bold.
pub fn strong(text: &str) -> String {
    format!("{BOLD}{text}{PLAIN}")
}

/// Width of a text in columns, without the codes for bold.
pub fn wide(text: &str) -> usize {
    text.replace(BOLD, "").replace(PLAIN, "").width()
}

/// Lines of a text broken only between words, with a maximum width for the first line and one for the others; a longer
/// word exceeds it. Words joined by a no-break space count as one.
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

/// Lines of a text in a column of this width.
pub(super) fn broken(text: &str, width: usize) -> Vec<String> {
    lines(text, width, width)
}

/// A paragraph of a width, with indents of the first line and of the others.
pub fn paragraph(text: &str, width: usize, (first, rest): (usize, usize)) -> String {
    let set = |(k, line): (usize, String)| format!("{:1$}{line}\n", "", if k == 0 { first } else { rest });
    let lines = lines(text, width.saturating_sub(first), width.saturating_sub(rest));
    lines.into_iter().enumerate().map(set).collect()
}

/// Words with emphasis in bold and temperatures in °C and °F.
pub(super) fn marked(words: &Words) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Plain(text) => clean(text),
        Piece::Strong(text) => strong(&clean(text)),
    };
    words.pieces().iter().map(piece).collect()
}
