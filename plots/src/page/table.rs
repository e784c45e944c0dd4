//! Tables of a page: units in their heads, aligned numbers, rows and columns that a reader may hide.

use super::Reach;
use super::cell::Cell;
use super::data::address;
use super::head::Head;
use crate::sheet::palette::class_of;
use crate::words::text::Words;
use maud::{Markup, html};

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

impl<C: IntoIterator<Item = Cell>> From<C> for Row {
    fn from(cells: C) -> Self {
        Self { cells: cells.into_iter().collect(), of: None }
    }
}

/// Largest number of rows kept together on one printed page.
const TOGETHER: usize = 24;

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
            tr class=[row.of.map(class_of)] {
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
