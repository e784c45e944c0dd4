//! A simulation of one machine: its tasks, segment by segment.

use super::duration::{duration, standing};
use super::engagement::held_below_lock_up;
use super::failure::Failure;
use super::sane::{check_end, far, within};
use super::simulation::Simulation;
use crate::document::record::{Halt, SegmentSummary};
use crate::duty::{self, End, Segment, Task, Trace};
use crate::integrate::{Ended, Stuck};
use crate::laws::bearing::{GRABS, SEIZED};
use crate::model::{Ask, BrakeAsk, Contact, Motion, MotorState, Target, called, counter, guard, state};
use crate::names::{Happening, TaskName};
use crate::observe::warnings::Done;

const MOST_SEGMENTS: usize = 2000;
/// Deceleration by closing the throttle alone, m/s². Assumed: rolling resistance and some of the motor's drag.
const EASED: f64 = 0.4;
/// Time after which a rider who follows a trace down a descent chooses anew between throttle and brake, s. Assumed.
const CHOOSES: f64 = 1.0;

impl Simulation {
    /// Performs one segment of a duty.
    pub fn perform(&mut self, segment: &Segment) -> Result<(), Failure> {
        self.perform_watched(segment, &mut |_| {})
    }

    /// As [`perform`](Self::perform), with a progress callback: `watch` receives the completed share of a trace, 0 to
    /// 1.
    pub fn perform_watched(&mut self, segment: &Segment, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        if self.halt.is_some() {
            return Ok(());
        }
        match segment {
            Segment::Ride(task, end) => self.ride(task, end, watch),
            Segment::Service(service) => {
                self.noticed.adjusted = true;
                self.oil_brought |= self.time > 0.0 && service.brings_oil();
                self.serve(service)
            }
        }
    }

    fn ride(&mut self, task: &Task, end: &End, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        check_end(end)?;
        // A machine whose bushing has seized stands still until it gets a new one.
        let stands = (Task::Off, End::After(standing(task, end)));
        let (task, end) = if self.y[state::SCORE] >= SEIZED { (&stands.0, &stands.1) } else { (task, end) };
        let (start, slipped, from) = (self.time, self.y[counter::SLIP], self.y[counter::DISTANCE]);
        let (bushing, stood) = (self.y[state::BUSHING], self.assembly.motion == Motion::Held);
        let name = TaskName::from(task);
        self.noticed.task(task, |speed| held_below_lock_up(&self.assembly.machine, speed));
        if let Task::Follow(trace) = task {
            self.follow(trace, duration(task, end), watch)?;
        } else {
            let speed = self.y[state::DRUM] * self.assembly.speed_per_drum;
            self.prepare(task)?;
            self.until(end, name)?;
            if let Task::Hold(asked) = task
                && !self.grabbed()
            {
                let a = &self.assembly;
                let pushed = a.road(asked / a.speed_per_drum, 1.0) < 0.0;
                self.noticed.held(*asked, [speed, self.y[state::DRUM] * a.speed_per_drum], pushed);
            }
        }
        self.watch.listen(&mut self.assembly);
        if let Task::Hold(speed) = task
            && !self.grabbed()
            && let Some([now, lock]) = self.slips_on(start)
            && held_below_lock_up(&self.assembly.machine, *speed).is_none()
        {
            self.noticed.slipped(speed.min(now), lock);
        }
        let extremes = self.watch.recorder.close_segment();
        // By the counter, since a run that is not recorded has no extremes.
        let slip = (self.y[counter::SLIP] - slipped) / (self.time - start);
        let done = Done {
            start,
            end: self.time,
            slip,
            bushing,
            moved: self.y[counter::DISTANCE] - from,
            stood,
            launch: matches!(end, End::Reached { .. }),
            downhill: self.assembly.grade < -self.assembly.rolling,
        };
        self.noticed.segment(name, &done, &self.watch.events);
        self.noticed.adjusted = false;
        if self.segments.len() < MOST_SEGMENTS {
            self.segments.push(SegmentSummary { task: name, start, end: self.time, extremes });
        } else {
            self.segments_left_out += 1;
        }
        Ok(())
    }

