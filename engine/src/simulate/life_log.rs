//! Log of a repetition: use of the parts from piece to piece, and the time at which each reached its limit.

use super::simulation::Simulation;
use crate::document::record::{Horizon, LifePoint, Missed};
use crate::horizon::SkipStats;
use crate::names::Part;
use crate::observe::channels;

const OIL: usize = Part::Oil as usize;
/// Growth of the time over which no second end of a block is kept.
const APART: f64 = 1.005;

impl Simulation {
    /// Begins the log of a block that the caller performs repeatedly.
    pub fn log(&mut self) -> Log {
        self.watch.recorder.keep_blocks();
        Log::begin(self)
    }

    /// Logs the end of a block. Returns whether the repetition is over.
    pub fn note(&mut self, log: &mut Log, until: f64) -> bool {
        self.note_piece(log, until, true)
    }

    /// Logs the end of a piece of a block, and whether it ends the block. Returns whether the repetition is over.
    pub(super) fn note_piece(&mut self, log: &mut Log, until: f64, whole: bool) -> bool {
        log.note(self, whole);
        self.watch.recorder.close_block(self.time, self.running());
        log.worn_out() || self.time >= until - 1e-6 || self.halt.is_some()
    }

    /// Ends a repetition whose blocks were each decided by the caller.
    pub fn arrive(&mut self, log: Log) {
        let run = log.points.len() as u64 - 1;
        self.blocks.clone_from(&log.blocks);
        let horizon = log.horizon(&SkipStats { run, ..SkipStats::default() }, vec![]);
        self.horizon = Some(Horizon { reads: true, ..horizon });
    }
}

/// Use of the parts at the ends of blocks or of their recurring pieces, and the time at which each reached its limit.
#[derive(Clone, Debug)]
pub struct Log {
    pub(super) points: Vec<LifePoint>,
    /// the start, and ends of whole blocks, foretold ones too
    pub(super) blocks: Vec<LifePoint>,
    /// time of the limit, s, and running time at that moment, s
    pub(super) ends: [Option<(f64, f64)>; Part::COUNT],
    pub(super) due: Option<(f64, f64)>,
}

impl Log {
    fn begin(sim: &Simulation) -> Self {
        let mut log = Self { points: vec![], blocks: vec![], ends: [None; Part::COUNT], due: None };
        log.note(sim, true);
        log
    }

    /// Use of the oil at which service is due.
    pub(super) fn due_at(sim: &Simulation) -> f64 {
        let limits = &sim.assembly.machine.limits;
        (1.0 - limits.oil_service) / (1.0 - limits.oil_end).max(1e-9)
    }

    /// Marks the end of a block. Of those that are close together, over the whole time, the last is kept.
    pub(super) fn mark(&mut self, point: LifePoint) {
        while self.blocks.last().is_some_and(|last| last.time >= point.time) {
            self.blocks.pop();
        }
        if let [.., before, last] = &mut self.blocks[..]
            && point.time < APART * before.time
        {
            *last = point;
        } else {
            self.blocks.push(point);
        }
    }

    /// Logs the use of the parts, the limits reached since the last point, and whether a block ends here.
    pub(super) fn note(&mut self, sim: &Simulation, whole: bool) {
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
        let point = LifePoint { time, running, used: used.to_vec() };
        if whole {
            self.mark(point.clone());
        }
        self.points.push(point);
    }

    /// Completed share of a repetition up to a time, 0 to 1.
    pub(super) fn done(&self, until: f64) -> f64 {
        let share = |last: &LifePoint| {
            let worn = last.used.iter().enumerate().filter(|(k, _)| *k != OIL).map(|(_, used)| *used);
            worn.fold(last.time / until.max(1e-9), f64::max).clamp(0.0, 1.0)
        };
        self.points.last().map_or(0.0, share)
    }

    pub(super) fn worn_out(&self) -> bool {
        self.ends.iter().enumerate().any(|(k, e)| k != OIL && e.is_some())
    }

    pub(super) fn horizon(self, way: &SkipStats, errors: Vec<Missed>) -> Horizon {
        let mut horizon = Horizon {
            blocks_run: way.run,
            blocks_skipped: way.skipped,
            reads: false,
            jumps_taken_back: way.taken_back,
            inside: vec![],
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
