//! A table on a terminal: columns as wide as their text; the least needed ones are left out if they do not fit, or stand below on a narrow one.

use super::lines::{broken, clean, marked, paragraph, strong, wide};
use super::{Cell, Head, Row, Table, Unit};
use crate::words::say;

/// Number of spaces between columns.
const BETWEEN: usize = 2;
/// Length of the longest bar, characters.
const BAR: usize = 5;
/// Priority for leaving out bars, as [`Head::spare`]. Columns with a higher one are left out before a name is wrapped.
const BARS: u8 = 10;
/// Lines of a head if there is room, and if there is not.
const LINES: [usize; 2] = [2, 3];
/// Smallest width to which longer text is wrapped, characters.
const READABLE: usize = 10;
/// Width below which columns that do not fit stand below the others instead of being left out.
const NARROW: usize = 60;
/// The usual width.
const USUAL: usize = 80;
/// Largest number of rows without details.
const ROWS: usize = 60;

/// A column.
struct Column {
    /// head, with the unit as its last word
    head: String,
    cells: Vec<String>,
    /// whether it is right-aligned and never wrapped
    numbers: bool,
    spare: u8,
    /// whether it holds the bars of the column before it
    bars: bool,
    /// columns that it needs, and that it can use
    least: usize,
    most: usize,
    /// width of the longest cell
    cells_wide: usize,
}

impl Column {
    fn new(head: String, cells: Vec<String>, numbers: bool, spare: u8) -> Self {
        let longest = cells.iter().map(|cell| wide(cell)).max().unwrap_or(0);
        let words = cells.iter().flat_map(|cell| cell.split(' ')).map(wide).max().unwrap_or(0);
        let own = if numbers { longest } else { words.max(longest.min(READABLE)) };
        let [most, least] = LINES.map(|lines| narrowest(&head, lines));
        Self {
            least: own.max(least),
            most: longest.max(most),
            cells_wide: longest,
            head,
            cells,
            numbers,
            spare,
            bars: false,
        }
    }

    /// The column of a table column, and that of its bars.
    fn of(head: &Head, cells: &[&Cell]) -> Vec<Self> {
        let unit = match &head.unit {
            Unit::Words | Unit::One => String::new(),
            Unit::Of(unit) => format!(" {}", clean(unit).replace(' ', "\u{a0}")),
            Unit::Temperature => " °C\u{a0}(°F)".to_owned(),
        };
        let name = clean(if head.brief.is_empty() { &head.name } else { &head.brief }) + &unit;
        let words = cells.iter().map(|cell| cell.text()).collect();
        let bar = |cell: &&Cell| if let Cell::Bar(_, share) = cell { bar(*share, BAR) } else { String::new() };
        let bars: Vec<String> = cells.iter().map(bar).collect();
        let numbers = Self::new(name, words, head.unit != Unit::Words, head.spare);
        let bars = bars
            .iter()
            .any(|bar| !bar.is_empty())
            .then(|| Self { bars: true, ..Self::new(String::new(), bars, false, BARS) });
        std::iter::once(numbers).chain(bars).collect()
    }
}

/// The smallest width in which a head takes at most this number of lines.
fn narrowest(head: &str, lines: usize) -> usize {
    let longest = head.split(' ').map(wide).max().unwrap_or(0);
    (longest..=wide(head)).find(|width| broken(head, *width).len() <= lines).unwrap_or(longest)
}

/// A bar for a share of this number of columns, to an eighth of a column.
pub fn bar(share: f64, columns: usize) -> String {
    let eighths = (share.clamp(0.0, 1.0) * columns as f64 * 8.0).round() as usize;
    let part = ['▏', '▎', '▍', '▌', '▋', '▊', '▉'].get((eighths % 8).wrapping_sub(1));
    std::iter::repeat_n('█', eighths / 8).chain(part.copied()).collect()
}

