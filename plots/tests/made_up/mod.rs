//! A record made up by formulas, so that its figures are known beforehand.
#![allow(dead_code, missing_docs)]

pub mod fleet;
pub mod learned;
pub mod shop;
pub mod sweep;

use slipsoak_engine::document::Saved;
use slipsoak_engine::names::{Channel, Entry, Happening, MomentOf, Part, Supply};
use slipsoak_engine::parts::{Machine, PARAMETERS};
use slipsoak_engine::record::{
    CloseUp, Column, Engagement, Event, Extremes, Ledger, Ledgers, Moment, PartUse, Record, Run, Setting, Windows, Work,
};
use std::collections::BTreeMap;

pub const WINDOWS: usize = 200;
pub const DURATION: f64 = 5400.0;
pub const NAMES: [&str; 3] =
    ["spring of 1900 rpm", "<script>alert('&')</script>", "a name far too long to stand beside any row of any figure"];

/// A channel at a share of the run's length, SI.
fn value(channel: Channel, run: usize, share: f64) -> f64 {
    let rise = (1.0 - (-4.0 * share).exp()) * (1.0 + 0.3 * run as f64);
    let beat = (share * 60.0).sin();
    match channel {
        Channel::LiningSurface => 293.15 + 110.0 * rise + 12.0 * beat,
        Channel::Band => 293.15 + 80.0 * rise + 5.0 * beat,
        Channel::Bushing => 293.15 + 55.0 * rise,
        Channel::Washer => 293.15 + 58.0 * rise,
        Channel::Block => 293.15 + 60.0 * (1.0 - (-2.0 * share).exp()),
        Channel::SlipPower => 120.0 + 60.0 * run as f64 + 50.0 * beat,
        Channel::OilFill => 1.0 - (0.08 + 0.1 * run as f64) * share,
        Channel::LiningWear | Channel::WasherWear => 1e-4 * share * (1.0 + run as f64),
        Channel::MotorSpeed => 180.0,
        Channel::Engagement => 200.0,
        _ if channel.is_temperature() => 293.15 + 70.0 * rise,
        _ => 1.0 + share,
    }
}

/// Entries of one side of a ledger.
fn side(entries: &[(Entry, f64)]) -> BTreeMap<Entry, f64> {
    entries.iter().copied().collect()
}

fn run(k: usize, name: &str) -> Run {
    let end: Vec<f64> = (1..=WINDOWS).map(|w| DURATION * w as f64 / WINDOWS as f64).collect();
    let row = |time: f64, aside: f64| -> Vec<f64> {
        let one = |c| value(c, k, time / DURATION) + if c == Channel::LiningSurface { aside } else { 0.0 };
        Channel::ALL.into_iter().map(one).collect()
    };
    let rows = |aside: f64| end.iter().map(|time| row(*time, aside)).collect::<Vec<_>>();
    let part = |part: Part, used: f64| PartUse {
        part,
        used,
        life: (used > 0.0).then_some(DURATION / used.max(1e-12)),
        running: (used > 0.0).then_some(DURATION / used.max(1e-12)),
        curve: end.iter().map(|time| used * time / DURATION).collect(),
    };
    let oil = Ledger {
        unit: "kg".to_owned(),
        inward: side(&[
            (Entry::InPoresAtTheStart, 9e-4),
            (Entry::InFilmAtTheStart, 4e-5),
            (Entry::InWasherAtTheStart, 2e-5),
            (Entry::PutOn, 1.4e-4),
        ]),
        held: side(&[(Entry::InPores, 1.0e-3 - 5e-5 * k as f64), (Entry::InFilm, 3e-5), (Entry::InWasher, 1.93e-5)]),
        outward: side(&[(Entry::Flung, 3e-5 + 5e-5 * k as f64), (Entry::Evaporated, 1e-6), (Entry::Leaked, 1.9e-5)]),
        ..Ledger::default()
    };
    let clutch = Ledger {
        unit: "J".to_owned(),
        inward: side(&[(Entry::SlipHeat, 3e5 + 1e5 * k as f64), (Entry::BearingHeat, 4e4)]),
        held: side(&[(Entry::InLining, 4e3), (Entry::InDrumWall, 3e4), (Entry::InShoes, 2.6e4), (Entry::InShaft, 1e4)]),
        outward: side(&[
            (Entry::BandToTheAir, 1.2e5 + 5e4 * k as f64),
            (Entry::Radiated, 6e4 + 5e4 * k as f64),
            (Entry::ShoesAndCarrierToTheAir, 7e4),
            (Entry::ThroughTheShaft, 2e4),
        ]),
        ..Ledger::default()
    };
    Run {
        variant: name.to_owned(),
        duty: "round".to_owned(),
        settings: settings(k),
        idle_kind: slipsoak_engine::names::IdleKind::Governed,
        lining_kind: slipsoak_engine::names::LiningKind::Woven,
        learned: vec![],
        duration: DURATION,
        sliding_time: 900.0,
        running_time: DURATION,
        distance: 20e3,
        launches: 60,
        overall: Extremes { least: row(0.0, -8.0), mean: row(0.5 * DURATION, 0.0), most: row(DURATION, 60.0) },
        windows: Windows {
            length: DURATION / WINDOWS as f64,
            end: end.clone(),
            running: end.clone(),
            least: rows(-8.0),
            mean: rows(0.0),
            most: rows(60.0),
        },
        close_up: Some(close_up(k, &row)),
        moments: moments(k, &row),
        engagement: engagement(k),
        segments: vec![],
        segments_left_out: 0,
        events: events(),
        events_left_out: 0,
        oil_since: None,
        ledgers: Ledgers {
            mechanics: Ledger::default(),
            chain: Ledger::default(),
            heat: Ledger::default(),
            oil,
            wear: Ledger::default(),
            clutch,
        },
        parts: vec![
            part(Part::Lining, 0.004 * 50f64.powi(k as i32)),
            part(Part::Bushing, 0.001),
            part(Part::Washer, 0.003),
            part(Part::Spring, 0.0),
            part(Part::Oil, 0.05),
        ],
        horizon: None,
        supplies: BTreeMap::from([(Supply::Drops, 4.0)]),
        warnings: vec![],
        grip: Some([1.0 - 0.2 * k as f64, 1.0 - 0.1 * k as f64]),
        halt: None,
        work: Work::default(),
    }
}

