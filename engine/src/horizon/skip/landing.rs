//! Landing: the blocks after a jump, which settle states on their course and show the error of the jump.

use super::super::anchor::{Anchor, Anchors};
use super::super::vectors::less;
use super::super::{Course, Repeating};
use super::{LEFT, Way};

/// Share of the allowed error that may come from states off their course.
const SETTLING_ERROR: f64 = 0.3;
/// Distance from their course, in settling widths, within which states always count as settled.
const SETTLED: f64 = 0.03;
/// Distance from their course, in settling widths, up to which states may count as settled because the Jacobian shows a
/// negligible effect. There is a limit because the Jacobian may not know their direction, and treats what it does not
/// know as forgotten.
const FAR: f64 = 3.0;
/// Error over the allowed one at which a jump is given up before its states have settled: corrections seldom make up for more.
const HOPELESS: f64 = 3.0;
/// Largest number of blocks run after a jump to settle its states.
pub(super) const PATIENCE: usize = 6;
/// Distance from their course, in settling widths, above which states are not corrected and the jump is rejected.
const LOST: f64 = 1e3;

/// Findings of the blocks after a jump.
pub(super) struct Landing {
    /// values at which the jump ended
    pub landed: Vec<f64>,
    /// error of each quantity by the jump
    pub truncation_error: Vec<f64>,
    /// changes over the blocks since the jump that are due to states off their course
    pub transient: Vec<f64>,
    /// largest change that may be due to the present distance of those states from their course
    pub spread: Vec<f64>,
    /// error of the worst quantity over the allowed error
    pub worst: f64,
    /// part of it that comes from states off their course
    pub settling_error: f64,
    /// distance of states from their course after the first block, and now, in settling widths
    pub strayed: f64,
    pub off: f64,
    /// correction of each settling state
    pub aside: Vec<f64>,
    /// changes over a block with all states on their course
    pub settled: Vec<f64>,
    /// whether the laws stayed the same
    pub same: bool,
}

impl Landing {
    /// Whether all states count as settled.
    pub fn rests(&self) -> bool {
        self.off <= SETTLED || (self.settling_error <= SETTLING_ERROR && self.off <= FAR)
    }
}

impl<R: Repeating> Way<'_, R> {
    /// Puts all quantities at their extrapolated values after n blocks, and runs blocks until settling states are on
    /// their course.
    pub(super) fn land(&mut self, here: &Anchor, last: &Anchor, n: f64, foreseen: &[Vec<f64>]) -> Landing {
        let (regime, passed) = (self.r.regime(), self.r.passed());
        let first = self.last.is_none();
        self.r.put(&foreseen[0], n);
        self.done += n;
        let landed = self.r.read();
        self.values = vec![landed.clone()];
        let mut landing = Landing {
            landed,
            truncation_error: vec![0.0; self.courses.len()],
            transient: vec![0.0; self.courses.len()],
            spread: vec![0.0; self.courses.len()],
            worst: f64::INFINITY,
            settling_error: f64::INFINITY,
            strayed: 0.0,
            off: f64::INFINITY,
            aside: vec![],
            settled: here.slope.clone(),
            same: true,
        };
        let mut before: Option<(Vec<f64>, Vec<f64>)> = None;
        for blocks in 1..=PATIENCE {
            let place = self.now().to_vec();
            // A block fails or the laws change: the jump was too long.
            landing.same = self.block().is_ok() && self.r.regime() == regime && self.r.passed() == passed;
            if !landing.same {
                break;
            }
            let changes = self.changes(0);
            if let Some((began, made)) = &before {
                self.memory.learn(&self.courses, &less(&place, began), &less(&changes, made));
            }
            let anchors = Anchors { here, last, earlier: self.earlier.as_ref(), first };
            let aside = self.memory.aside(&anchors, n + blocks as f64 - 1.0, &place, &changes);
            landing.settled = self.memory.settled(&changes, &aside);
            let rest = |(k, aside): (&usize, &f64)| match self.courses[*k] {
                Course::Settles(within) => aside.abs() / within,
                _ => 0.0,
            };
            let off = self.memory.states.iter().zip(&aside).map(rest).fold(0.0, f64::max);
            landing.off = off;
            if blocks == 1 {
                landing.strayed = off;
            }
            if !(off < LOST) {
                (landing.settling_error, landing.off) = (f64::INFINITY, f64::INFINITY);
                break;
            }
            let unseen = self.memory.unseen(&self.courses, &aside);
            (landing.worst, landing.settling_error) = (0.0, 0.0);
            for k in (0..self.courses.len()).filter(|&k| !matches!(self.courses[k], Course::Settles(_))) {
                let expected = foreseen[blocks][k] - foreseen[blocks - 1][k];
                let share = anchors.missed(self.courses[k], k, n, blocks as f64);
                landing.truncation_error[k] = share * (landing.settled[k] - expected);
                landing.transient[k] += changes[k] - landing.settled[k];
                landing.spread[k] = 0.5 * n * self.memory.spread(&self.courses, k, &aside, unseen);
                let uncertainty = 0.5 * n * (landing.settled[k] - changes[k]).abs();
                if let Some(allowed) = self.allowed(k, landing.landed[k] - here.values[k], n) {
                    let left = LEFT * (landing.truncation_error[k].abs() + landing.transient[k].abs());
                    landing.worst = landing.worst.max(left / allowed);
                    landing.settling_error = landing.settling_error.max(uncertainty / allowed);
                }
            }
            before = Some((place, changes));
            if landing.settling_error > 0.1 * SETTLING_ERROR || off > SETTLED {
                let mut values = self.now().to_vec();
                self.memory.put_right(&mut values, &aside);
                self.r.put(&values, 0.0);
                self.values = vec![self.r.read()];
            }
            landing.aside = aside;
            if landing.rests() || landing.worst > HOPELESS || self.done >= self.most || self.r.over() {
                break;
            }
        }
        landing
    }
}
