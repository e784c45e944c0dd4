//! A search for the constants of the least sum of squares.

use super::constant::{Constant, Scale};
use crate::spread::deviate;
use crate::statistics::normal_quantile;
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, storage::Owned};
use std::cell::RefCell;

/// Measurements, and their prediction from constants.
pub trait Measured {
    /// reason why no prediction is possible
    type Error;
    /// (predicted − measured)/deviation of every reading
    fn residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Self::Error>;
    /// derivatives of the residuals with respect to each constant, one column each
    fn slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Self::Error>;
    /// the same, accurate enough to lead a search, where that costs less
    fn leading_slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Self::Error> {
        self.slopes(constants)
    }
}

/// Effort of the search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// number of searches; the first starts at the constants' own start values
    pub starts: u64,
    /// seed of the other starts
    pub seed: u64,
    /// relative change of the sum of squares and of the constants at which a search stops
    pub tolerance: f64,
    /// largest number of residual evaluations per constant and search
    pub patience: usize,
}

impl Default for Effort {
    fn default() -> Self {
        Self { starts: 1, seed: 1, tolerance: 1e-14, patience: 200 }
    }
}

/// A search, and the best place that it has seen.
pub(super) struct Search<'a, M> {
    measured: &'a M,
    constants: &'a [Constant],
    readings: usize,
    places: DVector<f64>,
    /// constants that are held at zero
    held: Vec<bool>,
    /// least sum of squares so far, and its place
    best: RefCell<(f64, DVector<f64>)>,
}

/// Residual used where no prediction is possible; no search crosses it.
const WALL: f64 = 1e100;

impl<'a, M: Measured> Search<'a, M> {
    /// A search that begins at these places.
    pub fn new(measured: &'a M, constants: &'a [Constant], readings: usize, places: DVector<f64>) -> Self {
        let held = vec![false; constants.len()];
        let best = RefCell::new((f64::INFINITY, places.clone()));
        Self { measured, constants, readings, places, held, best }
    }

    /// Values of the constants.
    pub fn values(&self) -> Vec<f64> {
        self.constants.iter().zip(self.places.iter()).map(|(c, p)| c.scale.value(*p)).collect()
    }

    /// Residuals of the readings, followed by those of the priors.
    pub fn all_residuals(&self) -> Vec<f64> {
        let finite = |all: &Vec<f64>| all.iter().all(|r| r.abs() < WALL);
        let wall = || vec![WALL; self.readings];
        let mut all = self.measured.residuals(&self.values()).ok().filter(finite).unwrap_or_else(wall);
        for (c, place) in self.constants.iter().zip(self.places.iter()) {
            all.extend(c.known.map(|known| (place - c.scale.place(c.start)) / known));
        }
        let sum = all.iter().map(|r| r * r).sum();
        if sum < self.best.borrow().0 {
            self.best.replace((sum, self.places.clone()));
        }
        all
    }

    /// Slopes along the constants' scales: rows of the readings, followed by rows of the priors.
    pub fn all_slopes(&self, columns: Result<Vec<Vec<f64>>, M::Error>) -> Option<DMatrix<f64>> {
        let columns = columns.ok()?;
        let priors = self.constants.iter().filter(|c| c.known.is_some()).count();
        let mut all = DMatrix::zeros(self.readings + priors, columns.len());
        let mut row = self.readings;
        for (k, ((column, c), place)) in columns.iter().zip(self.constants).zip(self.places.iter()).enumerate() {
            for (i, slope) in column.iter().enumerate() {
                all[(i, k)] = slope * c.scale.slope(*place);
            }
            if let Some(known) = c.known {
                all[(row, k)] = 1.0 / known;
                row += 1;
            }
        }
        all.iter().all(|s| s.is_finite()).then_some(all)
    }
}

impl<M: Measured> LeastSquaresProblem<f64, Dyn, Dyn> for Search<'_, M> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, places: &DVector<f64>) {
        self.places.copy_from(places);
    }
    fn params(&self) -> DVector<f64> {
        self.places.clone()
    }
    fn residuals(&self) -> Option<DVector<f64>> {
        Some(DVector::from_vec(self.all_residuals()))
    }
    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let mut slopes = self.all_slopes(self.measured.leading_slopes(&self.values()))?;
        for (mut column, held) in slopes.column_iter_mut().zip(&self.held) {
            if *held {
                column.fill(0.0);
            }
        }
        Some(slopes)
    }
}

/// Start of the k-th search. The first starts at the constants' own start values. The others are scattered by the prior
/// of each constant or, without a prior, by factors that grow from search to search up to a thousand.
fn start(constants: &[Constant], effort: Effort, k: u64) -> DVector<f64> {
    let place = |c: &Constant| {
        let middle = c.scale.place(c.start);
        if k == 0 {
            return middle;
        }
        let z = normal_quantile(deviate(effort.seed, k, &c.name));
        if let Some(known) = c.known {
            return middle + known * z;
        }
        let wide = z * libm::log(1000.0) / 2.0 * (k as f64 / effort.starts as f64);
        match c.scale {
            Scale::Plain | Scale::NotNegative => middle * libm::exp(wide),
            Scale::Logarithm => middle + wide,
        }
    };
    DVector::from_iterator(constants.len(), constants.iter().map(place))
}

/// The k-th search's least sum of squares, and its place. The reason why a search ended is ignored; only its best place counts.
/// Constants that end below zero and may not are held there, and the others are fitted anew; their errors count all the same.
pub(super) fn lowest<M: Measured>(
    measured: &M,
    constants: &[Constant],
    readings: usize,
    effort: Effort,
    k: u64,
) -> (f64, DVector<f64>) {
    let method = LevenbergMarquardt::new()
        .with_ftol(effort.tolerance)
        .with_xtol(effort.tolerance)
        .with_gtol(f64::EPSILON)
        .with_patience(effort.patience);
    let mut held = vec![false; constants.len()];
    let mut places = start(constants, effort, k);
    loop {
        let search = Search { held: held.clone(), ..Search::new(measured, constants, readings, places) };
        let (sum, best) = method.minimize(search).0.best.into_inner();
        places = best;
        let below = (0..held.len()).filter(|i| constants[*i].scale == Scale::NotNegative && places[*i] < 0.0);
        let below: Vec<usize> = below.collect();
        if below.is_empty() {
            return (sum, places);
        }
        for i in below {
            (held[i], places[i]) = (true, 0.0);
        }
    }
}
