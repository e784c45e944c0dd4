//! Correlated samples: independent deviates are combined so that pairs have their known correlation.

use super::uncertain::Uncertain;
use crate::names::distinct;
use crate::statistics::{normal_quantile, normal_share};
use std::collections::BTreeMap;

/// Cholesky's factor of a correlation matrix: lower triangle L, row by row, with L Lᵀ that matrix. None if the matrix
/// is not square, not symmetric, has a diagonal other than 1, or if a combination of its variables would have a
/// negative variance.
///
/// ```text
/// L_jj = √(r_jj − Σ_k<j L_jk²),   L_ij = (r_ij − Σ_k<j L_ik L_jk)/L_jj
/// ```
/// Rows and columns without a variance of their own are filled with 0.
///
/// ```
/// use slipsoak_engine::fleet::mixture;
/// assert_eq!(mixture(&[vec![1.0, 0.6], vec![0.6, 1.0]]), Some(vec![vec![1.0, 0.0], vec![0.6, 0.8]]));
/// assert_eq!(mixture(&[vec![1.0, 0.6], vec![0.5, 1.0]]), None);
/// ```
pub fn mixture(correlation: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    const NEAR: f64 = 1e-9;
    let n = correlation.len();
    let mut rows = vec![vec![0.0; n]; n];
    for (i, own) in correlation.iter().enumerate() {
        if own.len() != n || (own[i] - 1.0).abs() > NEAR {
            return None;
        }
        for j in 0..=i {
            let both: f64 = (0..j).map(|k| rows[i][k] * rows[j][k]).sum();
            let (left, pivot, edge) = (own[j] - both, rows[j][j], NEAR.sqrt());
            let symmetric = (own[j] - correlation[j][i]).abs() <= NEAR;
            // Written so that not-a-number is refused too.
            rows[i][j] = match i == j {
                true if left >= -NEAR => left.max(0.0).sqrt(),
                false if symmetric && pivot > edge => left / pivot,
                false if symmetric && left.abs() <= edge => 0.0,
                _ => return None,
            };
        }
    }
    Some(rows)
}

