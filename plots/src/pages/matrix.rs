//! Warnings of all runs as a matrix: a row per run, a column per limit, values above their limit marked.

use crate::page::{Block, Cell, Head, Row, Table};
use crate::words::compared::peak;
use crate::words::number::figures;
use crate::words::reading::name;
use crate::words::say;
use crate::words::text::Words;
use crate::words::warnings::{SIGNS, is_temperature, sentence};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Parameter;
use slipsoak_engine::parts::settings::limits;
use slipsoak_engine::record::{Record, Run, Warned};

/// Temperatures in every matrix: kind, channel, its head, setting of its limit.
static HOT: [(Warned, Channel, &str, &Parameter); 4] = [
    (Warned::Lining, Channel::LiningSurface, "lining, peak", &limits::lining_most),
    (Warned::Bushing, Channel::Bushing, "bushing, peak", &limits::bushing_warning),
    (Warned::Washer, Channel::Washer, "washer, peak", &limits::washer_oiled),
    (Warned::Springs, Channel::Shoes, "springs, peak", &limits::spring_most),
];

/// Other kinds, with a column only if a run has such a warning.
const OTHERS: [(Warned, &str); 34] = [
    (Warned::TooHot, "run stopped, part at"),
    (Warned::Fire, "oily face, oil may burn"),
    (Warned::Vapour, "oily face, oil vapour"),
    (Warned::Smokes, "oily face, oil smokes"),
    (Warned::Additive, "oil that stays on a lining"),
    (Warned::LetGo, "burning clutch"),
    (Warned::Glaze, "glazed lining"),
    (Warned::DryWasher, "dry washer, peak"),
    (Warned::Chars, "washer chars, peak"),
    (Warned::BushingLoad, "bushing load, MPa·m/s"),
    (Warned::Squeals, "bushing squeals after"),
    (Warned::Grabs, "bushing grabs after"),
    (Warned::Seizes, "bushing seized after"),
    (Warned::Drag, "drags at idle"),
    (Warned::WeakShoe, "one shoe drags"),
    (Warned::Creep, "sets off at idle"),
    (Warned::BushingDrives, "bushing moves it off at idle, at"),
    (Warned::Stall, "motor stalls"),
    (Warned::Dry, "oil spent after"),
    (Warned::WornThrough, "lining worn through after"),
    (Warned::BushingThrough, "bushing worn through after"),
    (Warned::WasherThrough, "washer worn through after"),
    (Warned::RolledBack, "rolls back"),
    (Warned::NoBraking, "no motor braking below"),
    (Warned::HeldOnSlope, "held by the clutch on a slope"),
    (Warned::HeldSpeed, "held below lock-up"),
    (Warned::OutOfReach, "speed out of reach"),
    (Warned::Overrun, "runs downhill to"),
    (Warned::Overspeed, "motor driven to"),
    (Warned::RollsFree, "rolls downhill to"),
    (Warned::RunsAway, "runs away on a slope, to"),
    (Warned::TooSlow, "starts that fail"),
    (Warned::Launch, "starts that fail, some"),
    (Warned::Brake, "brakings too weak"),
];

