//! A smooth function of many variables, fitted to scattered values.

use crate::document::season::MapError;
use crate::document::season::Rate;
use crate::statistics::percentile;
use nalgebra::{DMatrix, DVector};

/// Number of variables of the largest effect whose products are fitted too.
const STRONGEST: usize = 8;
/// Weight of small coefficients, in observations; keeps weakly determined ones near zero.
const RIDGE: f64 = 0.3;
/// Least share of a rate that a map gives, below which it is not raised further.
const LEAST: f64 = 0.1;
/// One value in so many is held back.
const HELD_BACK: usize = 10;

/// A term of a polynomial: the product of two variables; variable 0 is 1.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Term(usize, usize);

/// A polynomial of second degree: linear and quadratic in all variables, with the products of the strongest.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    terms: Vec<Term>,
    factors: Vec<f64>,
}

fn value(term: Term, x: &[f64]) -> f64 {
    let of = |k: usize| if k == 0 { 1.0 } else { x[k - 1] };
    of(term.0) * of(term.1)
}

/// Least squares with a small weight on the size of the factors, the constant excepted.
fn solve(terms: &[Term], points: &[(&[f64], f64)]) -> Vec<f64> {
    let (rows, columns) = (points.len(), terms.len());
    let a = DMatrix::from_fn(rows, columns, |i, j| value(terms[j], points[i].0));
    let b = DVector::from_iterator(rows, points.iter().map(|point| point.1));
    let mut normal = a.transpose() * &a;
    for k in 0..columns {
        normal[(k, k)] += if terms[k] == Term(0, 0) { 1e-9 } else { RIDGE };
    }
    normal
        .cholesky()
        .map_or_else(|| vec![0.0; columns], |known| known.solve(&(a.transpose() * b)).iter().copied().collect())
}

impl Surface {
    /// The polynomial nearest to values at points, each with as many variables; all are of the order of 1.
    ///
    /// The effect of each variable is found first with linear and quadratic terms alone; then the products of the strongest join.
    /// Errs where the function bends more sharply: values held back say by how much.
    pub fn fitted(points: &[(&[f64], f64)]) -> Self {
        let variables = points.first().map_or(0, |point| point.0.len());
        let plain = (0..=variables).flat_map(|k| if k == 0 { vec![Term(0, 0)] } else { vec![Term(0, k), Term(k, k)] });
        let mut terms: Vec<Term> = plain.collect();
        let factors = solve(&terms, points);
        let size = |k: usize| terms.iter().zip(&factors).filter(|(t, _)| t.1 == k).map(|(_, f)| f.abs()).sum::<f64>();
        let mut order: Vec<usize> = (1..=variables).collect();
        order.sort_by(|a, b| size(*b).total_cmp(&size(*a)));
        let strongest = &order[..order.len().min(STRONGEST)];
        for (k, a) in strongest.iter().enumerate() {
            terms.extend(strongest[..k].iter().map(|b| Term(*a.min(b), *a.max(b))));
        }
        let factors = solve(&terms, points);
        Self { terms, factors }
    }

    /// Its value.
    pub fn at(&self, x: &[f64]) -> f64 {
        self.terms.iter().zip(&self.factors).map(|(term, factor)| factor * value(*term, x)).sum()
    }

    /// What is left of it as a function of its last two variables (t, f), if the others are known: factors of 1, t, f, t², tf, f².
    pub fn of_last_two(&self, others: &[f64]) -> [f64; 6] {
        let (t, f) = (others.len() + 1, others.len() + 2);
        let mut left = [0.0; 6];
        for (Term(a, b), factor) in self.terms.iter().zip(&self.factors) {
            let of = |k: usize| if k == 0 || k >= t { 1.0 } else { others[k - 1] };
            let power = |last: usize| usize::from(*a == last) + usize::from(*b == last);
            let place = match (power(t), power(f)) {
                (0, 0) => 0,
                (1, 0) => 1,
                (0, 1) => 2,
                (2, 0) => 3,
                (1, 1) => 4,
                _ => 5,
            };
            left[place] += factor * of(*a) * of(*b);
        }
        left
    }
}

/// Value of the function of two variables of [`Surface::of_last_two`].
pub fn of_two(factors: &[f64; 6], t: f64, f: f64) -> f64 {
    let [one, by_t, by_f, tt, tf, ff] = factors;
    one + by_t * t + by_f * f + tt * t * t + tf * t * f + ff * f * f
}

