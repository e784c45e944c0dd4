//! Least squares from several starts, with standard errors.

use super::constant::Constant;
use super::search::{Effort, Measured, Search, lowest};
use nalgebra::{DMatrix, DVector};
use thiserror::Error;

/// Scatter assumed for the readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noise {
    /// the scatter of the residuals
    Seen,
    /// the stated deviations, or the scatter of the residuals if that is larger
    Stated,
}

/// Result of a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// the constants
    pub values: Vec<f64>,
    /// their standard errors on their own scales, priors included
    pub errors: Vec<f64>,
    /// correlation of those errors
    pub correlation: Vec<Vec<f64>>,
    /// sum of the squared residuals, priors excluded
    pub sum: f64,
    /// number of readings less the number of constants without a prior
    pub freedom: usize,
    /// factor by which the errors were widened for the scatter of the residuals
    pub widened: f64,
    /// number of searches made, and how many of them agree on this result
    pub starts: (u64, u64),
    /// cosine of the angle between the residuals and the plane of the slopes: 0 at a minimum
    pub cosine: f64,
}

/// Reason why there is no fit.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unfitted<E> {
    /// no prediction is possible at the start
    #[error("{0}")]
    Unpredicted(E),
    /// more constants than readings
    #[error("{readings} readings cannot determine {constants} constants; fit fewer constants or add readings")]
    Few {
        /// readings
        readings: usize,
        /// constants
        constants: usize,
    },
    /// the slopes at the best place are linearly dependent
    #[error("the data leave a combination of the constants undetermined; fit fewer of them")]
    Open,
}

/// Fits the constants by the least sum of squares of residuals and priors.
///
/// Each search is Levenberg's and Marquardt's in the form of Moré (1978). The end of a search does not prove a minimum,
/// so the best place seen by any of them is used, the earliest of equal ones; [`Fitted::starts`] says how many agree
/// with it.
pub fn fit<M: Measured>(
    measured: &M,
    constants: &[Constant],
    effort: Effort,
    noise: Noise,
) -> Result<Fitted, Unfitted<M::Error>> {
    let places: Vec<f64> = constants.iter().map(|c| c.start).collect();
    let readings = measured.residuals(&places).map_err(Unfitted::Unpredicted)?.len();
    let bare = constants.iter().filter(|c| c.known.is_none()).count();
    if readings <= bare || constants.is_empty() {
        return Err(Unfitted::Few { readings, constants: constants.len() });
    }
    let seen: Vec<(f64, DVector<f64>)> =
        (0..effort.starts.max(1)).map(|k| lowest(measured, constants, readings, effort, k)).collect();
    let floor = seen.iter().map(|s| s.0).fold(f64::INFINITY, f64::min);
    let near = |sum: f64| sum <= floor * (1.0 + 1e3 * effort.tolerance.max(1e-9)) + 1e-20;
    let agreed = seen.iter().filter(|s| near(s.0)).count() as u64;
    let place = seen.into_iter().find(|s| near(s.0)).ok_or(Unfitted::Open)?.1;
    let best = Search::new(measured, constants, readings, place);
    let residuals = best.all_residuals();
    let slopes = best.all_slopes(measured.slopes(&best.values())).ok_or(Unfitted::Open)?;
    let sum: f64 = residuals[..readings].iter().map(|r| r * r).sum();
    let freedom = readings - bare;
    let scatter = sum / freedom as f64;
    let widened = match noise {
        Noise::Seen => scatter.sqrt(),
        Noise::Stated => scatter.max(1.0).sqrt(),
    };
    let covariance = covariance(&slopes).ok_or(Unfitted::Open)?;
    let n = constants.len();
    let roots: Vec<f64> = (0..n).map(|k| covariance[(k, k)].sqrt()).collect();
    let row = |i: usize| (0..n).map(|j| covariance[(i, j)] / (roots[i] * roots[j])).collect();
    Ok(Fitted {
        values: best.values(),
        errors: roots.iter().map(|r| widened * r).collect(),
        correlation: (0..n).map(row).collect(),
        sum,
        freedom,
        widened,
        starts: (effort.starts.max(1), agreed),
        cosine: cosine(&slopes, &DVector::from_vec(residuals)),
    })
}

/// (JᵀJ)⁻¹ from the singular values of J with normalised columns; none if J is rank deficient.
fn covariance(slopes: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let lengths: Vec<f64> = slopes.column_iter().map(|c| c.norm()).collect();
    if lengths.iter().any(|l| *l <= 0.0 || !l.is_finite()) {
        return None;
    }
    let mut scaled = slopes.clone();
    for (mut column, length) in scaled.column_iter_mut().zip(&lengths) {
        column /= *length;
    }
    let parts = scaled.svd(false, true);
    let turned = parts.v_t?;
    if parts.singular_values.min() < 1e-13 * parts.singular_values.max() {
        return None;
    }
    let n = lengths.len();
    Some(DMatrix::from_fn(n, n, |i, j| {
        let terms = (0..n).map(|k| turned[(k, i)] * turned[(k, j)] / parts.singular_values[k].powi(2));
        terms.sum::<f64>() / (lengths[i] * lengths[j])
    }))
}

