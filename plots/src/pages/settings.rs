//! The settings of the machines of a study, and what differs between them.

use crate::page::{Block, Cell, Head, Row, Table};
use crate::pages::ledger::BESIDE;
use crate::words::quantity::{of_setting, quantity};
use crate::words::reading::name;
use crate::words::text::Words;
use slipsoak_engine::parts::{PARAMETERS, Parameter, parameter};
use slipsoak_engine::record::{Record, Setting};

/// Differences between the machines, and every setting of the first.
pub(super) fn settings(record: &Record) -> Vec<Block> {
    let Some(first) = record.runs.first() else { return vec![] };
    let differs = |p: &&Parameter| record.runs.iter().any(|r| r.setting(p) != first.setting(p));
    let different: Vec<&Parameter> = PARAMETERS.iter().filter(differs).collect();
    let mut blocks = Vec::new();
    for start in (0..record.runs.len()).step_by(BESIDE) {
        let runs = &record.runs[start..record.runs.len().min(start + BESIDE)];
        let heads = runs.iter().enumerate().map(|(k, r)| Head { of: Some(start + k), ..Head::words(&name(record, r)) });
        let row = |p: &&Parameter| {
            let cells = runs.iter().map(|r| r.setting(p).map_or(Cell::Nothing, |v| quantity(v, p.dimension)));
            Row::from(std::iter::once(p.path.into()).chain(cells))
        };
        if !different.is_empty() {
            let heads = std::iter::once(Head::words("setting")).chain(heads);
            blocks.push(Block::Table(Table::new("What differs between them", heads, different.iter().map(row))));
        }
    }
    let caption = if different.is_empty() {
        "Every setting".to_owned()
    } else {
        format!("Every setting of “{}”", name(record, first))
    };
    blocks.push(every_setting(&first.settings, caption));
    blocks
}

/// Every setting of a machine.
pub(super) fn every_setting(settings: &[Setting], caption: String) -> Block {
    let row = |s: &Setting| {
        let meaning = parameter(&s.path).map_or("", |p| p.meaning);
        let sure = format!("{:?}", s.confidence).to_lowercase();
        [s.path.as_str().into(), of_setting(&s.path, s.value), sure.into(), Cell::Words(Words::scaled(meaning))]
    };
    let heads = ["setting", "value", "how sure", "meaning"].map(Head::words).to_vec();
    Block::Table(Table::new(caption, heads, settings.iter().map(row)))
}
