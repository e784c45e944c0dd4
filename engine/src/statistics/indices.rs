//! Sobol' indices: shares of an output's variance due to each uncertain setting.

use serde::{Deserialize, Serialize};
use sobol::{Sobol, params::JoeKuoD6};

/// Smallest number of rows.
const LEAST: usize = 16;
/// Largest number of settings: each takes two of the thousand dimensions for which the sequence has tables.
const MOST: usize = 500;

/// Contribution of one setting to the variance of an output.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Index {
    /// share of the variance that vanishes if this setting alone is known
    pub first: f64,
    /// share of the variance that remains if all other settings are known: this setting and its interactions
    pub total: f64,
    /// standard error of the first
    pub first_error: f64,
    /// standard error of the total
    pub total_error: f64,
}

/// Points at which an output has to be computed.
///
/// A row of the Sobol' sequence in twice as many dimensions as settings is split into points A and B. For each setting
/// a further point is A with that one coordinate taken from B. Rows follow each other, d + 2 points each.
///
/// Each coordinate is moved to the middle of its cell. All coordinates then lie strictly between 0 and 1, where any
/// distribution's quantile is finite. A number of rows that is a power of two fills the cube evenly. Direction numbers:
/// S. Joe, F. Y. Kuo, SIAM J. Scientific Computing 30 (2008) 2635.
///
/// ```
/// let design = slipsoak_engine::statistics::Design::new(16, 2);
/// assert_eq!(design.points(), 64);
/// let [a, b, first] = [0, 1, 2].map(|k| design.point(60 + k)); // the last row
/// assert_eq!(first, [b[0], a[1]]);
/// ```
#[derive(Clone, Debug)]
pub struct Design {
    dimensions: usize,
    rows: Vec<Vec<f64>>,
}

impl Design {
    /// A design with this number of rows and settings.
    ///
    /// # Panics
    /// For fewer than 16 rows, no setting or more than 500.
    pub fn new(n: usize, dimensions: usize) -> Self {
        assert!(n >= LEAST && (1..=MOST).contains(&dimensions), "a design of {n} rows and {dimensions} settings");
        let half_a_cell = 0.5 / n.next_power_of_two() as f64;
        let tables = if 2 * dimensions <= 100 { JoeKuoD6::minimal() } else { JoeKuoD6::standard() };
        let rows = Sobol::<f64>::new(2 * dimensions, &tables)
            .take(n)
            .map(|row| row.into_iter().map(|x| x + half_a_cell).collect())
            .collect();
        Self { dimensions, rows }
    }

    /// Number of points: n (d + 2).
    pub fn points(&self) -> usize {
        self.rows.len() * (self.dimensions + 2)
    }

    /// A point by its index below [`points`](Self::points): a deviate between 0 and 1 for each setting.
    pub fn point(&self, index: usize) -> Vec<f64> {
        let (row, which) = (&self.rows[index / (self.dimensions + 2)], index % (self.dimensions + 2));
        let (a, b) = row.split_at(self.dimensions);
        if which == 1 {
            return b.to_vec();
        }
        let mut point = a.to_vec();
        if let Some(setting) = which.checked_sub(2) {
            point[setting] = b[setting];
        }
        point
    }

    /// Indices of each setting from the outputs at all points, in their order.
    ///
    /// Points ABᵢ and B share only setting i, so the covariance of their outputs measures the setting alone. Points A
    /// and ABᵢ differ only in setting i, so half their mean squared difference measures it with all its interactions.
    /// f₀ and V are mean and variance over A and B:
    ///
    /// ```text
    /// Sᵢ = (1/nV) Σ (f(B) − f₀)(f(ABᵢ) − f(A)),     Tᵢ = (1/2nV) Σ (f(A) − f(ABᵢ))²
    /// ```
    ///
    /// The settings have to be independent. The standard errors are those of a ratio, from the scatter of rows, as if
    /// rows were random. They are too large, twentyfold for smooth outputs and thousands of rows, because the rows fill
    /// the cube more evenly. (The scatter of blocks of rows is closer but may be six times too small: a whole design
    /// shares the flaws of its blocks.) From 512 rows on no deviation exceeded 1.5 errors for the functions of Ishigami
    /// and Sobol' and the least of six lognormals; with 128 rows deviations reached 4.4 errors; with 32 or fewer the
    /// errors mean little. Empty if the output does not vary or an output is not finite. Sources: A. Saltelli et al.,
    /// Computer Physics Communications 181 (2010) 259, table 2 (b) and (f), the latter after M. J. W. Jansen, same
    /// journal 117 (1999) 35; f₀ is subtracted as common practice.
    ///
    /// # Panics
    /// Unless there is one output for each point.
    ///
    /// ```
    /// // A sum of one setting and twice another: variances as 1 to 4, no interaction
    /// let design = slipsoak_engine::statistics::Design::new(1024, 2);
    /// let outputs: Vec<f64> = (0..design.points()).map(|k| design.point(k)).map(|x| x[0] + 2.0 * x[1]).collect();
    /// let indices = design.indices(&outputs);
    /// assert!((indices[0].first - 0.2).abs() < 1e-3 && (indices[0].total - 0.2).abs() < 1e-3);
    /// assert!((indices[1].first - 0.8).abs() < 1e-3 && (indices[1].total - 0.8).abs() < 1e-3);
    /// ```
    pub fn indices(&self, outputs: &[f64]) -> Vec<Index> {
        assert_eq!(outputs.len(), self.points(), "one output for each point");
        let n = self.rows.len() as f64;
        let rows: Vec<&[f64]> = outputs.chunks(self.dimensions + 2).collect();
        let mean = rows.iter().map(|f| f[0] + f[1]).sum::<f64>() / (2.0 * n);
        let squares: Vec<f64> = rows.iter().map(|f| 0.5 * ((f[0] - mean).powi(2) + (f[1] - mean).powi(2))).collect();
        let variance = squares.iter().sum::<f64>() / n;
        // A variance within rounding of the mean counts as zero.
        if !outputs.iter().all(|f| f.is_finite()) || !(variance > (1e-14 * mean).powi(2)) {
            return Vec::new();
        }
        (0..self.dimensions)
            .map(|setting| {
                let change = |f: &[f64]| f[2 + setting] - f[0];
                let alone: Vec<f64> = rows.iter().map(|f| (f[1] - mean) * change(f)).collect();
                let together: Vec<f64> = rows.iter().map(|f| 0.5 * change(f).powi(2)).collect();
                let (first, first_error) = ratio(&alone, &squares);
                let (total, total_error) = ratio(&together, &squares);
                Index { first, total, first_error, total_error }
            })
            .collect()
    }
}

