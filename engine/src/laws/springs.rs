//! Springs and shoes one by one: the force of those that touch.

use crate::real::Real;

/// Force of a shoe on the drum near its touch, N, without a kink: what centrifugal force leaves over the spring, rounded over ± δ.
/// ```text
/// 0 for x ≤ −δ,   (x + δ)²/4δ for |x| < δ,   x for x ≥ δ
/// ```
/// Errs by at most δ/4. With δ = 0 it is the force itself, held at zero.
/// ```
/// use slipsoak_engine::laws::springs::touching;
/// assert_eq!([-2.0, 0.0, 2.0, 3.0].map(|x| touching(x, 2.0)), [0.0, 0.5, 2.0, 3.0]);
/// assert_eq!([-1.0, 1.0].map(|x| touching(x, 0.0)), [0.0, 1.0]);
/// ```
pub fn touching<R: Real>(over: R, rounding: f64) -> R {
    if over.value() >= rounding {
        over
    } else if over.value() <= -rounding {
        R::from(0.0).beside(over)
    } else {
        (over + rounding).squared() / (4.0 * rounding)
    }
}
