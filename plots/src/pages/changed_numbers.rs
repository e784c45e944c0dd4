//! Numbers of two pages' tables that differ.

use crate::page::{Block, Cell, Page, Section, Unit};
use crate::pages::changed_inputs::Row;
use crate::pages::origin::CLOSING;

/// Sections that say what was asked, which is compared by itself, or how it was computed.
const ASKED: [&str; 6] =
    ["The machines", "The machine", "What was assumed", "How it was computed", "Ledgers", "Warnings"];
/// What a row's group is called.
const GROUP: &str = "listed under";

/// A table's cells: row name, as it is called, head, content.
fn cells(page: &Page, called: &impl Fn(String) -> String) -> Vec<(String, String, String)> {
    let skipped = |section: &&Section| !ASKED.iter().chain(&CLOSING).any(|heading| section.heading == **heading);
    let blocks = page.sections.iter().filter(skipped).flat_map(|section| &section.blocks);
    let tables = blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        Block::Only(_, block) => {
            if let Block::Table(table) = &**block {
                Some(table)
            } else {
                None
            }
        }
        _ => None,
    });
    let mut all = vec![];
    for table in tables {
        let rows =
            || table.groups.iter().flat_map(|group| group.rows.iter().map(move |row| (group.name.as_str(), row)));
        let named = |row: &crate::page::Row| called(row.cells.first().map_or(String::new(), shown));
        let mut names: Vec<String> = rows().map(|(_, row)| named(row)).collect();
        names.sort();
        // A name that stands in several groups is told apart by them; else its group is something that may differ.
        let several = names.windows(2).any(|pair| pair[0] == pair[1]);
        for (group, row) in rows() {
            let name = if several && !group.is_empty() { format!("{group}: {}", named(row)) } else { named(row) };
            if !several && !group.is_empty() {
                all.push((name.clone(), GROUP.to_owned(), group.to_owned()));
            }
            for (head, cell) in table.heads.iter().zip(&row.cells).skip(1) {
                let unit = match &head.unit {
                    Unit::Of(unit) => format!(", {unit}"),
                    Unit::Temperature => ", °C (°F)".to_owned(),
                    Unit::Words | Unit::One => String::new(),
                };
                // A column of a bare number is one of what the rows are of.
                let of = if head.name.is_empty() { &table.heads[0].name } else { &head.name };
                all.push((name.clone(), format!("{of}{unit}"), shown(cell)));
            }
        }
    }
    all
}

/// The text of a cell.
pub(super) fn shown(cell: &Cell) -> String {
    if let Cell::Words(words) = cell { words.text() } else { cell.text() }
}

/// Numbers of tables that differ, under one name where a machine was renamed, and rows that stand on one side alone.
pub(super) fn found(pages: &[Page; 2], renamed: &[([String; 2], String)]) -> Vec<Row> {
    let of = |side: usize| {
        let both = move |name: String| {
            let twin = renamed.iter().find(|(names, _)| names[side] == name);
            twin.map_or(name, |(_, both)| both.clone())
        };
        cells(&pages[side], &both)
    };
    let (first, second) = (of(0), of(1));
    let mut rows: Vec<Row> = vec![];
    let mut seen: Vec<(&str, &str)> = vec![];
    for (name, head, _) in first.iter().chain(&second) {
        let key = (name.as_str(), head.as_str());
        if seen.contains(&key) {
            continue;
        }
        seen.push(key);
        // A number that stands in several tables is told once.
        let of = |all: &[(String, String, String)]| {
            all.iter().find(|c| (c.0.as_str(), c.1.as_str()) == key).map(|c| c.2.clone()).unwrap_or_default()
        };
        let (a, b) = (of(&first), of(&second));
        if a != b {
            let cell = |text: String| if text.is_empty() { Cell::Nothing } else { text.into() };
            rows.push([head.as_str().into(), name.as_str().into(), cell(a), cell(b)]);
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::{Head, Table};

    #[test]
    fn a_column_of_a_bare_number_is_called_by_what_the_rows_are_of() {
        let page = |gap: &str| {
            let heads = vec![Head::words("gap"), Head::of("", "mm"), Head::of("play", "thou")];
            let row = ["nominal".into(), Cell::Number(gap.to_owned()), Cell::Number(gap.to_owned())];
            let table = Table::new("The gap when new", heads, [row]);
            Page { sections: vec![Section::new("The stack", vec![Block::Table(table)])], ..Page::default() }
        };
        let rows = found(&[page("1"), page("2")], &[]);
        let heads: Vec<String> = rows.iter().map(|row| shown(&row[0])).collect();
        assert_eq!(heads, ["gap, mm", "play, thou"]);
    }
}
