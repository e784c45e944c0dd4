//! The oil of one cart between pores, film, washer and the outside: the model's own flows, at mean speeds and given temperatures.

use crate::model::{Assembly, Oil, Sink, Stirring, state};
use crate::real::Dual;
use nalgebra::{Matrix3, Vector3};

/// Allowed error of a step, as a share of a full bushing's oil; least and first step, and the longest in the first hours, s: later
/// temperatures hardly change.
const ERROR: f64 = 3e-3;
const LEAST: f64 = 0.5;
const FIRST: f64 = 20.0;
const LONGEST: f64 = 7200.0;
/// Share of the first-order method that makes the second-order one L-stable: 1 − √½.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// Oil in pores, film and washer, kg.
pub type Store = Vector3<f64>;

/// What is outside of the oil during a step: temperatures of bushing and washer, K, the bushing's rate, K/s, and the speeds.
#[derive(Clone, Copy, Debug)]
pub struct Around {
    /// temperature of the bushing
    pub bushing: f64,
    /// its rate
    pub warming: f64,
    /// temperature of the washer
    pub washer: f64,
    /// means: sum of speeds, square of the drum's, share at rest, share turning, square of the motor's, and by how fast the
    /// bushing warms and cools within a block, K/s: either way for half of the time
    pub stirring: [f64; 6],
}

/// Means of a motor and drum that stand.
pub const STANDING: [f64; 6] = [0.0, 0.0, 1.0, 0.0, 0.0, 0.0];

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

fn rates(a: &Assembly, y: &Store, at: &Around) -> Store {
    let [both, squared, resting, turning, spun, ripple] = at.stirring;
    let by = Stirring { both, squared, resting, turning, spun };
    let of = |warming: f64| {
        let mut out = Rates([0.0; 3]);
        Oil(a).stirred([y[0], y[1], y[2], 0.0, at.bushing, warming, at.washer], by, &mut out);
        Vector3::from(out.0)
    };
    if ripple > 0.0 { (of(at.warming + ripple) + of(at.warming - ripple)) * 0.5 } else { of(at.warming) }
}

fn slopes(a: &Assembly, y: &Store, at: &Around) -> (Store, Matrix3<f64>) {
    let [both, squared, resting, turning, spun, ripple] = at.stirring;
    let fixed = Dual::<3>::from;
    let by =
        Stirring { both: fixed(both), squared: fixed(squared), resting: fixed(resting), turning, spun: fixed(spun) };
    let of = |k: usize| Dual::variable(y[k], k);
    let at_rate = |warming: f64| {
        let mut out = Rates([fixed(0.0); 3]);
        let [t, warming, washer] = [at.bushing, warming, at.washer].map(fixed);
        Oil(a).stirred([of(0), of(1), of(2), fixed(0.0), t, warming, washer], by, &mut out);
        (Vector3::from(out.0.map(|rate| rate.v)), Matrix3::from_fn(|i, j| out.0[i].d[j]))
    };
    if ripple > 0.0 {
        let (up, down) = (at_rate(at.warming + ripple), at_rate(at.warming - ripple));
        ((up.0 + down.0) * 0.5, (up.1 + down.1) * 0.5)
    } else {
        at_rate(at.warming)
    }
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
