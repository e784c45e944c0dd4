//! Repetition of a block until a part is worn out or a time is reached.

use super::failure::Failure;
use super::life_log::Log;
use super::pieces::{Piece, closing, pieces};
use super::simulation::{Held, Simulation};
use crate::document::record::{Horizon, Inside, Missed};
use crate::duty::{Segment, Service};
use crate::horizon::{Counts, Course, Pieced, Repeating, SkipStats, Skipping, recur, travel};
use crate::integrate::FirstSteps;
use crate::life::Pair;
use crate::model::{Motion, MotorState, counter, slow, state};
use crate::names::{Channel, Part, Row};
use crate::observe::channels;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Largest number of blocks.
const MOST_BLOCKS: f64 = 1e8;
/// Number of blocks from which they are extrapolated many at once, instead of foretold one by one.
const MANY: f64 = 2000.0;
const OIL: usize = Part::Oil as usize;
/// Longest jump, as a share of the whole life of the oil or of a worn part, if blocks are extrapolated many at once, and if they
/// are foretold one by one.
const STRIDE: [f64; 2] = [0.05, 0.15];
/// Oil on and in the lining.
const LINED: [usize; 3] = [state::LINING_OIL, state::LINING_RESIDUE, state::SOAKED];
/// Simulations of a piece after which the first steps of its modes stay.
const PRACTICE: u32 = 16;
/// E-folds of feeding over a block: below the first a settling washer drifts, above the second a drifting one settles
/// again.
const FED: [f64; 2] = [0.003, 0.006];

/// Horizon and method of a repetition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Until {
    /// longest time, s
    pub time: f64,
    /// allowed error of skipping; 0 runs every block
    pub skipping: Skipping,
}

/// A simulation and the block that it repeats.
struct Lifetime<'a> {
    sim: &'a mut Simulation,
    block: &'a [Segment],
    pieces: Vec<Piece>,
    /// for each kind of piece, the index of its last one in the block
    last: Vec<usize>,
    /// for each piece, whether settings change before the next of its kind
    closing: Vec<bool>,
    until: f64,
    /// whether blocks are foretold one by one
    one_by_one: bool,
    way: Way,
    /// for each kind, how often it was simulated, and after some practice the first steps of its modes: they are the same from then
    /// on, so that a piece is the same function of its start each time
    first_steps: Vec<(u32, Option<FirstSteps>)>,
    /// receives the completed share after each piece, 0 to 1
    watch: &'a mut dyn FnMut(f64),
}

/// Place in the repetition, and what was noted on the way.
#[derive(Clone)]
struct Way {
    log: Log,
    /// index of the next piece
    at: usize,
    /// time at which the block began, s
    begun: f64,
    /// duration of the last block, s; 0 before
    block_time: f64,
    /// whether a recurring piece of this block was simulated
    touched: bool,
    /// blocks in which something was simulated, and in which nothing was
    blocks: Counts,
    /// whether the film has fed the washer enough over the last recurring piece for its oil to settle; else it drifts
    fed: bool,
    /// settings that the block has adjusted so far
    settings: BTreeMap<&'static str, u64>,
    /// for each kind, what its last simulation was like
    seen: Vec<Option<Seen>>,
}

/// A simulation of a piece.
#[derive(Clone)]
struct Seen {
    /// modes of the machine before and after
    modes: [u64; 2],
    /// recorded time and integrals
    integral: (f64, Row),
    /// duration, s
    lasted: f64,
}

impl Simulation {
    /// Repeats a block until a part other than the oil reaches its limit or the time is over: a dry bushing still
    /// turns, and wears. A failure carries the index of its segment.
    pub fn live(&mut self, block: &[Segment], until: Until) -> Result<(), (usize, Failure)> {
        self.live_watched(block, until, &mut |_| {})
    }

