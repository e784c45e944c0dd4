//! Skipping: changes over simulated blocks are extrapolated over blocks that are not simulated.
//!
//! A drifting quantity is an ordinary integral whose slope is the change over a block. It is extrapolated from two
//! slopes (`Anchors::foresee`), and the difference between the slope after the jump and the extrapolated slope shows
//! the error of the jump. For a slope with constant curvature (a third term C j²/2) the error is 5/12 C n³ after a jump
//! of equal length and 1/6 C n³ after none, while the slopes differ by C n² and C n²/2: so 5/6 and 2/3 of half the
//! difference times n are corrected. A share of the correction counts as remaining error. A jump with too large a
//! remaining error is undone and tried again at a fraction of its length. The method is of order two in the number of
//! blocks run and one in the tolerance, because the error allowed to a jump is a share of the change it covers.
//!
//! Settling states are stiff: after a disturbance they return to their quasi-steady value within some blocks, and
//! slopes measured meanwhile are wrong. They land on a parabola through the starts of the last jumps, and an implicit
//! step of second order (backward differences) then puts them on their course at once, with the block's own Jacobian of
//! the settling states (`Memory`). The same Jacobian gives the slopes that the slow quantities would have on that
//! course. Every simulated block updates it. When settling has cost as many blocks as measuring the Jacobian would, it
//! is measured anew by disturbing one lingering state after the other.

mod errors;
mod landing;
mod takeoff;

use self::landing::PATIENCE;
use super::anchor::{Anchor, Anchors};
use super::memory::Memory;
use super::vectors::less;
use super::{Course, Repeating};

/// Settings of skipping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skipping {
    /// error allowed relative to each quantity's change; 0 runs every block
    pub tolerance: f64,
}

impl Default for Skipping {
    fn default() -> Self {
        Self { tolerance: 5e-4 }
    }
}

/// Work and error of a horizon covered by skipping.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SkipStats {
    /// blocks simulated in full, including those of rejected jumps and of trial disturbances
    pub run: u64,
    /// blocks skipped
    pub skipped: u64,
    /// rejected jumps
    pub taken_back: u64,
    /// estimated error of each quantity, in its unit
    pub errors: Vec<f64>,
}

/// Largest ratio of the length of a jump to that of the last.
pub(super) const GROWTH: f64 = 2.5;
/// Blocks that rejected jumps may waste before any jump has succeeded.
pub(super) const VENTURE: f64 = 60.0;
/// Length of the first jump, blocks.
pub(super) const FIRST: f64 = 12.0;
/// Blocks that are always simulated at the end of a horizon or before a limit.
pub(super) const LOOK: f64 = 2.0;
/// Share of a jump's corrected error that counts as remaining error.
pub(super) const LEFT: f64 = 0.3;
/// Largest factor by which an error is assumed to grow with the rates.
pub(super) const MOST_GROWN: f64 = 30.0;
/// Error of extrapolated settling states, in settling widths, above which jumps are shortened.
const ASTRAY: f64 = 30.0;
/// Blocks that must remain per lingering state for a new Jacobian to be worth its cost.
const WORTH: f64 = 1.0;

struct Way<'a, R: Repeating> {
    r: &'a mut R,
    courses: Vec<Course>,
    tolerance: f64,
    most: f64,
    done: f64,
    travelled: SkipStats,
    /// values at the ends of the last blocks run without interruption, latest last
    values: Vec<Vec<f64>>,
    /// changes over a block with settling states on their course; none while blocks are run without interruption
    settled: Option<Vec<f64>>,
    /// start of the last jump, and of the one before
    last: Option<Anchor>,
    earlier: Option<Anchor>,
    memory: Memory,
    /// blocks run to settle states after jumps, beyond one a jump, since the Jacobian was last measured
    wasted: u64,
    /// blocks run for rejected jumps
    lost: u64,
    /// change of slow quantities that states off their course may still cause, if no jump follows the last one
    tail: Vec<f64>,
    /// changes over a block when errors were last updated; none before the first jump
    rates: Option<Vec<f64>>,
    /// length of the next jump to try, blocks
    wished: f64,
}

/// Covers up to `most` blocks.
pub fn travel<R: Repeating>(r: &mut R, most: u64, how: Skipping) -> Result<SkipStats, R::Error> {
    let courses = r.quantities();
    let mut way = Way {
        tolerance: how.tolerance,
        most: most as f64,
        done: 0.0,
        travelled: SkipStats { errors: vec![0.0; courses.len()], ..SkipStats::default() },
        values: vec![r.read()],
        settled: None,
        last: None,
        earlier: None,
        memory: Memory::none(&courses),
        wasted: 0,
        lost: 0,
        tail: vec![],
        rates: None,
        wished: FIRST,
        r,
        courses,
    };
    while way.done < way.most && !way.r.over() {
        let regime = way.r.regime();
        way.block()?;
        // States that a jump left off their course return by themselves and meanwhile change slow quantities.
        for (error, tail) in way.travelled.errors.iter_mut().zip(way.tail.drain(..)) {
            *error += tail;
        }
        if way.r.regime() != regime {
            way.start_over();
        }
        way.follow_courses();
        while way.tolerance > 0.0 && !way.r.over() && way.jump()? {
            way.follow_courses();
        }
    }
    if way.values.len() >= 2 {
        let changes = way.changes(0);
        way.errors_grow(&changes);
    }
    Ok(way.travelled)
}

