//! Repetition of a block until a part is worn out or a time is reached.

mod passage;
mod quantities;

use super::failure::Failure;
use super::life_log::Log;
use super::pieces::{Level, Levels};
use super::simulation::Simulation;
use crate::document::record::{Horizon, Inside, Missed};
use crate::duty::Segment;
use crate::horizon::{ASTRAY, Counts, Course, Repeating, SkipStats, Skipping, recur, travel};
use crate::integrate::FirstSteps;
use crate::life::Pair;
use crate::model::{slow, state};
use crate::names::{Channel, Part, Row};
use quantities::SLOW;
use std::collections::BTreeMap;
use std::ops::Range;

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
/// Checks of which the misses of a settling quantity may add up. Two were seen.
const CHECKS: f64 = 3.0;
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
    levels: Levels,
    until: f64,
    /// whether a worn-out part ends it
    mortal: bool,
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
    /// the next piece of the block, and those inside it that were entered
    places: Vec<Place>,
    /// time at which the block began, s
    begun: f64,
    /// duration of the last block, s; 0 before
    block_time: f64,
    /// whether a recurring piece of this block was simulated
    touched: bool,
    /// blocks in which something was simulated, and in which nothing was
    blocks: Counts,
    /// settings that the block has adjusted so far
    settings: BTreeMap<&'static str, u64>,
    /// for each kind, what its last simulation was like
    seen: Vec<Option<Seen>>,
}

/// Place in a level.
#[derive(Clone)]
struct Place {
    level: usize,
    /// index of the next piece
    at: usize,
    /// index of the level's first segment
    start: usize,
    /// whether the film has fed the washer enough over the last recurring piece for its oil to settle; else it drifts
    fed: bool,
    /// what was so when the piece began
    before: Before,
}

/// Values at the start of a piece.
#[derive(Clone, Default)]
struct Before {
    time: f64,
    mode: u64,
    /// e-folds of feeding of the washer
    fed: f64,
    /// recorded time and integrals
    integral: (f64, Row),
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
    /// e-folds of feeding of the washer
    fed: f64,
}

impl Simulation {
    /// Repeats a block until a part other than the oil reaches its limit or the time is over: a dry bushing still
    /// turns, and wears. A failure carries the index of its segment.
    pub fn live(&mut self, block: &[Segment], until: Until) -> Result<(), (usize, Failure)> {
        self.live_watched(block, &[], until, &mut |_| {})
    }

    /// As [`live`](Self::live), with the indices of passes of repeats that the author of the block has stated, an outer one before
    /// those inside it, and with a progress callback: after each block `watch` receives the completed share, 0 to
    /// 1, of the time or of the most used part, whichever is larger. It falls when a jump is rejected.
    pub fn live_watched(
        &mut self,
        block: &[Segment],
        stated: &[Range<usize>],
        until: Until,
        watch: &mut dyn FnMut(f64),
    ) -> Result<(), (usize, Failure)> {
        self.repeat(block, stated, (until, true), watch)
    }

    /// As [`live`](Self::live), but on past parts that are worn out: their wear goes on, and blocks are skipped as before.
    pub fn outlive(&mut self, block: &[Segment], until: Until) -> Result<(), (usize, Failure)> {
        self.repeat(block, &[], (until, false), &mut |_| {})
    }

    /// Repeats a block, whose end a worn-out part may be.
    fn repeat(
        &mut self,
        block: &[Segment],
        stated: &[Range<usize>],
        (until, mortal): (Until, bool),
        watch: &mut dyn FnMut(f64),
    ) -> Result<(), (usize, Failure)> {
        self.stepper.alike = until.skipping.tolerance > 0.0;
        let levels = Levels::of(block, stated, until.time - self.time);
        let kinds = levels.inside.len();
        let way = Way {
            log: self.log(),
            places: vec![Place { level: 0, at: 0, start: 0, fed: true, before: Before::default() }],
            begun: self.time,
            block_time: 0.0,
            touched: false,
            blocks: Counts::default(),
            settings: BTreeMap::new(),
            seen: vec![None; kinds],
        };
        let mut life = Lifetime {
            sim: self,
            block,
            levels,
            until: until.time,
            mortal,
            one_by_one: true,
            way,
            first_steps: vec![(0, None); kinds],
            watch,
        };
        let mut counts = vec![];
        let stats = if life.pieces() > 1 {
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
                let (mut stats, each) = recur(&mut life, until.skipping)?;
                (stats.run, stats.skipped) = (each[0].run, each[0].skipped);
                counts = each;
                stats
            } else {
                life.one_by_one = false;
                travel(&mut life, left as u64, until.skipping)?
            };
            stats.run += 1;
            stats
        };
        let blocks = std::mem::take(&mut life.way.log.blocks);
        let horizon = life.close(&stats, &counts);
        self.stepper.alike = false;
        (self.horizon, self.blocks) = (Some(horizon), blocks);
        Ok(())
    }
}

impl Lifetime<'_> {
    /// Number of pieces of the block.
    fn pieces(&self) -> usize {
        self.levels.levels[0].pieces.len()
    }

    fn level(&self) -> &Level {
        &self.levels.levels[self.way.places.last().map_or(0, |place| place.level)]
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
                // A settling quantity is known only to its settling width, and a foretold one to what checks allow: several of them
                // may add up before it has settled, as oil between two oilings a year.
                Course::Settles(within) if skipped => within * if self.one_by_one { CHECKS * ASTRAY } else { 1.0 },
                _ => way.errors[k],
            },
        });
        let errors = errors.collect();
        // The whole block counts as a block.
        let first = usize::from(self.pieces() == 1);
        let counts = &counts[first.min(counts.len())..];
        let inside = counts.iter().zip(&self.way.seen[first..]).map(|(counts, seen)| Inside {
            lasts: seen.as_ref().map_or(0.0, |seen| seen.lasted),
            run: counts.run,
            skipped: counts.skipped,
        });
        let inside = inside.collect();
        Horizon { inside, ..self.way.log.horizon(way, errors) }
    }
}