/// Settings of the standard machine with a spring of its own.
fn settings(k: usize) -> Vec<Setting> {
    let mut machine = Machine::default();
    machine.clutch.engagement = (1500.0 + 400.0 * k as f64) * RPM;
    let setting = |p: &slipsoak_engine::parts::Parameter| Setting {
        path: p.path.to_owned(),
        value: (p.of)(&machine),
        unit: p.dimension.unit().to_owned(),
        confidence: p.confidence,
        follows: None,
    };
    PARAMETERS.iter().map(setting).collect()
}

const RPM: f64 = std::f64::consts::PI / 30.0;

/// A launch of twenty seconds; the clutch locks after five.
fn close_up(k: usize, row: &impl Fn(f64, f64) -> Vec<f64>) -> CloseUp {
    let column = |channel: Channel| channel as usize;
    let at = |step: i32| {
        let t = f64::from(step) * 0.1;
        let mut values = row(630.0 + t, 0.0);
        let share = (t / 5.0).clamp(0.0, 1.0);
        values[column(Channel::MotorSpeed)] = (1700.0 + 700.0 * share.sqrt()) * RPM;
        values[column(Channel::DrumSpeed)] = 2400.0 * share * RPM;
        values[column(Channel::SlipPower)] = 2e3 * (1.0 - share) * f64::from(u8::from(t > 0.0));
        values[column(Channel::LiningSurface)] += 40.0 * share + 10.0 * k as f64;
        (630.0 + t, values)
    };
    let (time, rows) = (-20..=200).map(at).unzip();
    CloseUp { sets_off: 630.0, time, rows }
}

/// A ride and the rest after it; the third run has no rest.
fn moments(k: usize, row: &impl Fn(f64, f64) -> Vec<f64>) -> Vec<Moment> {
    let all = [
        (MomentOf::HottestLining, 3000.0, 40.0),
        (MomentOf::MotorOff, 3060.0, 0.0),
        (MomentOf::After2Min, 3180.0, -10.0),
        (MomentOf::After30Min, 4860.0, -60.0),
    ];
    let moment =
        |(what, time, aside): &(MomentOf, f64, f64)| Moment { what: *what, time: *time, values: row(*time, *aside) };
    all.iter().map(moment).take(if k == 2 { 1 } else { 4 }).collect()
}

/// A motor of 11 N·m and a clutch whose torque rises with the square of the speed.
fn engagement(k: usize) -> Engagement {
    let engages = 1500.0 + 400.0 * k as f64;
    let rpm: Vec<f64> = (7..=38).map(|n| 100.0 * f64::from(n)).collect();
    Engagement {
        speed: rpm.iter().map(|n| n * RPM).collect(),
        motor: rpm.iter().map(|n| if *n > 3600.0 { 11.0 * (3800.0 - n) / 200.0 } else { 11.0 }).collect(),
        capacity: rpm.iter().map(|n| 4e-6 * (n * n - engages * engages).max(0.0)).collect(),
        load: rpm.iter().map(|n| 2.0 + n / 4000.0).collect(),
        balance: Some((engages * engages + 11.0 / 4e-6).sqrt() * RPM),
        idle: Some((1630.0 * RPM, 1770.0 * RPM)),
        settled: None,
        renewed: None,
        first: None,
        lock: None,
    }
}

/// A launch every minute and a half, and oil at the end.
fn events() -> Vec<Event> {
    let event = |time: f64, what: Happening| Event { time, what };
    let ride = |n: u32| {
        let start = 90.0 * f64::from(n);
        [event(start, Happening::SetsOff), event(start + 5.0, Happening::Locks), event(start + 60.0, Happening::Stops)]
    };
    (0..40).flat_map(ride).chain([event(4000.0, Happening::SwitchedOff), event(4100.0, Happening::Oiled)]).collect()
}

pub fn record(names: &[&str]) -> Record {
    Record {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: "Three springs & one motor".to_owned(),
            ..Default::default()
        },
        reference: None,
        channels: Column::all(),
        runs: names.iter().enumerate().map(|(k, name)| run(k % 3, name)).collect(),
    }
}

/// A document of each kind, of records one of several runs and one of a single run.
pub fn documents() -> Vec<Saved> {
    vec![
        record(&NAMES).into(),
        record(&NAMES[..1]).into(),
        fleet::fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0)]).into(),
        sweep::crossed().into(),
        sweep::influences(64).into(),
        shop::choice().into(),
        shop::gaps().into(),
        shop::oiling().into(),
        shop::measure().into(),
        shop::season().into(),
        learned::told().into(),
        learned::retraced().into(),
        slipsoak_engine::sheet::sheet(&Machine::default()).expect("a sheet").into(),
    ]
}
