//! Skipping: the drift of blocks run in full carried over blocks that are not.
//!
//! From the change S of a quantity over a block and the change B of that change from block to block, n blocks later it is
//!
//! ```text
//! w + n S + n(n + 1)/2 B
//! ```
//!
//! B comes from the slopes on both sides of the last jump, before the first from two neighbouring blocks. After a jump
//! blocks are run in full until the fast states repeat; their slope, against the foreseen one, says what the jump missed.
//! For a slope that bends evenly (with a third term C j²/2) the miss is 5/12 C n³ after a jump of equal length and 1/6 C n³
//! after none, while the slopes differ by C n² and C n²/2: so 5/6 and 2/3 of half the difference times n are put right. A
//! part of it is counted as the error that is left; a jump that leaves too much is taken back and tried at a fraction of its
//! length. Order two in the number of blocks run, one in the tolerance, because the error allowed to a jump is a share of
//! what it covers.

/// How a quantity behaves from block to block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    /// it drifts slowly; its error is held below the tolerance times its change, plus about this over the whole way
    Drifts(f64),
    /// as one that drifts, but what it has grown by slows it: its slope falls as S/(1 + n S/c), and it grows as a logarithm
    Slows(f64),
    /// it follows what drifts and is carried along without a say in the length of jumps
    Follows,
    /// it repeats itself to within this much before anything is skipped
    Settles(f64),
}

/// Something that goes through the same block again and again.
pub trait Repeating {
    /// What `hold` keeps.
    type Held;
    /// Why a block cannot be run.
    type Error;
    /// Runs one block in full.
    fn block(&mut self) -> Result<(), Self::Error>;
    /// The courses of all quantities.
    fn quantities(&self) -> Vec<Course>;
    /// The present values of all quantities.
    fn read(&self) -> Vec<f64>;
    /// Puts values in place of the present ones; so many blocks were skipped for them (0 for a correction).
    fn put(&mut self, values: &[f64], blocks: f64);
    /// Keeps the present state.
    fn hold(&self) -> Self::Held;
    /// Returns to a kept state.
    fn restore(&mut self, held: Self::Held);
    /// A number that changes where the laws change (a part worn through, a limit passed): never skipped across.
    fn regime(&self) -> u64 {
        0
    }
    /// Most blocks that may be skipped before a limit comes in sight, for changes per block of all quantities.
    fn room(&self, _slopes: &[f64]) -> f64 {
        f64::INFINITY
    }
    /// Whether the way ends here.
    fn over(&self) -> bool {
        false
    }
}

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
    /// blocks run in full, those that were taken back among them
    pub run: u64,
    /// blocks skipped
    pub skipped: u64,
    /// jumps taken back
    pub taken_back: u64,
    /// estimated error of each quantity, in its unit
    pub errors: Vec<f64>,
}

/// Longest growth from a jump to the next.
const GROWTH: f64 = 2.0;
/// A first jump of so many blocks is always tried: a bad one costs two blocks.
const FIRST: f64 = 16.0;
/// Blocks run after a jump, at least.
const LOOK: f64 = 2.0;
/// Share of what a jump missed that is counted as its error after it was put right.
const LEFT: f64 = 0.3;
/// Slowest geometric approach that is extrapolated to its end.
const SLOWEST: f64 = 0.985;
/// Difference of two shares of an approach, over what is left of it, below which it is a single one.
const ONE_APPROACH: f64 = 0.1;
/// How far off a repeat may be, over what counts as one: what happens on the way there is not run.
const NEAR: f64 = 5.0;
/// How far a state is taken along, over what counts as settled.
const ALONG: f64 = 50.0;
/// Relative difference of two changes that counts as none.
const EVEN: f64 = 0.05;
/// Blocks run in full before a jump whose fast states do not settle is given up.
const PATIENCE: f64 = 12.0;

/// A slope of all quantities and the block it was measured on.
#[derive(Clone)]
struct Measured {
    slope: Vec<f64>,
    at: f64,
}

struct Way<'a, R: Repeating> {
    r: &'a mut R,
    courses: Vec<Course>,
    tolerance: f64,
    most: f64,
    done: f64,
    travelled: Travelled,
    /// values at the ends of the last blocks run without a break, latest last
    values: Vec<Vec<f64>>,
}

