//! Repetition of a block until a part is worn out or a time is reached.

use super::failure::Failure;
use super::simulation::Simulation;
use crate::document::record::{Horizon, LifePoint, Missed};
use crate::duty::Segment;
use crate::horizon::{Course, Repeating, SkipStats, Skipping, travel};
use crate::life::Pair;
use crate::model::{Motion, MotorState, counter, slow, state};
use crate::names::{Channel, Part};
use crate::observe::channels;

/// Largest number of blocks.
const MOST_BLOCKS: f64 = 1e8;
const OIL: usize = Part::Oil as usize;
/// Longest jump, as a share of the whole life of the oil or of a worn part.
const STRIDE: f64 = 0.05;
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
    until: f64,
    log: Log,
    block_time: f64,
    /// whether the film has fed the washer enough over the last block for its oil to settle; else it drifts
    fed: bool,
    /// receives the completed share after each block, 0 to 1
    watch: &'a mut dyn FnMut(f64),
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
        let log = self.log();
        let mut life = Lifetime { sim: self, block, until: until.time, log, block_time: 0.0, fed: true, watch };
        // The first block gives the number of blocks.
        life.block()?;
        let blocks = ((until.time - life.sim.time) / life.block_time.max(1e-3)).ceil().clamp(0.0, MOST_BLOCKS);
        let mut way = travel(&mut life, blocks as u64, until.skipping)?;
        way.run += 1;
        let horizon = life.close(&way);
        self.horizon = Some(horizon);
        Ok(())
    }

    /// Begins the log of a block that the caller performs repeatedly.
    pub fn log(&mut self) -> Log {
        self.watch.recorder.keep_blocks();
        Log::begin(self)
    }

    /// Logs the end of a block. Returns whether the repetition is over.
    pub fn note(&mut self, log: &mut Log, until: f64) -> bool {
        log.note(self);
        self.watch.recorder.close_block(self.time, self.running());
        log.worn_out() || self.time >= until - 1e-6 || self.halt.is_some()
    }

    /// Ends a repetition in which every block was simulated.
    pub fn arrive(&mut self, log: Log) {
        let run = log.points.len() as u64 - 1;
        self.horizon = Some(log.horizon(&SkipStats { run, ..SkipStats::default() }, vec![]));
    }
}

/// Use of the parts at the ends of blocks, and the time at which each reached its limit.
#[derive(Clone, Debug)]
pub struct Log {
    points: Vec<LifePoint>,
    /// time of the limit, s, and running time at that moment, s
    ends: [Option<(f64, f64)>; Part::COUNT],
    due: Option<(f64, f64)>,
}

impl Log {
    fn begin(sim: &Simulation) -> Self {
        let mut log = Self { points: vec![], ends: [None; Part::COUNT], due: None };
        log.note(sim);
        log
    }

    /// Use of the oil at which service is due.
    fn due_at(sim: &Simulation) -> f64 {
        let limits = &sim.assembly.machine.limits;
        (1.0 - limits.oil_service) / (1.0 - limits.oil_end).max(1e-9)
    }

    /// Logs the use of the parts, and the limits reached since the last point.
    fn note(&mut self, sim: &Simulation) {
        let used = channels::uses(&sim.assembly, &sim.y, &sim.slow);
        let (time, running) = (sim.time, sim.running());
        if let Some(last) = self.points.last() {
            let crossed = |k: usize, level: f64| {
                let (a, b) = (last.used[k], used[k]);
                let share = (level - a) / (b - a);
                (a < level && b >= level).then_some((
                    last.time + (time - last.time) * share,
                    last.running + (running - last.running) * share,
                ))
            };
            for (k, end) in self.ends.iter_mut().enumerate() {
                // What grows manifold within a block was noted with its exact time.
                let exact = sim.assembly.reached(Part::ALL[k]).filter(|at| at.0 > last.time);
                *end = end.or_else(|| crossed(k, 1.0).map(|between| exact.unwrap_or(between)));
            }
            self.due = self.due.or_else(|| crossed(OIL, Self::due_at(sim)));
        }
        self.points.push(LifePoint { time, running, used: used.to_vec() });
    }

    /// Completed share of a repetition up to a time, 0 to 1.
    fn done(&self, until: f64) -> f64 {
        let share = |last: &LifePoint| {
            let worn = last.used.iter().enumerate().filter(|(k, _)| *k != OIL).map(|(_, used)| *used);
            worn.fold(last.time / until.max(1e-9), f64::max).clamp(0.0, 1.0)
        };
        self.points.last().map_or(0.0, share)
    }

    fn worn_out(&self) -> bool {
        self.ends.iter().enumerate().any(|(k, e)| k != OIL && e.is_some())
    }

