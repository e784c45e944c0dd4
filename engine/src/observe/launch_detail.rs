//! Detail of one launch, step by step: the one with the highest lining temperature.

use crate::document::record::CloseUp;
use crate::names::{Channel, Row};
use std::collections::VecDeque;

/// Time kept before the vehicle sets off and after it, s.
const BEFORE: f64 = 3.0;
const AFTER: f64 = 20.0;
/// Largest number of rows of a launch.
const MOST: usize = 400;

/// The present launch, and the hottest so far.
#[derive(Clone, Debug, Default)]
pub(super) struct CloseUps {
    recent: VecDeque<(f64, Row)>,
    sets_off: Option<f64>,
    best: Vec<(f64, Row)>,
    best_sets_off: f64,
}

impl CloseUps {
    /// Adds the values at a time.
    pub fn see(&mut self, time: f64, row: &Row) {
        match self.sets_off {
            Some(start) if time > start + AFTER => self.close(),
            Some(_) if self.recent.len() >= MOST => {
                let mut odd = false;
                self.recent.retain(|_| {
                    odd = !odd;
                    odd
                });
            }
            Some(_) => {}
            None => {
                while self.recent.len() >= MOST || self.recent.get(1).is_some_and(|r| r.0 < time - BEFORE) {
                    self.recent.pop_front();
                }
            }
        }
        self.recent.push_back((time, *row));
    }

    /// Marks that the vehicle sets off.
    pub fn set_off(&mut self, time: f64) {
        if self.sets_off.is_none() {
            self.sets_off = Some(time);
        }
    }

    /// Ends the present launch at a jump in time.
    pub fn cut(&mut self) {
        self.close();
        self.recent.clear();
    }

    fn close(&mut self) {
        let Some(start) = self.sets_off.take() else { return };
        if hottest(self.recent.make_contiguous()) > hottest(&self.best) {
            self.best = self.recent.iter().copied().collect();
            self.best_sets_off = start;
        }
    }

    /// The hottest launch, including the present one.
    pub fn kept(&self) -> Option<CloseUp> {
        let mut all = self.clone();
        all.close();
        let rows = all.best.iter().map(|r| r.1.to_vec()).collect();
        let (sets_off, time) = (all.best_sets_off, all.best.iter().map(|r| r.0).collect());
        (!all.best.is_empty()).then_some(CloseUp { sets_off, time, rows })
    }
}

fn hottest(rows: &[(f64, Row)]) -> f64 {
    rows.iter().map(|r| Channel::LiningSurface.of(&r.1)).fold(f64::NEG_INFINITY, f64::max)
}
