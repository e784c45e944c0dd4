//! Weibull's distribution through lives, some of them cut off by the horizon.

use crate::fleet::normal_quantile;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Weibull's distribution F(t) = 1 − exp[−(t/η)^β], fitted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weibull {
    /// β
    pub shape: f64,
    /// η, in the unit of the lives
    pub scale: f64,
    /// logarithm of the likelihood at its greatest
    pub log_likelihood: f64,
    /// bounds of β
    pub shape_bounds: (f64, f64),
    /// bounds of η
    pub scale_bounds: (f64, f64),
}

/// Fits by maximum likelihood; none for fewer than three failures or where all are alike.
///
/// With r failures x and all n times t (failures and those cut off) the shape solves
///
/// ```text
/// Σ t^β ln t / Σ t^β − 1/β − (Σ ln x)/r = 0,     η = (Σ t^β / r)^(1/β)
/// ```
///
/// Bounds from the observed information of ln β and ln η: good for many failures, too narrow for few. Source: W. Nelson,
/// *Applied Life Data Analysis*, 1982, chapter 8.
pub fn fit(failures: &[f64], censored: &[f64], confidence: f64) -> Option<Weibull> {
    let r = failures.len() as f64;
    let (least, most) = failures.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), x| (a.min(*x), b.max(*x)));
    if failures.len() < 3 || !(least > 0.0) || most / least < 1.0 + 1e-9 {
        return None;
    }
    // In units of the longest, so that no power overflows.
    let unit = censored.iter().fold(most, |m, x| m.max(*x));
    let all: Vec<f64> = failures.iter().chain(censored).map(|t| t / unit).collect();
    let mean_log = failures.iter().map(|x| libm::log(x / unit)).sum::<f64>() / r;
    let sums = |shape: f64| {
        all.iter().fold([0.0; 3], |[a, b, c], t| {
            let (power, log) = (libm::pow(*t, shape), libm::log(*t));
            [a + power, b + power * log, c + power * log * log]
        })
    };
    let slope = |shape: f64| {
        let [a, b, _] = sums(shape);
        b / a - 1.0 / shape - mean_log
    };
    let (mut low, mut high) = (1e-3, 1.0);
    while slope(high) < 0.0 {
        high *= 2.0;
        if high > 1e6 {
            return None;
        }
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if slope(middle) < 0.0 { low = middle } else { high = middle }
    }
    let shape = 0.5 * (low + high);
    let [a, b, c] = sums(shape);
    let scale = libm::pow(a / r, 1.0 / shape);
    let (log_shape, log_scale) = (libm::log(shape), libm::log(scale));
    let log_likelihood = r * (log_shape - shape * log_scale) + (shape - 1.0) * r * mean_log - r - r * libm::log(unit);
    // Information of (ln β, ln η) at the optimum, where Σ (t/η)^β = r.
    let per = r / a;
    let (b, c) = (b * per - r * log_scale, c * per - 2.0 * log_scale * b * per + r * log_scale * log_scale);
    let square = shape * shape;
    let (i_shape, i_both, i_scale) = (r + square * c, -square * b, square * r);
    let determinant = i_shape * i_scale - i_both * i_both;
    let z = normal_quantile(0.5 + 0.5 * confidence);
    let reach = |information: f64| libm::exp(z * (information / determinant).sqrt());
    let (of_shape, of_scale) = (reach(i_scale), reach(i_shape));
    let scale = scale * unit;
    Some(Weibull {
        shape,
        scale,
        log_likelihood,
        shape_bounds: (shape / of_shape, shape * of_shape),
        scale_bounds: (scale / of_scale, scale * of_scale),
    })
}

impl Weibull {
    /// The life that this share does not reach.
    pub fn life(&self, share: f64) -> f64 {
        self.scale * libm::pow(-libm::log1p(-share), 1.0 / self.shape)
    }

    /// Whether the distribution may be used, in a sentence.
    ///
    /// The statistic of Anderson and Darling against its 5 % point 0.757/(1 + 0.2/√n), for a Weibull distribution with both
    /// parameters fitted to a complete sample (R. B. D'Agostino, M. A. Stephens, *Goodness-of-Fit Techniques*, 1986, table
    /// 4.17; from memory). A sample that the horizon cuts off is not tested.
    pub fn statement(&self, failures: &[f64], censored: &[f64]) -> String {
        let what = format!(
            "Weibull: shape {:.2} ({:.2} to {:.2}), characteristic life {:.0} h",
            self.shape,
            self.shape_bounds.0,
            self.shape_bounds.1,
            self.scale / 3600.0
        );
        if !censored.is_empty() {
            return format!(
                "{what}; not tested, since {} of {} outlived the horizon",
                censored.len(),
                censored.len() + failures.len()
            );
        }
        let n = failures.len() as f64;
        let statistic = self.anderson_darling(failures);
        let most = 0.757 / (1.0 + 0.2 / n.sqrt());
        if statistic <= most {
            format!("{what}; it fits (A² {statistic:.2} of at most {most:.2})")
        } else {
            format!("{what}; it does not fit (A² {statistic:.2} of at most {most:.2}): use the percentiles")
        }
    }

    fn anderson_darling(&self, failures: &[f64]) -> f64 {
        let n = failures.len();
        let mut sorted = failures.to_vec();
        sorted.sort_by(f64::total_cmp);
        // −ln(1 − F), from which both logarithms follow.
        let hazard: Vec<f64> = sorted.iter().map(|t| libm::pow(t / self.scale, self.shape)).collect();
        let sum: f64 = (0..n)
            .map(|i| {
                let below = libm::log((-libm::expm1(-hazard[i])).max(1e-300));
                (2 * i + 1) as f64 * (below - hazard[n - 1 - i])
            })
            .sum();
        -(n as f64) - sum / n as f64
    }
}