/// The columns that a set of them takes.
fn taken(columns: &[Column], each: impl Fn(&Column) -> usize) -> usize {
    columns.iter().map(|column| each(column) + BETWEEN).sum::<usize>().saturating_sub(BETWEEN)
}

/// Leaves out those that are least needed of some columns, until all fit into a width.
fn leave_out(columns: &mut Vec<Column>, width: usize, each: fn(&Column) -> usize, some: impl Fn(&Column) -> bool) {
    while taken(columns, each) > width {
        let soonest = columns.iter().enumerate().filter(|(_, column)| some(column)).max_by_key(|(_, c)| c.spare);
        let Some(k) = soonest.map(|(k, _)| k) else { break };
        columns.remove(k);
    }
}

/// A table as lines of a width; with details all its rows and columns, in several parts if it is too wide for one.
pub(super) fn grid(table: &Table, width: usize, details: bool) -> String {
    let all: Vec<(&str, &Row)> =
        table.groups.iter().flat_map(|group| group.rows.iter().map(move |row| (group.name.as_str(), row))).collect();
    let shown = if details { all.len() } else { table.most.unwrap_or(ROWS).min(all.len()) };
    let rows = &all[..shown];
    let of = |(k, head): (usize, &Head)| {
        let cells: Vec<&Cell> = rows.iter().map(|(_, row)| row.cells.get(k).unwrap_or(&Cell::Nothing)).collect();
        Column::of(head, &cells)
    };
    let here = table.heads.iter().enumerate().filter(|(_, head)| head.reach.on_terminal(details));
    let mut columns: Vec<Column> = here.flat_map(of).collect();
    // What would stand in a usual width stays on a narrow one, part below part.
    let room = if width < NARROW { USUAL } else { width };
    if !details {
        // Hardly needed columns are left out before a name is wrapped.
        leave_out(&mut columns, room, |column| column.most, |column| column.spare > BARS);
    }
    leave_out(&mut columns, room, least, |column| column.bars || (column.spare > 0 && !details));
    let groups: Vec<&str> = rows.iter().map(|(group, _)| *group).collect();
    let mut text = parts(columns, &groups, width);
    if shown < all.len() {
        let more = all.len() - shown;
        let rows = if more == 1 { "row" } else { "rows" };
        text += &paragraph(&format!("{more} more {rows}: --details."), width, (0, 0));
    }
    text
}

fn least(column: &Column) -> usize {
    column.least
}

/// Columns side by side as long as they fit, then the others below them, the first before each part.
fn parts(mut columns: Vec<Column>, groups: &[&str], width: usize) -> String {
    if columns.is_empty() {
        return String::new();
    }
    let mut rest = columns.split_off(1);
    let mut first = columns.remove(0);
    // Names with a word wider than half the width are put in lines of their own.
    let mut names = vec![];
    if 2 * first.least > width && !rest.is_empty() {
        names = std::mem::take(&mut first.cells);
        first = Column::new(String::new(), vec![String::new(); groups.len()], false, 0);
    }
    let mut text = String::new();
    loop {
        let mut part = vec![first];
        while let Some(next) = rest.first() {
            if part.len() > 1 && taken(&part, least) + BETWEEN + next.least > width {
                break;
            }
            part.push(rest.remove(0));
        }
        text += &set(&part, groups, &names, width);
        if rest.is_empty() {
            return text;
        }
        text.push('\n');
        first = part.remove(0);
    }
}

