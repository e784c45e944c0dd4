//! Skipping: the drift of blocks run in full carried over blocks that are not.
//!
//! What drifts is an ordinary integral with the change over a block as its slope: it is foreseen from two slopes
//! (`Anchors::foresee`), and the slope found after the jump, against the foreseen one, says what the jump missed. For a slope
//! that bends evenly (with a third term C j²/2) the miss is 5/12 C n³ after a jump of equal length and 1/6 C n³ after none,
//! while the slopes differ by C n² and C n²/2: so 5/6 and 2/3 of half the difference times n are put right. A part of it is
//! counted as the error that is left; a jump that leaves too much is taken back and tried at a fraction of its length. Order
//! two in the number of blocks run, one in the tolerance, because the error allowed to a jump is a share of what it covers.
//!
//! What settles is stiff: it comes back to where what drifts lets it within some blocks, and a slope measured while it does
//! is wrong. It lands on a parabola through the starts of the last jumps, and is then put on its course at once by an
//! implicit step of second order (backward differences), with the block's own Jacobian of the settling states (`Memory`). The
//! same Jacobian says what the slopes of what drifts would be on that course. Every block run teaches it; where as many
//! blocks have been lost to bringing states to rest as that takes, it is found by disturbing one state after the other.

use super::anchor::{Anchor, Anchors};
use super::memory::Memory;
use super::{Course, Repeating};

/// How to skip.
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

/// How a way was covered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Travelled {
    /// blocks run in full, those that were taken back or only tried something out among them
    pub run: u64,
    /// blocks skipped
    pub skipped: u64,
    /// jumps taken back
    pub taken_back: u64,
    /// estimated error of each quantity, in its unit
    pub errors: Vec<f64>,
}

/// Longest growth from a jump to the next.
const GROWTH: f64 = 2.5;
/// Blocks that may be lost to jumps taken back before anything came of others.
const VENTURE: f64 = 60.0;
/// Length of a first jump.
const FIRST: f64 = 12.0;
/// Blocks that stay to be run at the end of a way or before a limit.
const LOOK: f64 = 2.0;
/// Share of what a jump missed that is counted as its error after it was put right.
const LEFT: f64 = 0.3;
/// Share of the tolerance that a jump is never told to be better than: what bends between its ends is not seen.
const HIDDEN: f64 = 0.1;
/// Share of the error allowed that may come from states that are off their course.
const MURK: f64 = 0.3;
/// How far off their course states may be, over what counts as settled, whatever that does to what drifts.
const SETTLED: f64 = 0.03;
/// How far off their course states may be, over what counts as settled, where the Jacobian says that it does not matter: it may
/// know nothing of the direction in which they are, and takes what it does not know for forgotten.
const FAR: f64 = 3.0;
/// Most that errors are taken to grow by as the rates do.
const MOST_GROWN: f64 = 30.0;
/// How far a settling state may be foreseen wrongly, over what counts as settled, for jumps to grow.
const ASTRAY: f64 = 10.0;
/// Blocks that have to lie ahead for each settling state, for their Jacobian to be worth the blocks it takes.
const WORTH: f64 = 1.0;
/// Blocks run after a jump until its states are on their course, at most.
const PATIENCE: usize = 6;
/// Further off their course than this, over what counts as settled, states are not put right but taken back.
const LOST: f64 = 1e3;

struct Way<'a, R: Repeating> {
    r: &'a mut R,
    courses: Vec<Course>,
    tolerance: f64,
    most: f64,
    done: f64,
    travelled: Travelled,
    /// values at the ends of the last blocks run without a break, latest last
    values: Vec<Vec<f64>>,
    /// changes over a block, had what settles been on its course; none while blocks are run without a break
    settled: Option<Vec<f64>>,
    /// where the last jump started, and the one before
    last: Option<Anchor>,
    earlier: Option<Anchor>,
    memory: Memory,
    /// blocks run until states were on their course after jumps, beyond one a jump, since what they remember was last found
    wasted: u64,
    /// blocks run for jumps that were taken back
    lost: u64,
    /// what states off their course may still do to what drifts, should no jump follow the last
    tail: Vec<f64>,
    /// changes over a block where errors were last counted; none before the first jump
    rates: Option<Vec<f64>>,
    /// length to try next
    wished: f64,
}

