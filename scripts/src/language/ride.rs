//! A ride, the handle of a duty. It either records its segments or performs each at once.

use crate::language::away::Away;
use crate::language::word_error::{Answer, WordError};
use rhai::{Dynamic, EvalAltResult, NativeCallContext, Position};
use slipsoak_engine::duty::{End, Segment, Service};
use slipsoak_engine::parts::{Machine, Oil, Parameter};
use slipsoak_engine::parts_file;
use slipsoak_engine::simulate::{Log, Simulation};
use std::cell::RefCell;
use std::ops::Range;
use std::rc::Rc;

/// Largest number of segments of one duty.
const ENTRIES: usize = 100_000;
/// Longest ride, s.
pub(crate) const LONGEST: f64 = 10.0 * 365.0 * 86400.0;

/// Ends the recording of a duty that reads the ride; a script cannot catch it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Abandoned;

/// Ends a duty whose machine became too hot to go on; a script cannot catch it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Halted;

/// A segment and its position in the script.
pub type Entry = (Segment, Position);

/// Segments of a duty, and the indices of those in each pass of `times`, an outer one before those inside it.
pub type Recorded = (Vec<Entry>, Vec<Range<usize>>);

enum Mode {
    Recording(Vec<Entry>),
    Live(Box<Simulation>),
    Over,
}

struct State {
    mode: Mode,
    duty: String,
    machine: Machine,
    entries: usize,
    passes: Vec<Range<usize>>,
    lasting: f64,
    log: Option<Log>,
}

/// The handle passed to a duty.
#[derive(Clone)]
pub struct Ride {
    state: Rc<RefCell<State>>,
    away: Rc<Away>,
}

impl Ride {
    fn with(mode: Mode, duty: &str, machine: Machine, away: Rc<Away>) -> Self {
        let state = State { mode, duty: duty.to_owned(), machine, entries: 0, passes: vec![], lasting: 0.0, log: None };
        Self { state: Rc::new(RefCell::new(state)), away }
    }

    /// A ride that only records its segments.
    pub fn recording(duty: &str, machine: Machine, away: Rc<Away>) -> Self {
        Self::with(Mode::Recording(Vec::new()), duty, machine, away)
    }

    /// A ride that performs each segment at once.
    pub fn live(duty: &str, machine: Machine, simulation: Simulation, away: Rc<Away>) -> Self {
        Self::with(Mode::Live(Box::new(simulation)), duty, machine, away)
    }

    /// The recorded segments.
    pub fn entries(&self) -> Vec<Entry> {
        match std::mem::replace(&mut self.state.borrow_mut().mode, Mode::Over) {
            Mode::Recording(entries) => entries,
            Mode::Live(_) | Mode::Over => Vec::new(),
        }
    }

    /// Indices of the recorded segments of each pass of `times`, an outer one before those inside it.
    pub fn passes(&self) -> Vec<Range<usize>> {
        self.state.borrow().passes.clone()
    }

    /// Makes one pass of `times`.
    pub(crate) fn pass(&self, run: impl FnOnce() -> Answer<()>) -> Answer<()> {
        let (index, start) = {
            let state = &mut *self.state.borrow_mut();
            state.passes.push(0..0);
            (state.passes.len() - 1, state.entries)
        };
        run()?;
        let state = &mut *self.state.borrow_mut();
        match state.mode {
            Mode::Recording(_) if state.entries > start => state.passes[index] = start..state.entries,
            // Nothing is kept of an empty pass, nor of those that are performed at once.
            _ => state.passes.truncate(index),
        }
        Ok(())
    }

    /// The simulation of the performed segments.
    pub fn simulation(&self) -> Option<Simulation> {
        match std::mem::replace(&mut self.state.borrow_mut().mode, Mode::Over) {
            Mode::Live(simulation) => Some(*simulation),
            Mode::Recording(_) | Mode::Over => None,
        }
    }