    fn prepare(&mut self, task: &Task) -> Result<(), Failure> {
        let fast = if let Task::FastIdle(speed) = *task { Some(speed) } else { None };
        if fast != self.assembly.fast_idle {
            self.assembly.fast_idle = fast;
            self.assembly.derive_idle();
        }
        let (ask, brake) = match *task {
            Task::FastIdle(speed) => {
                within(&duty::FAST_IDLE, speed)?;
                (Ask::Opening(0.0), BrakeAsk::Slow(duty::EASY_BRAKE))
            }
            Task::Idle | Task::Off => (Ask::Opening(0.0), BrakeAsk::Slow(duty::EASY_BRAKE)),
            Task::Throttle(opening) => {
                within(&duty::OPENING, opening)?;
                (Ask::Opening(opening), BrakeAsk::Off)
            }
            Task::Hold(speed) => {
                within(&duty::SPEED, speed)?;
                (Ask::Speed { speed, slope: 0.0, at: self.time }, BrakeAsk::Off)
            }
            Task::Coast => (Ask::Opening(0.0), BrakeAsk::Off),
            Task::Brake(slowing) => {
                within(&duty::DECELERATION, slowing)?;
                (Ask::Opening(0.0), BrakeAsk::Slow(slowing))
            }
            Task::Follow(_) => unreachable!("a trace is followed piece by piece"),
        };
        if *task == Task::Off {
            if self.assembly.motor == MotorState::Running {
                self.assembly.motor = MotorState::Coasting;
                self.assembly.note(self.time, Happening::SwitchedOff);
            }
        } else if self.assembly.motor != MotorState::Running {
            self.start_motor();
        }
        self.demand(ask, brake);
        Ok(())
    }

    fn demand(&mut self, ask: Ask, brake: BrakeAsk) {
        self.assembly.ask = ask;
        self.assembly.brake_ask = brake;
        self.assembly.braking = None;
        self.assembly.settle(self.time, &mut self.y, &self.slow);
    }

    fn start_motor(&mut self) {
        let a = &mut self.assembly;
        let (idle, before) = (a.idle, self.y[state::MOTOR]);
        self.books.starter += 0.5 * a.machine.motor.inertia * (idle * idle - before * before);
        self.y[state::MOTOR] = idle;
        self.y[state::THROTTLE] = a.idle_opening;
        a.motor = MotorState::Running;
        a.contact = Contact::Free;
        a.note(self.time, Happening::MotorStarts);
        self.watch.recorder.interrupt();
    }

    fn until(&mut self, end: &End, task: TaskName) -> Result<(), Failure> {
        if self.halt.is_some() {
            return Ok(());
        }
        let (patience, target, still) = match *end {
            End::After(seconds) => (seconds, None, false),
            End::Reached { speed, within } => (within, Some(Target::Faster(speed)), false),
            End::Slowed { speed, within } if speed > 0.0 => (within, Some(Target::Slower(speed)), true),
            End::Slowed { within, .. } | End::Still { within } => (within, None, true),
        };
        self.noticed.starts += u64::from(matches!(target, Some(Target::Faster(_))));
        let speed = self.y[state::DRUM] * self.assembly.speed_per_drum;
        let there = match target {
            Some(Target::Faster(wanted)) => speed >= wanted,
            Some(Target::Slower(wanted)) => speed <= wanted,
            None => false,
        };
        if there || (still && self.assembly.motion == Motion::Held) {
            return Ok(());
        }
        self.assembly.target = target;
        self.assembly.stop_when_still = still;
        let stop = self.time + patience;
        let ended = self.advance(stop);
        let ended = ended.map_err(|why| {
            let state = match why {
                Stuck::NotFinite { state, .. } | Stuck::NoProgress { state, .. } | Stuck::Crawls { state, .. } => {
                    called(state)
                }
                Stuck::Chatter { guard, .. } => guard::called(guard),
            };
            Failure::Stuck { why, state, far: far(&self.assembly.machine) }
        })?;
        self.sane()?;
        if ended == Ended::AtEvent(guard::TOO_HOT) {
            let (part, temperature) = self.assembly.hottest(&self.y, &self.slow);
            let segment = self.segments.len() as u64 + self.segments_left_out + 1;
            self.halt = Some(Halt { time: self.time, task, segment, part, temperature });
        }
        if ended == Ended::InTime {
            match target {
                Some(Target::Faster(_)) => self.noticed.unreached += 1,
                Some(Target::Slower(_)) => self.noticed.not_slowed += 1,
                None => {}
            }
        }
        debug_assert!(matches!(
            ended,
            Ended::InTime | Ended::AtEvent(guard::TARGET | guard::STANDSTILL | guard::SEIZED | guard::TOO_HOT)
        ));
        self.assembly.target = None;
        self.assembly.stop_when_still = false;
        Ok(())
    }

