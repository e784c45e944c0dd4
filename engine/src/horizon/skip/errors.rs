//! Errors of jumps: what is allowed, what is corrected, and what remains.

use super::super::anchor::Anchor;
use super::super::{Course, Repeating};
use super::landing::Landing;
use super::{FIRST, LEFT, MOST_GROWN, Way};

/// Least share of the absolute allowance that a jump may use: what begins to drift late would else be allowed next to nothing.
const LEAST_SHARE: f64 = 0.02;
/// Floor of the error estimate, as a share of the tolerance: curvature inside a jump is invisible at its ends.
const HIDDEN: f64 = 0.1;

impl<R: Repeating> Way<'_, R> {
    /// Allowed error of a drifting quantity for a jump over this many blocks: a share of its change, and an equal part
    /// of the absolute allowance for each e-fold of time. None for other quantities.
    pub(super) fn allowed(&self, quantity: usize, change: f64, blocks: f64) -> Option<f64> {
        match self.courses[quantity] {
            Course::Drifts(whole) | Course::Relaxes(whole) | Course::Slows(whole) => Some(
                self.tolerance * change.abs() + whole * f64::max(blocks.max(FIRST) / (self.done + blocks), LEAST_SHARE),
            ),
            _ => None,
        }
    }

    /// Scales the error of each drifting quantity by the growth of its rate.
    pub(super) fn errors_grow(&mut self, rates: &[f64]) {
        if let Some(before) = &self.rates {
            for ((error, rate), before) in self.travelled.errors.iter_mut().zip(rates).zip(before) {
                let growth = (rate / before).abs();
                if growth.is_finite() {
                    *error *= growth.clamp(1.0, MOST_GROWN);
                }
            }
        }
        self.rates = Some(rates.to_vec());
    }

    /// Corrects the error of a jump in all quantities that do not settle.
    pub(super) fn correct(&mut self, here: &Anchor, landing: &Landing) {
        self.errors_grow(&landing.settled);
        let errors = &mut self.travelled.errors;
        for k in (0..self.courses.len()).filter(|&k| !matches!(self.courses[k], Course::Settles(_))) {
            let hidden = HIDDEN * self.tolerance * (landing.landed[k] - here.values[k]).abs();
            errors[k] +=
                landing.truncation_error[k].abs() + landing.spread[k] + LEFT * landing.transient[k].abs() + hidden;
            for row in &mut self.values {
                row[k] += landing.truncation_error[k] - landing.transient[k];
            }
        }
        let corrected = self.now().to_vec();
        self.r.put(&corrected, 0.0);
    }
}
