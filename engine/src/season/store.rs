//! The oil of one cart between pores, film, washer and the outside: the model's own flows, at mean speeds and given temperatures.

use super::gauge::SPEEDS;
use crate::model::{Assembly, Oil, Sink, Stirring, state};
use crate::real::{Dual, Real};
use nalgebra::{Matrix3, Vector3};

/// Allowed error of a step, as a share of a full bushing's oil, of which a day takes 0.001 to 0.05; least and first step, and the longest
/// in the first hours, s: later temperatures hardly change.
const ERROR: f64 = 3e-5;
const LEAST: f64 = 0.5;
const FIRST: f64 = 20.0;
const LONGEST: f64 = 7200.0;
/// The method: ROS3 of A. Sandu, J. G. Verwer, J. G. Blom, E. J. Spee, G. R. Carmichael and F. A. Potra, "Benchmarking stiff ODE solvers for
/// atmospheric chemistry problems II: Rosenbrock solvers", 1997, of third order with an embedded second one, L-stable, three stages of which the
/// last two share their rates. γ; the weights of earlier stages, of the slope along time, of the result and of the error.
const GAMMA: f64 = 0.435_866_521_508_459;
const EARLIER: [f64; 3] = [-1.015_617_108_387_770_2, 4.075_995_645_253_77, 9.207_679_429_833_079];
const AHEAD: [f64; 3] = [GAMMA, 0.242_919_964_548_168_04, 2.185_138_002_766_406];
const RESULT: [f64; 3] = [1.0, 6.169_794_704_382_825, -0.427_722_562_432_185_7];
const MISSED: [f64; 3] = [0.5, -2.907_955_871_680_547, 0.223_540_698_978_115_7];

/// Oil in pores, film and washer, kg.
pub type Store = Vector3<f64>;

/// What is outside of the oil during a step: temperatures of bushing and washer, K, and the speeds.
#[derive(Clone, Copy, Debug)]
pub struct Around {
    /// temperature of the bushing where the step begins
    pub bushing: f64,
    /// its rate, K/s
    pub warming: f64,
    /// mean of the size of its rate, up and down within a block, K/s; no less than the size of its mean rate
    pub ripple: f64,
    /// by how much it swings about its mean within a block, K
    pub swing: f64,
    /// temperature of the washer
    pub washer: f64,
    /// means: sum of speeds, square of the drum's, share at rest, share turning, square of the motor's
    pub stirring: [f64; SPEEDS],
}

/// Means of a motor and drum that stand.
pub const STANDING: [f64; SPEEDS] = [0.0, 0.0, 1.0, 0.0, 0.0];

/// A clutch full of oil, at its ambient temperature.
pub fn full(a: &Assembly) -> Store {
    let fresh = a.fresh();
    Vector3::new(fresh[state::PORES], fresh[state::FILM], fresh[state::WASHER_OIL])
}

struct Rates<R>([R; 3]);

impl<R: Copy + std::ops::Add<Output = R>> Sink<R> for Rates<R> {
    fn add(&mut self, row: usize, value: R) {
        let at = [state::PORES, state::FILM, state::WASHER_OIL].iter().position(|known| *known == row);
        if let Some(k) = at {
            self.0[k] = self.0[k] + value;
        }
    }
}

/// States of a block over which rates are averaged, and their number: oil that moves from the pores to the film, kg, and kelvins above the
/// bushing's mean.
type Phases = ([(f64, f64); 2], usize);

/// The bushing warms and cools. Where film stands above the clearance at times, from where it is thrown off by the cube of its height, it does
/// so while it is warmer and while it is colder than on the mean.
fn phases(a: &Assembly, y: &Store, t: f64, at: &Around) -> Phases {
    let swing = at.swing;
    if at.ripple == 0.0 {
        return ([(0.0, 0.0); 2], 1);
    }
    let moved = (a.breathes(y[0], y[1], t) * swing).min(0.9 * y[1]);
    if a.fill(y[1] + moved, t) < 1.0 {
        return ([(0.0, 0.0); 2], 1);
    }
    ([(moved, swing), (-moved, -swing)], 2)
}

/// The rates of change of one phase.
fn of_phase<R: Real>(a: &Assembly, y: [R; 3], t: R, at: &Around) -> [R; 3] {
    let [both, squared, resting, turning, spun] = at.stirring;
    let fixed = R::from;
    let by = Stirring {
        both: fixed(both),
        squared: fixed(squared),
        resting: fixed(resting),
        turning,
        spun: fixed(spun),
        ripple: at.ripple,
    };
    let mut out = Rates([fixed(0.0); 3]);
    let [pores, film, soaked] = y;
    Oil(a).stirred([pores, film, soaked, fixed(0.0), t, fixed(at.warming), fixed(at.washer)], by, &mut out);
    out.0
}

