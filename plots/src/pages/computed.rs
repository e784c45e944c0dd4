//! How runs were computed: their duties, the use of every part, and how a repeated block was extrapolated.

use crate::page::{Block, Cell, Group, Head, Row, Table};
use crate::pages::by_run::{by_run, counts, numbers};
use crate::words::answer::in_full;
use crate::words::compared::kind;
use crate::words::number::{figures, number, three};
use crate::words::oil_first::due as oil_due;
use crate::words::reading::{longest, name, oil_gone};
use crate::words::say;
use crate::words::warnings::who;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Inside, Missed, PartUse, Record, Run};
use slipsoak_engine::units::HOUR;

/// Distances and times, parts used up, and how a repeated block was extrapolated.
pub(super) fn computed(record: &Record) -> Vec<Block> {
    let [one, _] = kind(record);
    [Block::Table(way(record, one))].into_iter().chain(uses(record, one)).chain(skipping(record, one)).collect()
}

/// Table of the runs' duties.
fn way(record: &Record, one: &str) -> Table {
    let (per, unit) = if longest(&record.runs) < 2.0 * HOUR { (60.0, "min") } else { (HOUR, "h") };
    let used = |r: &Run| {
        let all: Vec<String> = r.supplies.iter().map(|(what, n)| format!("{} {what}", three(*n))).collect();
        if all.is_empty() { Cell::Nothing } else { all.join("; ").into() }
    };
    let heads = Head::row(&format!(
        "time [{unit}] | motor ran [{unit}] | clutch slipped [min] | launches [] | distance [km] | oil and parts used"
    ));
    let cells = [
        numbers(record, |r| r.duration / per),
        numbers(record, |r| r.running_time / per),
        numbers(record, |r| r.sliding_time / 60.0),
        counts(record, |r| Some(r.launches)),
        numbers(record, |r| r.distance / 1e3),
        record.runs.iter().map(used).collect(),
    ];
    by_run(record, one, "The duty", heads.into_iter().zip(cells))
}

/// Use and life of every part.
fn uses(record: &Record, one: &str) -> Vec<Block> {
    let Some(first) = record.runs.first() else { return vec![] };
    // Service of the oil is due before it counts as used up.
    let gone = oil_gone(record);
    let headed = |part: Part, limit: &str| match &gone {
        Some(gone) if part == Part::Oil => format!("oil ({limit}{gone})"),
        _ => part.name().to_owned(),
    };
    let used = |(k, p): (usize, &PartUse)| {
        (
            Head::of(&headed(p.part, "100: "), "%"),
            numbers(record, |r| r.parts.get(k).map_or(f64::NAN, |p| 100.0 * p.used)),
        )
    };
    let caption = "How far each part is used up at the end: 0 new, 100 at its limit";
    let used = by_run(record, one, caption, first.parts.iter().enumerate().map(used));
    let lasts = |(k, p): (usize, &PartUse)| {
        let life = |r: &Run| r.parts.get(k).and_then(|p| p.running.or(p.life));
        let hours = |r: &Run| life(r).map_or(Cell::Nothing, |life| Cell::Number(figures(life / HOUR, 2)));
        (Head::of(&headed(p.part, ""), "h"), record.runs.iter().map(hours).collect())
    };
    let caption = "When each part is at its limit, hours of running";
    let life = by_run(record, one, caption, first.parts.iter().enumerate().map(lasts));
    let weak: Vec<&Run> = record.runs.iter().filter(|run| run.springs_below_limit()).collect();
    let mut note = "– is not used up by this duty, or the oil is topped up.".to_owned();
    if !weak.is_empty() {
        let whose = if record.runs.len() > 1 { format!(" of {}", who(record, &weak)) } else { String::new() };
        let verb = if weak.len() > 1 { "were given" } else { "was given" };
        note = format!(
            "{note} The weakest spring{whose} {verb} nearer to the idle than its variation and the tolerances of springs take: it is below its limit from the start, and no life of it is given."
        );
    }
    vec![Block::Table(used), Block::Table(life.note(note))]
}

/// Table of skipping in repeated blocks, and its estimated errors.
fn skipping(record: &Record, one: &str) -> Vec<Block> {
    if record.runs.iter().all(|r| r.horizon.is_none()) {
        return vec![];
    }
    let due = |r: &Run| oil_due(r).map_or(f64::NAN, |t| t / HOUR);
    let heads = Head::row("blocks run [] | skipped [] | jumps taken back [] | service due, running [h]");
    let cells = [
        counts(record, |r| r.horizon.as_ref().map(|h| h.blocks_run)),
        counts(record, |r| r.horizon.as_ref().map(|h| h.blocks_skipped)),
        counts(record, |r| r.horizon.as_ref().map(|h| h.jumps_taken_back)),
        numbers(record, due),
    ];
    let missed = |(k, run): (usize, &Run)| {
        let row = |m: &Missed| Row {
            cells: vec![m.quantity.as_str().into(), Cell::Number(three(m.value)), Cell::Number(three(m.error))],
            of: Some(k),
        };
        let rows = run.horizon.iter().flat_map(|h| &h.errors).map(row).collect();
        Group { name: name(record, run), rows }
    };
    let groups: Vec<Group> = record.runs.iter().enumerate().map(missed).filter(|g| !g.rows.is_empty()).collect();
    let heads_of_missed = Head::row("quantity | at the end [SI] | may be off by [SI]");
    let errors = Table::grouped("What skipping may have missed", heads_of_missed, groups);
    let table = by_run(record, one, "How the repeated block was extrapolated", heads.into_iter().zip(cells));
    let why = in_full(record);
    let mut blocks = vec![Block::Table(if why.is_empty() { table } else { table.note(why.trim_end().to_owned()) })];
    let inside = |(k, run): (usize, &Run)| {
        let row = |piece: &Inside| Row {
            cells: vec![
                say::time(piece.lasts).into(),
                Cell::Number(number(piece.run as f64, 1.0)),
                Cell::Number(number(piece.skipped as f64, 1.0)),
            ],
            of: Some(k),
        };
        let rows = run.horizon.iter().flat_map(|h| &h.inside).map(row).collect();
        Group { name: name(record, run), rows }
    };
    let inside: Vec<Group> = record.runs.iter().enumerate().map(inside).filter(|g| !g.rows.is_empty()).collect();
    if !inside.is_empty() {
        let heads = Head::row("it lasts | run [] | skipped []");
        let note = "A block counts as run if anything in it was simulated. What comes after a service counts apart. \
            What recurs inside a longer piece is counted in those that were simulated.";
        blocks.push(Block::Table(Table::grouped("What recurs inside the block", heads, inside).note(note)));
    }
    if !errors.groups.is_empty() {
        blocks.push(Block::Table(errors));
    }
    blocks
}
