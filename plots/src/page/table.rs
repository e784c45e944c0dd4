//! Tables of a page: units in their heads, aligned numbers, rows and columns that a reader may hide.

use super::Reach;
use super::data::address;
use crate::sheet::palette::class_of;
use crate::words::number::column;
use crate::words::reading::brief;
use crate::words::text::{Words, pair, scales};
use maud::{Markup, html};
use slipsoak_engine::names::Part;

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// caption
    pub caption: Words,
    /// one head for each column
    pub heads: Vec<Head>,
    /// its rows, group by group; a group without a name has no heading row
    pub groups: Vec<Group>,
    /// note below the table
    pub note: Words,
    /// media in which the note is shown
    pub noted: Reach,
    /// largest number of rows on a terminal without details; none for the usual number
    pub most: Option<usize>,
}

/// The head of a column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Head {
    /// its name
    pub name: String,
    /// shorter name on a terminal, if any
    pub brief: String,
    /// unit of its numbers
    pub unit: Unit,
    /// index of the compared item, if the column belongs to one
    pub of: Option<usize>,
    /// media in which it is shown
    pub reach: Reach,
    /// priority for leaving the column out of a table that is too wide for a terminal: the greatest first; 0 never, above
    /// 10 before bars and before any name is wrapped
    pub spare: u8,
}

/// Contents of a column's cells.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Unit {
    /// text, left-aligned
    #[default]
    Words,
    /// plain numbers
    One,
    /// numbers of this unit
    Of(String),
    /// temperatures in °C and °F
    Temperature,
}

/// Rows that belong together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// their heading, or nothing
    pub name: String,
    /// the rows
    pub rows: Vec<Row>,
}

/// A row; its first cell is its head.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// one cell for each column
    pub cells: Vec<Cell>,
    /// index of the compared item, if the row belongs to one
    pub of: Option<usize>,
}

/// Content of a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// text
    Words(Words),
    /// a formatted number
    Number(String),
    /// a rounded number, and the full number for a tooltip
    Rounded(String, String),
    /// a temperature, K
    Temperature(f64),
    /// a value that exceeds its limit
    Exceeded(String),
    /// a temperature above its limit, K
    TooHot(f64),
    /// a number with a bar of this share of the widest, 0 to 1
    Bar(String, f64),
    /// no value
    Nothing,
}

impl Head {
    /// A column of words.
    pub fn words(name: &str) -> Self {
        Self { name: name.to_owned(), ..Self::default() }
    }

    /// Columns of a table, from their names with a bar between them: words, or numbers of the unit in brackets, which is
    /// empty for plain numbers.
    ///
    /// ```
    /// use slipsoak_plots::page::Head;
    /// assert_eq!(Head::row("part | size [mm]"), [Head::words("part"), Head::of("size", "mm")]);
    /// ```
    pub fn row(names: &str) -> Vec<Self> {
        let head = |name: &str| match name.trim_end_matches(']').split_once('[') {
            Some((name, unit)) => Self::of(name.trim(), unit),
            None => Self::words(name),
        };
        names.split(" | ").map(head).collect()
    }

    /// A column of numbers of a unit; none if it is empty.
    pub fn of(name: &str, unit: &str) -> Self {
        let unit = if unit.is_empty() { Unit::One } else { Unit::Of(unit.to_owned()) };
        Self { unit, ..Self::words(name) }
    }

    /// A column of temperatures.
    pub fn temperature(name: &str) -> Self {
        Self { unit: Unit::Temperature, ..Self::words(name) }
    }

    /// The head with a priority for leaving the column out on a terminal.
    #[must_use]
    pub fn spare(self, spare: u8) -> Self {
        Self { spare, ..self }
    }

    /// The same, shown there alone.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self { reach, ..self }
    }

    /// The same, with a shorter name on a terminal.
    #[must_use]
    pub fn brief(self, brief: &str) -> Self {
        Self { brief: brief.to_owned(), ..self }
    }
}

impl<C: IntoIterator<Item = Cell>> From<C> for Row {
    fn from(cells: C) -> Self {
        Self { cells: cells.into_iter().collect(), of: None }
    }
}

impl Cell {
    /// Numbers of one column, all with the decimals that the largest needs for this number of significant digits; nothing for
    /// what is not a number.
    pub fn numbers(values: impl IntoIterator<Item = f64>, digits: i32) -> Vec<Self> {
        let values: Vec<f64> = values.into_iter().collect();
        let cell = |(value, shown): (&f64, String)| if value.is_finite() { Self::Number(shown) } else { Self::Nothing };
        values.iter().zip(column(&values, digits)).map(cell).collect()
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Words(text.into())
    }
}

impl From<Part> for Cell {
    fn from(part: Part) -> Self {
        Self::from(brief(part))
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Words(text.into())
    }
}

/// Largest number of rows kept together on one printed page.
const TOGETHER: usize = 24;

/// Class by which the rows and columns of a compared item are hidden.
pub fn class(of: Option<usize>) -> Option<String> {
    of.map(class_of)
}

