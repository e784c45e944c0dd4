//! Where a jump starts: the present state, if slopes change evenly enough there.

use super::super::Repeating;
use super::super::anchor::{Anchor, Anchors};
use super::{FIRST, LEFT, Way};

impl<R: Repeating> Way<'_, R> {
    /// Whether slopes change evenly enough for a first jump: the last two agree with their extrapolation.
    fn even(&self) -> bool {
        let anchor = |back: usize| {
            let values = self.values[self.values.len() - 1 - back].clone();
            Anchor { at: self.done - back as f64, values, slope: self.changes(back) }
        };
        let missed = |back: usize| {
            let (here, last) = (anchor(back + 1), anchor(back + 2));
            let anchors = Anchors { here: &here, last: &last, earlier: None, first: true };
            let expected = |k| anchors.foresee(self.courses[k], k, 1.0) - here.values[k];
            (0..self.courses.len()).map(|k| (self.change(k, back) - expected(k)).abs()).collect::<Vec<_>>()
        };
        if self.values.len() < 5 {
            return false;
        }
        let (now, before) = (missed(0), missed(1));
        (0..self.courses.len()).all(|k| {
            let miss = LEFT * f64::max(now[k], before[k]) * FIRST * FIRST * FIRST / 6.0;
            self.allowed(k, self.change(k, 0) * FIRST, FIRST).is_none_or(|allowed| miss <= allowed)
        })
    }

    /// The present state as the start of a jump, and the state before it; none if extrapolation is not possible here.
    pub(super) fn anchors(&self) -> Option<(Anchor, Anchor)> {
        let (at, values) = (self.done, self.now().to_vec());
        match (&self.last, &self.settled) {
            (Some(last), Some(settled)) => Some((Anchor { at, values, slope: settled.clone() }, last.clone())),
            (Some(last), None) if self.values.len() >= 2 => {
                Some((Anchor { at, values, slope: self.changes(0) }, last.clone()))
            }
            (None, _) if self.even() => {
                let before = self.values[self.values.len() - 2].clone();
                let last = Anchor { at: at - 1.0, values: before, slope: self.changes(1) };
                Some((Anchor { at, values, slope: self.changes(0) }, last))
            }
            _ => None,
        }
    }
}