/// Fits all points but those held back, and compares with these: the error is that of the function itself, or, for logarithms,
/// the relative error of what they are the logarithm of.
pub fn checked(rate: Rate, points: &[(&[f64], f64)], logarithm: bool) -> (Surface, MapError) {
    let (back, kept): (Vec<_>, Vec<_>) = points.iter().enumerate().partition(|(k, _)| held_back(*k));
    let plain = |all: Vec<(usize, &(&'_ [f64], f64))>| -> Vec<(Vec<f64>, f64)> {
        all.into_iter().map(|(_, point)| (point.0.to_vec(), point.1)).collect()
    };
    let (back, kept) = (plain(back), plain(kept));
    let surface = Surface::fitted(&kept.iter().map(|(x, y)| (x.as_slice(), *y)).collect::<Vec<_>>());
    let error = |(x, y): &(Vec<f64>, f64)| {
        let by = surface.at(x) - y;
        if logarithm { libm::expm1(by) } else { by }
    };
    let error = error_of(rate, &back.iter().map(error).collect::<Vec<f64>>());
    (surface, error)
}

/// Whether the value with this number is held back.
pub fn held_back(number: usize) -> bool {
    number % HELD_BACK == HELD_BACK - 1
}

/// Errors of a rate, too high counted positive: their size, how many are too low, and by what share the rate has to be raised for 19 of
/// 20 to be no longer too low.
pub fn error_of(rate: Rate, errors: &[f64]) -> MapError {
    let low = errors.iter().filter(|error| **error < 0.0).count() as f64 / (errors.len() as f64).max(1.0);
    let quantile = |share, of: &dyn Fn(f64) -> f64| {
        let all: Vec<Option<f64>> = errors.iter().map(|error| Some(of(*error))).collect();
        percentile(&all, share, 0.9).estimate.unwrap_or(0.0)
    };
    let lacks = |error: f64| (1.0 / (1.0 + error).max(LEAST) - 1.0).max(0.0);
    // A clutch more exceeds the k-th of n with a probability of 1 - k/(n + 1).
    let mut raises: Vec<f64> = errors.iter().map(|error| lacks(*error)).collect();
    raises.sort_by(f64::total_cmp);
    let rank = (0.95 * (raises.len() + 1) as f64).ceil() as usize;
    let raised = rank.min(raises.len()).checked_sub(1).map_or(0.0, |k| raises[k]);
    MapError { rate, median: quantile(0.5, &f64::abs), most: quantile(0.95, &f64::abs), low, raised }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spread::deviate;

    fn points(of: impl Fn(&[f64]) -> f64) -> Vec<(Vec<f64>, f64)> {
        let x = |i| (0..6).map(|k| 2.0 * deviate(1, i, &format!("{k}")) - 1.0).collect::<Vec<_>>();
        (0..400).map(x).map(|x| (x.clone(), of(&x))).collect()
    }

    #[test]
    fn a_quadratic_function_is_found_again_and_its_last_two_variables_are_separated() {
        let law =
            |x: &[f64]| 1.0 + 2.0 * x[0] - x[1] * x[1] + 0.5 * x[0] * x[4] + 0.3 * x[4] * x[5] - 0.2 * x[5] * x[5];
        let all = points(law);
        let all: Vec<(&[f64], f64)> = all.iter().map(|(x, y)| (x.as_slice(), *y)).collect();
        let (surface, error) = checked(Rate::Oil, &all, false);
        // The small weight on the factors costs up to some tenths of a per cent.
        assert!(error.median < 5e-3 && error.most < 2e-2, "{error:?}");
        let x = [0.3, -0.4, 0.0, 0.9, 0.5, -0.6];
        assert!((surface.at(&x) - law(&x)).abs() < 1e-2);
        let two = surface.of_last_two(&x[..4]);
        assert!((of_two(&two, x[4], x[5]) - surface.at(&x)).abs() < 1e-12);
    }

    #[test]
    fn values_held_back_show_the_error_of_a_function_that_is_no_polynomial() {
        let all = points(|x| if x[0] > 0.2 { 1.0 } else { 0.0 });
        let all: Vec<(&[f64], f64)> = all.iter().map(|(x, y)| (x.as_slice(), *y)).collect();
        let (_, error) = checked(Rate::Oil, &all, false);
        assert!(error.median > 0.05 && error.most > 0.2, "{error:?}");
    }
}