fn rates(a: &Assembly, y: &Store, t: f64, at: &Around) -> Store {
    let (all, number) = phases(a, y, t, at);
    let of = |&(moved, by): &(f64, f64)| Store::from(of_phase(a, [y[0] - moved, y[1] + moved, y[2]], t + by, at));
    all[..number].iter().map(of).sum::<Store>() / number as f64
}

/// The rates with their slopes along the oil and along time, /s.
fn slopes(a: &Assembly, y: &Store, at: &Around) -> (Store, Matrix3<f64>, Store) {
    let (all, number) = phases(a, y, at.bushing, at);
    let of = |&(moved, by): &(f64, f64)| {
        let oil = |k: usize, by: f64| Dual::<4>::variable(y[k] + by, k);
        of_phase(a, [oil(0, -moved), oil(1, moved), oil(2, 0.0)], Dual::variable(at.bushing + by, 3), at)
    };
    let mut sum = (Store::zeros(), Matrix3::zeros(), Store::zeros());
    for out in all[..number].iter().map(of) {
        sum.0 += Vector3::from(out.map(|rate| rate.v));
        sum.1 += Matrix3::from_fn(|i, j| out[i].d[j]);
        sum.2 += Vector3::from(out.map(|rate| rate.d[3] * at.warming));
    }
    let number = number as f64;
    (sum.0 / number, sum.1 / number, sum.2 / number)
}

/// The oil after a step and the estimated error, kg.
fn stepped(a: &Assembly, y: &Store, at: &Around, h: f64) -> Option<(Store, f64)> {
    let (now, jacobian, ahead) = slopes(a, y, at);
    let inverse = (Matrix3::identity() - jacobian * (GAMMA * h)).try_inverse()? * GAMMA;
    let ahead = ahead * (h * h);
    let first = inverse * (now * h + ahead * AHEAD[0]);
    let later = rates(a, &(y + first).map(|mass| mass.max(0.0)), at.bushing + at.warming * GAMMA * h, at) * h;
    let second = inverse * (later + first * EARLIER[0] + ahead * AHEAD[1]);
    let third = inverse * (later + first * EARLIER[1] + second * EARLIER[2] + ahead * AHEAD[2]);
    let sum = |of: [f64; 3]| first * of[0] + second * of[1] + third * of[2];
    Some(((y + sum(RESULT)).map(|mass| mass.max(0.0)), sum(MISSED).amax()))
}

/// Carries the oil through a time, s, no step across one of the `corners`; `around` says what is outside between two times, and `each` is
/// called with the oil in the middle of every step, what is outside, and the step's length.
pub fn carry(
    a: &Assembly,
    y: &mut Store,
    length: f64,
    corners: &[f64],
    around: &dyn Fn(f64, f64) -> Around,
    each: &mut dyn FnMut(&Store, &Around, f64),
) {
    let (mut time, mut wished) = (0.0, FIRST);
    while time < length - 1e-6 {
        let end = corners.iter().copied().find(|corner| *corner > time + 1e-6).unwrap_or(length).min(length);
        let h = wished.min(LONGEST.max(time)).min(end - time);
        let at = around(time, time + h);
        let close = |error: f64| error <= ERROR * a.full_mass;
        let Some((after, error)) = stepped(a, y, &at, h).filter(|step| close(step.1) || h <= LEAST) else {
            wished = (0.3 * h).max(LEAST.min(0.5 * h));
            continue;
        };
        each(&((*y + after) * 0.5), &at, h);
        *y = after;
        time += h;
        let fits = h * (0.8 * libm::cbrt(ERROR * a.full_mass / error.max(1e-300))).clamp(0.3, 4.0);
        wished = if h < wished { fits.max(wished) } else { fits };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::Machine;

    /// What a step errs by falls by 16 when it is halved, that of all steps by 8; the estimate is larger. Pores that are full would be a corner.
    #[test]
    fn a_step_in_warming_oil_is_of_third_order_and_misses_less_than_estimated() {
        let a = Assembly::new(Machine::default()).expect("a machine");
        let mut start = full(&a);
        start *= 0.8;
        let stirring = [300.0, 2e4, 0.2, 0.8, 6e4];
        let at = |from: f64| Around {
            bushing: 310.0 + 0.02 * from,
            warming: 0.02,
            ripple: 0.0,
            swing: 0.0,
            washer: 330.0,
            stirring,
        };
        let after = |steps: u32| {
            let h = 200.0 / f64::from(steps);
            (0..steps).fold(start, |y, k| stepped(&a, &y, &at(f64::from(k) * h), h).expect("a step").0)
        };
        let exact = after(1024);
        let missed = [8, 16, 32].map(|steps| (after(steps) - exact).amax());
        for pair in missed.windows(2) {
            assert!((6.0..12.0).contains(&(pair[0] / pair[1])), "{missed:?}");
        }
        let (once, estimated) = stepped(&a, &start, &at(0.0), 200.0).expect("a step");
        assert!((once - exact).amax() < estimated, "{estimated}");
    }
}