    /// As [`live`](Self::live), with a progress callback: after each block `watch` receives the completed share, 0 to
    /// 1, of the time or of the most used part, whichever is larger. It falls when a jump is rejected.
    pub fn live_watched(
        &mut self,
        block: &[Segment],
        until: Until,
        watch: &mut dyn FnMut(f64),
    ) -> Result<(), (usize, Failure)> {
        self.stepper.alike = until.skipping.tolerance > 0.0;
        let pieces = pieces(block, until.time - self.time);
        let kinds = pieces.iter().filter_map(|piece| piece.kind).max().map_or(0, |most| most + 1);
        let last = |kind| pieces.iter().rposition(|piece| piece.kind == Some(kind)).unwrap_or(0);
        let way = Way {
            log: self.log(),
            at: 0,
            begun: self.time,
            block_time: 0.0,
            touched: false,
            blocks: Counts::default(),
            fed: true,
            settings: BTreeMap::new(),
            seen: vec![None; kinds],
        };
        let last = (0..kinds).map(last).collect();
        let closing = closing(block, &pieces);
        let mut life = Lifetime {
            sim: self,
            block,
            pieces,
            last,
            closing,
            until: until.time,
            one_by_one: true,
            way,
            first_steps: vec![(0, None); kinds],
            watch,
        };
        let mut counts = vec![];
        let stats = if life.pieces.len() > 1 {
            let (mut stats, each) = recur(&mut life, until.skipping)?;
            counts = each;
            (stats.run, stats.skipped) = (life.way.blocks.run, life.way.blocks.skipped);
            stats
        } else {
            // The first block gives the number of blocks.
            life.block()?;
            let left = (until.time - life.sim.time) / life.way.block_time.max(1e-3);
            let left = left.ceil().clamp(0.0, MOST_BLOCKS);
            let mut stats = if left < MANY && until.skipping.tolerance > 0.0 {
                recur(&mut life, until.skipping)?.0
            } else {
                life.one_by_one = false;
                travel(&mut life, left as u64, until.skipping)?
            };
            stats.run += 1;
            stats
        };
        let horizon = life.close(&stats, &counts);
        self.stepper.alike = false;
        self.horizon = Some(horizon);
        Ok(())
    }
}

impl Lifetime<'_> {
    /// All quantities extrapolated by one block.
    fn ahead(&self, slopes: &[f64]) -> Vec<f64> {
        self.read().iter().zip(slopes).map(|(value, slope)| value + slope).collect()
    }

    /// Use of each part for these values of the quantities.
    fn uses(&self, values: &[f64]) -> [f64; Part::COUNT] {
        let mut y = values[..SLOW].to_vec();
        y[state::PORES] -= y[state::FILM] + y[state::WASHER_OIL];
        channels::uses(&self.sim.assembly, &y, &values[SLOW..])
    }

    fn close(self, way: &SkipStats, counts: &[Counts]) -> Horizon {
        let (values, courses) = (self.read(), self.quantities());
        // Oil means the sum of pores, film and washer, kg.
        let worn = Pair::ALL.into_iter().filter(|pair| pair.room(&self.sim.assembly.machine).is_some());
        let worn = worn.map(|pair| (pair.row().channel.name(), SLOW + slow::depth(pair)));
        let relaxed = (Channel::Relaxation.name(), SLOW + slow::RELAXATION);
        let skipped = way.skipped > 0 || counts.iter().any(|counts| counts.skipped > 0);
        let errors = [("oil mass", state::PORES)].into_iter().chain(worn).chain([relaxed]).map(|(name, k)| Missed {
            quantity: name.to_owned(),
            value: values[k],
            error: match courses[k] {
                // A settling quantity is known only to its settling width.
                Course::Settles(within) if skipped => within,
                _ => way.errors[k],
            },
        });
        let errors = errors.collect();
        let inside = counts.iter().zip(&self.way.seen).map(|(counts, seen)| Inside {
            lasts: seen.as_ref().map_or(0.0, |seen| seen.lasted),
            run: counts.run,
            skipped: counts.skipped,
        });
        let inside = inside.collect();
        Horizon { inside, ..self.way.log.horizon(way, errors) }
    }

    /// Moves on to the next piece, at this time, s.
    fn move_on(&mut self, time: f64) {
        let way = &mut self.way;
        way.at += 1;
        if way.at == self.pieces.len() {
            (way.at, way.block_time, way.begun) = (0, time - way.begun, time);
            let blocks = &mut way.blocks;
            *(if way.touched { &mut blocks.run } else { &mut blocks.skipped }) += 1;
            way.touched = false;
        }
    }

    /// Whether this block may be the last one.
    fn last_block(&self) -> bool {
        let way = &self.way;
        way.block_time <= 0.0 || way.begun + way.block_time >= self.until - 1e-3 * way.block_time
    }
}

