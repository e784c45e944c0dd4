//! Pieces ahead: which are foretold, which wait for their check, and what error they may have.

use super::super::response::Foretold;
use super::super::skip::{LOOK, VENTURE};
use super::{ASTRAY, Course, Move, Pieced, Round, Share, Stretch};

/// A piece is a check of the farthest one foretold if it is at least this share as far from all samples; and how many pieces a check
/// waits for such a one.
const NEAR: f64 = 0.5;
const LATER: u32 = 10;
/// A kind that is checked already goes on being foretold while one waits for its check that comes less than once in this many of it.
const RARE: u64 = 8;
/// Largest effect of unknown directions on one piece, over the allowed error of a piece.
const UNSEEN: f64 = 20.0;

impl<R: Pieced> Round<'_, R> {
    /// Foretells pieces of a kind in a row. False if none can be.
    pub(super) fn foretell(&mut self, kind: usize) -> bool {
        let open = self.stretch.is_some();
        if !(self.tolerance > 0.0) || self.lost > (self.done - self.begun).max(VENTURE) {
            return false;
        }
        let courses = self.r.quantities();
        let start = self.r.read();
        let left = match (open, self.checks) {
            (false, _) => self.kinds[kind].wished,
            (true, false) => self.shares[kind].left,
            (true, true) if self.waits(kind, &courses, &start) => 1.0,
            (true, true) => return false,
        };
        let mut values = start.clone();
        let mut most = left;
        let mut farthest: f64 = 0.0;
        let mut moved = 0_u64;
        let mut held = None;
        while (moved as f64) < most && self.r.kind() == Some(kind) && !self.r.closes() && self.r.steady() {
            let setting = self.r.setting();
            let Some(next) = self.kinds[kind].response.foretell(&courses, setting, &values) else { break };
            if moved == 0 {
                // One piece between others may take most of the room: a weekend after an oiling loses most of what was put on.
                let room = self.r.room(&next.change);
                let first = self.previous.is_some_and(|previous| previous != kind);
                most = most.min(if first { (room - LOOK).max(room.min(1.0)) } else { room - LOOK }).floor();
                if most < 1.0 {
                    break;
                }
            }
            if self.far(&courses, &next) {
                break;
            }
            if moved == 0 && !open {
                held = Some(self.r.hold());
            }
            values.iter_mut().zip(&next.change).for_each(|(value, change)| *value += change);
            self.r.pass(&values);
            farthest = farthest.max(next.distance);
            moved += 1;
        }
        if moved == 0 {
            // What was foretold before is checked now.
            self.checks = open;
            return false;
        }
        self.previous = Some(kind);
        self.r.put(&values, moved as f64);
        if let Some(held) = held {
            self.stretch = Some(Stretch { held, start, done: self.done, moves: vec![], tries: 0 });
            for (share, one) in self.shares.iter_mut().zip(&*self.kinds) {
                *share = Share { left: one.wished, later: LATER, ..Share::default() };
            }
        }
        let one = &mut self.shares[kind];
        one.farthest = one.farthest.max(farthest);
        (one.left, one.foretold, one.pending) = (left - moved as f64, one.foretold + moved, true);
        self.done += moved as f64;
        if let Some(stretch) = &mut self.stretch {
            stretch.moves.push(Move::Foretold(moved));
        }
        true
    }

    /// Whether a kind waits with its check: for that of a rarer kind, so that the pieces until then need not be simulated, or until a
    /// piece begins about as far from all samples as the farthest one foretold.
    fn waits(&mut self, kind: usize, courses: &[Course], values: &[f64]) -> bool {
        let setting = self.r.setting();
        let often = |k: usize| self.kinds[k].counts.run + self.kinds[k].counts.skipped + self.shares[k].foretold;
        let rarer =
            |times: u64| (0..self.kinds.len()).any(|k| self.shares[k].pending && times * often(k) < often(kind));
        if !self.shares[kind].pending {
            return rarer(RARE);
        }
        let rarer = rarer(1);
        let this = &mut self.shares[kind];
        if rarer || this.later == 0 {
            return rarer;
        }
        this.later -= 1;
        let near = |told: Foretold| told.distance < NEAR * this.farthest;
        self.kinds[kind].response.foretell(courses, setting, values).is_some_and(near)
    }

    /// Whether unknown directions may have too large an effect on a foretold piece.
    pub(super) fn far(&self, courses: &[Course], told: &Foretold) -> bool {
        let over =
            |k: usize| self.allowed(courses[k], told.change[k], 1.0).is_some_and(|most| told.unseen[k] > UNSEEN * most);
        (0..courses.len()).any(over)
    }

    /// Allowed error of a quantity for a stretch of this many pieces; none for those without.
    pub(super) fn allowed(&self, course: Course, change: f64, pieces: f64) -> Option<f64> {
        match course {
            Course::Drifts(whole) | Course::Relaxes(whole) | Course::Slows(whole) => {
                Some(self.tolerance * change.abs() + self.share * whole * pieces / (self.done + pieces))
            }
            Course::Settles(within) | Course::Returns(within) => Some(self.share * ASTRAY * within),
            Course::Follows => None,
        }
    }
}
