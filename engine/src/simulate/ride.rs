//! A simulation of one machine: its tasks, segment by segment.

use super::culprit::Culprit;
use super::engagement::{engagement, settled};
use super::sane::{check_end, far, within};
use super::service::{self, Supplies};
use crate::document::record::{Engagement, Horizon, Run, SegmentSummary, Setting};
use crate::duty::{self, End, Segment, Task, Trace};
use crate::integrate::{Ended, Stepper, Stuck};
use crate::laws::margin::SEASON;
use crate::life;
use crate::model::{Ask, Assembly, BrakeAsk, Contact, Motion, MotorState, Target, called, guard, slow, state};
use crate::names::{Book, Channel, Happening, TaskName};
use crate::observe::ledgers::Books;
use crate::observe::warnings::Noticed;
use crate::observe::{Events, Recorder, Watch, channels};
use crate::parts::{Invalid, Machine};
use thiserror::Error;

const MOST_SEGMENTS: usize = 2000;
/// Deceleration of a rider who stops without a demand for one, m/s².
const EASY_BRAKE: f64 = 1.5;

/// Deceleration by closing the throttle alone, m/s². Assumed: rolling resistance and some of the motor's drag.
const EASED: f64 = 0.4;

/// Options of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// largest number of windows; if there are more, they are joined in pairs. With 0, nothing is recorded: the run has
    /// no windows and no extremes (of segments or overall), its parts have no curves and their lives refer to the whole
    /// run, and there are no warnings of peaks and of dragging at idle. Ledgers, events and use of the parts are
    /// complete.
    pub windows: usize,
    /// largest number of events listed; if there are more, the least informative kinds are left out
    pub events: usize,
    /// tolerance of the integrator
    pub tolerance: Tolerance,
}

/// Allowed errors of an integrator step, relative to the defaults.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// of speeds and throttle
    pub speeds: f64,
    /// of temperatures and oil
    pub rest: f64,
}

impl Tolerance {
    /// For lives: half the steps. Wear is a sum over whole launches, to which the errors of speeds within a launch add
    /// little: every part's wear and the oil of a life stay within 3e-4, relaxation within 2e-3.
    pub const LIVES: Self = Self { speeds: 24.0, rest: 2.0 };

    /// The same factor for every state.
    pub const fn alike(times: f64) -> Self {
        Self { speeds: times, rest: times }
    }
}

impl Default for Options {
    fn default() -> Self {
        Self { windows: 600, events: 2000, tolerance: Tolerance::alike(1.0) }
    }
}

/// Reason why a run cannot continue.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Failure {
    /// the machine cannot be built
    #[error(transparent)]
    Invalid(#[from] Invalid),
    /// the integrator failed
    #[error("the simulation cannot go on: {why} ({state}); settings far from their defaults: {far}")]
    Stuck {
        /// reason
        why: Stuck,
        /// name of the state
        state: &'static str,
        /// settings far from their defaults
        far: String,
    },
    /// an impossible result
    #[error("at {time:.3} s the result stops making sense: {what}; settings far from their defaults: {far}")]
    Nonsense {
        /// description
        what: String,
        /// time, s
        time: f64,
        /// settings far from their defaults
        far: String,
    },
    /// a number of the duty is out of range
    #[error("{what} is {value} {unit}; it must lie between {least} and {most} {unit}")]
    Duty {
        /// name of the number
        what: &'static str,
        /// value, SI
        value: f64,
        /// unit
        unit: &'static str,
        /// least
        least: f64,
        /// most
        most: f64,
    },
    /// a ledger does not close
    #[error(
        "the {ledger} ledger does not close: {residual:.3e} {unit} is missing, {relative:.1e} of its largest entry, allowed {allowed:.0e}; {culprit}"
    )]
    Ledger {
        /// name of the ledger
        ledger: Book,
        /// residual
        residual: f64,
        /// unit
        unit: String,
        /// residual relative to the largest entry
        relative: f64,
        /// allowed relative residual
        allowed: f64,
        /// the term at fault
        culprit: Box<Culprit>,
    },
}

/// A simulation of one machine.
pub struct Simulation {
    pub(super) assembly: Assembly,
    pub(super) stepper: Stepper,
    pub(super) time: f64,
    pub(super) y: Vec<f64>,
    pub(super) worn: Vec<f64>,
    pub(super) watch: Watch,
    pub(super) books: Books,
    pub(super) noticed: Noticed,
    /// supplies used by services
    pub(super) supplies: Supplies,
    /// whether a service after the start added oil
    pub(super) oil_brought: bool,
    /// skipping and lives of a repeated block
    pub(super) horizon: Option<Horizon>,
    segments: Vec<SegmentSummary>,
    segments_left_out: u64,
    most_events: usize,
}

/// State that a simulation can return to.
pub(super) struct Held {
    assembly: Assembly,
    time: f64,
    y: Vec<f64>,
    worn: Vec<f64>,
    watch: Watch,
    books: Books,
    noticed: Noticed,
    supplies: Supplies,
    segments: usize,
    segments_left_out: u64,
}

