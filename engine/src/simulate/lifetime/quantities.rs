//! What a repetition carries from piece to piece, and how each quantity behaves.

use super::super::life_log::Log;
use super::super::simulation::Held;
use super::{Failure, LINED, Lifetime, OIL, STRIDE, Way};
use crate::duty::Segment;
use crate::horizon::{Course, Pieced, Repeating};
use crate::life::Pair;
use crate::model::{Motion, MotorState, counter, slow, state};
use crate::names::Part;
use crate::observe::channels;

/// Index of the first slow quantity among the carried ones.
pub(super) const SLOW: usize = state::COUNT + counter::COUNT;

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
            $($by)+ sim.assembly.lasting_outside,
            $($by)+ sim.assembly.launches,
            $($by)+ sim.time,
        ];
        sim.y.$iter().chain(sim.slow.$iter()).chain(sim.books.worn_off.$iter()).chain(sim.supplies.$iter()).chain(counts)
    }};
}

impl Lifetime<'_> {
    /// All quantities extrapolated by one block.
    fn ahead(&self, slopes: &[f64]) -> Vec<f64> {
        self.read().iter().zip(slopes).map(|(value, slope)| value + slope).collect()
    }

    /// Use of each part for these values of the quantities.
    pub(super) fn uses(&self, values: &[f64]) -> [f64; Part::COUNT] {
        let mut y = values[..SLOW].to_vec();
        y[state::PORES] -= y[state::FILM] + y[state::WASHER_OIL];
        channels::uses(&self.sim.assembly, &y, &values[SLOW..])
    }
}

impl Repeating for Lifetime<'_> {
    type Held = (Held, Way);
    type Error = (usize, Failure);

    fn block(&mut self) -> Result<(), Self::Error> {
        self.perform()?;
        while self.place().at > 0 {
            self.perform()?;
        }
        Ok(())
    }

    fn quantities(&self) -> Vec<Course> {
        let a = &self.sim.assembly;
        let mut courses = vec![Course::Follows; self.read().len()];
        let fast = if self.one_by_one { Course::Returns } else { Course::Settles };
        courses[state::MOTOR] = fast(0.5);
        courses[state::DRUM] = fast(0.5);
        courses[state::THROTTLE] = fast(0.02);
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
            if self.place().fed { Course::Settles(2e-4 * a.washer_full) } else { Course::Drifts(1e-4 * a.washer_full) };
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

    fn lingers(&self, quantity: usize) -> bool {
        // Speeds, lining, drum and what touches it do not; shoes, carrier, shaft, motor, oil and glaze do.
        quantity >= state::SHOES
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
        s.assembly.lasting_outside = s.assembly.lasting_outside.clamp(s.assembly.lasting, 1.0);
        s.books.even_out(&before, &s.books.close(&s.assembly, &s.y, &s.slow));
        s.watch.recorder.interrupt();
        s.assembly.settle(s.time, &mut s.y, &s.slow);
        if self.way.places.len() > 1 {
            return;
        }
        // The next block begins here, else it would last as long as those skipped.
        if self.way.places[0].at == 0 {
            self.way.begun = s.time;
        }
        if blocks == 0.0 {
            self.way.log.points.pop();
        }
        let whole = self.way.places[0].at == 0;
        self.way.log.note(self.sim, whole);
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
            if self.place().fed { f64::INFINITY } else { stride(state::WASHER_OIL, self.sim.assembly.washer_full) };
        let oil = [soaked, stride(state::PORES, self.sim.assembly.full_mass), oil];
        let worn = Pair::ALL.into_iter().filter_map(|pair| Some(stride(SLOW + slow::depth(pair), pair.room(machine)?)));
        let whole = self.way.places.len() == 1 && self.pieces() == 1;
        let left = (self.until - self.sim.time) / self.way.block_time.max(1e-3) - 1.0;
        let left = if whole { left } else { f64::INFINITY };
        parts.chain(dry).chain(worn).chain(oil).chain([gone, oxidised, left]).fold(f64::INFINITY, f64::min)
    }

    fn over(&self) -> bool {
        let arrived = if self.way.places.len() > 1 {
            self.place().at == self.level().pieces.len()
        } else {
            self.place().at == 0 && self.sim.time >= self.until - 1e-6
        };
        (self.mortal && self.way.log.worn_out()) || arrived || self.sim.halt.is_some()
    }
}