    fn horizon(self, way: &SkipStats, errors: Vec<Missed>) -> Horizon {
        let mut horizon = Horizon {
            blocks_run: way.run,
            blocks_skipped: way.skipped,
            jumps_taken_back: way.taken_back,
            errors,
            points: self.points,
            ends: self.ends.map(|end| end.map(|e| e.0)).to_vec(),
            running: self.ends.map(|end| end.map(|e| e.1)).to_vec(),
            service_due: self.due.map(|due| due.0),
            service_running: self.due.map(|due| due.1),
            ended_by: None,
        };
        horizon.ended_by = horizon.first_worn().map(|(part, ..)| part);
        horizon
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

    fn close(self, way: &SkipStats) -> Horizon {
        let (values, courses) = (self.read(), self.quantities());
        // Oil means the sum of pores, film and washer, kg.
        let worn = Pair::ALL.into_iter().filter(|pair| pair.room(&self.sim.assembly.machine).is_some());
        let worn = worn.map(|pair| (pair.row().channel.name(), SLOW + slow::depth(pair)));
        let relaxed = (Channel::Relaxation.name(), SLOW + slow::RELAXATION);
        let errors = [("oil mass", state::PORES)].into_iter().chain(worn).chain([relaxed]).map(|(name, k)| Missed {
            quantity: name.to_owned(),
            value: values[k],
            error: match courses[k] {
                // A settling quantity is known only to its settling width.
                Course::Settles(within) if way.skipped > 0 => within,
                _ => way.errors[k],
            },
        });
        let errors = errors.collect();
        self.log.horizon(way, errors)
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
    type Held = (super::simulation::Held, Log, f64, bool);
    type Error = (usize, Failure);

    fn block(&mut self) -> Result<(), Self::Error> {
        let (start, fed) = (self.sim.time, self.sim.assembly.washer_fed);
        for (index, segment) in self.block.iter().enumerate() {
            self.sim.perform(segment).map_err(|failure| (index, failure))?;
        }
        self.block_time = self.sim.time - start;
        self.fed = self.sim.assembly.washer_fed - fed > FED[usize::from(!self.fed)];
        self.sim.note(&mut self.log, self.until);
        (self.watch)(self.log.done(self.until));
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
            if self.fed { Course::Settles(2e-4 * a.washer_full) } else { Course::Drifts(1e-4 * a.washer_full) };
        for pair in Pair::ALL {
            if let Some(room) = pair.room(&a.machine) {
                courses[SLOW + slow::depth(pair)] = Course::Drifts(1e-5 * room.abs());
            }
            courses[SLOW + slow::volume(pair)] = Course::Drifts(f64::INFINITY);
        }
        if let Some(room) = Pair::Lining.room(&a.machine) {
            courses[SLOW + slow::SHOES..SLOW + slow::COUNT].fill(Course::Drifts(1e-5 * room.abs()));
        }
        courses[state::SOAKED] = Course::Drifts(1e-4 * a.full_mass);
        courses[SLOW + slow::GLAZE] = Course::Settles(3e-3);
        courses[SLOW + slow::DOSE] = Course::Drifts(1e-5);
        courses[state::SCORE] = Course::Drifts(1e-5);
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
        if blocks == 0.0 {
            self.log.points.pop();
        }
        self.log.note(self.sim);
    }

    fn hold(&self) -> Self::Held {
        (self.sim.hold(), self.log.clone(), self.block_time, self.fed)
    }

    fn restore(&mut self, held: Self::Held) {
        self.sim.restore(held.0);
        (self.log, self.block_time, self.fed) = (held.1, held.2, held.3);
    }

    fn regime(&self) -> u64 {
        let gone = self.sim.slow[slow::depth(Pair::Washer)] >= self.sim.assembly.machine.washer.thickness;
        let oxidised = self.sim.slow[slow::OXIDATION] >= 1.0;
        u64::from(oxidised) << 1 | u64::from(gone)
    }

    fn passed(&self) -> u64 {
        let passed = self.log.ends.iter().chain([&self.log.due]);
        passed.enumerate().map(|(k, e)| u64::from(e.is_some()) << k).sum()
    }

    fn room(&self, slopes: &[f64]) -> f64 {
        let machine = &self.sim.assembly.machine;
        let (now, next) = (self.uses(&self.read()), self.uses(&self.ahead(slopes)));
        let to = |k: usize, level: f64| {
            let (a, b) = (now[k], next[k]);
            if b > a && a < level { (level - a) / (b - a) } else { f64::INFINITY }
        };
        let parts = (0..Part::COUNT).filter(|&k| self.log.ends[k].is_none()).map(|k| to(k, 1.0));
        let oil = if self.log.due.is_none() { to(OIL, Log::due_at(self.sim)) } else { f64::INFINITY };
        let worn = slow::depth(Pair::Washer);
        let washer = machine.washer.thickness - self.sim.slow[worn];
        let gone = if washer > 0.0 { washer / slopes[SLOW + worn].max(1e-30) } else { f64::INFINITY };
        let aged = self.sim.slow[slow::OXIDATION];
        let oxidised =
            if aged < 1.0 { (1.0 - aged) / slopes[SLOW + slow::OXIDATION].max(1e-30) } else { f64::INFINITY };
        let least = 1e-4 * self.sim.assembly.full_mass;
        let dry = [state::PORES, state::GREASE, state::LINING_OIL, state::LINING_RESIDUE, state::SOAKED]
            .into_iter()
            .filter(|&k| self.sim.y[k] > least && slopes[k] < 0.0)
            .map(|k| 0.8 * self.sim.y[k] / -slopes[k]);
        // Even if the drift is smooth at both ends, a law may bend inside a long jump.
        let stride = |k: usize, whole: f64| STRIDE * whole / slopes[k].abs().max(1e-30);
        let soaked = if self.fed { f64::INFINITY } else { stride(state::WASHER_OIL, self.sim.assembly.washer_full) };
        let oil = [soaked, stride(state::PORES, self.sim.assembly.full_mass), oil];
        let worn = Pair::ALL.into_iter().filter_map(|pair| Some(stride(SLOW + slow::depth(pair), pair.room(machine)?)));
        let left = (self.until - self.sim.time) / self.block_time.max(1e-3) - 1.0;
        parts.chain(dry).chain(worn).chain(oil).chain([gone, oxidised, left]).fold(f64::INFINITY, f64::min)
    }

    fn over(&self) -> bool {
        self.log.worn_out() || self.sim.time >= self.until - 1e-6 || self.sim.halt.is_some()
    }
}
