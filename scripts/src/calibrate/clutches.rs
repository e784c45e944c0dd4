//! What clutches differ by among themselves.

use crate::diagnose::Trouble;
use crate::inspections::Read;
use crate::learning::Lesson;
use slipsoak_engine::calibrate::{Fitted, Measured};
use std::collections::BTreeMap;

/// Standard deviation of each constant's logarithm from clutch to clutch, by the method of moments: the variance of the
/// clutches' own best values less what their readings scatter; and how many clutches told it. 0 for fewer than three.
pub(super) fn among_clutches(lesson: &Lesson, fitted: &Fitted) -> Result<Vec<(f64, f64)>, Trouble> {
    let residuals = lesson.residuals(&fitted.values)?;
    let slopes = lesson.slopes(&fitted.values)?;
    let reads: Vec<&Read> = lesson.inspected.iter().flat_map(|g| &g.reads).collect();
    let one = |k: usize| {
        let mut own: BTreeMap<&String, (f64, f64)> = BTreeMap::new();
        // Only by what it shows in: what the others leave in theirs is not its doing.
        let shows = reads.iter().zip(residuals.iter().zip(&slopes[k]));
        for (read, (r, slope)) in shows.filter(|(read, _)| read.quantity.manner().teaches == lesson.sought[k].path) {
            let along = slope * fitted.values[k];
            let sums = own.entry(&read.clutch).or_default();
            *sums = (sums.0 - along * r, sums.1 + along * along);
        }
        // Only clutches whose readings say more of it than nothing: known to a factor of e or better.
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
    Ok((0..lesson.sought.len()).map(one).collect())
}
