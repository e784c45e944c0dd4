//! Start points of jumps, and extrapolation from them.

use super::Course;

/// Range of the ratio of two slopes within which the slope is extrapolated geometrically.
const BY_SHARES: std::ops::Range<f64> = 0.3..3.0;

/// Least rate of a relaxation, per block.
const SLOWEST: f64 = 1e-9;

/// All quantities at the start of a jump.
#[derive(Clone, Debug)]
pub(super) struct Anchor {
    /// blocks done
    pub at: f64,
    /// values
    pub values: Vec<f64>,
    /// changes over a block
    pub slope: Vec<f64>,
}

/// Start points of the last jumps, the present one first.
pub(super) struct Anchors<'a> {
    pub here: &'a Anchor,
    /// start of the last jump; before the first jump, the state one block back
    pub last: &'a Anchor,
    /// start of the jump before that, if there were two jumps
    pub earlier: Option<&'a Anchor>,
    /// whether this is the first jump
    pub first: bool,
}

impl Anchors<'_> {
    /// Extrapolated value of a quantity n blocks after the present anchor.
    ///
    /// ```text
    /// drifts    w + S q (qⁿ − 1)/(q − 1)    q: ratio of the slope S from block to block
    ///           w + n S + n(n + 1)/2 B      if S changes its sign or its ratio is out of range
    /// slows     w + ln(1 + n E/c) c         S falls as S/(1 + n S/c); E = S/(1 + S/2c) is the slope at the end of the block
    /// relaxes   as what drifts geometrically, however small q is; w where S changes its sign
    /// settles   parabola through the anchors; before there are any, the geometric approach
    /// ```
    pub fn foresee(&self, course: Course, k: usize, n: f64) -> f64 {
        let (now, slope, before) = (self.here.values[k], self.here.slope[k], self.last.slope[k]);
        let blocks = self.here.at - self.last.at;
        let share = libm::log(slope / before) / blocks;
        let by_shares = BY_SHARES.contains(&(slope / before)) && share != 0.0;
        match course {
            Course::Slows(_) => {
                let slowing = (1.0 / slope - 1.0 / before) / blocks;
                let slows = slowing > 0.0 && slowing.is_finite();
                // A slope is the mean over a block. Its value at the end of the block is that of half a block later.
                let ending = slope / (1.0 + 0.5 * slope * slowing);
                now + if slows { libm::log1p(n * ending * slowing) / slowing } else { n * slope }
            }
            Course::Drifts(_) if by_shares => {
                now + slope * libm::exp(share) * libm::expm1(n * share) / libm::expm1(share)
            }
            Course::Relaxes(_) => {
                let change = |rate: f64| slope * -libm::expm1(-n * rate) / libm::expm1(rate);
                now + self.relaxation(k).map_or(0.0, change)
            }
            // A quantity with zero slope stays where it is, whatever its earlier slope was.
            Course::Drifts(_) | Course::Follows if slope == 0.0 => now,
            Course::Drifts(_) | Course::Follows => now + n * slope + 0.5 * n * (n + 1.0) * (slope - before) / blocks,
            Course::Returns(_) => now,
            Course::Settles(_) if self.first => match slope / before {
                share if share > 0.0 && share < 1.0 => {
                    now + slope * share * (1.0 - libm::pow(share, n)) / (1.0 - share)
                }
                share if BY_SHARES.contains(&share) => now + n * slope,
                _ => now,
            },
            Course::Settles(_) => {
                let rate = (now - self.last.values[k]) / blocks;
                let bend = |e: &Anchor| {
                    (rate - (self.last.values[k] - e.values[k]) / (self.last.at - e.at)) / (self.here.at - e.at)
                };
                now + n * rate + n * (n + blocks) * self.earlier.map_or(0.0, bend)
            }
        }
    }

    /// Rate at which the slope of a relaxing quantity falls, per block; none at its level, where the slope changes its sign.
    fn relaxation(&self, k: usize) -> Option<f64> {
        let share = self.here.slope[k] / self.last.slope[k];
        let rate = -libm::log(share) / (self.here.at - self.last.at);
        (share > 0.0 && share.is_finite()).then_some(rate.max(SLOWEST))
    }

    /// Error of a quantity extrapolated over n blocks, over the error of its slope some blocks later.
    /// ```text
    /// drifts    ∫ s(s + b) ds / (n + later)(n + later + b), s = 0 … n    b: blocks since the last anchor
    /// relaxes   n²/2 / (n + later), at most 1/rate
    /// ```
    pub fn missed(&self, course: Course, k: usize, n: f64, later: f64) -> f64 {
        if matches!(course, Course::Relaxes(_)) {
            return f64::min(0.5 * n * n / (n + later), self.relaxation(k).map_or(n, |rate| 1.0 / rate));
        }
        let b = self.here.at - self.last.at;
        n * n * (n / 3.0 + 0.5 * b) / ((n + later) * (n + later + b))
    }

    /// Rate at which a settling state moves along its course when it has this value n blocks after the present anchor,
    /// per block; and the derivative of that rate with respect to the value. Backward difference of second order
    /// through the anchors (of first order at the first jump).
    pub fn course(&self, k: usize, n: f64, value: f64) -> (f64, f64) {
        let here = self.here.values[k];
        if self.first {
            return ((value - here) / n, 1.0 / n);
        }
        let r = n / (self.here.at - self.last.at);
        let by = (1.0 + 2.0 * r) / (1.0 + r);
        ((by * value - (1.0 + r) * here + r * r / (1.0 + r) * self.last.values[k]) / n, by / n)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn anchors<'a>(here: &'a Anchor, last: &'a Anchor, earlier: Option<&'a Anchor>) -> Anchors<'a> {
        Anchors { here, last, earlier, first: false }
    }

    #[test]
    fn geometric_parabolic_and_logarithmic_drift_is_extrapolated_exactly() {
        // Closed forms of w over blocks: 1 − q^t, t², ln(1 + t/4). A slope is that over the block before.
        type Form = fn(f64) -> f64;
        let shares: Form = |t| 1.0 - libm::pow(0.99, t);
        let parabola: Form = |t| t * t;
        let logarithm: Form = |t| libm::log1p(t / 4.0);
        for (course, w, within) in [
            (Course::Drifts(0.0), shares, 1e-12),
            (Course::Follows, parabola, 1e-9),
            // The slope over a block equals the slope at its middle to (1/44)²/24.
            (Course::Slows(0.0), logarithm, 2e-5),
        ] {
            let at = |t: f64| Anchor { at: t, values: vec![w(t)], slope: vec![w(t) - w(t - 1.0)] };
            let (last, here) = (at(40.0), at(60.0));
            let foreseen = anchors(&here, &last, None).foresee(course, 0, 30.0);
            assert!((foreseen / w(90.0) - 1.0).abs() < within, "{course:?}: {foreseen} for {}", w(90.0));
        }
    }

    #[test]
    fn a_relaxation_is_extrapolated_exactly_far_beyond_its_time_and_stays_where_it_has_arrived() {
        // 3 − 2 e^(−t/40)
        let z = |t: f64| 3.0 - 2.0 * libm::exp(-t / 40.0);
        let at = |t: f64| Anchor { at: t, values: vec![z(t)], slope: vec![z(t) - z(t - 1.0)] };
        let (last, here) = (at(10.0), at(210.0));
        let foreseen = anchors(&here, &last, None).foresee(Course::Relaxes(0.1), 0, 5000.0);
        assert!((foreseen - z(5210.0)).abs() < 1e-9, "{foreseen}");
        let back = Anchor { slope: vec![-1e-3], ..here.clone() };
        assert_eq!(anchors(&back, &here, None).foresee(Course::Relaxes(0.1), 0, 5000.0), z(210.0));
    }

    #[test]
    fn a_settling_state_is_extrapolated_on_a_parabola_and_its_rate_is_the_slope_of_that_parabola() {
        let z = |t: f64| 3.0 + 0.5 * t - 0.02 * t * t;
        let at = |t: f64| Anchor { at: t, values: vec![z(t)], slope: vec![0.0] };
        let (earlier, last, here) = (at(0.0), at(7.0), at(20.0));
        let anchors = anchors(&here, &last, Some(&earlier));
        assert!((anchors.foresee(Course::Settles(1.0), 0, 11.0) - z(31.0)).abs() < 1e-12);
        let (rate, by) = anchors.course(0, 11.0, z(31.0));
        assert!((rate - (0.5 - 0.04 * 31.0)).abs() < 1e-12, "{rate}");
        assert!((anchors.course(0, 11.0, z(31.0) + 1.0).0 - rate - by).abs() < 1e-12);
    }
}
