//! What a thermocouple and its logger show of a temperature: late by the sensor's lag, stamped by another clock.

use super::{Constant, Scale};
use crate::curve::along;
use crate::names::Channel;

/// Deviation of a log's clock against the duty's, s (assumed: started by hand).
const CLOCK: f64 = 1.0;
/// Deviation of a thermocouple's lag, s (assumed: a bead of a millimetre under a clamp).
const LAG: f64 = 3.0;

/// One channel of a log.
#[derive(Clone, Debug, PartialEq)]
pub struct Thermometer {
    /// node, a channel of the engine
    pub node: Channel,
    /// stretches of the log
    pub stretches: Vec<Stretch>,
    /// readings in the file
    pub readings: u64,
    /// standard deviation of a stretch's mean, K
    pub gauge: f64,
}

/// Neighbouring readings of a channel, which are compared by their mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// times of the readings by the log's clock, s
    pub times: Vec<f64>,
    /// their mean, K
    pub value: f64,
}

impl Stretch {
    /// Mean time of the readings, s.
    pub fn time(&self) -> f64 {
        self.times.iter().sum::<f64>() / self.times.len() as f64
    }
}

/// When a thermometer reads what: nuisance parameters of a fit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Delay {
    /// what the log's clock shows as the duty starts, s
    pub clock: f64,
    /// time constant of the thermocouple, s
    pub lag: f64,
}

impl Delay {
    /// The clock of a log as a constant of the fit.
    pub(super) fn clock_of(file: &str) -> Constant {
        Constant { name: format!("clock of {file}"), start: 0.0, scale: Scale::Plain, known: Some(CLOCK) }
    }

    /// The lag of a thermocouple as a constant of the fit. It starts at none.
    pub(super) fn lag_of(file: &str, node: Channel) -> Constant {
        Constant { name: format!("lag of {node} in {file}"), start: 0.0, scale: Scale::NotNegative, known: Some(LAG) }
    }

    /// Means that a thermometer shows over its stretches, from the temperature of its node over the duty.
    pub(super) fn shows(self, curve: &[(f64, f64)], stretches: &[Stretch]) -> Vec<f64> {
        let curve = lagging(curve, self.lag);
        let mean = |s: &Stretch| {
            s.times.iter().map(|time| along(&curve, time - self.clock)).sum::<f64>() / s.times.len() as f64
        };
        stretches.iter().map(mean).collect()
    }
}

/// What a sensor of this time constant shows of a temperature that is linear between points, at those points: (time, value).
/// It starts with the temperature.
/// ```text
/// τ dθ/dt = T − θ;   between points of rise m:   θ = T − τ m + (θ₀ − T₀ + τ m) e^(−t/τ)
/// ```
/// Neglected: conduction along the sensor's wires, which the offset takes up where it is steady. A lag below 0, which a fit
/// may try, leads by as much as the opposite lags, so that slopes go through 0.
///
/// Source: E. O. Doebelin, Measurement Systems, first-order instruments: in a ramp the reading is late by τ, after a step
/// 63.2 % are seen after τ.
/// ```
/// use slipsoak_engine::calibrate::lagging;
/// let ramp = [(0.0, 0.0), (100.0, 200.0)];
/// assert!((lagging(&ramp, 5.0)[1].1 - 2.0 * (100.0 - 5.0)).abs() < 1e-6);
/// ```
pub fn lagging(curve: &[(f64, f64)], lag: f64) -> Vec<(f64, f64)> {
    let Some(first) = curve.first().filter(|_| lag != 0.0) else { return curve.to_vec() };
    let tau = lag.abs();
    let mut shown = first.1;
    let follow = |pair: &[(f64, f64)]| {
        let (a, b) = (pair[0], pair[1]);
        let span = b.0 - a.0;
        if span > 0.0 {
            let behind = tau * (b.1 - a.1) / span;
            shown = b.1 - behind + (shown - a.1 + behind) * libm::exp(-span / tau);
        }
        (b.0, if lag > 0.0 { shown } else { 2.0 * b.1 - shown })
    };
    std::iter::once(*first).chain(curve.windows(2).map(follow)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_a_step_a_first_order_sensor_shows_what_the_textbook_does() {
        // Doebelin: 63.2 % after τ, 95.0 % after 3 τ (from memory).
        let step: Vec<(f64, f64)> =
            [(0.0, 300.0), (1e-9, 400.0)].into_iter().chain((1..100).map(|k| (f64::from(k) * 0.3, 400.0))).collect();
        let shown = lagging(&step, 3.0);
        assert!((along(&shown, 3.0) - 363.2).abs() < 0.05 && (along(&shown, 9.0) - 395.0).abs() < 0.05);
    }

    #[test]
    fn leading_is_lagging_turned_round() {
        let curve = [(0.0, 300.0), (4.0, 310.0), (7.0, 302.0)];
        let [late, early] = [2.0, -2.0].map(|lag| lagging(&curve, lag));
        for ((exact, late), early) in curve.iter().zip(late).zip(early) {
            assert!((late.1 + early.1 - 2.0 * exact.1).abs() < 1e-12);
        }
        assert_eq!(lagging(&curve, 0.0), curve);
    }

    #[test]
    fn a_clock_that_was_started_early_shows_later_times() {
        let curve: Vec<(f64, f64)> = (0..50).map(|k| (f64::from(k), 300.0 + f64::from(k))).collect();
        let stretch = Stretch { times: vec![20.0, 22.0], value: 0.0 };
        let delay = Delay { clock: 3.0, lag: 0.0 };
        assert!((delay.shows(&curve, &[stretch])[0] - 318.0).abs() < 1e-9);
    }
}