impl Simulation {
    /// A new machine at ambient temperature, full of oil, motor off, brake on.
    pub fn new(machine: Machine, options: Options) -> Result<Self, Failure> {
        let Tolerance { speeds, rest } = options.tolerance;
        let mut assembly = Assembly::new(machine)?;
        assembly.follow_speeds(speeds / rest);
        let y = assembly.fresh();
        let stepper = Stepper::new(&assembly, rest);
        let mut books = Books::open(&y);
        books.coarse = speeds.max(1.0);
        Ok(Self {
            assembly,
            stepper,
            time: 0.0,
            y,
            worn: vec![0.0; slow::COUNT],
            watch: Watch { recorder: Recorder::new(options.windows), events: Events::default() },
            books,
            noticed: Noticed::default(),
            supplies: Supplies::default(),
            oil_brought: false,
            horizon: None,
            segments: vec![],
            segments_left_out: 0,
            most_events: options.events,
        })
    }

    /// Performs one segment of a duty.
    pub fn perform(&mut self, segment: &Segment) -> Result<(), Failure> {
        self.perform_watched(segment, &mut |_| {})
    }

    /// As [`perform`](Self::perform), with a progress callback: `watch` receives the completed share of a trace, 0 to
    /// 1.
    pub fn perform_watched(&mut self, segment: &Segment, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        match segment {
            Segment::Ride(task, end) => self.ride(task, end, watch),
            Segment::Service(service) => {
                self.oil_brought |= self.time > 0.0 && service.brings_oil();
                self.serve(service)
            }
        }
    }

    /// Time since the start, s.
    pub fn clock(&self) -> f64 {
        self.time
    }

    /// Running time of the motor since the start, s, as on an hour meter.
    pub fn running(&self) -> f64 {
        self.worn[slow::RUNNING_TIME]
    }

    /// Present value of a channel, SI.
    pub fn reading(&self, channel: Channel) -> f64 {
        channel.of(&channels::values(&self.assembly, &self.y, &self.worn))
    }

    /// The machine with its present settings, which services may have changed.
    pub fn machine(&self) -> &Machine {
        &self.assembly.machine
    }

    /// Stores the present state.
    pub(super) fn hold(&self) -> Held {
        Held {
            assembly: self.assembly.clone(),
            time: self.time,
            y: self.y.clone(),
            worn: self.worn.clone(),
            watch: self.watch.clone(),
            books: self.books.clone(),
            noticed: self.noticed.clone(),
            supplies: self.supplies,
            segments: self.segments.len(),
            segments_left_out: self.segments_left_out,
        }
    }

    /// Returns to a stored state; the integrator's work since then stays counted.
    pub(super) fn restore(&mut self, held: Held) {
        (self.assembly, self.watch) = (held.assembly, held.watch);
        (self.time, self.y, self.worn) = (held.time, held.y, held.worn);
        (self.books, self.noticed, self.supplies) = (held.books, held.noticed, held.supplies);
        self.segments.truncate(held.segments);
        self.segments_left_out = held.segments_left_out;
        self.stepper.refresh(&self.assembly);
    }

    fn ride(&mut self, task: &Task, end: &End, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        check_end(end)?;
        let start = self.time;
        let name = TaskName::from(task);
        self.noticed.task(&self.assembly, task);
        if let Task::Follow(trace) = task {
            self.follow(trace, end, watch)?;
        } else {
            self.prepare(task)?;
            self.until(end)?;
            if let Task::Hold(speed) = task {
                self.noticed.reached(*speed, self.y[state::DRUM] * self.assembly.speed_per_drum);
            }
        }
        self.watch.listen(&mut self.assembly);
        let extremes = self.watch.recorder.close_segment();
        self.noticed.segment(name, &extremes, &self.watch.events, start);
        if self.segments.len() < MOST_SEGMENTS {
            self.segments.push(SegmentSummary { task: name, start, end: self.time, extremes });
        } else {
            self.segments_left_out += 1;
        }
        Ok(())
    }

