//! Recurring pieces: hires in a day, days in a season, weeks in years. Each kind is simulated until its changes follow from the
//! state in which it begins (`Response`); then the changes are foretold, and the piece is skipped.
//!
//! A stretch of foretold pieces ends with a simulated one of each kind in it. What that changes is learned, and the stretch is
//! foretold once more from its start: the difference between both ends is what the first passage missed. A share of it counts as
//! remaining error. If that exceeds what is allowed, a piece is simulated at the better end, and so on; if nothing helps, the
//! stretch is undone and a shorter one tried. So a rejected stretch is not lost: its simulated pieces have been learned.
//!
//! The allowed error is that of `skip`: a share of the change of each drifting quantity, an absolute allowance for each e-fold
//! of time, and for settling states their settling width.

use super::response::{Foretold, Response};
use super::skip::{FIRST, GROWTH, LEFT, LOOK, MOST_GROWN, VENTURE, less};
use super::{Course, Pieced, SkipStats, Skipping};

/// Lengths of a first stretch that are tried, pieces.
const LENGTHS: [f64; 5] = [FIRST, 8.0, 5.0, 3.0, 2.0];
/// Largest number of pieces simulated to improve one stretch.
const TRIES: u32 = 3;
/// Error over the allowed one above which a stretch is not improved but undone.
const HOPELESS: f64 = 300.0;
/// Allowed error of settling states at the end of a stretch, in settling widths: they return by themselves, and what they meanwhile
/// change is counted.
const ASTRAY: f64 = 10.0;
/// A piece is a check of the farthest one foretold if it is at least this share as far from all samples; and how many pieces a check
/// waits for such a one.
const NEAR: f64 = 0.5;
const LATER: u32 = 10;
/// Floor of the error estimate, as a share of the tolerance: most places inside a stretch are not checked.
const UNCHECKED: f64 = 0.5;
/// Largest effect of unknown directions on one piece, over the allowed error of a piece.
const UNSEEN: f64 = 20.0;

/// Simulated and skipped pieces of a kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// simulated
    pub run: u64,
    /// skipped
    pub skipped: u64,
}

/// A kind of piece.
#[derive(Default)]
struct Kind {
    response: Response,
    /// what the last prediction of one piece missed
    missed: Option<Vec<f64>>,
    /// length of the next stretch, pieces; below 2 there is none yet
    wished: f64,
    /// pieces that may still be foretold in this stretch
    left: f64,
    /// pieces foretold in this stretch
    foretold: u64,
    /// whether they have not been checked yet
    pending: bool,
    /// largest distance of a foretold piece of this stretch from all samples, and how often its check may still wait for one like it
    farthest: f64,
    later: u32,
    counts: Counts,
    /// largest changes so far over one piece, when errors were last updated
    rates: Option<Vec<f64>>,
}

impl Kind {
    /// How often it has occurred.
    const fn often(&self) -> u64 {
        self.counts.run + self.counts.skipped + self.foretold
    }
}

#[derive(Clone, Copy)]
enum Move {
    Simulated,
    Foretold(u64),
}

/// Pieces since the last check.
struct Stretch<H> {
    held: H,
    start: Vec<f64>,
    done: f64,
    moves: Vec<Move>,
    tries: u32,
}

struct Round<'a, R: Pieced> {
    r: &'a mut R,
    kinds: Vec<Kind>,
    tolerance: f64,
    /// recurring pieces done
    done: f64,
    /// pieces simulated for stretches that were undone
    lost: f64,
    stretch: Option<Stretch<R::Held>>,
    /// kind of the last recurring piece
    previous: Option<usize>,
    /// whether recurring pieces are simulated until all kinds of the stretch are checked
    checks: bool,
    errors: Vec<f64>,
    taken_back: u64,
}