/// Distributes the rest of a width over the columns, in order of their need.
fn widths(columns: &[Column], width: usize) -> Vec<usize> {
    let mut widths: Vec<usize> = columns.iter().map(|column| column.least).collect();
    let mut left = width.saturating_sub(taken(columns, least));
    // First what wraps the fewest cells, then what makes heads lower.
    for wanted in [(|column| column.cells_wide) as fn(&Column) -> usize, |column| column.most] {
        while left > 0 {
            let lacks = |k: &usize| wanted(&columns[*k]).saturating_sub(widths[*k]);
            let Some(k) = (0..columns.len()).rev().max_by_key(lacks).filter(|k| lacks(k) > 0) else { break };
            widths[k] += 1;
            left -= 1;
        }
    }
    // One column too wide by itself: its words are wrapped.
    let over = taken(columns, least).saturating_sub(width);
    if let (Some(last), true) = (widths.last_mut(), over > 0) {
        *last = last.saturating_sub(over).max(1);
    }
    widths
}

/// Columns side by side, with heads, a rule, and the names of groups and of rows that have lines of their own.
fn set(columns: &[Column], groups: &[&str], names: &[String], width: usize) -> String {
    let widths = widths(columns, width);
    let line = |cells: Vec<(&str, bool)>| -> String {
        let padded = cells.iter().zip(&widths).map(|((cell, right), width)| {
            let pad = " ".repeat(width.saturating_sub(wide(cell)));
            if *right { format!("{pad}{cell}") } else { format!("{cell}{pad}") }
        });
        padded.collect::<Vec<_>>().join(&" ".repeat(BETWEEN)).trim_end().to_owned()
    };
    let block = |cells: Vec<Vec<String>>, from_below: bool| -> Vec<String> {
        let high = cells.iter().map(Vec::len).max().unwrap_or(0);
        let at = |lines: &[String], k: usize| -> Option<usize> {
            if from_below { (k + lines.len()).checked_sub(high) } else { Some(k) }
        };
        let cell = |lines: &Vec<String>, k: usize| at(lines, k).and_then(|k| lines.get(k)).cloned().unwrap_or_default();
        let row = |k: usize| {
            let cells: Vec<(String, bool)> =
                cells.iter().zip(columns).map(|(lines, column)| (cell(lines, k), column.numbers)).collect();
            line(cells.iter().map(|(cell, right)| (cell.as_str(), *right)).collect())
        };
        (0..high).map(row).collect()
    };
    let mut text = String::new();
    let heads: Vec<Vec<String>> = columns.iter().zip(&widths).map(|(c, w)| broken(&c.head, *w)).collect();
    if columns.iter().any(|column| !column.head.is_empty()) {
        text.extend(block(heads, true).iter().map(|line| strong(line) + "\n"));
        let all = widths.iter().sum::<usize>() + BETWEEN * (widths.len() - 1);
        text.extend(["-".repeat(all.min(width)), "\n".to_owned()]);
    }
    for (k, group) in groups.iter().enumerate() {
        if !group.is_empty() && (k == 0 || groups[k - 1] != *group) {
            text += if k == 0 { "" } else { "\n" };
            text += &paragraph(&strong(&clean(group)), width, (0, 0));
        }
        if let Some(name) = names.get(k) {
            text += &paragraph(name, width, (0, 0));
        }
        let cells = columns.iter().zip(&widths).map(|(c, w)| broken(&c.cells[k], *w)).collect();
        text.extend(block(cells, false).iter().map(|line| line.clone() + "\n"));
    }
    text
}

impl Cell {
    /// The cell as text; temperatures in °C and °F without units.
    pub(crate) fn text(&self) -> String {
        match self {
            Self::Words(words) => marked(words),
            Self::Number(shown) | Self::Rounded(shown, _) | Self::Bar(shown, _) => clean(shown),
            Self::Temperature(kelvin) => in_both(*kelvin),
            Self::Exceeded(shown) => format!("▲\u{a0}{}", clean(shown)),
            Self::TooHot(kelvin) => format!("▲\u{a0}{}", in_both(*kelvin)),
            Self::Nothing => "–".to_owned(),
        }
    }
}

/// A temperature in °C, followed by °F in brackets, without units.
fn in_both(kelvin: f64) -> String {
    say::temperature(kelvin).replace("\u{a0}°C", "").replace("\u{a0}°F", "")
}
