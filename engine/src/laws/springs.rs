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
pub fn touching<R: Real>(over: R, rounding: R) -> R {
    if over.value() >= rounding.value() {
        over.beside(rounding)
    } else if over.value() <= -rounding.value() {
        R::from(0.0).beside(over).beside(rounding)
    } else {
        (over + rounding).squared() / (rounding * 4.0)
    }
}

/// Force δ over which the touch of a further shoe is rounded, N, where the shoe that presses most presses by x.
/// ```text
/// δ = x − x²/4δ0 for 0 < x < 2δ0,   δ0 for x ≥ 2δ0,   0 for x ≤ 0
/// ```
/// Before the first shoe touches no other presses, so that the torque begins at zero: with a width δ0 throughout it would jump by what
/// shoes within δ0 of their touch press, and an idle between both torques would engage and release without end.
/// ```
/// use slipsoak_engine::laws::springs::rounding;
/// assert_eq!([-1.0, 0.0, 1.0, 2.0, 9.0].map(|x| rounding(x, 1.0)), [0.0, 0.0, 0.75, 1.0, 1.0]);
/// ```
pub fn rounding<R: Real>(most: R, widest: f64) -> R {
    if most.value() <= 0.0 {
        R::from(0.0).beside(most)
    } else if most.value() >= 2.0 * widest {
        R::from(widest).beside(most)
    } else {
        most - most.squared() / (4.0 * widest)
    }
}
