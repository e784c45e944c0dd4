//! Spread of the constants between clutches.

use super::{Fitted, Measured, Problem, Read};
use crate::simulate::Failure;
use std::collections::BTreeMap;

/// Standard deviation between clutches of each constant's logarithm, by the method of moments: the variance of the
/// clutches' own best values less the variance of their readings; and the number of clutches it is estimated from. 0
/// for fewer than three.
pub(crate) fn among_clutches(problem: &Problem, fitted: &Fitted) -> Result<Vec<(f64, f64)>, Failure> {
    let residuals = problem.residuals(&fitted.values)?;
    let slopes = problem.slopes(&fitted.values)?;
    let reads: Vec<&Read> = problem.inspected.iter().flat_map(|g| &g.reads).collect();
    let one = |k: usize| {
        let mut own: BTreeMap<&String, (f64, f64)> = BTreeMap::new();
        // Only by readings of its own quantity: deviations left by the other constants would be misattributed.
        let shows = reads.iter().zip(residuals.iter().zip(&slopes[k]));
        for (read, (r, slope)) in shows.filter(|(read, _)| read.quantity.row().teaches.contains(&problem.sought[k])) {
            let along = slope * fitted.values[k];
            let sums = own.entry(&read.clutch).or_default();
            *sums = (sums.0 - along * r, sums.1 + along * along);
        }
        // Only clutches whose readings determine the constant to a factor of e or better.
        let steps: Vec<(f64, f64)> = own.values().filter(|s| s.1 > 1.0).map(|s| (s.0 / s.1, 1.0 / s.1)).collect();
        let count = steps.len() as f64;
        if steps.len() < 3 {
            return (0.0, 1.0);
        }
        let mean = steps.iter().map(|s| s.0).sum::<f64>() / count;
        let seen = steps.iter().map(|s| (s.0 - mean).powi(2)).sum::<f64>() / (count - 1.0);
        let scatter = steps.iter().map(|s| s.1).sum::<f64>() / count;
        ((seen - scatter).max(0.0).sqrt(), count)
    };
    Ok((0..problem.sought.len()).map(one).collect())
}