/// Performs piece by piece until the repetition is over. Also returns the counts of each kind.
pub fn recur<R: Pieced>(r: &mut R, how: Skipping) -> Result<(SkipStats, Vec<Counts>), R::Error> {
    let kinds = (0..r.kinds()).map(|_| Kind::default()).collect();
    let errors = vec![0.0; r.read().len()];
    let (tolerance, stretch, previous) = (how.tolerance, None, None);
    let mut round =
        Round { r, kinds, tolerance, done: 0.0, lost: 0.0, stretch, previous, checks: false, errors, taken_back: 0 };
    while !round.r.over() {
        let Some(kind) = round.r.kind() else {
            round.simulate_once()?;
            continue;
        };
        if !round.foretell(kind) {
            round.simulate(kind)?;
        }
    }
    let counts: Vec<Counts> = round.kinds.iter().map(|kind| kind.counts).collect();
    let sum = |of: fn(&Counts) -> u64| counts.iter().map(of).sum();
    let (run, skipped) = (sum(|c| c.run), sum(|c| c.skipped));
    Ok((SkipStats { run, skipped, taken_back: round.taken_back, errors: round.errors }, counts))
}

impl<R: Pieced> Round<'_, R> {
    /// Simulates a piece that does not recur.
    fn simulate_once(&mut self) -> Result<(), R::Error> {
        let regime = self.r.regime();
        let done = self.r.perform();
        match (&mut self.stretch, done) {
            // A service may fail, or a law change, only because of what was foretold.
            (Some(_), Err(_)) => self.undo(),
            (Some(_), Ok(())) if self.r.regime() != regime => self.undo(),
            (Some(stretch), Ok(())) => stretch.moves.push(Move::Simulated),
            (None, done) => done?,
        }
        Ok(())
    }

    /// Foretells pieces of a kind in a row. False if none can be.
    fn foretell(&mut self, kind: usize) -> bool {
        let open = self.stretch.is_some();
        if !(self.tolerance > 0.0) || self.lost > self.done.max(VENTURE) {
            return false;
        }
        let courses = self.r.quantities();
        let start = self.r.read();
        let left = match (open, self.checks) {
            (false, _) => self.kinds[kind].wished,
            (true, false) => self.kinds[kind].left,
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
            let far = |k: usize| {
                self.allowed(courses[k], next.change[k], 1.0).is_some_and(|most| next.unseen[k] > UNSEEN * most)
            };
            if (0..courses.len()).any(far) {
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
            for one in &mut self.kinds {
                (one.left, one.foretold, one.pending) = (one.wished, 0, false);
                (one.farthest, one.later) = (0.0, LATER);
            }
        }
        let one = &mut self.kinds[kind];
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
        let this = &self.kinds[kind];
        if !this.pending {
            return false;
        }
        let rarer = self.kinds.iter().any(|one| one.pending && one.often() < this.often());
        let this = &mut self.kinds[kind];
        if rarer || this.later == 0 {
            return rarer;
        }
        this.later -= 1;
        let near = |told: Foretold| told.distance < NEAR * this.farthest;
        this.response.foretell(courses, setting, values).is_some_and(near)
    }

    /// Allowed error of a quantity for a stretch of this many pieces; none for those without.
    fn allowed(&self, course: Course, change: f64, pieces: f64) -> Option<f64> {
        match course {
            Course::Drifts(whole) | Course::Relaxes(whole) | Course::Slows(whole) => {
                Some(self.tolerance * change.abs() + whole * pieces / (self.done + pieces))
            }
            Course::Settles(within) => Some(ASTRAY * within),
            Course::Follows => None,
        }
    }

    /// Simulates a recurring piece, learns from it, and checks what was foretold of its kind.
    fn simulate(&mut self, kind: usize) -> Result<(), R::Error> {
        let courses = self.r.quantities();
        let (before, setting) = (self.r.read(), self.r.setting());
        let (regime, passed) = (self.r.regime(), self.r.passed());
        let expected = self.kinds[kind].response.foretell(&courses, setting, &before);
        let done = self.r.perform();
        self.previous = Some(kind);
        self.kinds[kind].counts.run += 1;
        let same = self.r.regime() == regime && self.r.passed() == passed;
        match &mut self.stretch {
            Some(_) if done.is_err() || !same => {
                self.undo();
                return Ok(());
            }
            Some(stretch) => stretch.moves.push(Move::Foretold(1)),
            None => done?,
        }
        self.done += 1.0;
        if self.r.regime() != regime {
            for one in &mut self.kinds {
                *one = Kind { counts: one.counts, rates: one.rates.take(), ..Kind::default() };
            }
            return Ok(());
        }
        let after = self.r.read();
        let change = less(&after, &before);
        let one = &mut self.kinds[kind];
        one.response.learn(setting, before.clone(), change.clone());
        if one.pending {
            self.check(kind, &courses, &before, setting);
        } else {
            let missed: Option<Vec<f64>> =
                expected.map(|told| change.iter().zip(&told.change).map(|(a, b)| (a - b).abs()).collect());
            self.venture(kind, &courses, &change, missed);
        }
        Ok(())
    }

    /// Sets the length of a first stretch by what the last two predictions of one piece missed: twice as far ahead they would
    /// miss four times as much.
    fn venture(&mut self, kind: usize, courses: &[Course], change: &[f64], missed: Option<Vec<f64>>) {
        let before = std::mem::replace(&mut self.kinds[kind].missed, missed);
        let one = &self.kinds[kind];
        if one.wished >= 2.0 {
            return;
        }
        let (Some(now), Some(before)) = (&one.missed, before) else { return };
        let good = |n: f64| {
            courses.iter().enumerate().all(|(k, course)| {
                let miss = LEFT * now[k].max(before[k]) * n * n;
                let miss = if matches!(course, Course::Settles(_)) { miss } else { miss * n / 3.0 };
                self.allowed(*course, change[k] * n, n).is_none_or(|allowed| miss <= allowed)
            })
        };
        self.kinds[kind].wished = LENGTHS.into_iter().find(|n| good(*n)).unwrap_or(0.0);
    }

    /// Foretells the stretch anew with what was learned since, and accepts, improves or undoes it.
    fn check(&mut self, kind: usize, courses: &[Course], landed: &[f64], setting: u64) {
        let Some(mut stretch) = self.stretch.take() else { return };
        let after = self.r.hold();
        stretch.moves.pop();
        self.r.restore(stretch.held);
        stretch.held = self.r.hold();
        let again = self.again(&stretch.moves).unwrap_or(false);
        let place = self.r.read();
        let pieces = self.done - 1.0 - stretch.done;
        let mut worst: f64 = if again { 0.0 } else { f64::INFINITY };
        for (k, course) in courses.iter().enumerate() {
            if let Some(allowed) = self.allowed(*course, landed[k] - stretch.start[k], pieces) {
                worst = worst.max(LEFT * (place[k] - landed[k]).abs() / allowed);
            }
        }
        let next = self.kinds[kind].response.foretell(courses, setting, &place);
        let Some(next) = next.filter(|_| worst <= 1.0) else {
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
        for (k, course) in courses.iter().enumerate() {
            if !matches!(course, Course::Settles(_)) {
                let hidden = UNCHECKED * self.tolerance * (landed[k] - stretch.start[k]).abs();
                self.errors[k] += LEFT * (place[k] - landed[k]).abs() + hidden;
            }
        }
        stretch.moves.push(Move::Foretold(1));
        let one = &mut self.kinds[kind];
        one.pending = false;
        one.counts.skipped += one.foretold;
        one.wished = (one.foretold as f64 * (0.9 / worst.max(1e-4).sqrt()).clamp(0.3, GROWTH)).max(2.0);
        if self.kinds.iter().any(|one| one.pending) {
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

    /// Repeats the moves of a stretch from its start. False if that is not possible.
    fn again(&mut self, moves: &[Move]) -> Result<bool, R::Error> {
        for one in moves {
            match *one {
                Move::Simulated => self.r.perform()?,
                Move::Foretold(pieces) => {
                    let courses = self.r.quantities();
                    let mut values = self.r.read();
                    for _ in 0..pieces {
                        let (Some(kind), setting) = (self.r.kind(), self.r.setting()) else { return Ok(false) };
                        let told = self.kinds[kind].response.foretell(&courses, setting, &values);
                        let Some(told) = told else { return Ok(false) };
                        values.iter_mut().zip(&told.change).for_each(|(value, change)| *value += change);
                        self.r.pass(&values);
                    }
                    self.r.put(&values, pieces as f64);
                }
            }
        }
        Ok(true)
    }

    /// Returns to the start of the stretch, and asks for shorter ones.
    fn undo(&mut self) {
        let Some(stretch) = self.stretch.take() else { return };
        self.r.restore(stretch.held);
        self.lost += 1.0;
        self.done = stretch.done;
        self.checks = false;
        for one in &mut self.kinds {
            if one.foretold > 0 {
                let shorter = 0.3 * one.foretold as f64;
                one.wished = if shorter >= 2.0 { shorter } else { 0.0 };
                one.missed = None;
            }
            (one.foretold, one.pending) = (0, false);
        }
    }
}