/// Index of the first slow quantity among the carried ones.
const SLOW: usize = state::COUNT + counter::COUNT;

/// All carried quantities, in order: states and counters, slow quantities, ledgers, supplies, time.
macro_rules! carried {
    ($sim:expr, $iter:ident, $($by:tt)+) => {{
        let sim = $($by)+ *$sim;
        let counts = [
            $($by)+ sim.books.starter,
            $($by)+ sim.books.oil_put_on,
            $($by)+ sim.books.oil_of_parts,
            $($by)+ sim.books.oil_removed,
            $($by)+ sim.assembly.lasting,
            $($by)+ sim.assembly.launches,
            $($by)+ sim.time,
        ];
        sim.y.$iter().chain(sim.slow.$iter()).chain(sim.books.worn_off.$iter()).chain(sim.supplies.$iter()).chain(counts)
    }};
}

impl Repeating for Lifetime<'_> {
    type Held = (Held, Way);
    type Error = (usize, Failure);

    fn block(&mut self) -> Result<(), Self::Error> {
        self.perform()?;
        while self.way.at > 0 {
            self.perform()?;
        }
        Ok(())
    }

    fn quantities(&self) -> Vec<Course> {
        let a = &self.sim.assembly;
        let mut courses = vec![Course::Follows; self.read().len()];
        courses[state::MOTOR] = Course::Settles(0.5);
        courses[state::DRUM] = Course::Settles(0.5);
        courses[state::THROTTLE] = Course::Settles(0.02);
        courses[state::LINING..=state::BLOCK].fill(Course::Settles(0.03));
        courses[state::HEAD] = Course::Settles(100.0);
        // If oiled in every block it settles where the loss of a block equals the dose.
        let oiled =
            self.block.iter().any(|segment| matches!(segment, Segment::Service(service) if service.brings_oil()));
        courses[state::PORES] =
            if oiled { Course::Settles(2e-5 * a.full_mass) } else { Course::Drifts(1e-4 * a.full_mass) };
        courses[state::FILM] = Course::Settles(2e-5 * a.full_mass);
        courses[state::LINING_OIL] = Course::Settles(2e-6 * a.full_mass);
        courses[state::WASHER_OIL] =
            if self.way.fed { Course::Settles(2e-4 * a.washer_full) } else { Course::Drifts(1e-4 * a.washer_full) };
        for pair in Pair::ALL {
            if let Some(room) = pair.room(&a.machine) {
                courses[SLOW + slow::depth(pair)] = Course::Drifts(1e-5 * room.abs());
            }
            courses[SLOW + slow::volume(pair)] = Course::Drifts(f64::INFINITY);
        }
        if let Some(room) = Pair::Lining.room(&a.machine) {
            courses[SLOW + slow::SHOES..SLOW + slow::COUNT].fill(Course::Drifts(1e-5 * room.abs()));
        }
        // What soaks into the lining smokes out again: foretold piece by piece it settles.
        courses[state::SOAKED] =
            if self.one_by_one { Course::Settles(1e-5 * a.full_mass) } else { Course::Relaxes(1e-4 * a.full_mass) };
        courses[SLOW + slow::GLAZE] = Course::Settles(3e-3);
        courses[SLOW + slow::DOSE] = Course::Drifts(1e-5);
        courses[state::SCORE] = Course::Drifts(2e-4);
        courses[SLOW + slow::RELAXATION] = Course::Slows(1e-5);
        courses[SLOW + slow::OXIDATION] = if oiled { Course::Settles(3e-4) } else { Course::Drifts(1e-3) };
        courses
    }

    fn read(&self) -> Vec<f64> {
        let mut all: Vec<f64> = carried!(self.sim, iter, &).copied().collect();
        // Pores, film and washer exchange oil within some blocks, while their sum drifts. So the value of the pores is
        // replaced by that sum.
        all[state::PORES] += all[state::FILM] + all[state::WASHER_OIL];
        all
    }

    fn put(&mut self, values: &[f64], blocks: f64) {
        let s = &mut *self.sim;
        let before = s.books.close(&s.assembly, &s.y, &s.slow);
        for (now, value) in carried!(s, iter_mut, &mut).zip(values) {
            *now = *value;
        }
        // Extrapolated oil above a full washer's capacity stays in the pores.
        s.y[state::WASHER_OIL] = s.y[state::WASHER_OIL].min(s.assembly.washer_full);
        s.y[state::PORES] -= s.y[state::FILM] + s.y[state::WASHER_OIL];
        for k in state::PORES..=state::SOAKED {
            s.y[k] = s.y[k].max(0.0);
        }
        s.y[state::SCORE] = s.y[state::SCORE].clamp(0.0, 1.0);
        for (k, worn) in s.slow.iter_mut().enumerate() {
            *worn = worn.max(0.0);
            if k == slow::OXIDATION {
                *worn = worn.min(1.0);
            }
        }
        // What stands still has no speed, whatever was extrapolated.
        if s.assembly.motor == MotorState::Stopped {
            s.y[state::MOTOR] = 0.0;
        }
        if s.assembly.motion == Motion::Held {
            s.y[state::DRUM] = 0.0;
        }
        s.assembly.lasting = s.assembly.lasting.clamp(0.0, 1.0);
        s.books.even_out(&before, &s.books.close(&s.assembly, &s.y, &s.slow));
        s.watch.recorder.interrupt();
        s.assembly.settle(s.time, &mut s.y, &s.slow);
        // The next block begins here, else it would last as long as those skipped.
        if self.way.at == 0 {
            self.way.begun = s.time;
        }
        if blocks == 0.0 {
            self.way.log.points.pop();
        }
        self.way.log.note(self.sim);
    }

    fn hold(&self) -> Self::Held {
        (self.sim.hold(), self.way.clone())
    }

    fn restore(&mut self, held: Self::Held) {
        self.sim.restore(held.0);
        self.way = held.1;
    }

    fn regime(&self) -> u64 {
        let gone = self.sim.slow[slow::depth(Pair::Washer)] >= self.sim.assembly.machine.washer.thickness;
        let oxidised = self.sim.slow[slow::OXIDATION] >= 1.0;
        u64::from(oxidised) << 1 | u64::from(gone)
    }

    fn passed(&self) -> u64 {
        let passed = self.way.log.ends.iter().chain([&self.way.log.due]);
        passed.enumerate().map(|(k, e)| u64::from(e.is_some()) << k).sum()
    }

    fn room(&self, slopes: &[f64]) -> f64 {
        let machine = &self.sim.assembly.machine;
        let (now, next) = (self.uses(&self.read()), self.uses(&self.ahead(slopes)));
        let to = |k: usize, level: f64| {
            let (a, b) = (now[k], next[k]);
            if b > a && a < level { (level - a) / (b - a) } else { f64::INFINITY }
        };
        let parts = (0..Part::COUNT).filter(|&k| self.way.log.ends[k].is_none()).map(|k| to(k, 1.0));
        let oil = if self.way.log.due.is_none() { to(OIL, Log::due_at(self.sim)) } else { f64::INFINITY };
        let worn = slow::depth(Pair::Washer);
        let washer = machine.washer.thickness - self.sim.slow[worn];
        let gone = if washer > 0.0 { washer / slopes[SLOW + worn].max(1e-30) } else { f64::INFINITY };
        let aged = self.sim.slow[slow::OXIDATION];
        let oxidised =
            if aged < 1.0 { (1.0 - aged) / slopes[SLOW + slow::OXIDATION].max(1e-30) } else { f64::INFINITY };
        let least = 1e-4 * self.sim.assembly.full_mass;
        let dry = [state::PORES, state::GREASE, state::LINING_OIL, state::LINING_RESIDUE, state::SOAKED]
            .into_iter()
            // What decays piece by piece is foretold as a decay.
            .filter(|&k| self.sim.y[k] > least && slopes[k] < 0.0 && !(self.one_by_one && LINED.contains(&k)))
            .map(|k| 0.8 * self.sim.y[k] / -slopes[k]);
        // Even if the drift is smooth at both ends, a law may bend inside a long jump.
        let stride = STRIDE[usize::from(self.one_by_one)];
        let stride = |k: usize, whole: f64| stride * whole / slopes[k].abs().max(1e-30);
        let soaked =
            if self.way.fed { f64::INFINITY } else { stride(state::WASHER_OIL, self.sim.assembly.washer_full) };
        let oil = [soaked, stride(state::PORES, self.sim.assembly.full_mass), oil];
        let worn = Pair::ALL.into_iter().filter_map(|pair| Some(stride(SLOW + slow::depth(pair), pair.room(machine)?)));
        let whole = self.pieces.len() == 1;
        let left = (self.until - self.sim.time) / self.way.block_time.max(1e-3) - 1.0;
        let left = if whole { left } else { f64::INFINITY };
        parts.chain(dry).chain(worn).chain(oil).chain([gone, oxidised, left]).fold(f64::INFINITY, f64::min)
    }

    fn over(&self) -> bool {
        let arrived = self.way.at == 0 && self.sim.time >= self.until - 1e-6;
        self.way.log.worn_out() || arrived || self.sim.halt.is_some()
    }
}

