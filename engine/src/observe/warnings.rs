//! Warnings for the reader: limits exceeded, dragging at idle, permanent slip, and departures from the duty.

use super::Events;
use super::hazards::{BURNING, Hazards, Slid};
use crate::document::record::{Extremes, Halt, PartUse, Warned, Warning};
use crate::duty::Task;
use crate::laws::oil::{IGNITES, LIGHTS, SMOKES};
use crate::laws::shoe;
use crate::life::{PAIRS, Pair};
use crate::model::{Assembly, BEYOND, STOPS};
use crate::names::{Channel, Happening, Part, TaskName};
use crate::parts::Machine;

/// Distance above which rolling back deserves a warning, m: every start on a slope rolls back a little. Assumed.
const ROLLING: f64 = 0.02;
/// Distance from which a machine off its brake counts as creeping, m. Assumed.
const CREEPS: f64 = 0.05;
/// Time that a motor takes to run down to its idle, for which slip counts as no drag, s. Assumed.
const RUNS_DOWN: f64 = 5.0;
/// Time of throttle within which a machine has to move, s. Assumed.
const MOVES: f64 = 10.0;
/// Speed of the motor above which it is overdriven, as a multiple of its governed speed without load. Assumed.
const OVERDRIVEN: f64 = 1.1;
/// Speed from which a machine rolling down without the clutch deserves a warning, m/s. Assumed.
const ROLLS: f64 = 1.0;
/// Speed at which a machine rolling backward has run away, m/s: a walk. Assumed.
const WALKS: f64 = 1.5;
/// Time for which the clutch alone has to hold the machine on a slope to deserve a warning, s. Assumed.
const HOLDING: f64 = 1.0;
/// Glaze above which a lining counts as overheated. Assumed.
const GLAZED: f64 = 0.3;
/// Share of a target speed by which it must be missed to count as out of reach: the rider's control is more accurate.
const BEHIND: f64 = 0.03;

/// Observations during a run.
#[derive(Clone, Debug, Default)]
pub(crate) struct Noticed {
    slow_hold: Option<(f64, f64)>,
    drag: Option<f64>,
    /// greatest speed of a fast idle, rad/s
    fastest_idle: f64,
    creeps: bool,
    /// the coldest bushing of which the friction alone moved the machine off at idle, K
    driven: Option<f64>,
    /// whether something was changed or renewed since the last task
    pub adjusted: bool,
    /// starts asked for, and those that failed
    pub starts: u64,
    pub unreached: u64,
    /// target speed and the highest speed reached, m/s, for the pair with the largest difference
    beyond: Option<(f64, f64)>,
    /// speed held and the speed to which the machine ran on a descent, m/s, for the pair with the largest difference
    overrun: Option<(f64, f64)>,
    /// number of brake tasks that did not reach their speed
    pub not_slowed: u64,
}

/// A task that ended.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Done {
    /// when it began and ended, s
    pub start: f64,
    pub end: f64,
    /// mean slip power, W
    pub slip: f64,
    /// temperature of the bushing when it began, K
    pub bushing: f64,
    /// distance, m
    pub moved: f64,
    /// whether the machine stood when it began
    pub stood: bool,
    /// whether it was a launch to a speed
    pub launch: bool,
    /// whether the slope moves the machine
    pub downhill: bool,
}

/// What rubbing parts came to in a run.
pub(crate) struct Rubbed {
    /// running time at which each pair was first worn through, s
    pub through: [Option<f64>; Pair::COUNT],
    /// running time at which the bushing squealed, grabbed and seized, s
    pub scored: [Option<f64>; 3],
    /// load of the bushing beyond its limit, and that limit, Pa·m/s
    pub loaded: Option<(f64, f64)>,
    pub hazards: Hazards,
    /// hottest part while the clutch lasted, K
    pub hottest: f64,
}

impl Noticed {
    /// Notes a task; `lock` gives the lock-up speed, m/s, if a held speed is below it.
    pub fn task(&mut self, task: &Task, lock: impl Fn(f64) -> Option<f64>) {
        if let Task::FastIdle(speed) = task {
            self.fastest_idle = self.fastest_idle.max(*speed);
        }
        let held: Vec<f64> = match task {
            Task::Hold(speed) => vec![*speed],
            Task::Follow(trace) => trace.points.windows(2).filter(|p| p[0].1 == p[1].1).map(|p| p[0].1).collect(),
            _ => vec![],
        };
        for speed in held.into_iter().filter(|speed| *speed > 0.0) {
            if let Some(lock) = lock(speed) {
                self.slipped(speed, lock);
            }
        }
    }

    /// Notes a speed that is held slipping, and the one from which the clutch would not slip, m/s.
    pub fn slipped(&mut self, speed: f64, lock: f64) {
        if self.slow_hold.is_none_or(|(held, _)| speed < held) {
            self.slow_hold = Some((speed, lock));
        }
    }