/// Largest cosine between the residuals and a column of the slopes.
fn cosine(slopes: &DMatrix<f64>, residuals: &DVector<f64>) -> f64 {
    let whole = residuals.norm();
    let one = |c: nalgebra::DVectorView<'_, f64>| c.dot(residuals).abs() / (c.norm() * whole).max(1e-300);
    if whole > 0.0 { slopes.column_iter().map(one).fold(0.0, f64::max) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::super::constant::Scale;
    use super::*;
    use std::convert::Infallible;

    /// A wave whose frequency is fitted: the sum of squares has many local minima.
    struct Wave;

    impl Wave {
        fn at() -> impl Iterator<Item = f64> {
            (0..40).map(|i| 0.1 * f64::from(i))
        }
    }

    impl Measured for Wave {
        type Error = Infallible;
        fn residuals(&self, c: &[f64]) -> Result<Vec<f64>, Infallible> {
            Ok(Self::at().map(|x| (c[0] * x).sin() - (5.0 * x).sin()).collect())
        }
        fn slopes(&self, c: &[f64]) -> Result<Vec<Vec<f64>>, Infallible> {
            Ok(vec![Self::at().map(|x| x * (c[0] * x).cos()).collect()])
        }
    }

    fn frequency(start: f64, known: Option<f64>) -> [Constant; 1] {
        [Constant { name: "frequency".into(), start, scale: Scale::Logarithm, known }]
    }

    #[test]
    fn several_searches_escape_a_local_minimum_that_holds_one_search() {
        let one = fit(&Wave, &frequency(1.0, None), Effort::default(), Noise::Stated).unwrap();
        assert!((one.values[0] - 5.0).abs() > 0.5, "{one:?}");
        let many =
            fit(&Wave, &frequency(1.0, None), Effort { starts: 30, ..Effort::default() }, Noise::Stated).unwrap();
        assert!((many.values[0] - 5.0).abs() < 1e-9 && many.starts.1 < 30, "{many:?}");
    }

    /// Readings of one quantity, each of deviation 1.
    struct Readings(Vec<f64>);

    impl Measured for Readings {
        type Error = Infallible;
        fn residuals(&self, c: &[f64]) -> Result<Vec<f64>, Infallible> {
            Ok(self.0.iter().map(|y| c[0] - y).collect())
        }
        fn slopes(&self, _: &[f64]) -> Result<Vec<Vec<f64>>, Infallible> {
            Ok(vec![vec![1.0; self.0.len()]])
        }
    }

    #[test]
    fn a_prior_counts_as_one_more_reading() {
        // Closed form: the mean of readings of weight 1 and of a prior of weight 1/d².
        let sought = [Constant { name: "level".into(), start: 4.0, scale: Scale::Plain, known: Some(0.5) }];
        let fitted = fit(&Readings(vec![1.0, 2.0, 3.0]), &sought, Effort::default(), Noise::Stated).unwrap();
        assert!((fitted.values[0] - (6.0 + 4.0 * 4.0) / 7.0).abs() < 1e-12);
        // χ² of the readings exceeds its freedom of 3, so the error is widened.
        let sum: f64 = [1.0, 2.0, 3.0].iter().map(|y| (fitted.values[0] - y).powi(2)).sum();
        assert!((fitted.errors[0] - (sum / 3.0).sqrt() / 7.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_constant_that_may_not_be_negative_ends_at_zero_and_the_others_fit_as_without_it() {
        /// A level and a rise; the readings fall.
        struct Falling;
        impl Measured for Falling {
            type Error = Infallible;
            fn residuals(&self, c: &[f64]) -> Result<Vec<f64>, Infallible> {
                Ok((0..4).map(f64::from).map(|x| c[0] + c[1] * x - (3.0 - x)).collect())
            }
            fn slopes(&self, _: &[f64]) -> Result<Vec<Vec<f64>>, Infallible> {
                Ok(vec![vec![1.0; 4], (0..4).map(f64::from).collect()])
            }
        }
        let constant = |name: &str, scale, known| Constant { name: name.into(), start: 0.0, scale, known };
        let fitted = |scale| {
            let constants = [constant("level", Scale::Plain, None), constant("rise", scale, Some(10.0))];
            fit(&Falling, &constants, Effort::default(), Noise::Stated).unwrap()
        };
        // The mean of 3, 2, 1 and 0.
        let held = fitted(Scale::NotNegative);
        assert!(held.values[1] == 0.0 && (held.values[0] - 1.5).abs() < 1e-12, "{held:?}");
        let free = fitted(Scale::Plain);
        assert!(free.values[1] < -0.9 && held.errors[1] >= free.errors[1], "{free:?}");
    }

    #[test]
    fn as_many_constants_as_readings_are_refused() {
        let sought = [Constant { name: "level".into(), start: 4.0, scale: Scale::Plain, known: None }];
        let made = fit(&Readings(vec![1.0]), &sought, Effort::default(), Noise::Stated);
        assert_eq!(made, Err(Unfitted::Few { readings: 1, constants: 1 }));
    }
}
