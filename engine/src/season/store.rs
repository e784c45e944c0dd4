//! The oil of one cart between pores, film, washer and the outside: the model's own flows, at mean speeds and given temperatures.

use super::gauge::SPEEDS;
use crate::model::{Assembly, Oil, Sink, Stirring, state};
use crate::real::{Dual, Real};
use nalgebra::{Matrix3, Vector3};

/// Allowed error of a step, as a share of a full bushing's oil, of which a day takes 0.001 to 0.05; least and first step, and the longest
/// in the first hours, s: later temperatures hardly change.
const ERROR: f64 = 3e-4;
const LEAST: f64 = 0.5;
const FIRST: f64 = 20.0;
const LONGEST: f64 = 7200.0;
/// Share of the first-order method that makes the second-order one L-stable: 1 − √½.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// Oil in pores, film and washer, kg.
pub type Store = Vector3<f64>;

/// What is outside of the oil during a step: temperatures of bushing and washer, K, and the speeds.
#[derive(Clone, Copy, Debug)]
pub struct Around {
    /// temperature of the bushing
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

/// States of a block over which rates are averaged, and their number: oil that moves from the pores to the film, kg, and the bushing's
/// temperature.
type Phases = ([(f64, f64); 2], usize);

/// The bushing warms and cools. Where film stands above the clearance at times, from where it is thrown off by the cube of its height, it does
/// so while it is warmer and while it is colder than on the mean.
fn phases(a: &Assembly, y: &Store, at: &Around) -> Phases {
    let (t, swing) = (at.bushing, at.swing);
    if at.ripple == 0.0 {
        return ([(0.0, t); 2], 1);
    }
    let moved = (a.breathes(y[0], y[1], t) * swing).min(0.9 * y[1]);
    if a.fill(y[1] + moved, t) < 1.0 {
        return ([(0.0, t); 2], 1);
    }
    ([(moved, t + swing), (-moved, t - swing)], 2)
}

/// The rates of change of one phase.
fn of_phase<R: Real>(a: &Assembly, y: [R; 3], t: f64, at: &Around) -> [R; 3] {
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
    Oil(a).stirred([pores, film, soaked, fixed(0.0), fixed(t), fixed(at.warming), fixed(at.washer)], by, &mut out);
    out.0
}

fn rates(a: &Assembly, y: &Store, at: &Around) -> Store {
    let (all, number) = phases(a, y, at);
    let of = |&(moved, t): &(f64, f64)| Store::from(of_phase(a, [y[0] - moved, y[1] + moved, y[2]], t, at));
    all[..number].iter().map(of).sum::<Store>() / number as f64
}

fn slopes(a: &Assembly, y: &Store, at: &Around) -> (Store, Matrix3<f64>) {
    let (all, number) = phases(a, y, at);
    let of = |&(moved, t): &(f64, f64)| {
        let oil = |k: usize, by: f64| Dual::<3>::variable(y[k] + by, k);
        let out = of_phase(a, [oil(0, -moved), oil(1, moved), oil(2, 0.0)], t, at);
        (Vector3::from(out.map(|rate| rate.v)), Matrix3::from_fn(|i, j| out[i].d[j]))
    };
    let all = all[..number].iter().map(of);
    let (rates, slopes) = all.fold((Store::zeros(), Matrix3::zeros()), |sum, one| (sum.0 + one.0, sum.1 + one.1));
    (rates / number as f64, slopes / number as f64)
}

/// The oil after a step and the estimated error, kg, by a linearly implicit method of second order (ROS2, L-stable).
fn stepped(a: &Assembly, y: &Store, at: &Around, h: f64) -> Option<(Store, f64)> {
    let (now, jacobian) = slopes(a, y, at);
    let inverse = (Matrix3::identity() - jacobian * (GAMMA * h)).try_inverse()?;
    let first = inverse * now;
    let second = inverse * (rates(a, &(y + first * h).map(|mass| mass.max(0.0)), at) - first * 2.0);
    let error = ((first + second) * (0.5 * h)).amax();
    Some(((y + first * (1.5 * h) + second * (0.5 * h)).map(|mass| mass.max(0.0)), error))
}

/// Carries the oil through a time, s; `around` says what is outside between two times, and `each` is called with the oil in the
/// middle of every step, what is outside, and the step's length.
pub fn carry(
    a: &Assembly,
    y: &mut Store,
    length: f64,
    around: &dyn Fn(f64, f64) -> Around,
    each: &mut dyn FnMut(&Store, &Around, f64),
) {
    let (mut time, mut h) = (0.0, FIRST);
    while time < length - 1e-6 {
        h = h.min(length - time).min(LONGEST.max(time));
        let at = around(time, time + h);
        let close = |error: f64| error <= ERROR * a.full_mass;
        let Some((after, error)) = stepped(a, y, &at, h).filter(|step| close(step.1) || h <= LEAST) else {
            h = (0.3 * h).max(LEAST.min(0.5 * h));
            continue;
        };
        each(&((*y + after) * 0.5), &at, h);
        *y = after;
        time += h;
        h *= (0.8 * (ERROR * a.full_mass / error.max(1e-300)).sqrt()).clamp(0.3, 4.0);
    }
}
