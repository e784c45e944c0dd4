//! The terminal: its width, and what may control it; the printer removes colours if the output is no terminal.

use slipsoak_plots::page::lines::{paragraph, steered, visible};
use std::io::Write as _;

/// Columns where no terminal says how wide it is.
pub const WIDTH: usize = 80;
/// Fewest and most columns that are read well.
const READABLE: (usize, usize) = (40, 120);

/// Columns of every table and paragraph: those that `COLUMNS` says, else those of the terminal; of a pipe or a file always the
/// same.
pub fn width() -> usize {
    let said = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let terminal = terminal_size::terminal_size_of(std::io::stdout());
    readable(said.or(terminal.map(|(columns, _)| columns.0)))
}

/// Columns for a terminal that says how many it has, which some say wrongly.
fn readable(columns: Option<u16>) -> usize {
    columns.filter(|n| *n > 0).map_or(WIDTH, |n| usize::from(n).clamp(READABLE.0, READABLE.1))
}

/// Colour and weight codes that this program uses. Foreign text may use them too, because they hide nothing.
const OWN: [&str; 15] = ["", "0", "1", "22", "31", "33", "34", "36", "39", "91", "92", "93", "94", "95", "96"];

/// The text with control characters replaced by visible ones; this program's colours stay.
pub fn printable(text: &str) -> String {
    if !steered(text) {
        return text.to_owned();
    }
    let mut shown = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if let Some(end) = rest.strip_prefix("\u{1b}[").and_then(|from| from.bytes().take(16).position(|b| b == b'm')) {
            let (code, after) = rest.split_at(end + 3);
            if code[2..code.len() - 1].split(';').all(|part| OWN.contains(&part)) {
                shown.push_str(code);
                rest = after;
                continue;
            }
        }
        rest = &rest[c.len_utf8()..];
        shown.push(if matches!(c, '\n' | '\t') { c } else { visible(c) });
    }
    shown
}

/// Prints the lines of a script on the error stream, so that results stay clean.
pub(crate) fn print(lines: &[String]) {
    for line in lines {
        anstream::eprintln!("{}", printable(line));
    }
}

/// Prints a paragraph on the error stream, and a command below it, which is not broken into lines.
pub fn say(text: &str, command: Option<&str>) {
    let command = command.map_or_else(String::new, |command| format!("  {command}\n"));
    let said = printable(&format!("{}{command}", set_in(text, 0, 2)));
    // The terminal may be closed.
    let _ = anstream::stderr().write_all(said.as_bytes());
}

/// A paragraph in lines of the terminal's width, with separate indents of the first line and the rest.
pub fn set_in(text: &str, first: usize, rest: usize) -> String {
    paragraph(text, width(), (first, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOT: &str = "\u{1b}[1m\u{1b}[33mhot\u{1b}[0m";

    #[test]
    fn control_characters_become_visible_and_own_colours_stay() {
        let text = format!("{HOT}\na\u{1b}]52;c;x\u{7}\u{1b}[2J\u{1b}[8mb\u{9b}31m\u{202e}c\td\r");
        let shown = printable(&text);
        assert!(shown.starts_with(HOT), "{shown:?}");
        assert!(shown.ends_with("\na␛]52;c;x␇␛[2J␛[8mb\u{fffd}31m\u{fffd}c\td␍"), "{shown:?}");
        assert_eq!(printable("5 °C\n"), "5 °C\n");
    }

    #[test]
    fn lines_are_as_long_as_the_terminal_is_wide_where_that_can_be_read() {
        assert_eq!([None, Some(0), Some(20), Some(72), Some(500)].map(readable), [80, 80, 40, 72, 120]);
    }
}
