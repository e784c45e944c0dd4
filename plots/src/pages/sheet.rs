//! The page of a machine's sheet: speeds, torque, gap, oil and one launch.

use crate::page::{Block, Cell, Head, Page, Section, Table};
use crate::pages::origin::closing;
use crate::words::cautions::of_ground;
use crate::words::number::three;
use crate::words::quantity::{of_setting, quantity};
use crate::words::say::{road_speed, turns};
use crate::words::sheet::advice;
use crate::words::slope::slope;
use crate::words::text::{Words, the};
use slipsoak_engine::document::record::Setting;
use slipsoak_engine::parts::{Dimension as D, in_words};
use slipsoak_engine::sheet::Sheet;
use slipsoak_engine::units::LBF_FT;

impl Page {
    /// The page of a machine's sheet.
    pub(crate) fn of_sheet(sheet: &Sheet) -> Self {
        let mut tables = [speeds(sheet), torques(sheet), gap(sheet), launch(sheet)].map(Block::Table).to_vec();
        if !sheet.by_hand.is_empty() {
            tables.push(Block::Table(by_hand(sheet)));
        }
        let mut sections = vec![Section::new("The machine", tables)];
        sections.extend(closing(&sheet.head, of_ground(sheet.launch.grade), vec![]));
        Self {
            question: format!("What follows from the settings of {}?", the(&sheet.name)),
            origin: format!("computed by {}", sheet.head.program),
            answer: answer(sheet),
            sections,
            ..Self::default()
        }
    }
}

/// What to do first, the margin of the engagement over the idle, the lock-up speed, and one launch.
fn answer(s: &Sheet) -> Vec<Words> {
    let margin = s.engagement - s.idle;
    let idles = format!("It idles at {}", turns(s.idle));
    let first = if margin > 0.0 {
        Words::from(format!("{idles}, and its clutch engages at "))
            .strong(turns(s.engagement))
            .plain(format!(", {} above that.", turns(margin)))
    } else if s.engagement == 0.0 {
        format!("{idles}, and one shoe has no spring: it touches as soon as the motor turns.").into()
    } else {
        Words::from(format!("{idles}, not below the engagement at "))
            .strong(turns(s.engagement))
            .plain(": the clutch wears and runs hot there.")
    };
    let held =
        Words::from("Below ").strong(road_speed(s.lock_speed)).plain(" of held speed the clutch slips permanently.");
    let launch = launched(s);
    let lined = s.woven_springs.map(|speed| {
        Words::from(format!(
            "Its {} lining is heavier than a woven one: springs chosen for a woven lining would engage at {}.",
            s.lining_kind,
            turns(speed)
        ))
    });
    advice(s).into_iter().chain([first, held, launch.temperature(s.launch.lining).plain(".")]).chain(lined).collect()
}

/// One launch, up to the temperature of the lining.
fn launched(s: &Sheet) -> Words {
    let of = &s.launch;
    let (speed, ground) = (road_speed(of.speed), slope(of.grade));
    let (time, heat) = (three(of.time), three(of.heat / 1e3));
    if of.succeeds() {
        let on = if of.grade == 0.0 { String::new() } else { format!(" on {ground}") };
        return Words::from(format!(
            "One launch to {speed}{on} at full throttle takes {time}\u{a0}s; the clutch turns {heat}\u{a0}kJ into heat, and the lining reaches "
        ));
    }
    let advice = "Do not ride it so: gear it lower, load it less or fit another spring.";
    if !of.moves_off() {
        return Words::default().strong(format!("It does not move off on {ground}")).plain(format!(
            ". {advice} At full throttle for {time}\u{a0}s the clutch turns {heat}\u{a0}kJ into heat, and the lining reaches "
        ));
    }
    Words::default().strong(format!("It does not get to {speed} on {ground}")).plain(format!(
        ": at full throttle it reaches {} in {time}\u{a0}s. {advice} The clutch turns {heat}\u{a0}kJ into heat in that time, and the lining reaches ",
        road_speed(of.reached)
    ))
}

/// A table of names with one value each.
fn pairs(caption: &str, rows: Vec<(&str, Cell)>) -> Table {
    let row = |(name, value): (&str, Cell)| [name.into(), value];
    Table::new(caption, vec![Head::words(""), Head::words("")], rows.into_iter().map(row))
}

fn speeds(s: &Sheet) -> Table {
    let never = |text: Option<String>| Cell::from(text.unwrap_or_else(|| "never".to_owned()));
    let mut rows = vec![
        ("motor idles at", turns(s.idle).into()),
        ("shoes lift off at", turns(s.lift_off).into()),
        ("clutch engages at, first shoe", turns(s.engagement).into()),
        ("full-throttle slip speed of the motor", never(s.balance.map(turns))),
        ("lock-up speed, held", road_speed(s.lock_speed).into()),
    ];
    if s.launch.moves_off() {
        rows.push(("locks up at full throttle", never(s.lock.map(road_speed))));
    }
    pairs("Speeds", rows)
}

fn torques(s: &Sheet) -> Table {
    let heads = Head::row("motor [rpm] | torque [N·m] | torque [lbf·ft]");
    // At the engagement speed the torque is zero but for rounding.
    let number = |value: f64| Cell::Number(three(if value < 1e-6 { 0.0 } else { value }));
    let row = |(speed, torque): &(f64, f64)| {
        [
            Cell::Number(format!("{:.0}", slipsoak_engine::units::in_rpm(*speed))),
            number(*torque),
            number(torque / LBF_FT),
        ]
    };
    Table::new("Torque that the clutch transmits", heads, s.capacity.iter().map(row))
}

fn gap(s: &Sheet) -> Table {
    let gap = &s.cover_gap;
    let rows = vec![
        ("nominal", quantity(gap.nominal, D::Length)),
        ("least, by root sum square (RSS)", quantity(gap.likely, D::Length)),
        ("least, every part at its worst", quantity(gap.worst, D::Length)),
        ("oil in a full bushing", format!("{} mL, {} drops", three(s.oil * 1e6), three(s.oil_drops)).into()),
    ];
    pairs("Gap between drum and cover, and oil", rows)
}

fn launch(s: &Sheet) -> Table {
    let rows = vec![
        ("to", road_speed(s.launch.speed).into()),
        ("on", slope(s.launch.grade).into()),
        (
            "reached",
            if s.launch.moves_off() { road_speed(s.launch.reached) } else { "it does not move off".to_owned() }.into(),
        ),
        ("time", quantity(s.launch.time, D::Time)),
        ("slip energy", format!("{} kJ", three(s.launch.heat / 1e3)).into()),
        ("highest lining temperature", quantity(s.launch.lining, D::Temperature)),
    ];
    pairs("One launch from standstill at full throttle", rows)
}

/// The settings that no longer follow from geometry and masses.
fn by_hand(s: &Sheet) -> Table {
    let heads = ["", "set by hand", "from geometry and masses"].map(Head::words);
    let row = |s: &Setting| {
        let values = [s.value, s.follows.unwrap_or(s.value)].map(|value| of_setting(&s.path, value));
        std::iter::once(in_words(&s.path).into()).chain(values).collect::<Vec<_>>()
    };
    Table::new("Set by hand: these stay when a radius or a mass is changed", heads, s.by_hand.iter().map(row))
}
