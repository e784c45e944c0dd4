//! Randomly sampled assemblies: sizes uniform within their tolerances, wear constants spread as in a fleet.

use crate::document::stack_up::{Drawn, Layer, Point, When};
use crate::laws::wear;
use crate::parts::{Machine, Parameter, settings};
use crate::spread::{Spread, deviate};

/// The gap of one assembly and its washer's thickness, m.
fn assembly(layers: &[Layer], seed: u64, number: u64) -> (f64, f64) {
    let size = |l: &Layer| Spread::Uniform(l.tolerance).at(l.size, deviate(seed, number, &l.name));
    let sizes: Vec<f64> = layers.iter().map(size).collect();
    let washer = layers.iter().position(Layer::is_washer).map_or(0.0, |k| sizes[k]);
    (sizes.iter().sum(), washer)
}

/// One sampled assembly: its gap and its washer's thickness, m, and the factors on the wear of washer and bronze face.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sampled {
    gap: f64,
    washer: f64,
    wear_factors: (f64, f64),
}

/// Sampled assemblies with their wear constants: those of washer and bronze face within these factors either way.
pub(super) fn sampled(layers: &[Layer], seed: u64, count: u64, (on_washer, on_face): (f64, f64)) -> Vec<Sampled> {
    let one = |n| {
        let (gap, washer) = assembly(layers, seed, n);
        let wear_factors = (
            wear_factor(seed, n, &settings::washer::wear_oiled, on_washer),
            wear_factor(seed, n, &settings::bushing::wear_face, on_face),
        );
        Sampled { gap, washer, wear_factors }
    };
    (0..count).map(one).collect()
}

/// The assembly of nominal sizes and constants.
pub(super) fn nominal(layers: &[Layer]) -> Sampled {
    let washer = layers.iter().find(|l| l.is_washer()).map_or(0.0, |l| l.size);
    Sampled { gap: layers.iter().map(|l| l.size).sum(), washer, wear_factors: (1.0, 1.0) }
}

/// Factor on the wear of a pair in one assembly: its constant sampled in its range.
fn wear_factor(seed: u64, number: u64, p: &Parameter, within: f64) -> f64 {
    Spread::Factor(within).at(1.0, deviate(seed, number, p.path))
}

/// Index of the quantile of this share among sorted values, by the nearest rank.
fn rank(share: f64, count: usize) -> usize {
    ((share * count as f64).ceil().max(1.0) as usize - 1).min(count.saturating_sub(1))
}

/// Quantile of sorted values, by the nearest rank.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    sorted.get(rank(share, sorted.len())).copied().unwrap_or(0.0)
}

/// Gaps of sampled assemblies compared with a limit, m.
pub(super) fn drawn(layers: &[Layer], limit: f64, seed: u64, count: u64) -> Drawn {
    let mut gaps: Vec<f64> = (0..count).map(|n| assembly(layers, seed, n).0).collect();
    gaps.sort_by(f64::total_cmp);
    let n = gaps.len().max(1) as f64;
    let share = gaps.iter().filter(|g| **g < limit).count() as f64 / n;
    Drawn {
        mean: gaps.iter().sum::<f64>() / n,
        low: quantile(&gaps, 0.05),
        high: quantile(&gaps, 0.95),
        below_limit: share,
        error: (share * (1.0 - share) / n).sqrt(),
    }
}

/// Loss of thickness over time.
pub(super) struct Wear {
    /// rate of the warm new washer, m/s
    rate: f64,
    /// growth of that rate by ageing, 1/s
    ageing: f64,
    /// rate of the bushing's face once the washer is worn through, m/s
    face: f64,
}

impl Wear {
    /// Loss of thickness from the warm washer's measured rate, m/s, its ageing, seconds at 105 °C per second, and its
    /// oil fill. The bushing's bronze face wears in the ratio of their constants under the same thrust, never less
    /// than the washer.
    /// ```text
    /// x = r (t + a t²/2) up to the washer's thickness, a = ageing/t_age, then x′ = r_face
    /// ```
    pub(super) fn new(machine: &Machine, rate: f64, ageing: f64, soaked: f64) -> Self {
        let (w, b) = (&machine.washer, &machine.bushing);
        let constant = wear::washer_constant(w.wear_oiled, w.wear_dry, soaked, 0.0, w.age_life);
        let on = |k: f64, inside: f64, outside: f64| wear::face_rate(k, 1.0, 1.0, 0.5 * inside, 0.5 * outside);
        let face = rate * on(b.wear_face.max(constant), b.bore, b.outside) / on(constant, w.inside, w.outside);
        Self { rate, ageing: ageing / w.age_life, face }
    }

