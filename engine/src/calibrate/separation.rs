//! Check of which constants the data determine and can separate.

use super::constant::Constant;
use nalgebra::DMatrix;
use thiserror::Error;

/// A constant or a pair of constants that the data do not determine.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Inseparable {
    /// a constant that changes no measured quantity, or whose prior is narrower than what the data say
    #[error(
        "the data do not determine {constant}: changing it moves {moves}; leave it out, or add readings that depend on it"
    )]
    Silent {
        /// the constant
        constant: String,
        /// change of the readings that it causes, in words
        moves: String,
    },
    /// two constants that change all measured quantities in the same way, within the scatter of the readings
    #[error(
        "the data cannot separate {one} from {other}: both move the readings in the same way (correlation {correlation:.4}{})",
        if *exact { String::new() } else { ", and the readings' scatter hides the difference".to_owned() }
    )]
    Alike {
        /// a constant
        one: String,
        /// another
        other: String,
        /// correlation of their errors, priors excluded
        correlation: f64,
        /// whether their effects are exactly the same
        exact: bool,
    },
}

/// Fails if the slopes along the constants' scales leave a constant, or a combination of constants, undetermined.
/// Slopes have a column for each constant and a row for each reading, priors excluded.
///
/// A combination is undetermined if the normalised columns have a singular value below `angle` times the largest;
/// `angle` is the accuracy of the slopes. A constant is also undetermined if its error without priors exceeds that of
/// its prior.
pub fn separate(constants: &[Constant], columns: &[Vec<f64>], angle: f64) -> Result<(), Inseparable> {
    let length = |c: &Vec<f64>| c.iter().map(|s| s * s).sum::<f64>().sqrt();
    let lengths: Vec<f64> = columns.iter().map(length).collect();
    for (c, l) in constants.iter().zip(&lengths) {
        let moved = c.known.map_or(*l, |known| l * known);
        let silent = |moves: String| Inseparable::Silent { constant: c.name.clone(), moves };
        if !l.is_finite() || *l <= 0.0 {
            return Err(silent("no reading".to_owned()));
        }
        if c.known.is_some() && moved < 1.0 {
            return Err(silent(format!("all readings together by {moved:.2} of their scatter")));
        }
    }
    let n = constants.len();
    let rows = columns.first().map_or(0, Vec::len);
    if n < 2 {
        return Ok(());
    }
    let scaled = DMatrix::from_fn(rows.max(n), n, |i, k| columns[k].get(i).map_or(0.0, |s| s / lengths[k]));
    let parts = scaled.svd(false, true);
    let Some(turned) = &parts.v_t else { return Ok(()) };
    let values = &parts.singular_values;
    let (weak, smallest) = values.argmin();
    let exact = smallest < angle * values.max();
    // Errors without priors. For an exactly undetermined combination its weights decide.
    let covariance = |i: usize, j: usize| -> f64 {
        (0..n).map(|k| turned[(k, i)] * turned[(k, j)] / values[k].max(1e-9).powi(2)).sum()
    };
    let correlation = |i: usize, j: usize| covariance(i, j) / (covariance(i, i) * covariance(j, j)).sqrt();
    let one = if exact {
        (0..n).max_by(|a, b| turned[(weak, *a)].abs().total_cmp(&turned[(weak, *b)].abs()))
    } else {
        let over = |k: &usize| {
            let known = constants[*k].known?;
            Some(covariance(*k, *k).sqrt() / lengths[*k] / known)
        };
        let open = (0..n).filter_map(|k| Some((k, over(&k)?))).filter(|(_, over)| *over > 1.0);
        open.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(k, _)| k)
    };
    let Some(one) = one else { return Ok(()) };
    let weight = |k: &usize| if exact { turned[(weak, *k)].abs() } else { correlation(one, *k).abs() };
    let other = (0..n).filter(|k| *k != one).max_by(|a, b| weight(a).total_cmp(&weight(b))).unwrap_or(one);
    let (one, other) = (one.min(other), one.max(other));
    Err(Inseparable::Alike {
        one: constants[one].name.clone(),
        other: constants[other].name.clone(),
        correlation: correlation(one, other),
        exact,
    })
}

/// The two constants with the most strongly correlated errors, and that correlation; none of fewer than two.
pub fn strongest(correlation: &[Vec<f64>]) -> Option<(usize, usize, f64)> {
    let pairs = (0..correlation.len()).flat_map(|i| (0..i).map(move |j| (j, i)));
    pairs.map(|(i, j)| (i, j, correlation[i][j])).max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()))
}