/// Deviate of each variable that is correlated with others, from independent ones. A variable without a deviate is
/// taken at its median; if all its drivers lack one, the result is `None`.
///
/// In the order of the settings, each variable is a combination of its own deviate and those before it, as normal
/// deviates ([`mixture`]). The first keeps its own, and an uncorrelated variable is unchanged.
pub fn mixed(uncertain: &[Uncertain], deviate: impl Fn(&str) -> Option<f64>) -> BTreeMap<&str, Option<f64>> {
    let correlation = |a: &str, b: &str| {
        let told =
            |of: &str, with: &str| uncertain.iter().filter(|u| u.draw == of).find_map(|u| u.correlated.get(with));
        told(a, b).or_else(|| told(b, a)).copied().unwrap_or(0.0)
    };
    let hangs = |one: &&str| uncertain.iter().any(|other| other.draw != *one && correlation(one, &other.draw) != 0.0);
    let draws = distinct(uncertain.iter().map(|u| u.draw.as_str()).filter(hangs));
    let row = |a: &&str| draws.iter().map(|b| if a == b { 1.0 } else { correlation(a, b) }).collect();
    let Some(mixture) = mixture(&draws.iter().map(row).collect::<Vec<_>>()) else { return BTreeMap::new() };
    let own: Vec<Option<f64>> = draws.iter().map(|draw| deviate(draw)).collect();
    let one = |weights: &Vec<f64>| {
        let mut used = weights.iter().zip(&own).filter(|(weight, own)| **weight != 0.0 && own.is_some());
        if let ((1.0, alone), None) = (used.next()?, used.next()) {
            return *alone;
        }
        let terms = weights.iter().zip(&own).map(|(weight, own)| weight * own.map_or(0.0, normal_quantile));
        Some(normal_share(terms.sum()))
    };
    draws.iter().copied().zip(mixture.iter().map(one)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::{Spread, machine_at, sample};
    use super::*;
    use crate::parts::{Machine, parameter};
    use crate::statistics::NINETY_FIVE;

    fn uncertain(path: &str, correlated: &[(&str, f64)]) -> Uncertain {
        let correlated = correlated.iter().map(|(draw, r)| ((*draw).to_owned(), *r)).collect();
        Uncertain { path: path.into(), spread: Spread::Factor(2.0), draw: path.into(), correlated }
    }

    const PATHS: [&str; 3] = ["lining.wear", "washer.wear_oiled", "oiling.leak"];

    fn three() -> Vec<Uncertain> {
        vec![
            uncertain(PATHS[0], &[]),
            uncertain(PATHS[1], &[(PATHS[0], -0.9)]),
            uncertain(PATHS[2], &[(PATHS[0], 0.3), (PATHS[1], -0.4)]),
        ]
    }

    /// Logarithms of the constants of many clutches, in units of their deviations.
    fn drawn(uncertain: &[Uncertain], clutches: u64) -> Vec<Vec<f64>> {
        let nominal = Machine::default();
        let one = |path: &&str| {
            let p = parameter(path).expect("a setting");
            let of = |clutch| (p.of)(&sample(&nominal, uncertain, 9, clutch)) / (p.of)(&nominal);
            (0..clutches).map(|clutch| of(clutch).ln() / 2_f64.ln() * NINETY_FIVE).collect()
        };
        PATHS.iter().map(one).collect()
    }

    #[test]
    fn sampled_clutches_have_the_given_correlations_and_spreads() {
        let n = 4000;
        let all = drawn(&three(), n);
        let mean = |x: &mut dyn Iterator<Item = f64>| x.sum::<f64>() / n as f64;
        for (i, a) in all.iter().enumerate() {
            // Standard errors of mean, variance and correlation of a normal sample: 1/√n, √(2/n), (1 − r²)/√n; four of each.
            assert!(mean(&mut a.iter().copied()).abs() < 4.0 / (n as f64).sqrt(), "{i}");
            assert!((mean(&mut a.iter().map(|x| x * x)) - 1.0).abs() < 4.0 * (2.0 / n as f64).sqrt(), "{i}");
            let beyond = a.iter().filter(|x| x.abs() > NINETY_FIVE).count() as f64 / n as f64;
            assert!((beyond - 0.1).abs() < 4.0 * (0.09 / n as f64).sqrt(), "{i}: {beyond}");
        }
        for (i, j, r) in [(0, 1, -0.9), (0, 2, 0.3), (1, 2, -0.4)] {
            let seen = mean(&mut all[i].iter().zip(&all[j]).map(|(a, b)| a * b))
                / (mean(&mut all[i].iter().map(|x| x * x)) * mean(&mut all[j].iter().map(|x| x * x))).sqrt();
            assert!((seen - r).abs() < 4.0 * (1.0 - r * r) / (n as f64).sqrt(), "{i}, {j}: {seen}");
        }
    }

    #[test]
    fn a_correlation_changes_only_the_later_setting_and_a_further_setting_changes_no_sample() {
        let alone = three().into_iter().map(|u| Uncertain { correlated: BTreeMap::new(), ..u }).collect::<Vec<_>>();
        let further = [vec![uncertain("drum.wall", &[])], three()].concat();
        for clutch in 0..20 {
            let nominal = Machine::default();
            let [alone, together, further] = [&alone, &three(), &further].map(|u| sample(&nominal, u, 9, clutch));
            assert_eq!(alone.lining.wear, together.lining.wear);
            assert_ne!(alone.washer.wear_oiled, together.washer.wear_oiled);
            assert_eq!(together.oiling, further.oiling);
            assert_eq!(together.washer, further.washer);
            assert_eq!(together.lining, further.lining);
        }
    }

    #[test]
    fn settings_that_share_a_correlated_variable_still_move_together() {
        let mut all = three();
        all.push(Uncertain { path: "drum.wall".into(), draw: PATHS[1].into(), ..uncertain("drum.wall", &[]) });
        let nominal = Machine::default();
        let made = sample(&nominal, &all, 5, 3);
        let of = |made: f64, nominal: f64| made / nominal;
        let moved = of(made.washer.wear_oiled, nominal.washer.wear_oiled);
        assert!((of(made.drum.wall, nominal.drum.wall) - moved).abs() < 1e-12);
    }

    #[test]
    fn moving_one_variable_moves_correlated_ones_in_proportion_to_the_correlation() {
        let nominal = Machine::default();
        let made = machine_at(&nominal, &three(), |draw| (draw == PATHS[0]).then_some(0.95));
        // At 1.645 deviations the first is doubled; the others follow by 2^r.
        assert!((made.lining.wear / nominal.lining.wear - 2.0).abs() < 1e-9);
        assert!((made.washer.wear_oiled / nominal.washer.wear_oiled - 2_f64.powf(-0.9)).abs() < 1e-9);
        let last = machine_at(&nominal, &three(), |draw| (draw == PATHS[2]).then_some(0.95));
        assert_eq!(last.lining.wear, nominal.lining.wear);
    }

    #[test]
    fn an_invalid_correlation_matrix_has_no_factor() {
        let of = |r: [f64; 3]| mixture(&[vec![1.0, r[0], r[1]], vec![r[0], 1.0, r[2]], vec![r[1], r[2], 1.0]]);
        // Two variables correlated with a third cannot be anticorrelated with each other.
        assert_eq!(of([0.9, 0.9, -0.9]), None);
        assert_eq!(of([1.1, 0.0, 0.0]), None);
        assert_eq!(of([f64::NAN, 0.0, 0.0]), None);
        assert_eq!(mixture(&[vec![1.0, 0.0]]), None);
        // Two equal variables: the limit, which is allowed.
        let edge = of([1.0, 0.5, 0.5]).expect("a correlation matrix");
        assert_eq!(edge[1], [1.0, 0.0, 0.0]);
    }
}