    /// Compares a held speed with those at the start and the end of holding it, m/s. The start counts as reached, since a rider who
    /// takes over there may be slower for some seconds, unless the machine or its ground changed before it. What is only slow to fall to
    /// it counts not, nor what a rider overshoots where the descent does not push the machine beyond that speed.
    pub fn held(&mut self, asked: f64, [from, reached]: [f64; 2], pushed: bool) {
        self.reached(asked, if self.adjusted { reached } else { reached.max(from) });
        let over = reached - asked;
        if pushed && reached > from && over > BEHIND * asked && self.overrun.is_none_or(|(a, r)| over > r - a) {
            self.overrun = Some((asked, reached));
        }
    }

    /// Compares a held speed, or the highest of a trace, with the highest speed reached, m/s.
    pub fn reached(&mut self, asked: f64, reached: f64) {
        let short = asked - reached;
        // A machine that a slope moves backwards reaches no speed.
        let reached = reached.max(0.0);
        if short > BEHIND * asked && self.beyond.is_none_or(|(a, r)| short > a - r) {
            self.beyond = Some((asked, reached));
        }
    }

    /// Notes a task that ended.
    pub fn segment(&mut self, task: TaskName, done: &Done, events: &Events) {
        let Done { start, slip, bushing, moved, .. } = *done;
        if matches!(task, TaskName::Idle | TaskName::FastIdle) && slip > 1.0 && !events.left(start, RUNS_DOWN) {
            self.drag = Some(self.drag.unwrap_or(0.0).max(slip));
        }
        if task == TaskName::Throttle && done.stood && done.end - start >= MOVES {
            self.starts += u64::from(!done.launch);
            self.unreached += u64::from(!done.launch && moved.abs() < CREEPS);
        }
        // What the clutch barely moves stands, for all that anyone sees; what a slope moves rolls.
        if task == TaskName::Coast && moved > CREEPS {
            match events.touching(start, Happening::SetsOff) {
                Some(true) => self.creeps = true,
                Some(false) if done.downhill => {}
                Some(false) => self.driven = Some(self.driven.map_or(bushing, |coldest| coldest.min(bushing))),
                None => {}
            }
        }
    }

    /// The warning for a shoe that drags at idle by its weak spring, where most of the shoes would not: with such springs in
    /// all shoes, as hot and relaxed as in the run, the clutch would engage above the idle.
    fn weak_shoe(&self, machine: &Machine, hottest: f64, lost: f64) -> Option<Warning> {
        let value = self.drag.filter(|_| machine.one_by_one())?;
        let ((weakest, usual), c) = (machine.weakest_of_middle(), &machine.clutch);
        let spring = shoe::spring_force(machine.preload(), lost, c.hot_modulus, c.spring_rate, c.gap, hottest) * usual;
        let engages = shoe::engagement_speed(c.shoe_mass, c.shoe_radius, spring.max(0.0));
        let idle = machine.motor.idle.max(self.fastest_idle);
        (engages > idle).then_some(Warning { kind: Warned::WeakShoe, value, limit: weakest })
    }