    fn follow(&mut self, trace: &Trace, most: f64, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        let start = self.time;
        self.prepare(&Task::Idle)?;
        let (mut asked, mut reached) = (0.0_f64, 0.0_f64);
        for piece in trace.points.windows(2) {
            let ((t0, v0), (t1, v1)) = (piece[0], piece[1]);
            if t0 >= most {
                break;
            }
            let length = t1.min(most) - t0;
            let slope = (v1 - v0) / (t1 - t0);
            let descends = self.assembly.grade < -self.assembly.rolling;
            let parts = if descends { (length / CHOOSES).ceil().max(1.0) } else { 1.0 };
            let step = length / parts;
            for part in 0..parts as u64 {
                let done = part as f64 * step;
                let now = self.y[state::DRUM] * self.assembly.speed_per_drum;
                if v0 <= 0.0 && v1 <= 0.0 {
                    self.demand(Ask::Opening(0.0), BrakeAsk::Slow(duty::EASY_BRAKE));
                } else if slope < -EASED && now > v1 {
                    let slowing = (now - v1) / (t1 - t0 - done);
                    self.demand(Ask::Opening(0.0), BrakeAsk::Slow(slowing.max(duty::DECELERATION.least)));
                } else {
                    let rate = (v0 + slope * (done + step) - now) / step;
                    if descends && self.pushed(rate) {
                        self.let_down(rate);
                    } else {
                        self.demand(Ask::Speed { speed: v0, slope, at: start + t0 }, BrakeAsk::Off);
                    }
                }
                self.until(&End::After(step), TaskName::Follow)?;
            }
            asked = asked.max(v0).max(v0 + slope * length);
            reached = reached.max(self.y[state::DRUM] * self.assembly.speed_per_drum);
            watch((t0 + length) / most.max(1e-9));
        }
        if !self.grabbed() {
            self.noticed.reached(asked, reached);
        }
        Ok(())
    }

    /// Whether the slope accelerates the machine more than this, m/s², against resistances and the drag of a locked motor.
    fn pushed(&self, rate: f64) -> bool {
        let a = &self.assembly;
        let locked = a.contact == Contact::Locked;
        let drag = if locked { a.machine.motor_drag(self.y[state::MOTOR]) } else { 0.0 };
        a.road(self.y[state::DRUM], 1.0) + drag + a.reduced_mass * rate / a.speed_per_drum < 0.0
    }

    /// Lets the slope accelerate the machine by this much at most, m/s², with the throttle closed and the rest on the brake.
    fn let_down(&mut self, rate: f64) {
        if rate > 0.0 {
            // A machine that stands sets off when its brake is let go.
            self.demand(Ask::Opening(0.0), BrakeAsk::Off);
        }
        self.demand(Ask::Opening(0.0), BrakeAsk::Slow((-rate).min(duty::DECELERATION.most)));
    }

    /// Whether the bushing has grabbed its shaft: then it drives or holds the machine, and a speed says nothing of gearing or slope.
    fn grabbed(&self) -> bool {
        self.y[state::SCORE] >= GRABS
    }
}