    /// Time in which a washer loses this thickness, s.
    fn washer_loses(&self, depth: f64) -> f64 {
        // This form keeps its digits if ageing is small.
        2.0 * depth / self.rate / (1.0 + (1.0 + 2.0 * self.ageing * depth / self.rate).sqrt())
    }

    /// Thickness lost after a time by a washer of this thickness and, once it is worn through, by the bushing's face,
    /// m; both with a factor on their nominal wear.
    fn lost(&self, time: f64, washer: f64, (on_washer, on_face): (f64, f64)) -> f64 {
        let aged = on_washer * time;
        let lost = self.rate * (aged + 0.5 * self.ageing * aged * aged);
        if lost <= washer {
            lost
        } else {
            washer + self.face * on_face * (time - self.washer_loses(washer) / on_washer)
        }
    }

    /// Remaining washer and gap after a time, m: 5th percentile of sampled assemblies, nominal, and 95th percentile.
    pub(super) fn left(&self, time: f64, nominal: &Sampled, sampled: &[Sampled]) -> Point {
        let left = |a: &Sampled| {
            let lost = self.lost(time, a.washer, a.wear_factors);
            ((a.washer - lost).max(0.0), (a.gap - lost).max(0.0))
        };
        let (mut washers, mut gaps): (Vec<f64>, Vec<f64>) = sampled.iter().map(left).unzip();
        let (washer, gap) = left(nominal);
        let around = |values: &mut [f64], middle| {
            // Only these two values are put in place: sorting all at each time is slow.
            let mut at = |share| match rank(share, values.len()) {
                _ if values.is_empty() => middle,
                k => *values.select_nth_unstable_by(k, f64::total_cmp).1,
            };
            [at(0.05), middle, at(0.95)]
        };
        Point { time, washer: around(&mut washers, washer), gap: around(&mut gaps, gap) }
    }

    /// Time at which this thickness is lost, s, by a washer and a face with factors on their nominal wear; infinite if
    /// nothing wears.
    pub(super) fn reaches(&self, depth: f64, washer: f64, (on_washer, on_face): (f64, f64)) -> f64 {
        if depth <= 0.0 {
            0.0
        } else if self.rate <= 0.0 {
            f64::INFINITY
        } else if depth <= washer {
            self.washer_loses(depth) / on_washer
        } else {
            self.washer_loses(washer) / on_washer + (depth - washer) / (self.face * on_face)
        }
    }

    /// Time at which a depth is lost that depends on an assembly's gap and washer: nominal, and 5th and 95th percentile
    /// of sampled assemblies.
    pub(super) fn when(&self, nominal: &Sampled, sampled: &[Sampled], depth: impl Fn(f64, f64) -> f64) -> When {
        let at = |a: &Sampled| self.reaches(depth(a.gap, a.washer), a.washer, a.wear_factors);
        let mut times: Vec<f64> = sampled.iter().map(at).collect();
        times.sort_by(f64::total_cmp);
        let finite = |time: f64| Some(time).filter(|t| t.is_finite());
        When { time: finite(at(nominal)), early: finite(quantile(&times, 0.05)), late: finite(quantile(&times, 0.95)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_loses_the_depth_it_is_worn_to() {
        let wear = Wear { rate: 2e-10, ageing: 1e-8, face: 3e-11 };
        for depth in [1e-5, 7e-4, 9e-4, 2e-3] {
            let time = wear.reaches(depth, 7.62e-4, (1.0, 1.0));
            assert!((wear.lost(time, 7.62e-4, (1.0, 1.0)) / depth - 1.0).abs() < 1e-9, "{depth}");
        }
        // Closed form: r t (1 + a t/2) = x.
        let time = wear.reaches(5e-4, 7.62e-4, (1.0, 1.0));
        assert!((2e-10 * time * (1.0 + 0.5e-8 * time) / 5e-4 - 1.0).abs() < 1e-9);
        // A washer with factor two and a face with factor three: each shortens its own part.
        let [washer, both] = [7.62e-4, 2e-3].map(|depth| wear.reaches(depth, 7.62e-4, (1.0, 1.0)));
        let hasty = wear.reaches(2e-3, 7.62e-4, (2.0, 3.0));
        assert!((hasty / (washer / 2.0 + (both - washer) / 3.0) - 1.0).abs() < 1e-12);
        assert!((wear.lost(hasty, 7.62e-4, (2.0, 3.0)) / 2e-3 - 1.0).abs() < 1e-9);
    }
}
