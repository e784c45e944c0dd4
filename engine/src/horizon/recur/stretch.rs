//! A stretch of foretold pieces: how long a first one may be, its check, its correction and its undoing.

use super::super::skip::{FIRST, GROWTH, LEFT, MOST_GROWN};
use super::{Course, Move, Pieced, Round};

/// Lengths of a first stretch that are tried, pieces.
const LENGTHS: [f64; 5] = [FIRST, 8.0, 5.0, 3.0, 2.0];
/// Largest number of pieces simulated to improve one stretch.
const TRIES: u32 = 3;
/// Error over the allowed one above which a stretch is not improved but undone.
const HOPELESS: f64 = 300.0;
/// Floor of the error estimate, as a share of the tolerance: most places inside a stretch are not checked.
const UNCHECKED: f64 = 0.5;

impl<R: Pieced> Round<'_, R> {
    /// Sets the length of a first stretch by what the last two predictions of one piece missed: twice as far ahead they would
    /// miss four times as much.
    pub(super) fn venture(&mut self, kind: usize, courses: &[Course], change: &[f64], missed: Option<Vec<f64>>) {
        let before = std::mem::replace(&mut self.kinds[kind].missed, missed);
        let one = &self.kinds[kind];
        if one.wished >= 2.0 {
            return;
        }
        let (Some(now), Some(before)) = (&one.missed, before) else { return };
        let good = |n: f64| {
            courses.iter().enumerate().all(|(k, course)| {
                let miss = LEFT * now[k].max(before[k]) * n * n;
                let miss =
                    if matches!(course, Course::Settles(_) | Course::Returns(_)) { miss } else { miss * n / 3.0 };
                self.allowed(*course, change[k] * n, n).is_none_or(|allowed| miss <= allowed)
            })
        };
        self.kinds[kind].wished = LENGTHS.into_iter().find(|n| good(*n)).unwrap_or(0.0);
    }

    /// Foretells the stretch anew with what was learned since, and accepts, improves or undoes it.
    pub(super) fn check(&mut self, kind: usize, courses: &[Course], landed: &[f64], setting: u64) {
        let Some(mut stretch) = self.stretch.take() else { return };
        let after = self.r.hold();
        stretch.moves.pop();
        self.r.restore(stretch.held);
        stretch.held = self.r.hold();
        let doubts = self.again(&stretch.moves).ok().flatten();
        let place = self.r.read();
        let pieces = self.done - 1.0 - stretch.done;
        let mut worst: f64 = if doubts.is_some() { 0.0 } else { f64::INFINITY };
        for (k, course) in courses.iter().enumerate() {
            if let Some(allowed) = self.allowed(*course, landed[k] - stretch.start[k], pieces) {
                worst = worst.max(LEFT * (place[k] - landed[k]).abs() / allowed);
            }
        }
        let next = self.kinds[kind].response.foretell(courses, setting, &place);
        let Some((next, doubts)) = next.zip(doubts).filter(|_| worst <= 1.0) else {
            self.done -= 1.0;
            self.taken_back += 1;
            self.lost += 1.0;
            stretch.tries += 1;
            let improves = stretch.tries < TRIES && worst < HOPELESS;
            self.stretch = Some(stretch);
            if !improves {
                self.undo();
            }
            return;
        };
        let ended: Vec<f64> = place.iter().zip(&next.change).map(|(place, change)| place + change).collect();
        self.r.restore(after);
        self.r.put(&ended, 0.0);
        self.grow(kind, &next.change);
        // Starts inside a piece differ more from each other than those of whole pieces: nothing counts as corrected.
        let left = if self.share < 1.0 { 1.0 } else { LEFT };
        // The last check counts what all pieces of the stretch may miss.
        let last = self.shares.iter().filter(|share| share.pending).count() < 2;
        for (k, course) in courses.iter().enumerate() {
            if !matches!(course, Course::Settles(_) | Course::Returns(_)) {
                let hidden = UNCHECKED * self.tolerance * (landed[k] - stretch.start[k]).abs();
                self.errors[k] += left * (place[k] - landed[k]).abs() + hidden;
                if last {
                    self.errors[k] += doubts[k];
                }
            }
        }
        stretch.moves.push(Move::Foretold(1));
        let (share, one) = (&mut self.shares[kind], &mut self.kinds[kind]);
        share.pending = false;
        one.counts.skipped += share.foretold;
        let like = share.foretold as f64 / one.counts.run as f64;
        self.errors.iter_mut().zip(&one.inner).for_each(|(error, inner)| *error += inner * like);
        one.wished = (share.foretold as f64 * (0.9 / worst.max(1e-4).sqrt()).clamp(0.3, GROWTH)).max(2.0);
        if self.shares.iter().any(|share| share.pending) {
            self.stretch = Some(stretch);
        } else {
            self.checks = false;
        }
    }

    /// Scales the errors so far by the growth of the rates.
    fn grow(&mut self, kind: usize, change: &[f64]) {
        if let Some(before) = &mut self.kinds[kind].rates {
            for ((error, before), now) in self.errors.iter_mut().zip(before).zip(change) {
                let growth = (now / *before).abs();
                if growth.is_finite() {
                    *error *= growth.clamp(1.0, MOST_GROWN);
                }
                *before = before.abs().max(now.abs());
            }
        } else {
            self.kinds[kind].rates = Some(change.to_vec());
        }
    }

    /// Repeats the moves of a stretch from its start. What the foretold pieces may miss of each quantity; none if they cannot be
    /// foretold.
    fn again(&mut self, moves: &[Move]) -> Result<Option<Vec<f64>>, R::Error> {
        let mut doubts = vec![0.0; self.errors.len()];
        for one in moves {
            match *one {
                Move::Simulated => self.r.perform()?,
                Move::Foretold(pieces) => {
                    let courses = self.r.quantities();
                    let mut values = self.r.read();
                    for _ in 0..pieces {
                        let (Some(kind), setting) = (self.r.kind(), self.r.setting()) else { return Ok(None) };
                        let told = self.kinds[kind].response.foretell(&courses, setting, &values);
                        let Some(told) = told else { return Ok(None) };
                        let doubt = &self.kinds[kind].doubt;
                        doubts.iter_mut().enumerate().for_each(|(k, sum)| *sum += doubt.of(&told, k));
                        values.iter_mut().zip(&told.change).for_each(|(value, change)| *value += change);
                        self.r.pass(&values);
                    }
                    self.r.put(&values, pieces as f64);
                }
            }
        }
        Ok(Some(doubts))
    }

    /// Returns to the start of the stretch, and asks for shorter ones.
    pub(super) fn undo(&mut self) {
        let Some(stretch) = self.stretch.take() else { return };
        self.r.restore(stretch.held);
        self.lost += 1.0;
        self.done = stretch.done;
        self.checks = false;
        for (share, one) in self.shares.iter_mut().zip(&mut *self.kinds) {
            if share.foretold > 0 {
                let shorter = 0.3 * share.foretold as f64;
                one.wished = if shorter >= 2.0 { shorter } else { 0.0 };
                one.missed = None;
            }
            (share.foretold, share.pending) = (0, false);
        }
    }
}