impl Table {
    /// A table of one group.
    pub fn new(
        caption: impl Into<Words>,
        heads: impl IntoIterator<Item = Head>,
        rows: impl IntoIterator<Item: Into<Row>>,
    ) -> Self {
        let rows = rows.into_iter().map(Into::into).collect();
        Self::grouped(caption, heads, vec![Group { name: String::new(), rows }])
    }

    /// A table of one group from its columns.
    pub fn of_columns(caption: impl Into<Words>, columns: impl IntoIterator<Item = (Head, Vec<Cell>)>) -> Self {
        let (heads, columns): (Vec<Head>, Vec<Vec<Cell>>) = columns.into_iter().unzip();
        let rows = columns.first().map_or(0, Vec::len);
        let mut columns: Vec<_> = columns.into_iter().map(Vec::into_iter).collect();
        let row = |_| columns.iter_mut().map(|cells| cells.next().unwrap_or(Cell::Nothing)).collect::<Vec<_>>();
        Self::new(caption, heads, (0..rows).map(row))
    }

    /// The table whose rows belong to these compared items.
    #[must_use]
    pub fn of(mut self, items: impl IntoIterator<Item = Option<usize>>) -> Self {
        let rows = self.groups.iter_mut().flat_map(|group| &mut group.rows);
        rows.zip(items).for_each(|(row, item)| row.of = item);
        self
    }

    /// A table of several groups.
    pub fn grouped(caption: impl Into<Words>, heads: impl IntoIterator<Item = Head>, groups: Vec<Group>) -> Self {
        Self { caption: caption.into(), heads: heads.into_iter().collect(), groups, ..Self::default() }
    }

    /// The table with a note.
    #[must_use]
    pub fn note(self, note: impl Into<Words>) -> Self {
        Self { note: note.into(), ..self }
    }

    pub(crate) fn html(&self, number: usize) -> Markup {
        let rows: usize = self.groups.iter().map(|group| group.rows.len() + 1).sum();
        html! {
            div.wide tabindex="0" role="region" aria-labelledby={ "table-" (number) } {
                table.together[rows <= TOGETHER] {
                    caption id={ "table-" (number) } { b { "Table " (number) "." } " " (self.caption) }
                    thead { tr { @for head in self.shown() { (head.html()) } } }
                    @for group in &self.groups {
                        tbody {
                            @if !group.name.is_empty() {
                                tr.group { th colspan=(self.shown().count()) scope="rowgroup" { (group.name) } }
                            }
                            @for row in &group.rows { (self.row(row)) }
                        }
                    }
                }
            }
            p.note {
                @if !self.note.is_empty() { (self.note) " " }
                a.take href=(address("text/csv", &self.csv())) download={ "table-" (number) ".csv" } { "Table " (number) " as CSV" }
            }
        }
    }

    /// The heads of the columns that a page shows.
    fn shown(&self) -> impl Iterator<Item = &Head> {
        self.heads.iter().filter(|head| head.reach.on_page())
    }

    fn row(&self, row: &Row) -> Markup {
        let cells = || row.cells.iter().zip(&self.heads).filter(|(_, head)| head.reach.on_page());
        html! {
            tr class=[class(row.of)] {
                @for (cell, head) in cells().take(1) {
                    th class=[head.classes()] scope="row" { (cell.html()) }
                }
                @for (cell, head) in cells().skip(1) {
                    td class=[head.classes()] title=[cell.full()] { (cell.html()) }
                }
            }
        }
    }
}

impl Head {
    fn classes(&self) -> Option<String> {
        let number = (self.unit != Unit::Words).then(|| "number".to_owned());
        number.into_iter().chain(class(self.of)).reduce(|all, one| format!("{all} {one}"))
    }

    fn html(&self) -> Markup {
        html! {
            th class=[self.classes()] scope="col" {
                (self.name)
                @match &self.unit {
                    Unit::Words | Unit::One => "",
                    Unit::Of(unit) => { " " span.unit { (unit) } }
                    Unit::Temperature => { " " span.unit { (pair("°C", "°F")) } }
                }
            }
        }
    }
}

impl Cell {
    fn html(&self) -> Markup {
        html! {
            @match self {
                Self::Words(words) => (words),
                Self::Number(shown) | Self::Rounded(shown, _) => (shown),
                Self::Temperature(kelvin) => (scales(*kelvin)),
                Self::Exceeded(shown) => strong.over { "▲\u{a0}" (shown) },
                Self::TooHot(kelvin) => strong.over { "▲\u{a0}" (scales(*kelvin)) },
                Self::Bar(shown, share) => {
                    span.track aria-hidden="true" {
                        span.bar style=(format!("width:{:.1}%", 100.0 * share.clamp(0.0, 1.0))) {}
                    }
                    (shown)
                }
                Self::Nothing => span.none { "–" },
            }
        }
    }

    fn full(&self) -> Option<&str> {
        match self {
            Self::Rounded(_, full) => Some(full),
            _ => None,
        }
    }
}
