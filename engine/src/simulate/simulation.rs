//! A simulation of one machine: its state, which can be stored and restored.

use super::failure::Failure;
use super::options::{Options, Tolerance};
use crate::document::record::{Halt, Horizon, LifePoint, SegmentSummary};
use crate::document::retraced::Launch;
use crate::integrate::{Ended, Stepper, Stuck};
use crate::model::{Assembly, counter, slow};
use crate::names::{Channel, Supply};
use crate::observe::ledgers::Books;
use crate::observe::warnings::Noticed;
use crate::observe::{Events, Hazards, Launches, Recorder, Watch, channels};
use crate::parts::Machine;

/// A simulation of one machine.
pub struct Simulation {
    pub(super) assembly: Assembly,
    pub(super) stepper: Stepper,
    pub(super) time: f64,
    pub(super) y: Vec<f64>,
    pub(super) slow: Vec<f64>,
    pub(super) watch: Watch,
    pub(super) books: Books,
    pub(super) noticed: Noticed,
    /// supplies used by services
    pub(super) supplies: [f64; Supply::COUNT],
    /// whether a service after the start added oil
    pub(super) oil_brought: bool,
    /// skipping and lives of a repeated block
    pub(super) horizon: Option<Horizon>,
    /// the start, and ends of whole blocks of the repeated one
    pub(super) blocks: Vec<LifePoint>,
    pub(super) segments: Vec<SegmentSummary>,
    pub(super) segments_left_out: u64,
    /// where it was stopped because a part became too hot
    pub(super) halt: Option<Halt>,
    pub(super) most_events: usize,
    /// integrator in place of the stepper
    #[cfg(feature = "peers")]
    pub(super) other: Option<Box<dyn super::integrator::Integrator>>,
}

/// State that a simulation can return to.
#[derive(Clone)]
pub(crate) struct Held {
    assembly: Assembly,
    time: f64,
    y: Vec<f64>,
    slow: Vec<f64>,
    watch: Watch,
    books: Books,
    noticed: Noticed,
    supplies: [f64; Supply::COUNT],
    segments: usize,
    segments_left_out: u64,
    halt: Option<Halt>,
}

impl Simulation {
    /// A new machine at ambient temperature, full of oil, motor off, brake on.
    pub fn new(machine: Machine, options: Options) -> Result<Self, Failure> {
        let Tolerance { speeds, rest, without_slip, slipping, film } = options.tolerance;
        let mut assembly = Assembly::new(machine)?;
        assembly.follow(speeds / rest, without_slip, slipping, film);
        let y = assembly.fresh();
        let stepper = Stepper::new(&assembly, rest);
        let mut books = Books::open(&y);
        books.coarse = (speeds * slipping).max(1.0);
        Ok(Self {
            assembly,
            stepper,
            time: 0.0,
            y,
            slow: vec![0.0; slow::COUNT],
            watch: Watch {
                recorder: Recorder::new(options.windows),
                events: Events::default(),
                launches: Launches::new(options.launches),
            },
            books,
            noticed: Noticed::default(),
            supplies: [0.0; Supply::COUNT],
            oil_brought: false,
            horizon: None,
            blocks: vec![],
            segments: vec![],
            segments_left_out: 0,
            halt: None,
            most_events: options.events,
            #[cfg(feature = "peers")]
            other: None,
        })
    }

    /// Time since the start, s.
    pub fn clock(&self) -> f64 {
        self.time
    }

    /// Running time of the motor since the start, s, as on an hour meter.
    pub fn running(&self) -> f64 {
        self.slow[slow::RUNNING_TIME]
    }

    /// Where the run was stopped because a part became too hot; segments after it are not performed.
    pub fn halted(&self) -> Option<Halt> {
        self.halt
    }

    /// Fails if the run was stopped because a part became too hot.
    pub fn going(&self) -> Result<(), Failure> {
        self.halt.map_or(Ok(()), |halt| Err(Failure::TooHot(halt)))
    }

    /// Launches from standstill so far, as many as the options keep; one that is under way ends now.
    pub fn launches(&self) -> Vec<Launch> {
        self.watch.launches.list()
    }

    /// Slip energy since the start, J.
    pub fn slip_energy(&self) -> f64 {
        self.y[counter::SLIP]
    }

    /// Present value of a channel, SI.
    pub fn reading(&self, channel: Channel) -> f64 {
        channel.of(&channels::values(&self.assembly, &self.y, &self.slow))
    }

    /// The machine with its present settings, which services may have changed.
    pub fn machine(&self) -> &Machine {
        &self.assembly.machine
    }

    /// Steps to a time or to an event that stops.
    pub(super) fn advance(&mut self, stop: f64) -> Result<Ended, Stuck> {
        let Self { stepper, assembly, time, y, slow, watch, .. } = self;
        #[cfg(feature = "peers")]
        if let Some(other) = &mut self.other {
            return other.advance(&mut super::integrator::Watched { assembly, watch }, time, stop, y, slow);
        }
        stepper.advance(assembly, time, stop, y, slow, watch)
    }

    /// Stores the present state.
    pub(crate) fn hold(&self) -> Held {
        Held {
            assembly: self.assembly.clone(),
            time: self.time,
            y: self.y.clone(),
            slow: self.slow.clone(),
            watch: self.watch.clone(),
            books: self.books.clone(),
            noticed: self.noticed.clone(),
            supplies: self.supplies,
            segments: self.segments.len(),
            segments_left_out: self.segments_left_out,
            halt: self.halt,
        }
    }

    /// A simulation that goes on from a stored state. Its segments, events, hazards and departures from the duty are its own.
    pub(crate) fn from_held(held: Held, options: Options) -> Result<Self, Failure> {
        let Tolerance { speeds, rest, without_slip, slipping, film } = options.tolerance;
        let mut simulation = Self::new(held.assembly.machine.clone(), options)?;
        simulation.restore(held);
        simulation.assembly.follow(speeds / rest, without_slip, slipping, film);
        simulation.books.coarse = (speeds * slipping).max(1.0);
        simulation.watch.events = Events::default();
        simulation.watch.recorder.hazards = Hazards::default();
        simulation.noticed = Noticed::default();
        Ok(simulation)
    }

    /// Steps with another integrator from now on. Its ledgers are kept but not checked: they close to rounding only by the
    /// stepper's own quadrature.
    #[cfg(feature = "peers")]
    pub fn step_with(&mut self, other: Box<dyn super::integrator::Integrator>) {
        self.other = Some(other);
    }

    /// Returns to a stored state; the integrator's work since then stays counted.
    pub(super) fn restore(&mut self, held: Held) {
        (self.assembly, self.watch) = (held.assembly, held.watch);
        (self.time, self.y, self.slow) = (held.time, held.y, held.slow);
        (self.books, self.noticed, self.supplies) = (held.books, held.noticed, held.supplies);
        self.segments.truncate(held.segments);
        (self.segments_left_out, self.halt) = (held.segments_left_out, held.halt);
        self.stepper.refresh(&self.assembly);
    }
}
