//! Whole pages: their words and the heads of their tables.

use super::language::stumbles;
use crate::made_up::fleet::fleets;
use crate::made_up::learned::told;
use crate::made_up::{documents, shop};
use slipsoak_plots::page::{Block, Head, Page, Table, Unit};

/// The text of a page's HTML, without its style.
pub fn shown(html: &str) -> String {
    let body = html.split_once("</style>").map_or(html, |parts| parts.1);
    let pieces = body.split('<').filter_map(|piece| piece.split_once('>')).map(|(_, text)| text.trim());
    pieces.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ").replace('\u{a0}', " ").to_lowercase()
}

#[test]
fn no_page_and_no_figure_holds_a_word_that_readers_stumble_over() {
    let mut all = vec![];
    for saved in documents() {
        let page = Page::of(&saved);
        for text in [shown(&page.html()), page.text(120, true).replace('\u{a0}', " ").to_lowercase()] {
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            all.extend(stumbles(&text).into_iter().map(|found| format!("{}: {found}", saved.kind().name())));
        }
    }
    all.dedup();
    assert!(all.is_empty(), "{all:#?}");
}

/// Tables among the blocks of a page.
pub fn tables(page: &Page) -> Vec<&Table> {
    fn table(block: &Block) -> Option<&Table> {
        match block {
            Block::Table(table) => Some(table),
            Block::Only(_, block) => table(block),
            _ => None,
        }
    }
    page.sections.iter().flat_map(|section| &section.blocks).filter_map(table).collect()
}

#[test]
fn no_two_columns_of_a_table_have_the_same_name_and_unit() {
    let pages = [
        Page::with(&told().into(), vec![]),
        Page::with(&shop::choice().into(), vec![]),
        Page::with(&shop::gaps().into(), vec![]),
        Page::with(&shop::oiling().into(), vec![]),
        Page::with(&shop::measure().into(), vec![]),
        Page::with(&shop::season().into(), vec![]),
        Page::with(&fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0)]).into(), vec![]),
    ];
    for page in &pages {
        assert!(!tables(page).is_empty(), "{}", page.question);
        for table in tables(page) {
            // Bounds belong to the estimate in the column before; two numbers of one name may differ in their units.
            let named = |head: &Head| head.name != "90 % bounds";
            for (k, head) in table.heads.iter().enumerate().filter(|(_, head)| named(head)) {
                let same = |other: &Head| {
                    let units = matches!((&head.unit, &other.unit), (Unit::Of(a), Unit::Of(b)) if a != b);
                    head.name == other.name && head.of == other.of && !units
                };
                assert!(!table.heads[..k].iter().any(same), "{} in {}", head.name, table.caption.text());
            }
        }
    }
}
