//! Readings with a shared, unknown offset.

use super::problem::Problem;
use super::{LEVEL, Quantity};
use std::collections::BTreeMap;

/// Removes a shared offset from residuals. Example: all readings of one clutch whose part was not exactly of its
/// nominal size when new. The residuals are in units of the single reading's deviation, and so is the offset's own
/// deviation. An infinite deviation means an unknown offset.
///
/// The sum of squares of the result equals that of the residuals with the best offset and its prior. Least squares may
/// treat the result as independent.
/// ```text
/// r ← r − m + m/√(1 + n τ²),   m the mean of n residuals;   rᵀr = r₀ᵀ (1 + τ² 11ᵀ)⁻¹ r₀
/// ```
/// Exact for a normal level (the root of that inverse). It is linear, so slopes go through it as residuals do.
/// ```
/// let mut r = [1.0, 3.0];
/// slipsoak_engine::calibrate::share_level(&mut r, f64::INFINITY);
/// assert_eq!(r, [-1.0, 1.0]);
/// ```
pub fn share_level(residuals: &mut [f64], level: f64) {
    let n = residuals.len() as f64;
    let mean = residuals.iter().sum::<f64>() / n;
    let kept = mean / (1.0 + n * level * level).sqrt();
    for r in residuals {
        *r = *r - mean + kept;
    }
}

impl Problem {
    /// Readings that share a level, and its deviation in units of theirs: of one clutch and quantity, or of one thermocouple.
    pub fn levels(&self) -> Vec<(Vec<usize>, f64)> {
        let mut groups: BTreeMap<(usize, &str, Quantity), (Vec<usize>, f64)> = BTreeMap::new();
        let (mut levels, mut index) = (vec![], 0);
        for (g, group) in self.inspected.iter().enumerate() {
            for read in &group.reads {
                let row = read.quantity.row();
                let level =
                    if self.dropped && row.running_in != 0.0 { f64::INFINITY } else { row.level.at(read.value) };
                let own = groups.entry((g, &read.clutch, read.quantity)).or_insert((vec![], level / read.gauge));
                own.0.push(index);
                index += 1;
            }
        }
        levels.extend(groups.into_values());
        for channel in self.channels() {
            levels.push(((index..index + channel.stretches.len()).collect(), LEVEL / channel.gauge));
            index += channel.stretches.len();
        }
        levels
    }

    /// Removes what readings share from a column of residuals or slopes.
    pub(super) fn share_levels(&self, column: &mut [f64]) {
        for (members, level) in self.levels() {
            let mut own: Vec<f64> = members.iter().map(|i| column[*i]).collect();
            share_level(&mut own, level);
            for (i, value) in members.iter().zip(own) {
                column[*i] = value;
            }
        }
    }

    /// Best estimate of the level that each reading shares with others, in its deviations, from all residuals.
    pub(super) fn shared(&self, residuals: &[f64]) -> Vec<f64> {
        let mut all = vec![0.0; residuals.len()];
        for (members, level) in self.levels() {
            let n = members.len() as f64;
            let mean = members.iter().map(|i| residuals[*i]).sum::<f64>() / n;
            let share = if level.is_finite() { n * level * level / (1.0 + n * level * level) } else { 1.0 };
            for i in members {
                all[i] = mean * share;
            }
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_of_squares_is_that_of_the_best_offset() {
        let (readings, level) = ([1.0, -0.5, 2.5, 0.75], 1.5_f64);
        // The least of Σ(r − λ)² + (λ/τ)² over λ, by its closed form λ = Σr/(n + 1/τ²).
        let best = readings.iter().sum::<f64>() / (4.0 + 1.0 / (level * level));
        let least = readings.iter().map(|r| (r - best).powi(2)).sum::<f64>() + (best / level).powi(2);
        let mut shared = readings;
        share_level(&mut shared, level);
        assert!((shared.iter().map(|r| r * r).sum::<f64>() / least - 1.0).abs() < 1e-14);
    }

    #[test]
    fn an_offset_that_is_known_changes_nothing() {
        let mut r = [0.3, -2.0, 5.0];
        share_level(&mut r, 0.0);
        assert!(r.iter().zip([0.3, -2.0, 5.0]).all(|(a, b)| (a - b).abs() < 1e-15));
    }
}