impl<R: Repeating> Way<'_, R> {
    fn block(&mut self) -> Result<(), R::Error> {
        self.r.block()?;
        self.settled = None;
        self.done += 1.0;
        self.travelled.run += 1;
        self.values.push(self.r.read());
        if let [.., first, second, third] = &self.values[..] {
            let differences = less(&less(third, second), &less(second, first));
            self.memory.learn(&self.courses, &less(second, first), &differences);
        }
        if self.values.len() > 5 {
            self.values.remove(0);
        }
        Ok(())
    }

    /// Starts over when a quantity changes between settling and drifting.
    fn follow_courses(&mut self) {
        let courses = self.r.quantities();
        if courses != self.courses {
            self.memory.follow(&courses);
            self.courses = courses;
            self.start_over();
        }
    }

    fn start_over(&mut self) {
        self.values = vec![self.r.read()];
        (self.last, self.earlier, self.settled, self.wished) = (None, None, None, FIRST);
    }

    fn now(&self) -> &[f64] {
        &self.values[self.values.len() - 1]
    }

    /// Change of a quantity over the last block, or over the block `back` blocks before it.
    fn change(&self, quantity: usize, back: usize) -> f64 {
        let k = self.values.len() - 1 - back;
        self.values[k][quantity] - self.values[k - 1][quantity]
    }

    fn changes(&self, back: usize) -> Vec<f64> {
        (0..self.courses.len()).map(|k| self.change(k, back)).collect()
    }

    /// Number of states that take several blocks to settle.
    fn lingering(&self) -> usize {
        self.memory.states.iter().filter(|&&k| self.r.lingers(k)).count()
    }

    /// Measures the Jacobian anew, if that costs fewer blocks than remain.
    fn remember(&mut self) -> Result<(), R::Error> {
        if self.most - self.done > WORTH * self.lingering() as f64 {
            let (memory, blocks) = Memory::of(self.r, &self.courses)?;
            self.memory = memory;
            self.travelled.run += blocks;
        }
        Ok(())
    }

    /// Tries a jump and checks it by the blocks after it. False if no jump is possible now; true if one was tried,
    /// whether it was kept or undone.
    fn jump(&mut self) -> Result<bool, R::Error> {
        // Without any success the whole takes at most twice as long as without skipping, apart from VENTURE.
        if self.lost as f64 > self.done.max(VENTURE) {
            return Ok(false);
        }
        let Some((here, last)) = self.anchors() else { return Ok(false) };
        let n = self.wished.min(self.r.room(&here.slope) - LOOK).min(self.most - self.done - LOOK).floor();
        if n < 2.0 {
            self.wished = self.wished.max(1.0) * GROWTH;
            return Ok(false);
        }
        let (held, done, values, settled) = (self.r.hold(), self.done, self.values.clone(), self.settled.clone());
        let (memory, run) = (self.memory.clone(), self.travelled.run);
        let anchors = Anchors { here: &here, last: &last, earlier: self.earlier.as_ref(), first: self.last.is_none() };
        let ahead = |blocks| self.courses.iter().enumerate().map(|(k, c)| anchors.foresee(*c, k, blocks)).collect();
        let foreseen: Vec<Vec<f64>> = (0..=PATIENCE).map(|b| ahead(n + b as f64)).collect();
        let landing = self.land(&here, &last, n, &foreseen);
        let unsettled = !landing.rests();
        // The error grows with the square of the length or, where the absolute allowance decides, with its cube.
        let factor = f64::min(libm::cbrt(0.7 / landing.worst.max(1e-4)), libm::cbrt(ASTRAY / landing.strayed));
        if !landing.same || !(landing.worst <= 1.0) || unsettled {
            self.r.restore(held);
            (self.done, self.values, self.settled) = (done, values, settled);
            self.travelled.taken_back += 1;
            self.lost += self.travelled.run - run;
            let missed = landing.same && landing.worst > 1.0 && landing.worst.is_finite();
            self.wished = n * if missed { factor.clamp(0.1, 0.5) } else { 0.5 };
            if landing.same && unsettled {
                self.memory = memory;
                self.wasted += self.travelled.run - run;
                if landing.strayed < ASTRAY && self.wasted >= self.lingering() as u64 {
                    self.wasted = 0;
                    self.remember()?;
                }
            }
            return Ok(true);
        }
        self.wasted += self.travelled.run - run - 1;
        self.travelled.skipped += n as u64;
        self.correct(&here, &landing);
        self.earlier = self.last.replace(here);
        self.tail = self.memory.tail(&self.courses, &landing.aside);
        self.settled = Some(landing.settled);
        self.wished = n * factor.clamp(0.3, GROWTH);
        Ok(true)
    }
}