impl Pieced for Lifetime<'_> {
    fn kinds(&self) -> usize {
        self.last.len()
    }

    fn kind(&self) -> Option<usize> {
        self.pieces[self.way.at].kind
    }

    fn perform(&mut self) -> Result<(), Self::Error> {
        let piece = self.pieces[self.way.at].clone();
        let (start, fed, mode) = (self.sim.time, self.sim.assembly.washer_fed, self.sim.assembly.mode_number());
        let (time, before) = self.sim.watch.recorder.block();
        // Foretold one by one, a piece bears what differs from block to block; long jumps would lengthen it.
        if let Some(kind) = piece.kind.filter(|_| !self.one_by_one) {
            let (times, steps) = &mut self.first_steps[kind];
            *times += 1;
            if *times > PRACTICE {
                self.sim.stepper.begin_with(steps.get_or_insert_with(|| self.sim.stepper.first_steps()));
            }
        }
        for index in piece.segments {
            self.sim.perform(&self.block[index]).map_err(|failure| (index, failure))?;
            if let Segment::Service(Service::Adjust(setting, value)) = self.block[index] {
                self.way.settings.insert(setting.path, value.to_bits());
            }
        }
        let way = &mut self.way;
        if let Some(kind) = piece.kind {
            way.touched = true;
            way.fed = self.sim.assembly.washer_fed - fed > FED[usize::from(!way.fed)];
            let (until, mut integral) = self.sim.watch.recorder.block();
            integral.iter_mut().zip(&before).for_each(|(after, before)| *after -= before);
            let modes = [mode, self.sim.assembly.mode_number()];
            let lasted = self.sim.time - start;
            way.seen[kind] = Some(Seen { modes, integral: (until - time, integral), lasted });
        }
        self.move_on(self.sim.time);
        if piece.kind.is_some() || self.way.at == 0 {
            self.sim.note(&mut self.way.log, self.until);
            (self.watch)(self.way.log.done(self.until));
        }
        Ok(())
    }

    fn pass(&mut self, values: &[f64]) {
        let seen = self.kind().and_then(|kind| self.way.seen[kind].as_ref());
        // A block that is skipped as a whole is an equal part of the mean, simulated or not.
        if let Some(seen) = seen.filter(|_| self.pieces.len() > 1) {
            self.sim.watch.recorder.count(seen.integral.0, &seen.integral.1);
        }
        self.move_on(values.last().copied().unwrap_or_default());
    }

    fn setting(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.way.settings.hash(&mut hasher);
        hasher.finish()
    }

    fn steady(&self) -> bool {
        let piece = &self.pieces[self.way.at];
        let seen = piece.kind.and_then(|kind| self.way.seen[kind].as_ref());
        let mode = self.sim.assembly.mode_number();
        // Only the last adjustment of a setting counts.
        let mut ends = BTreeMap::new();
        for segment in &self.block[piece.segments.clone()] {
            if let Segment::Service(Service::Adjust(setting, value)) = segment {
                ends.insert(setting.path, value.to_bits());
            }
        }
        seen.is_some_and(|seen| seen.modes == [mode; 2])
            && ends.iter().all(|(path, bits)| self.way.settings.get(*path) == Some(bits))
    }

    fn closes(&self) -> bool {
        let last = self.kind().is_some_and(|kind| self.last[kind] == self.way.at);
        self.closing[self.way.at] || (last && self.last_block())
    }
}
