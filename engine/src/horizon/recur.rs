//! Recurring pieces: hires in a day, days in a season, weeks in years. Each kind is simulated until its changes follow from the
//! state in which it begins (`Response`); then the changes are foretold, and the piece is skipped.
//!
//! A stretch of foretold pieces ends with a simulated one of each kind in it. What that changes is learned, and the stretch is
//! foretold once more from its start: the difference between both ends is what the first passage missed. A share of it counts as
//! remaining error. If that exceeds what is allowed, a piece is simulated at the better end, and so on; if nothing helps, the
//! stretch is undone and a shorter one tried. So a rejected stretch is not lost: its simulated pieces have been learned. What the ends do
//! not show, because the pieces between them begin in other states, is added to the error as each kind has missed so far (`Doubt`).
//!
//! Pieces may recur inside a simulated piece: hires inside a simulated day. They are foretold in the same way, with smaller allowed
//! errors, from what all hires have taught, and the last of each kind in a day is simulated. The error estimated inside a day counts for
//! every day that is foretold.
//!
//! The allowed error is that of `skip`: a share of the change of each drifting quantity, an absolute allowance for each e-fold
//! of time, and for settling states their settling width.

mod ahead;
mod doubt;
mod stretch;

use super::response::Response;
use super::vectors::less;
use super::{Course, Pieced, SkipStats, Skipping};
use doubt::Doubt;

/// Allowed error of settling states at the end of a stretch, in settling widths: they return by themselves, and what they meanwhile
/// change is counted.
pub const ASTRAY: f64 = 10.0;

/// Allowed errors inside a simulated piece, over those of the pieces: what a sample misses, every piece foretold by it repeats.
const INNER: f64 = 0.3;

/// Simulated and skipped pieces of a kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// simulated
    pub run: u64,
    /// skipped
    pub skipped: u64,
}

/// What is known of a kind of piece.
#[derive(Default)]
struct Kind {
    response: Response,
    /// what foretold pieces missed
    doubt: Doubt,
    /// what the last prediction of one piece missed
    missed: Option<Vec<f64>>,
    /// length of the next stretch, pieces; below 2 there is none yet
    wished: f64,
    counts: Counts,
    /// largest changes so far over one piece, when errors were last updated
    rates: Option<Vec<f64>>,
    /// sum of the errors inside simulated pieces
    inner: Vec<f64>,
}

/// A kind of piece in the present stretch.
#[derive(Clone, Default)]
struct Share {
    /// pieces that may still be foretold
    left: f64,
    /// pieces foretold
    foretold: u64,
    /// whether they have not been checked yet
    pending: bool,
    /// largest distance of a foretold piece from all samples, and how often its check may still wait for one like it
    farthest: f64,
    later: u32,
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

/// One passage through the pieces of a level.
struct Round<'a, R: Pieced> {
    r: &'a mut R,
    kinds: &'a mut [Kind],
    shares: Vec<Share>,
    tolerance: f64,
    /// share of the allowed errors of the outermost level: 1 there
    share: f64,
    /// recurring pieces done so far in the life, and when the passage began
    done: f64,
    begun: f64,
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
    let mut kinds: Vec<Kind> = (0..r.kinds()).map(|_| Kind::default()).collect();
    let mut round = Round::new(r, &mut kinds, how.tolerance, 0.0);
    round.all()?;
    let (taken_back, errors) = (round.taken_back, round.errors);
    let counts: Vec<Counts> = kinds.iter().map(|kind| kind.counts).collect();
    let sum = |of: fn(&Counts) -> u64| counts.iter().map(of).sum();
    let (run, skipped) = (sum(|c| c.run), sum(|c| c.skipped));
    Ok((SkipStats { run, skipped, taken_back, errors }, counts))
}

impl<'a, R: Pieced> Round<'a, R> {
    fn new(r: &'a mut R, kinds: &'a mut [Kind], tolerance: f64, begun: f64) -> Self {
        Self {
            shares: vec![Share::default(); kinds.len()],
            errors: vec![0.0; r.read().len()],
            r,
            kinds,
            tolerance,
            share: 1.0,
            done: begun,
            begun,
            lost: 0.0,
            stretch: None,
            previous: None,
            checks: false,
            taken_back: 0,
        }
    }

    fn all(&mut self) -> Result<(), R::Error> {
        while !self.r.over() {
            let Some(kind) = self.r.kind() else {
                self.simulate_once()?;
                continue;
            };
            if !self.foretell(kind) {
                self.simulate(kind)?;
            }
        }
        Ok(())
    }

    /// Simulates the next piece, of which pieces inside it may be foretold.
    fn perform(&mut self, kind: usize) -> Result<(), R::Error> {
        let inside = self.r.inside();
        if inside == 0 || !(self.tolerance > 0.0) {
            return self.r.perform();
        }
        self.r.enter();
        let mut inner = Round::new(&mut *self.r, &mut *self.kinds, self.tolerance, self.done * inside as f64);
        inner.share = INNER * self.share;
        inner.tolerance = INNER * self.tolerance;
        inner.all()?;
        let (errors, taken_back) = (inner.errors, inner.taken_back);
        self.r.leave();
        self.taken_back += taken_back;
        let inner = &mut self.kinds[kind].inner;
        inner.resize(errors.len(), 0.0);
        inner.iter_mut().zip(&errors).for_each(|(sum, error)| *sum += error);
        self.errors.iter_mut().zip(errors).for_each(|(sum, error)| *sum += error);
        Ok(())
    }

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

    /// Simulates a recurring piece, learns from it, and checks what was foretold of its kind.
    fn simulate(&mut self, kind: usize) -> Result<(), R::Error> {
        let courses = self.r.quantities();
        let (before, setting) = (self.r.read(), self.r.setting());
        let (regime, passed) = (self.r.regime(), self.r.passed());
        let expected = self.kinds[kind].response.foretell(&courses, setting, &before);
        let done = self.perform(kind);
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
            for one in &mut *self.kinds {
                *one = Kind { counts: one.counts, rates: one.rates.take(), ..Kind::default() };
            }
            return Ok(());
        }
        let after = self.r.read();
        let change = less(&after, &before);
        if let Some(told) = expected.as_ref().filter(|told| !self.far(&courses, told)) {
            self.kinds[kind].doubt.learn(told, &change);
        }
        let one = &mut self.kinds[kind];
        one.response.learn(setting, before.clone(), change.clone());
        if self.shares[kind].pending {
            self.check(kind, &courses, &before, setting);
        } else {
            let missed: Option<Vec<f64>> =
                expected.map(|told| change.iter().zip(&told.change).map(|(a, b)| (a - b).abs()).collect());
            self.venture(kind, &courses, &change, missed);
        }
        Ok(())
    }
}