    /// Begins the log of block ends.
    pub fn begin_log(&self) {
        let state = &mut *self.state.borrow_mut();
        if let Mode::Live(simulation) = &mut state.mode {
            state.log = Some(simulation.log());
        }
    }

    /// Logs the end of a block. Returns whether the repetition is over, also if the block took no time.
    pub fn note(&self, until: f64) -> bool {
        let state = &mut *self.state.borrow_mut();
        let (Mode::Live(simulation), Some(log)) = (&mut state.mode, &mut state.log) else { return true };
        state.entries = 0;
        let over = simulation.note(log, until) || state.lasting <= 0.0;
        state.lasting = 0.0;
        if let Some(log) = over.then(|| state.log.take()).flatten() {
            simulation.arrive(log);
        }
        over
    }

    /// The oil of its machine.
    pub(crate) fn oil(&self) -> Oil {
        self.state.borrow().machine.oil.clone()
    }

    /// The volume of its machine's drops of oil, m³.
    pub(crate) fn drop_volume(&self) -> f64 {
        self.state.borrow().machine.oiling.drop
    }

    /// Time since the start of the ride, s.
    pub(crate) fn clock(&self) -> f64 {
        match &self.state.borrow().mode {
            Mode::Live(simulation) => simulation.clock(),
            Mode::Recording(_) | Mode::Over => 0.0,
        }
    }

    /// Address that distinguishes rides.
    pub(crate) fn address(&self) -> usize {
        Rc::as_ptr(&self.state).addr()
    }

    /// Records or performs a segment.
    pub(crate) fn act(&self, context: &NativeCallContext, segment: Segment) -> Answer<()> {
        let mut state = self.state.borrow_mut();
        state.entries += 1;
        if let Segment::Ride(_, End::After(time)) = &segment {
            state.lasting += time;
        }
        if state.entries > ENTRIES {
            let long = format!("the duty `{}` has more than {ENTRIES} entries; use fewer, longer ones", state.duty);
            return Err(WordError::new(long).into());
        }
        if state.lasting > LONGEST {
            let lasting = format!("the duty `{}` lasts longer than {} days", state.duty, LONGEST / 86400.0);
            return Err(WordError::new(lasting).into());
        }
        match &mut state.mode {
            Mode::Recording(entries) => entries.push((segment, context.call_position())),
            Mode::Live(simulation) => {
                self.away.during(|| simulation.perform(&segment)).map_err(WordError::from)?;
                if simulation.halted().is_some() {
                    return Err(Box::new(EvalAltResult::ErrorTerminated(Dynamic::from(Halted), Position::NONE)));
                }
            }
            Mode::Over => return Err(over().into()),
        }
        Ok(())
    }

    /// Changes a setting by a service.
    pub(crate) fn change(
        &self,
        context: &NativeCallContext,
        (setting, value): (&'static Parameter, f64),
        service: Service,
    ) -> Answer<()> {
        let mut machine = self.machine();
        parts_file::set(&mut machine, setting, value).map_err(WordError::from)?;
        machine.check().map_err(WordError::from)?;
        self.act(context, Segment::Service(service))?;
        self.state.borrow_mut().machine = machine;
        Ok(())
    }

    /// Reads the simulation.
    pub(crate) fn read(&self, of: impl Fn(&Simulation) -> f64) -> Answer<f64> {
        match &self.state.borrow().mode {
            Mode::Live(simulation) => Ok(of(simulation)),
            Mode::Over => Err(over().into()),
            Mode::Recording(_) => {
                Err(Box::new(EvalAltResult::ErrorTerminated(Dynamic::from(Abandoned), Position::NONE)))
            }
        }
    }

    /// The machine as it is now.
    pub(crate) fn machine(&self) -> Machine {
        match &self.state.borrow().mode {
            Mode::Live(simulation) => simulation.machine().clone(),
            Mode::Recording(_) | Mode::Over => self.state.borrow().machine.clone(),
        }
    }
}

/// The error of a ride that is used after its end.
fn over() -> WordError {
    WordError::new("this ride is over: a ride can be used only inside the duty that it was handed to")
}
