//! The terminal: 80 columns, colour (removed by the printer if the output is no terminal), and tables.

use anstyle::{AnsiColor, Style};
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle};
use std::fmt::Write as _;
use unicode_width::UnicodeWidthStr;

/// Columns where no terminal says how wide it is.
pub const WIDTH: usize = 80;
/// Fewest and most columns that are read well.
const READABLE: (usize, usize) = (40, 120);
/// Spaces between the columns of a table, beside the one that the table sets.
const BETWEEN: u16 = 1;

/// Columns of every table and paragraph: those of the terminal; of a pipe or a file always the same.
pub fn width() -> usize {
    let terminal = terminal_size::terminal_size_of(std::io::stdout());
    readable(terminal.map(|(columns, _)| columns.0))
}

/// Columns for a terminal that says how many it has, which some say wrongly.
fn readable(columns: Option<u16>) -> usize {
    columns.filter(|n| *n > 0).map_or(WIDTH, |n| usize::from(n).clamp(READABLE.0, READABLE.1))
}

/// A text that stands out.
pub fn strong(text: &str) -> String {
    styled(text, Style::new().bold())
}

/// Highlighted text of a warning.
pub fn alarm(text: &str) -> String {
    styled(text, AnsiColor::Yellow.on_default().bold())
}

fn styled(text: &str, style: Style) -> String {
    format!("{style}{text}{style:#}")
}

/// Colour and weight codes that this program uses. Foreign text may use them too, because they hide nothing.
const OWN: [&str; 15] = ["", "0", "1", "22", "31", "33", "34", "36", "39", "91", "92", "93", "94", "95", "96"];

/// Whether a character controls a terminal or changes the reading order, other than ending a line.
pub fn steers(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
}

/// The text with control characters replaced by visible ones; this program's colours stay.
pub fn printable(text: &str) -> String {
    if !text.contains(steers) {
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
        shown.push(match c {
            '\t' => c,
            '\0'..='\u{1f}' if c != '\n' => char::from_u32(0x2400 + c as u32).unwrap_or('\u{fffd}'),
            '\u{7f}' => '\u{2421}',
            c if steers(c) => '\u{fffd}',
            c => c,
        });
    }
    shown
}

/// Prints the lines of a script on the error stream, so that results stay clean.
pub(crate) fn print(lines: &[String]) {
    for line in lines {
        anstream::eprintln!("{}", printable(line));
    }
}

/// A paragraph in lines of at most 80 columns, all but the first indented.
pub fn wrapped(text: &str, hang: usize) -> String {
    set_in(text, 0, hang)
}

/// A paragraph in lines of at most 80 columns, with separate indents of the first line and the rest.
pub fn set_in(text: &str, first: usize, rest: usize) -> String {
    let (mut all, mut line, mut begun) = (" ".repeat(first), first, false);
    // Words joined by a no-break space stay in one line.
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let wide = word.width();
        if begun && line + 1 + wide > WIDTH {
            let _ = write!(all, "\n{:rest$}", "");
            line = rest;
        } else if begun {
            all.push(' ');
            line += 1;
        }
        all.push_str(&word.replace('\u{a0}', " "));
        line += wide;
        begun = true;
    }
    all.push('\n');
    all
}

/// A bar for a share of this number of columns, to an eighth of a column.
pub fn bar(share: f64, columns: usize) -> String {
    let eighths = (share.clamp(0.0, 1.0) * columns as f64 * 8.0).round() as usize;
    let part = ['▏', '▎', '▍', '▌', '▋', '▊', '▉'].get((eighths % 8).wrapping_sub(1));
    std::iter::repeat_n('█', eighths / 8).chain(part.copied()).collect()
}

/// Alignment of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Set {
    /// text that may wrap
    Words,
    /// text that does not wrap
    Whole,
    /// numbers, right-aligned
    Numbers,
}

/// A table of at most 80 columns; heads and cells may have several lines.
pub fn table(heads: &[(&str, Set)], rows: Vec<Vec<String>>) -> String {
    let mut table = Table::new();
    table.load_style(TableStyle::new().header_separator(LineStyle::none().fill('-').junction('-')));
    table.set_content_arrangement(ContentArrangement::Dynamic).set_width(WIDTH as u16 + BETWEEN);
    table.set_header(heads.iter().map(|h| h.0).collect::<Vec<_>>());
    table.add_rows(rows.into_iter().map(|row| row.into_iter().map(|cell| cell.replace('\u{a0}', " "))));
    for (column, (_, set)) in table.column_iter_mut().zip(heads) {
        column.set_padding((0, BETWEEN));
        if *set != Set::Words {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        if *set == Set::Numbers {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let lines: Vec<String> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    let rule = lines.iter().position(|line| line.starts_with("---")).unwrap_or(0);
    let shown = lines.iter().enumerate().map(|(k, line)| match k {
        k if k < rule => strong(line),
        k if k == rule => line.chars().take(WIDTH).collect(),
        _ => line.clone(),
    });
    shown.map(|line| line + "\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_become_visible_and_own_colours_stay() {
        let text = format!("{}\na\u{1b}]52;c;x\u{7}\u{1b}[2J\u{1b}[8mb\u{9b}31m\u{202e}c\td\r", alarm("hot"));
        let shown = printable(&text);
        assert!(shown.starts_with(&alarm("hot")), "{shown:?}");
        assert!(shown.ends_with("\na␛]52;c;x␇␛[2J␛[8mb\u{fffd}31m\u{fffd}c\td␍"), "{shown:?}");
        assert_eq!(printable("5 °C\n"), "5 °C\n");
    }

    #[test]
    fn lines_are_as_long_as_the_terminal_is_wide_where_that_can_be_read() {
        assert_eq!([None, Some(0), Some(20), Some(72), Some(500)].map(readable), [80, 80, 40, 72, 120]);
    }

    #[test]
    fn bars_are_as_long_as_their_share() {
        assert_eq!([0.0, 1.0 / 16.0, 0.5, 0.999, 1.0, 7.0].map(|s| bar(s, 2)), ["", "▏", "█", "██", "██", "██"]);
    }

    #[test]
    fn paragraphs_wrap_at_eighty_columns() {
        let text = "λ of ".repeat(60);
        let lines: Vec<String> = wrapped(&text, 3).lines().map(str::to_owned).collect();
        assert!(lines.len() == 4 && lines.iter().all(|l| l.width() <= WIDTH), "{lines:#?}");
        assert!(lines[1..].iter().all(|l| l.starts_with("   ") && !l.starts_with("    ")), "{lines:#?}");
        assert_eq!(lines.join(" ").split_whitespace().collect::<Vec<_>>(), text.split_whitespace().collect::<Vec<_>>());
    }
}