/// What the blocks after a jump say of it.
struct Landing {
    /// where the jump ended
    landed: Vec<f64>,
    /// what was missed of each quantity
    missed: Vec<f64>,
    /// what of its change hangs on where states off their course would have let it be
    doubt: Vec<f64>,
    /// what the blocks since the jump changed because states were off their course
    strays: Vec<f64>,
    /// what of its change may depend on where those states are, at most
    spread: Vec<f64>,
    /// error of the worst quantity over what is allowed
    worst: f64,
    /// the part of it that comes from states off their course
    murk: f64,
    /// how far states were off their course after the first block, and are now, over what counts as settled
    strayed: f64,
    off: f64,
    /// by how much each of them was
    aside: Vec<f64>,
    /// changes over a block, had all states been on their course
    settled: Vec<f64>,
    /// whether the laws stayed the same
    same: bool,
}

impl Landing {
    /// Whether states are on their course, as far as it matters.
    fn rests(&self) -> bool {
        self.off <= SETTLED || (self.murk <= MURK && self.off <= FAR)
    }
}

/// Goes through at most so many blocks.
pub fn travel<R: Repeating>(r: &mut R, most: u64, how: Skipping) -> Result<Travelled, R::Error> {
    let courses = r.quantities();
    let travelled = Travelled { errors: vec![0.0; courses.len()], ..Travelled::default() };
    let values = vec![r.read()];
    let (tolerance, most) = (how.tolerance, most as f64);
    let (last, earlier, settled) = (None, None, None);
    let memory = Memory::none(&courses);
    let mut way = Way {
        r,
        courses,
        tolerance,
        most,
        done: 0.0,
        travelled,
        values,
        settled,
        last,
        earlier,
        memory,
        wasted: 0,
        lost: 0,
        tail: vec![],
        rates: None,
        wished: FIRST,
    };
    while way.done < way.most && !way.r.over() {
        let regime = way.r.regime();
        way.block()?;
        // States that a jump left off their course come back to it by themselves, and move what drifts.
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

    /// Starts over where a quantity that settled has begun to drift, or the other way round.
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

    /// Change of a quantity over the last block, or over one before it.
    fn change(&self, quantity: usize, back: usize) -> f64 {
        let k = self.values.len() - 1 - back;
        self.values[k][quantity] - self.values[k - 1][quantity]
    }

    fn changes(&self, back: usize) -> Vec<f64> {
        (0..self.courses.len()).map(|k| self.change(k, back)).collect()
    }

    /// Error allowed to a jump over so many blocks, for quantities that drift: a share of the change, and for each e-fold of
    /// the way alike a part of the whole.
    fn allowed(&self, quantity: usize, change: f64, blocks: f64) -> Option<f64> {
        match self.courses[quantity] {
            Course::Drifts(whole) | Course::Slows(whole) => {
                Some(self.tolerance * change.abs() + whole * blocks.max(FIRST) / (self.done + blocks))
            }
            _ => None,
        }
    }

    /// Whether slopes have changed evenly enough for a first jump: the last two of them as they were to be foreseen.
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

    /// The present place as the start of a jump, and the one before it; none if nothing can be foreseen from here.
    fn anchors(&self) -> Option<(Anchor, Anchor)> {
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

    fn settling(&self) -> usize {
        self.courses.iter().filter(|course| matches!(course, Course::Settles(_))).count()
    }

    /// Finds anew what states remember, where that takes fewer blocks than lie ahead.
    fn remember(&mut self) -> Result<(), R::Error> {
        if self.most - self.done > WORTH * self.settling() as f64 {
            let (memory, blocks) = Memory::of(self.r, &self.courses)?;
            self.memory = memory;
            self.travelled.run += blocks;
        }
        Ok(())
    }

    /// Skips blocks if that can be done from here, and looks how well it went: whether the jump stands.
    fn jump(&mut self) -> Result<bool, R::Error> {
        // Where nothing comes of it the whole takes twice as long at most, beside what may be ventured.
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
        let factor = f64::min(0.9 / landing.worst.max(1e-4).sqrt(), libm::cbrt(ASTRAY / landing.strayed));
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
                if landing.strayed < ASTRAY && self.wasted >= self.settling() as u64 {
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

    /// Puts everything where it is foreseen after n blocks, and runs blocks until what settles is on its course.
    fn land(&mut self, here: &Anchor, last: &Anchor, n: f64, foreseen: &[Vec<f64>]) -> Landing {
        let (regime, passed) = (self.r.regime(), self.r.passed());
        let first = self.last.is_none();
        self.r.put(&foreseen[0], n);
        self.done += n;
        let landed = self.r.read();
        self.values = vec![landed.clone()];
        let mut landing = Landing {
            landed,
            missed: vec![0.0; self.courses.len()],
            doubt: vec![0.0; self.courses.len()],
            strays: vec![0.0; self.courses.len()],
            spread: vec![0.0; self.courses.len()],
            worst: f64::INFINITY,
            murk: f64::INFINITY,
            strayed: 0.0,
            off: f64::INFINITY,
            aside: vec![],
            settled: here.slope.clone(),
            same: true,
        };
        let mut before: Option<(Vec<f64>, Vec<f64>)> = None;
        for blocks in 1..=PATIENCE {
            let place = self.now().to_vec();
            // Where the jump ends in a place that cannot be, it was too long.
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
                (landing.murk, landing.off) = (f64::INFINITY, f64::INFINITY);
                break;
            }
            let unseen = self.memory.unseen(&self.courses, &aside);
            (landing.worst, landing.murk) = (0.0, 0.0);
            let share = if first { 2.0 / 3.0 } else { 5.0 / 6.0 } * 0.5 * n * n / (n + blocks as f64);
            for k in (0..self.courses.len()).filter(|&k| !matches!(self.courses[k], Course::Settles(_))) {
                let expected = foreseen[blocks][k] - foreseen[blocks - 1][k];
                landing.missed[k] = share * (landing.settled[k] - expected);
                landing.strays[k] += changes[k] - landing.settled[k];
                landing.spread[k] = 0.5 * n * self.memory.spread(&self.courses, k, &aside, unseen);
                landing.doubt[k] = 0.5 * n * (landing.settled[k] - changes[k]).abs();
                if let Some(allowed) = self.allowed(k, landing.landed[k] - here.values[k], n) {
                    let left = LEFT * (landing.missed[k].abs() + landing.strays[k].abs());
                    landing.worst = landing.worst.max(left / allowed);
                    landing.murk = landing.murk.max(landing.doubt[k] / allowed);
                }
            }
            before = Some((place, changes));
            if landing.murk > 0.1 * MURK || off > SETTLED {
                let mut values = self.now().to_vec();
                self.memory.put_right(&mut values, &aside);
                self.r.put(&values, 0.0);
                self.values = vec![self.r.read()];
            }
            landing.aside = aside;
            if landing.rests() || self.done >= self.most || self.r.over() {
                break;
            }
        }
        landing
    }

    /// What a drifting quantity is off by grows as its own rate does.
    fn errors_grow(&mut self, rates: &[f64]) {
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

    /// Puts right what a jump missed of all that does not settle.
    fn correct(&mut self, here: &Anchor, landing: &Landing) {
        self.errors_grow(&landing.settled);
        let errors = &mut self.travelled.errors;
        for k in (0..self.courses.len()).filter(|&k| !matches!(self.courses[k], Course::Settles(_))) {
            let hidden = HIDDEN * self.tolerance * (landing.landed[k] - here.values[k]).abs();
            errors[k] += landing.missed[k].abs() + landing.spread[k] + LEFT * landing.strays[k].abs() + hidden;
            for row in &mut self.values {
                row[k] += landing.missed[k] - landing.strays[k];
            }
        }
        let corrected = self.now().to_vec();
        self.r.put(&corrected, 0.0);
    }
}

fn less(a: &[f64], b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a - b).collect()
}
