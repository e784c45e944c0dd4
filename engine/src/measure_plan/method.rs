//! The ways to measure: what each reads of a machine, with the standard deviation of its error, and the work that it takes.
//!
//! Deviations of the gauges are those of `calibrate`, assumed; minutes are common practice, no source.

use super::trial::{Shown, Trial};
use crate::calibrate::{GAUGE, LEVEL};
use crate::names::{Method, Quantity};
use crate::units::{MINUTE, RPM};
use std::f64::consts::SQRT_2;

/// Standard deviation of an infra-red reading on a black dot, K, and as a share of the rise over the air.
const INFRA_RED: (f64, f64) = (3.0, 0.02);
/// Standard deviation of a tachometer at idle, rad/s.
const TACHOMETER: f64 = 10.0 * RPM;

/// Work of a measurement, s: of each reading, and whether it is read before and after some riding.
pub fn effort(method: Method) -> (f64, bool) {
    let (each, twice) = match method {
        Method::Weigh => (15.0, true),
        Method::Washer | Method::Bushing | Method::Lining => (10.0, true),
        Method::Engagement | Method::Idle | Method::Face => (5.0, false),
        Method::Spring | Method::Drop => (15.0, false),
        Method::SpinDown => (10.0, false),
        Method::Log => (60.0, false),
    };
    (each * MINUTE, twice)
}

/// What a method reads of a trial, and after which wait: values with the standard deviation of their errors.
pub(super) fn reads(method: Method, trial: &Trial, wait: usize) -> Vec<(f64, f64)> {
    let gauge = |quantity: Quantity, value: f64| quantity.row().gauge.at(value);
    // The part when new is known by its own reading alone: its size scatters.
    let change = |quantity: Quantity| {
        let shown = |of: &Shown| of[quantity as usize];
        let (new, after) = (shown(&trial.new), shown(&trial.after[wait]));
        vec![(new - after, SQRT_2 * gauge(quantity, new))]
    };
    let once = |quantity: Quantity| {
        let value = trial.new[quantity as usize];
        vec![(value, gauge(quantity, value))]
    };
    match method {
        Method::Weigh => change(Quantity::Weight),
        Method::Washer => change(Quantity::Washer),
        Method::Bushing => change(Quantity::Bushing),
        Method::Lining => change(Quantity::Lining),
        Method::Engagement => once(Quantity::Engagement),
        Method::Spring => once(Quantity::Spring),
        Method::Drop => once(Quantity::Drop),
        Method::SpinDown => once(Quantity::SpinDown),
        Method::Idle => vec![(trial.idle, TACHOMETER)],
        Method::Face => {
            let (band, air) = (trial.hot[0], trial.air);
            vec![(band, INFRA_RED.0 + INFRA_RED.1 * (band - air).max(0.0))]
        }
        Method::Log => trial.hot.iter().map(|value| (*value, GAUGE.hypot(LEVEL))).collect(),
    }
}

/// The quantity that an inspection takes up, if there is one.
pub const fn quantity(method: Method) -> Option<Quantity> {
    match method {
        Method::Weigh => Some(Quantity::Weight),
        Method::Washer => Some(Quantity::Washer),
        Method::Bushing => Some(Quantity::Bushing),
        Method::Lining => Some(Quantity::Lining),
        Method::Engagement => Some(Quantity::Engagement),
        Method::Spring => Some(Quantity::Spring),
        Method::Drop => Some(Quantity::Drop),
        Method::SpinDown => Some(Quantity::SpinDown),
        Method::Idle | Method::Face | Method::Log => None,
    }
}