/// Goes through at most so many blocks.
pub fn travel<R: Repeating>(r: &mut R, most: u64, how: Skipping) -> Result<Travelled, R::Error> {
    let courses = r.quantities();
    let travelled = Travelled { errors: vec![0.0; courses.len()], ..Travelled::default() };
    let values = vec![r.read()];
    let mut way = Way { r, courses, tolerance: how.tolerance, most: most as f64, done: 0.0, travelled, values };
    let mut earlier: Option<Measured> = None;
    let mut wished = None;
    let mut hastened: Option<(Vec<f64>, f64)> = None;
    let mut landed = false;
    while way.done < way.most && !way.r.over() {
        if !landed {
            let regime = way.r.regime();
            way.block()?;
            if way.r.regime() != regime {
                way.start_over();
                (earlier, wished, hastened) = (None, None, None);
            }
        }
        landed = false;
        if way.tolerance <= 0.0 || way.values.len() < 3 {
            continue;
        }
        if !way.settled() {
            if let Some(lag) = way.hasten() {
                hastened = Some((way.slope(), lag));
                way.start_over();
            }
            continue;
        }
        let here = Measured { slope: way.slope(), at: way.done };
        if let Some((before, lag)) = hastened.take() {
            way.count_haste(&before, &here.slope, lag);
        }
        let bend = way.bend(&here, earlier.as_ref());
        let length = way.length(&here, &bend, wished);
        if length < 2.0 {
            wished = wished.map(|w: f64| w.max(1.0) * GROWTH);
            continue;
        }
        let next;
        (landed, next) = way.jump(&here, &bend, length, if earlier.is_some() { 5.0 / 6.0 } else { 2.0 / 3.0 })?;
        wished = Some(next);
        if landed {
            earlier = Some(here);
        }
    }
    Ok(way.travelled)
}