    pub fn warnings(
        &self,
        a: &Assembly,
        events: &Events,
        overall: &Extremes,
        parts: &[PartUse],
        rubbed: &Rubbed,
        halt: Option<Halt>,
    ) -> Vec<Warning> {
        // Without recorded extremes these are not-a-number, and exceed no limit.
        let most = |channel: Channel| channel.of(&overall.most);
        let l = &a.machine.limits;
        let lining = most(Channel::LiningSurface);
        let above = |kind, value: f64, limit: f64| (value > limit).then_some(Warning { kind, value, limit });
        let count = |kind, times: f64| above(kind, times, 0.0);
        let spent = parts.iter().find(|p| p.part == Part::Oil && p.used >= 1.0).and_then(|p| p.running);
        let stalled = events.first(Happening::Stalls);
        let gone = PAIRS.iter().zip(rubbed.through).filter_map(|(pair, after)| {
            let (kind, value) = pair.warned.zip(after)?;
            Some(Warning { kind, value, limit: (pair.thickness)(&a.machine) })
        });
        // The gravest stage of scoring stands for all.
        let kinds = [Warned::Squeals, Warned::Grabs, Warned::Seizes];
        let scored = kinds
            .into_iter()
            .zip(rubbed.scored)
            .rev()
            .find_map(|(kind, after)| Some(Warning { kind, value: after?, limit: 0.0 }));
        let hazards = &rubbed.hazards;
        // The gravest stage of hot oil stands for all.
        let stages = [(Warned::Fire, IGNITES), (Warned::Vapour, LIGHTS), (Warned::Smokes, SMOKES)];
        let oily = stages.into_iter().find(|(_, from)| hazards.oily >= *from);
        let oily = oily.map(|(kind, limit)| Warning { kind, value: hazards.oily, limit });
        let slid = |kind, slid: Slid| Warning { kind, value: slid.speed, limit: slid.by };
        let (held, power) = hazards.held;
        let driven = a.machine.motor.no_load * a.speed_per_drum;
        let away = [(hazards.rolled_back.speed, WALKS), (hazards.rolls, driven)];
        let away = away.into_iter().find_map(|(speed, most)| above(Warned::RunsAway, speed, most));
        let stays = away.is_none();
        let failed = (self.unreached > 0).then(|| {
            let kind = if 2 * self.unreached < self.starts { Warned::Launch } else { Warned::TooSlow };
            Warning { kind, value: self.unreached as f64, limit: self.starts as f64 }
        });
        let before = [
            self.drag.map(|value| Warning { kind: Warned::Drag, value, limit: 0.0 }),
            self.weak_shoe(&a.machine, most(Channel::Shoes), most(Channel::Relaxation)),
            count(Warned::Creep, f64::from(u8::from(self.creeps))),
            self.driven.map(|value| Warning { kind: Warned::BushingDrives, value, limit: 0.0 }),
            above(Warned::Lining, lining, l.lining_most),
            above(Warned::Bond, lining, l.lining_bond),
            halt.map(|halt| Warning { kind: Warned::TooHot, value: halt.temperature, limit: STOPS }),
            above(Warned::Beyond, rubbed.hottest, BEYOND),
            oily,
            // Of an oil that is never to be used any amount counts.
            above(Warned::Additive, a.most_lasting, 0.0),
            above(Warned::LetGo, hazards.burnt, BURNING.0),
            above(Warned::Glaze, most(Channel::Glaze), GLAZED),
            above(Warned::Bushing, most(Channel::Bushing), l.bushing_warning),
            above(Warned::Washer, most(Channel::Washer), l.washer_oiled),
            above(Warned::DryWasher, a.washer_dry_peak, l.washer_dry),
            above(Warned::Chars, most(Channel::Washer), l.washer_char),
            rubbed.loaded.map(|(value, limit)| Warning { kind: Warned::BushingLoad, value, limit }),
            scored,
            above(Warned::Springs, most(Channel::Shoes), l.spring_most),
            spent.map(|value| Warning { kind: Warned::Dry, value, limit: 0.0 }),
        ];
        let after = [
            away,
            (stays && hazards.rolled_back.by > ROLLING).then(|| slid(Warned::RolledBack, hazards.rolled_back)),
            (hazards.let_go.speed > 0.0).then(|| slid(Warned::NoBraking, hazards.let_go)),
            (held > HOLDING).then_some(Warning { kind: Warned::HeldOnSlope, value: held, limit: power }),
            self.slow_hold.map(|(value, limit)| Warning { kind: Warned::HeldSpeed, value, limit }),
            self.beyond.map(|(asked, reached)| Warning { kind: Warned::OutOfReach, value: reached, limit: asked }),
            self.overrun.map(|(asked, reached)| Warning { kind: Warned::Overrun, value: reached, limit: asked }),
            failed,
            above(Warned::Overspeed, most(Channel::MotorSpeed), OVERDRIVEN * a.machine.motor.no_load),
            (stays && hazards.rolls > ROLLS).then_some(Warning {
                kind: Warned::RollsFree,
                value: hazards.rolls,
                limit: 0.0,
            }),
            count(Warned::Brake, self.not_slowed as f64),
            stalled.map(|e| Warning { kind: Warned::Stall, value: e.time, limit: 0.0 }),
        ];
        before.into_iter().flatten().chain(gone).chain(after.into_iter().flatten()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_machine_that_is_barely_moved_does_not_creep_and_one_whose_shoes_are_off_is_driven_by_its_bushing() {
        let noticed = |moved: f64, engages: bool| {
            let mut events = Events::default();
            for (time, what) in [(2.0, Happening::Engages), (8.0, Happening::Releases)] {
                events.note(time, what);
            }
            if engages {
                events.note(11.0, Happening::Engages);
            }
            events.note(12.0, Happening::SetsOff);
            let mut noticed = Noticed::default();
            let done = Done { start: 10.0, end: 20.0, bushing: 273.15, moved, ..Done::default() };
            noticed.segment(TaskName::Coast, &done, &events);
            let rolls = Done { downhill: true, ..done };
            let before = noticed.driven;
            noticed.segment(TaskName::Coast, &rolls, &events);
            assert_eq!(noticed.driven, before, "a slope moves it");
            (noticed.creeps, noticed.driven)
        };
        assert_eq!(noticed(1e-3, true), (false, None));
        assert_eq!(noticed(0.5, true), (true, None));
        assert_eq!(noticed(0.5, false), (false, Some(273.15)));
    }

    #[test]
    fn a_motor_that_runs_down_drags_no_clutch() {
        let drag = |releases: f64, again: Option<f64>| {
            let mut events = Events::default();
            events.note(releases, Happening::Releases);
            if let Some(time) = again {
                events.note(time, Happening::Engages);
            }
            let mut noticed = Noticed::default();
            let done = Done { start: 10.0, end: 40.0, slip: 2.0, ..Done::default() };
            noticed.segment(TaskName::Idle, &done, &events);
            noticed.drag
        };
        assert_eq!(drag(11.0, None), None);
        assert_eq!(drag(11.0, Some(20.0)), Some(2.0));
        assert_eq!(drag(30.0, None), Some(2.0));
        assert_eq!(drag(9.0, None), Some(2.0));
    }
}
