//! A calibration and a recorded ride made up by formulas.

use slipsoak_engine::calibrate::{
    Calibration, Evidence, Forecast, Learned, Quality, Reading, Source, Thermocouple, Told,
};
use slipsoak_engine::document::{Head, Is};
use slipsoak_engine::names::{Channel, IdleKind, LiningKind, Quantity};
use slipsoak_engine::retraced::{Cleaning, Launch, Retraced};
use slipsoak_engine::statistics::Bounds;

const HOUR: f64 = 3600.0;

/// A quantity that changes from a start value, before and after the fit, with readings that deviate by a share of their
/// scatter.
fn evidence(
    quantity: Option<Quantity>,
    (start, moves): (f64, f64),
    (by_launches, last): (bool, f64),
    scatter: f64,
) -> Evidence {
    let point = |k: u32| {
        let share = f64::from(k) / 24.0;
        let fitted = start + moves * share;
        let wide = 0.2 * moves.abs() * share;
        [last * share, start + 0.4 * moves * share, fitted, fitted - wide, fitted + wide]
    };
    let reading = |k: u32| {
        let share = f64::from(k / 2) / 5.0;
        let value = start + moves * share + scatter * f64::from(k).sin();
        Reading { of: ["one", "<script>"][k as usize % 2].to_owned(), at: last * share, value, scatter }
    };
    Evidence {
        name: quantity.map_or("bushing", Quantity::name).to_owned(),
        quantity,
        unit: quantity.map_or("K", |read| read.row().dimension.unit()).to_owned(),
        under: vec![],
        by_launches,
        readings: (0..12).map(reading).collect(),
        curve: (0..25).map(point).collect(),
    }
}

fn bounds(hours: f64, factor: f64, open: bool) -> Bounds {
    let of = |h: f64| Some(h * HOUR);
    Bounds { estimate: of(hours), low: of(hours / factor), high: if open { None } else { of(hours * factor) } }
}

/// A calibration with every kind of quantity, and lives whose upper bounds are open.
pub fn told() -> Told {
    let learned = |path: &str, value: f64| Learned {
        path: path.to_owned(),
        unit: "1".to_owned(),
        before: 1.0,
        before_factor: 3.0,
        value,
        factor: 1.2,
        clutches_factor: 1.3,
        spread: 1.4,
        from: vec!["washer".to_owned()],
    };
    let hours = (false, 240.0 * HOUR);
    Told {
        kind: Is::default(),
        calibration: Calibration {
            kind: Is::default(),
            head: Head {
                program: "slipsoak".to_owned(),
                command: vec!["slipsoak".to_owned()],
                script: "made up".to_owned(),
                title: "What do <worn> parts say?".to_owned(),
                seeds: vec![1],
                ..Head::default()
            },
            machine: "cart & <co>".to_owned(),
            lining_kind: LiningKind::Woven,
            data: vec![Source {
                file: "a.csv".to_owned(),
                hash: String::new(),
                duty: "day".to_owned(),
                used: 60,
                set_aside: 3,
            }],
            idle_kind: Some(IdleKind::ThrottleStop),
            constants: vec![learned("washer.wear_oiled", 2.0), learned("lining.wear", 0.7)],
            correlation: vec![vec![1.0, -0.4], vec![-0.4, 1.0]],
            running_in: vec![],
            thermocouples: vec![Thermocouple {
                file: "log.csv".to_owned(),
                place: Channel::Bushing,
                clock: 4.2,
                clock_error: 0.6,
                lag: 2.0,
                lag_error: 0.9,
                offset: -1.3,
            }],
            quality: Quality { sum: 55.0, freedom: 60, widened: 1.0, searches: (2, 2) },
        },
        evidence: vec![
            evidence(Some(Quantity::Washer), (0.762e-3, -0.15e-3), hours, 1e-5),
            evidence(Some(Quantity::Bushing), (5e-5, 2e-5), hours, 5e-6),
            evidence(Some(Quantity::Engagement), (200.0, -6.0), (true, 9000.0), 2.0),
            evidence(Some(Quantity::Weight), (1e-3, -4e-4), hours, 5e-6),
            evidence(None, (297.0, 80.0), (false, 1800.0), 2.0),
        ],
        forecast: Some(Forecast {
            duty: "day".to_owned(),
            clutches: 20,
            horizon: 2000.0 * HOUR,
            before: [
                bounds(90.0, 3.0, false),
                bounds(300.0, 2.0, false),
                Bounds { estimate: None, low: Some(700.0 * HOUR), high: None },
            ],
            after: [bounds(160.0, 1.4, false), bounds(330.0, 1.2, false), bounds(600.0, 1.3, true)],
        }),
    }
}

/// A recorded ride of three launches, one of which never locks up.
pub fn retraced() -> Retraced {
    let speed = |k: u32| {
        let wanted = 6.0 * (f64::from(k) * 0.02).sin().max(0.0);
        (f64::from(k), wanted, 0.95 * wanted)
    };
    let launch = |time: f64, energy: f64, locked: bool| Launch { time, slipped: 3.0, energy, locked, fastest: 4.0 };
    Retraced {
        kind: Is::default(),
        head: Head { program: "slipsoak".to_owned(), command: vec!["slipsoak".to_owned()], ..Head::default() },
        file: "ride & <more>.csv".to_owned(),
        file_hash: String::new(),
        machine: "cart".to_owned(),
        grade: 0.0,
        recording: Cleaning { points: 900, kept: 300, duration: 899.0, distance: 1900.0, ..Cleaning::default() },
        launches: vec![launch(2.0, 900.0, true), launch(316.0, 1500.0, true), launch(630.0, 5200.0, false)],
        rolled: 0,
        heat: (7600.0, 9000.0),
        distance: 1805.0,
        lock_speed: 4.5,
        lining: 390.0,
        lining_most: 523.15,
        classes: vec![(0.0, 1000.0, 1), (1000.0, 2000.0, 1), (2000.0, 4000.0, 0), (4000.0, 8000.0, 1)],
        speeds: (0..900).map(speed).collect(),
        engagement: 200.0,
        idle: 178.0,
        idle_kind: slipsoak_engine::names::IdleKind::ThrottleStop,
        warnings: vec![],
    }
}