impl<R: Repeating> Way<'_, R> {
    fn block(&mut self) -> Result<(), R::Error> {
        self.r.block()?;
        self.take_in();
        Ok(())
    }

    fn take_in(&mut self) {
        self.done += 1.0;
        self.travelled.run += 1;
        self.values.push(self.r.read());
        if self.values.len() > 4 {
            self.values.remove(0);
        }
    }

    fn start_over(&mut self) {
        self.values = vec![self.r.read()];
    }

    fn change(&self, back: usize) -> Vec<f64> {
        let k = self.values.len() - 1 - back;
        self.values[k].iter().zip(&self.values[k - 1]).map(|(b, a)| b - a).collect()
    }

    /// Changes over the last block.
    fn slope(&self) -> Vec<f64> {
        self.change(0)
    }

    /// Whether every state that should repeats itself, or moves evenly and slowly along with what drifts.
    fn settled(&self) -> bool {
        let (now, before) = (self.change(0), self.change(1));
        self.courses.iter().zip(now.iter().zip(before)).all(|(course, (now, before))| match course {
            Course::Settles(within) => {
                let share = (now / before).abs();
                let rest = if share < SLOWEST { share / (1.0 - share) } else { 1.0 };
                now.abs() * rest.max(1.0) <= *within || (even(*now, before) && now.abs() <= NEAR * within)
            }
            _ => true,
        })
    }

    /// Carries states that approach their repeat geometrically to its end. Gives how many blocks that stands for.
    fn hasten(&mut self) -> Option<f64> {
        if self.values.len() < 4 {
            return None;
        }
        let (now, before, earlier) = (self.change(0), self.change(1), self.change(2));
        let mut values = self.r.read();
        let mut lag = 0.0_f64;
        for (k, course) in self.courses.iter().enumerate() {
            let Course::Settles(within) = *course else { continue };
            if now[k].abs() <= 0.1 * within {
                continue;
            }
            let share = now[k] / before[k];
            // Several approaches at once do not end where one of them would.
            let single = (share - before[k] / earlier[k]).abs() < ONE_APPROACH * (1.0 - share);
            let rest = share / (1.0 - share);
            if !(share > 0.0 && share < SLOWEST && single && (now[k] * rest).abs() < NEAR * within) {
                return None;
            }
            values[k] += now[k] * rest;
            lag = lag.max(rest);
        }
        self.r.put(&values, 0.0);
        Some(lag)
    }

    /// What drifted differently while states were still settling was not run.
    fn count_haste(&mut self, before: &[f64], after: &[f64], lag: f64) {
        for (k, course) in self.courses.iter().enumerate() {
            // What slows itself changes its slope anyway, and by far more.
            if !matches!(course, Course::Slows(_)) {
                self.travelled.errors[k] += (before[k] - after[k]).abs() * lag;
            }
        }
    }

    /// How the slopes change from block to block: B, and 1/c of what slows itself.
    fn bend(&self, here: &Measured, earlier: Option<&Measured>) -> Vec<f64> {
        let (before, blocks) = match earlier {
            Some(e) => (e.slope.clone(), here.at - e.at),
            None => (self.change(1), 1.0),
        };
        let pairs = here.slope.iter().zip(before).zip(&self.courses);
        pairs
            .map(|((now, before), course)| match course {
                // What has come to rest stays there, whatever it did before the last jump.
                _ if *now == 0.0 => 0.0,
                Course::Slows(_) => (1.0 / now - 1.0 / before) / blocks,
                _ => (now - before) / blocks,
            })
            .map(|bend| if bend.is_finite() { bend } else { 0.0 })
            .collect()
    }

    /// Error allowed to a jump over so many blocks, for quantities that drift.
    fn allowed(&self, quantity: usize, change: f64, blocks: f64) -> Option<f64> {
        match self.courses[quantity] {
            Course::Drifts(whole) | Course::Slows(whole) => {
                Some(self.tolerance * change.abs() + whole * blocks / self.most)
            }
            _ => None,
        }
    }

    fn length(&self, here: &Measured, bend: &[f64], wished: Option<f64>) -> f64 {
        let bent = |k: usize| match self.courses[k] {
            // The bend's whole share of the change may be an error.
            Course::Drifts(_) if bend[k] != 0.0 => Some(2.0 * self.allowed(k, here.slope[k], 1.0)? / bend[k].abs()),
            _ => None,
        };
        // What moves evenly now need not do so for long.
        let along = |k: usize| match self.courses[k] {
            Course::Settles(within) if here.slope[k] != 0.0 => ALONG * within / here.slope[k].abs(),
            _ => f64::INFINITY,
        };
        let quantities = 0..self.courses.len();
        let first = || quantities.clone().filter_map(bent).fold(f64::INFINITY, f64::min).max(FIRST);
        let wished = quantities.clone().map(along).fold(wished.unwrap_or_else(first), f64::min);
        wished.min(self.r.room(&here.slope) - LOOK).min(self.most - self.done - LOOK).floor()
    }

    /// Skips so many blocks and looks how well it went: whether the jump stands, and the length to try next.
    fn jump(&mut self, here: &Measured, bend: &[f64], n: f64, share: f64) -> Result<(bool, f64), R::Error> {
        let (held, regime, done, values) = (self.r.hold(), self.r.regime(), self.done, self.values.clone());
        let now = &values[values.len() - 1];
        let courses = self.courses.clone();
        // A state that still moves evenly goes along with what drifts; one that does not is left to settle again.
        let evenly: Vec<bool> = here.slope.iter().zip(self.change(1)).map(|(now, before)| even(*now, before)).collect();
        let foresee = |k: usize, n: f64| match courses[k] {
            Course::Settles(_) if evenly[k] => now[k] + n * here.slope[k],
            Course::Settles(_) => now[k],
            Course::Slows(_) if bend[k] > 0.0 => now[k] + libm::log1p(n * here.slope[k] * bend[k]) / bend[k],
            Course::Slows(_) => now[k] + n * here.slope[k],
            _ => now[k] + n * here.slope[k] + 0.5 * n * (n + 1.0) * bend[k],
        };
        let quantities = self.courses.len();
        let landed: Vec<f64> = (0..quantities).map(|k| foresee(k, n)).collect();
        self.r.put(&landed, n);
        self.done += n;
        self.values = vec![self.r.read()];
        let mut blocks = 0.0;
        while self.r.regime() == regime && (blocks < LOOK || !(self.settled() || self.r.over())) && blocks < PATIENCE {
            self.r.block()?;
            blocks += 1.0;
            self.take_in();
        }
        let whole = self.r.regime() == regime && blocks >= LOOK && self.settled();
        let measured = if whole { self.slope() } else { here.slope.clone() };
        let mut worst = if whole { 0.0_f64 } else { f64::INFINITY };
        let mut missed = vec![0.0; quantities];
        for k in (0..quantities).filter(|&k| !matches!(courses[k], Course::Settles(_))) {
            let foreseen = foresee(k, n + blocks) - foresee(k, n + blocks - 1.0);
            missed[k] = share * 0.5 * n * (measured[k] - foreseen) * n / (n + blocks);
            if let Some(allowed) = self.allowed(k, landed[k] - now[k], n) {
                worst = worst.max(LEFT * missed[k].abs() / allowed);
            }
        }
        let factor = 0.9 / worst.max(1e-4).sqrt();
        if !(worst <= 1.0) {
            self.r.restore(held);
            (self.done, self.values) = (done, values);
            self.travelled.taken_back += 1;
            return Ok((false, n * if whole { factor.clamp(0.1, 0.5) } else { 0.5 }));
        }
        self.travelled.skipped += n as u64;
        for (k, miss) in missed.iter().enumerate() {
            // What a drifting quantity is off by grows as its own rate does.
            let growth = (measured[k] / here.slope[k]).abs();
            if (1.0..GROWTH).contains(&growth) {
                self.travelled.errors[k] *= growth;
            }
            self.travelled.errors[k] += miss.abs();
            for row in &mut self.values {
                row[k] += miss;
            }
        }
        self.r.put(&self.values[self.values.len() - 1], 0.0);
        Ok((true, n * factor.clamp(0.3, GROWTH)))
    }
}

/// Whether two changes in a row are as good as the same.
fn even(now: f64, before: f64) -> bool {
    (now / before - 1.0).abs() < EVEN
}