/// The matrix, and below it the warnings that need a sentence; empty for a record without runs.
pub fn noticed(record: &Record, one: &str) -> Vec<Block> {
    let Some(first) = record.runs.first() else { return vec![] };
    let given = |kind: Warned| record.runs.iter().any(|run| run.warned(kind).is_some());
    let others: Vec<(Warned, &str)> = OTHERS.into_iter().filter(|(kind, _)| given(*kind)).collect();
    let heads = std::iter::once(Head::words(one)).chain(HOT.iter().map(|hot| Head::temperature(hot.2))).chain(
        others.iter().map(|(kind, head)| match kind {
            kind if is_temperature(*kind) => Head::temperature(head),
            _ => Head { name: (*head).to_owned(), ..Head::of("", "") },
        }),
    );
    let limit = |p: &Parameter| {
        let own = first.setting(p);
        own.filter(|limit| record.runs.iter().all(|run| run.setting(p) == Some(*limit)))
    };
    let limits = std::iter::once(Cell::from("limit"))
        .chain(HOT.iter().map(|hot| limit(hot.3).map_or(Cell::Nothing, Cell::Temperature)))
        .chain(others.iter().map(|(kind, _)| match kind {
            Warned::DryWasher => limit(&limits::washer_dry).map_or(Cell::Nothing, Cell::Temperature),
            Warned::Chars => limit(&limits::washer_char).map_or(Cell::Nothing, Cell::Temperature),
            _ => Cell::Nothing,
        }));
    let row = |(k, run): (usize, &Run)| {
        let hot = HOT.iter().map(|(kind, channel, ..)| match peak(run, *channel) {
            Some(peak) if run.warned(*kind).is_some() => Cell::TooHot(peak),
            Some(peak) => Cell::Temperature(peak),
            None => Cell::Nothing,
        });
        let rest = others.iter().map(|(kind, _)| cell(run, *kind));
        Row { cells: std::iter::once(name(record, run).into()).chain(hot).chain(rest).collect(), of: Some(k) }
    };
    let rows = std::iter::once(Row::from(limits)).chain(record.runs.iter().enumerate().map(row));
    let none = record.runs.iter().all(|run| run.warnings.is_empty());
    let note = if none { "No limit was exceeded." } else { "▲ exceeds its limit, or went otherwise than asked." };
    let mut blocks = vec![Block::Table(Table::new("Limits", heads, rows).note(note))];
    let grave: Vec<Words> = record.runs.iter().flat_map(|run| told(record, run)).collect();
    if !grave.is_empty() {
        blocks.push(Block::List(grave));
    }
    blocks
}

/// Cell of a run's warning of this kind.
fn cell(run: &Run, kind: Warned) -> Cell {
    let Some(warning) = run.warned(kind) else { return Cell::Nothing };
    let value = warning.value;
    if is_temperature(kind) {
        return Cell::TooHot(value);
    }
    let words = match kind {
        Warned::Drag | Warned::WeakShoe | Warned::LetGo => format!("{}\u{a0}W", figures(value, 2)),
        Warned::Creep => "yes".to_owned(),
        Warned::RolledBack => say::distance(warning.limit),
        Warned::HeldOnSlope => say::time(value),
        Warned::Glaze | Warned::Additive => say::some(value),
        Warned::Stall | Warned::Dry | Warned::WornThrough | Warned::BushingThrough | Warned::WasherThrough => {
            say::time(value)
        }
        Warned::Squeals | Warned::Grabs | Warned::Seizes => say::time(value),
        Warned::BushingLoad => figures(1e-6 * value, 2),
        Warned::HeldSpeed | Warned::NoBraking | Warned::Overrun => say::road_speed(value),
        Warned::OutOfReach => say::road_speed(warning.limit),
        _ => figures(value, 3),
    };
    Cell::Exceeded(words)
}

/// Whether a kind of warning needs its sentence beside the matrix.
const fn told_in_words(kind: Warned) -> bool {
    use Warned::{
        Additive, Beyond, Bond, Fire, Glaze, HeldOnSlope, LetGo, NoBraking, Overrun, RolledBack, Smokes, TooHot,
        Vapour, WeakShoe,
    };
    matches!(
        kind,
        Additive
            | Beyond
            | Bond
            | Fire
            | Glaze
            | HeldOnSlope
            | LetGo
            | NoBraking
            | Overrun
            | RolledBack
            | Smokes
            | TooHot
            | Vapour
            | WeakShoe
    )
}

/// Sentences of a run on conditions beyond the model, on hazards, and on a shoe that drags by its spring.
fn told<'a>(record: &'a Record, run: &'a Run) -> impl Iterator<Item = Words> + 'a {
    let beyond = SIGNS.iter().filter(|(kind, _)| told_in_words(*kind));
    let given = beyond.filter_map(|(kind, _)| run.warned(*kind));
    given.map(|warning| Words::from(format!("{}: ", name(record, run))).and(sentence(run, warning)).plain("."))
}