    fn prepare(&mut self, task: &Task) -> Result<(), Failure> {
        let (ask, brake) = match *task {
            Task::Idle | Task::Off => (Ask::Opening(0.0), BrakeAsk::Slow(EASY_BRAKE)),
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
        self.assembly.settle(self.time, &mut self.y, &self.worn);
    }

    fn start_motor(&mut self) {
        let a = &mut self.assembly;
        let (idle, before) = (a.machine.motor.idle, self.y[state::MOTOR]);
        self.books.starter += 0.5 * a.machine.motor.inertia * (idle * idle - before * before);
        self.y[state::MOTOR] = idle;
        self.y[state::THROTTLE] = a.idle_opening;
        a.motor = MotorState::Running;
        a.contact = Contact::Free;
        a.note(self.time, Happening::MotorStarts);
        self.watch.recorder.interrupt();
    }

    fn until(&mut self, end: &End) -> Result<(), Failure> {
        let (patience, target, still) = match *end {
            End::After(seconds) => (seconds, None, false),
            End::Reached { speed, within } => (within, Some(Target::Faster(speed)), false),
            End::Slowed { speed, within } if speed > 0.0 => (within, Some(Target::Slower(speed)), true),
            End::Slowed { within, .. } | End::Still { within } => (within, None, true),
        };
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
        let Self { stepper, assembly, time, y, worn, watch, .. } = self;
        let ended = stepper.advance_observed(assembly, time, stop, y, worn, watch);
        let ended = ended.map_err(|why| {
            let state = match why {
                Stuck::NotFinite { state, .. } | Stuck::NoProgress { state, .. } | Stuck::Crawls { state, .. } => {
                    called(state)
                }
                Stuck::Storm { guard, .. } => guard::called(guard),
            };
            Failure::Stuck { why, state, far: far(&self.assembly.machine) }
        })?;
        self.sane()?;
        if ended == Ended::InTime {
            match target {
                Some(Target::Faster(_)) => self.noticed.unreached += 1,
                Some(Target::Slower(_)) => self.noticed.not_slowed += 1,
                None => {}
            }
        }
        debug_assert!(matches!(ended, Ended::InTime | Ended::AtEvent(guard::TARGET | guard::HALT)));
        self.assembly.target = None;
        self.assembly.stop_when_still = false;
        Ok(())
    }

    fn follow(&mut self, trace: &Trace, end: &End, watch: &mut dyn FnMut(f64)) -> Result<(), Failure> {
        let start = self.time;
        let most = match *end {
            End::After(seconds)
            | End::Still { within: seconds }
            | End::Reached { within: seconds, .. }
            | End::Slowed { within: seconds, .. } => seconds,
        };
        self.prepare(&Task::Idle)?;
        let whole = trace.points.last().map_or(most, |last| last.0.min(most)).max(1e-9);
        let (mut asked, mut reached) = (0.0_f64, 0.0_f64);
        for piece in trace.points.windows(2) {
            let ((t0, v0), (t1, v1)) = (piece[0], piece[1]);
            if t0 >= most {
                break;
            }
            let length = t1.min(most) - t0;
            let slope = (v1 - v0) / (t1 - t0);
            let now = self.y[state::DRUM] * self.assembly.speed_per_drum;
            if v0 <= 0.0 && v1 <= 0.0 {
                self.demand(Ask::Opening(0.0), BrakeAsk::Slow(EASY_BRAKE));
            } else if slope < -EASED && now > v1 {
                self.demand(Ask::Opening(0.0), BrakeAsk::Slow(((now - v1) / (t1 - t0)).max(duty::DECELERATION.least)));
            } else {
                self.demand(Ask::Speed { speed: v0, slope, at: start + t0 }, BrakeAsk::Off);
            }
            self.until(&End::After(length))?;
            asked = asked.max(v0).max(v0 + slope * length);
            reached = reached.max(self.y[state::DRUM] * self.assembly.speed_per_drum);
            watch((t0 + length) / whole);
        }
        self.noticed.reached(asked, reached);
        Ok(())
    }

    /// Checks the ledgers and returns the record of the run.
    pub fn finish(mut self, variant: &str, duty: &str) -> Result<Run, Failure> {
        let ledgers = self.books.close(&self.assembly, &self.y, &self.worn);
        self.check(&ledgers)?;
        self.watch.listen(&mut self.assembly);
        let (a, Watch { recorder, events }) = (&self.assembly, &self.watch);
        let windows = recorder.windows();
        let (close_up, moments) = (recorder.close_up(), recorder.moments());
        let overall = recorder.overall();
        let now = channels::values(a, &self.y, &self.worn);
        let ran = self.running();
        let shoes = overall.most.get(Channel::Shoes as usize).copied();
        let settled = shoes.map(|hottest| settled(&a.machine, hottest, SEASON));
        let length = life::Length { calendar: self.time, running: ran, charred: a.charred };
        let washer_most = overall.most.get(Channel::Washer as usize).copied().unwrap_or(a.washer_peak);
        let mut parts = life::parts(&a.machine, &windows, &self.segments, washer_most, &now, &length, self.oil_brought);
        if let Some(horizon) = &self.horizon {
            life::simulated(&mut parts, horizon);
        }
        // A repeated duty ends at a part's limit; only its last block may go beyond.
        let through = if self.horizon.is_none() { a.through } else { Default::default() };
        let warnings = self.noticed.warnings(a, events, &overall, &parts, through);
        let settings = Setting::all(&a.machine);
        let (distance, launches) = (channels::distance(&self.y), a.launches);
        let (events, events_left_out) = self.watch.events.list(self.most_events);
        Ok(Run {
            variant: variant.to_owned(),
            duty: duty.to_owned(),
            settings,
            duration: self.time,
            sliding_time: self.worn[slow::SLIDING_TIME],
            running_time: ran,
            distance,
            launches: launches as u64,
            windows,
            close_up,
            moments,
            engagement: Engagement { settled, ..engagement(&self.assembly.machine) },
            segments: self.segments,
            segments_left_out: self.segments_left_out,
            events,
            events_left_out,
            overall,
            ledgers,
            parts,
            horizon: self.horizon,
            supplies: service::named(&self.supplies),
            warnings,
            work: self.stepper.work,
        })
    }
}
