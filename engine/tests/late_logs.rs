//! Logs whose clock is off, and whose thermocouples lag and read high: made by the engine with known delays.

use slipsoak_engine::calibrate::{
    Compared, Logged, NINETY_FIVE, Problem, Solution, Stretch, Thermometer, lagging, setting, temperatures,
};
use slipsoak_engine::fleet::deviate;
use slipsoak_engine::names::Channel;
use slipsoak_engine::numerics::along;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::statistics::normal_quantile;
use slipsoak_engine::units::HOUR;

use crate::start_and_night::start_and_night;

/// Factor of the convection that has to be found.
const TRUE: f64 = 1.5;
/// Deviation of a stretch's mean, K.
const GAUGE: f64 = 0.5;
const NODES: [Channel; 2] = [Channel::Band, Channel::Bushing];

/// What a logger shows: its clock, each sensor's lag, s, and offset, K, scatter in `GAUGE`, and the time over which it averages
/// before a stamp, s.
struct Logger {
    clock: f64,
    lags: [f64; 2],
    offsets: [f64; 2],
    scatter: f64,
    averaged: f64,
}

const EXACT: Logger = Logger { clock: 0.0, lags: [0.0; 2], offsets: [0.0; 2], scatter: 0.0, averaged: 0.0 };

/// Twenty minutes of launches and stops, logged every second in stretches of half a minute.
fn problem(logger: &Logger) -> Problem {
    let machine = Machine::default();
    let convection = setting("heat.convection").expect("it can be learned");
    let segments = [&start_and_night()[..4]; 12].concat();
    let mut log = Logged { file: "log".into(), duty: "rides".into(), segments, channels: vec![] };
    let channel = |node| Thermometer { node, stretches: vec![], readings: 1200, gauge: GAUGE };
    log.channels = NODES.map(channel).to_vec();
    let mut real = machine.clone();
    real.change(|m| (convection.put)(m, TRUE * (convection.of)(m)));
    let curves = temperatures(&log, real).expect("it runs");
    let end = curves[0].last().expect("a curve").0.min(1200.0);
    for (k, channel) in log.channels.iter_mut().enumerate() {
        let shown = lagging(&curves[k], logger.lags[k]);
        let at = |time: f64| {
            let ages = (0..9).map(|j| logger.averaged * f64::from(j) / 8.0);
            ages.map(|age| along(&shown, time - logger.clock - age)).sum::<f64>() / 9.0 + logger.offsets[k]
        };
        let stretch = |j: u32| {
            let times: Vec<f64> = (30 * j..30 * (j + 1)).map(f64::from).filter(|time| *time < end).collect();
            let z = normal_quantile(deviate(5, u64::from(j), channel.node.name()));
            let value = times.iter().copied().map(at).sum::<f64>() / times.len() as f64 + logger.scatter * GAUGE * z;
            Stretch { times, value }
        };
        channel.stretches = (0..40).map(stretch).filter(|s| !s.times.is_empty()).collect();
    }
    let mut problem = Problem::new(machine, vec![convection], (5.0 * HOUR, Skipping::default()));
    problem.logged = vec![log];
    problem
}

fn solved(logger: &Logger) -> Solution {
    problem(logger).solve(1, 1).expect("a solution")
}

#[test]
fn clock_lags_offsets_and_the_constant_of_a_made_up_log_are_found_within_their_stated_ranges() {
    let logger = Logger { clock: 1.5, lags: [4.0, 7.0], offsets: [2.5, -1.5], scatter: 1.0, averaged: 0.0 };
    let found = solved(&logger);
    let learned = &found.constants[0];
    let off = (learned.value / learned.before / TRUE).ln().abs();
    assert!(off < learned.factor.ln() && learned.factor < 1.1, "{learned:?}");
    for (k, t) in found.thermocouples.iter().enumerate() {
        assert!((t.clock - logger.clock).abs() < NINETY_FIVE * t.clock_error, "{t:?}");
        assert!((t.lag - logger.lags[k]).abs() < NINETY_FIVE * t.lag_error && t.lag_error < 2.5, "{t:?}");
        assert!((t.offset - logger.offsets[k]).abs() < 1.0, "{t:?}");
    }
    assert!(found.quality.widened < 1.3, "{:?}", found.quality);
}

#[test]
fn without_a_shift_nothing_moves() {
    let found = solved(&EXACT);
    let learned = &found.constants[0];
    assert!((learned.value / learned.before / TRUE).ln().abs() < 2e-3, "{learned:?}");
    for t in &found.thermocouples {
        assert!(t.clock.abs() < 0.05 && t.lag.abs() < 0.05 && t.offset.abs() < 0.05, "{t:?}");
    }
}

#[test]
fn a_sensor_that_leads_has_no_lag_and_the_constant_stays_within_its_range() {
    // Between two nodes a sensor may run ahead of the one that it is said to measure.
    let found = solved(&Logger { lags: [-4.0, 3.0], scatter: 1.0, ..EXACT });
    let [ahead, behind] = [0, 1].map(|k| &found.thermocouples[k]);
    assert!(ahead.lag == 0.0 && ahead.lag_error > 0.1, "{ahead:?}");
    assert!(behind.lag > 1.0, "{behind:?}");
    let learned = &found.constants[0];
    assert!((learned.value / learned.before / TRUE).ln().abs() < 2.0 * learned.factor.ln(), "{learned:?}");
}

#[test]
fn means_over_eight_seconds_before_each_stamp_do_not_widen_the_error() {
    let found = solved(&Logger { averaged: 8.0, scatter: 1.0, ..EXACT });
    let learned = &found.constants[0];
    assert!((learned.value / learned.before / TRUE).ln().abs() < learned.factor.ln(), "{learned:?}");
    assert!(found.quality.widened < 1.3, "{:?}", found.quality);
}

#[test]
fn comparing_alone_allows_for_the_clock_but_not_for_another_machine() {
    let late = Logger { clock: 2.0, lags: [5.0; 2], ..EXACT };
    let mut same = problem(&late);
    same.machine.change(|m| (same.sought[0].put)(m, TRUE * (same.sought[0].of)(m)));
    let other = problem(&late).compare().expect("it runs");
    let same = same.compare().expect("it runs");
    assert!(same.iter().all(|m| m.deviations < 0.6), "{same:?}");
    let band = |all: &[slipsoak_engine::calibrate::Misfit]| {
        all.iter().find(|m| m.of == Compared::Logged(Channel::Band)).map_or(0.0, |m| m.deviations)
    };
    assert!(band(&other) > 4.0, "{other:?}");
}