/// Ratio of two sums, and its standard error by linear propagation from the scatter of rows.
fn ratio(above: &[f64], below: &[f64]) -> (f64, f64) {
    let (n, sum) = (below.len() as f64, below.iter().sum::<f64>());
    let ratio = above.iter().sum::<f64>() / sum;
    let scatter: f64 = above.iter().zip(below).map(|(a, b)| (a - ratio * b).powi(2)).sum();
    (ratio, (scatter * n / (n - 1.0)).sqrt() / sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sequence_is_that_of_joe_and_kuo_and_fills_every_cell_once() {
        let design = Design::new(16, 2);
        // The sequence's first printed points in four dimensions, moved by half of a sixteenth.
        let printed = [
            [0.0, 0.0, 0.0, 0.0],
            [0.5, 0.5, 0.5, 0.5],
            [0.75, 0.25, 0.25, 0.25],
            [0.25, 0.75, 0.75, 0.75],
            [0.375, 0.375, 0.625, 0.875],
        ];
        for (row, want) in design.rows.iter().zip(printed) {
            assert_eq!(*row, want.map(|x| x + 1.0 / 32.0));
        }
        for settings in [2, 50, 75] {
            let design = Design::new(16, settings);
            for dimension in 0..2 * settings {
                let mut cells: Vec<f64> = design.rows.iter().map(|row| row[dimension]).collect();
                cells.sort_by(f64::total_cmp);
                assert!(cells.iter().enumerate().all(|(k, x)| *x == (k as f64 + 0.5) / 16.0), "{dimension} {cells:?}");
            }
        }
    }

    #[test]
    fn an_output_that_does_not_vary_or_is_not_finite_has_no_indices() {
        let design = Design::new(16, 3);
        assert!(design.indices(&[0.1; 80]).is_empty());
        let mut outputs: Vec<f64> = (0..80).map(|k| design.point(k)[1]).collect();
        assert_eq!(design.indices(&outputs).len(), 3);
        outputs[79] = f64::INFINITY;
        assert!(design.indices(&outputs).is_empty());
    }

    #[test]
    fn a_setting_without_influence_has_zero_indices_and_leaves_the_others_unchanged() {
        let design = Design::new(1024, 3);
        let outputs: Vec<f64> = (0..design.points()).map(|k| design.point(k)).map(|x| x[0] * x[2]).collect();
        let indices = design.indices(&outputs);
        assert_eq!(indices[1], Index { first: 0.0, total: 0.0, first_error: 0.0, total_error: 0.0 });
        // Product of two even deviates: S = (1/48)/(7/144) = 3/7 each, T = 4/7. Within four standard errors.
        for index in [indices[0], indices[2]] {
            assert!((index.first - 3.0 / 7.0).abs() < 4.0 * index.first_error && index.first_error < 0.04, "{index:?}");
            assert!((index.total - 4.0 / 7.0).abs() < 4.0 * index.total_error && index.total_error < 0.04, "{index:?}");
        }
    }

    #[test]
    fn standard_errors_for_one_uniform_setting_are_those_of_random_rows() {
        let design = Design::new(4096, 1);
        let outputs: Vec<f64> = (0..design.points()).map(|k| design.point(k)[0]).collect();
        let index = design.indices(&outputs)[0];
        // With A and B centred, terms less S or T times those of V are B²/2 − AB − A²/2 and −AB: variances 1/360 + 1/144 and
        // 1/144 against V = 1/12. The rows' own evenness leaves 1e-3.
        assert!((index.first_error * 64.0 / 1.4_f64.sqrt() - 1.0).abs() < 2e-3, "{index:?}");
        assert!((index.total_error * 64.0 - 1.0).abs() < 2e-3, "{index:?}");
    }
}
