//! A ride, the handle of a duty. It either records its segments or performs each at once.

use crate::language::away::Away;
use crate::language::word_error::{WordError, between, of_setting, quantity};
use crate::read::units::{UNITS, nearest, short};
use crate::read::{trace, variant};
use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, NativeCallContext, Position};
use slipsoak_engine::duty::{self, Bounds, End, Segment, Service, Task, Trace};
use slipsoak_engine::life::WEAR_PARTS;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Dimension as D, Machine};
use slipsoak_engine::simulate::{Log, Simulation};
use slipsoak_plots::words::say::road_speed;
use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Largest number of segments of one duty.
const ENTRIES: usize = 100_000;
/// Longest ride, s.
pub(crate) const LONGEST: f64 = 10.0 * 365.0 * 86400.0;
/// Time limit of a rider to reach a speed or to stop, s.
const PATIENCE: f64 = 120.0;

/// Ends the recording of a duty that reads the ride; a script cannot catch it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Abandoned;

/// A segment and its position in the script.
pub type Entry = (Segment, Position);

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
        let state = State { mode, duty: duty.to_owned(), machine, entries: 0, lasting: 0.0, log: None };
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

    fn act(&self, context: &NativeCallContext, segment: Segment) -> Answer<()> {
        let position = context.call_position();
        let mut state = self.state.borrow_mut();
        state.entries += 1;
        if let Segment::Ride(_, End::After(time)) = &segment {
            state.lasting += time;
        }
        if state.entries > ENTRIES {
            return Err(WordError::Long { duty: state.duty.clone(), most: ENTRIES }.at(position));
        }
        if state.lasting > LONGEST {
            return Err(WordError::Lasting { duty: state.duty.clone(), most: LONGEST }.at(position));
        }
        match &mut state.mode {
            Mode::Recording(entries) => entries.push((segment, position)),
            Mode::Live(simulation) => {
                self.away.during(|| simulation.perform(&segment)).map_err(|e| WordError::from(e).at(position))?;
            }
            Mode::Over => return Err(WordError::Over.at(position)),
        }
        Ok(())
    }

    fn take(&self, context: &NativeCallContext, make: impl FnOnce() -> Result<Segment, WordError>) -> Answer<()> {
        self.act(context, make().map_err(|e| e.at(context.call_position()))?)
    }

    fn read(&self, context: &NativeCallContext, of: impl Fn(&Simulation) -> f64) -> Answer<f64> {
        let position = context.call_position();
        match &self.state.borrow().mode {
            Mode::Live(simulation) => Ok(of(simulation)),
            Mode::Over => Err(WordError::Over.at(position)),
            Mode::Recording(_) => Err(Box::new(EvalAltResult::ErrorTerminated(Dynamic::from(Abandoned), position))),
        }
    }

    fn temperature(&self, context: &NativeCallContext, channel: &str) -> Answer<f64> {
        let known = known(channel, Channel::is_temperature).map_err(|e| match Channel::named(channel) {
            Some(other) => WordError::NotATemperature { given: channel.to_owned(), unit: other.unit().to_owned() },
            None => e,
        });
        let known = known.map_err(|e| e.at(context.call_position()))?;
        self.read(context, |simulation| simulation.reading(known))
    }

    fn machine(&self) -> Machine {
        match &self.state.borrow().mode {
            Mode::Live(simulation) => simulation.machine().clone(),
            Mode::Recording(_) | Mode::Over => self.state.borrow().machine.clone(),
        }
    }
}

/// The channel with that name, among those that satisfy `counts`.
fn known(name: &str, counts: impl Fn(Channel) -> bool) -> Result<Channel, WordError> {
    let all = || Channel::ALL.into_iter().filter(|channel| counts(*channel)).map(Channel::name);
    Channel::named(name).filter(|channel| counts(*channel)).ok_or_else(|| WordError::Reading {
        given: name.to_owned(),
        suggestion: nearest(name, all()),
        known: all().collect::<Vec<_>>().join(", "),
    })
}

fn held(word: &'static str, argument: &'static str, given: &Dynamic, to: &Bounds, of: D) -> Result<f64, WordError> {
    between(word, argument, given, (to.least, to.most), of)
}

fn length(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "time", given, &duty::TIME, D::Time)
}

fn pace(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "speed", given, &duty::SPEED, D::Speed)
}

fn opening(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "opening", given, &duty::OPENING, D::Ratio)
}

fn slowing(word: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    held(word, "deceleration", given, &duty::DECELERATION, D::Acceleration)
}

/// Speed and time of `hold`, with a check for exchanged arguments. They count as exchanged if the speed is beyond the
/// machine and the time would be a speed within its reach; or if the speed is a whole number of m/s but not of km/h,
/// and the time is a whole number of km/h or mph but not of thousandths of a second.
fn held_for(ride: &Ride, speed: &Dynamic, time: &Dynamic) -> Result<(f64, f64), WordError> {
    let (pace, length) = (pace("hold", speed)?, length("hold", time)?);
    let machine = ride.machine();
    let fastest = machine.motor.no_load / machine.vehicle.ratio * machine.vehicle.wheel_radius;
    let whole = |value: f64| (value - value.round()).abs() < 1e-9;
    let mut unit = ["km_h", "mph"].iter().filter_map(|w| UNITS.iter().find(|u| u.word == *w));
    let unit = unit.find(|u| length > 0.0 && whole(u.from_si(length)));
    let beyond = pace > 1.2 * fastest && length > 0.0 && length <= fastest;
    let looks = unit.is_some() && !whole(1000.0 * length) && whole(pace) && !whole(3.6 * pace);
    if !(beyond || looks) {
        return Ok((pace, length));
    }
    let meant =
        unit.map_or_else(|| format!("{}.m_s", short(length)), |u| format!("{}.{}", short(u.from_si(length)), u.word));
    Err(WordError::Swapped {
        speed: road_speed(pace),
        time: format!("{} s", short(length)),
        meant: format!("{meant}, {}.s", short(pace)),
    })
}

/// A deceleration and a time; two whole numbers may be one number with a decimal comma.
fn slowing_for(rate: &Dynamic, time: &Dynamic) -> Result<(f64, f64), WordError> {
    if let (Ok(rate), Ok(time @ 1..)) = (rate.as_int(), time.as_int()) {
        return Err(WordError::Comma { rate, time });
    }
    Ok((slowing("brake", rate)?, length("brake", time)?))
}

/// Registers the words of a ride.
pub fn register(engine: &mut Engine) {
    engine.register_type_with_name::<Ride>("ride").register_type_with_name::<Arc<Trace>>("trace");
    macro_rules! verb {
        ($name:literal, [$($arg:ident: $kind:ty),*] $segment:expr) => {
            engine.register_fn($name, |context: NativeCallContext, ride: &mut Ride, $($arg: $kind),*| -> Answer<()> {
                ride.take(&context, || Ok($segment))
            });
        };
    }
    verb!("idle", [time: Dynamic] Segment::Ride(
        Task::Idle,
        End::After(length("idle", &time)?)
    ));
    verb!("coast", [time: Dynamic] Segment::Ride(
        Task::Coast,
        End::After(length("coast", &time)?)
    ));
    verb!("motor_off", [time: Dynamic] Segment::Ride(
        Task::Off,
        End::After(length("motor_off", &time)?)
    ));
    verb!("park", [time: Dynamic] Segment::Ride(
        Task::Off,
        End::After(length("park", &time)?)
    ));
    verb!("launch", [speed: Dynamic] Segment::Ride(
        Task::Throttle(1.0),
        End::Reached {
            speed: pace("launch", &speed)?,
            within: PATIENCE
        }
    ));
    verb!("launch", [speed: Dynamic, share: Dynamic] {
        // The speed is read first: a decimal comma would split it into two numbers.
        let speed = pace("launch", &speed)?;
        Segment::Ride(Task::Throttle(opening("launch", &share)?), End::Reached { speed, within: PATIENCE })
    });
    verb!("throttle", [share: Dynamic, time: Dynamic] Segment::Ride(
        Task::Throttle(opening("throttle", &share)?),
        End::After(length("throttle", &time)?)
    ));
    engine.register_fn("hold", |context: NativeCallContext, ride: &mut Ride, speed: Dynamic, time: Dynamic| {
        let make = || held_for(ride, &speed, &time).map(|(v, t)| Segment::Ride(Task::Hold(v), End::After(t)));
        ride.take(&context, make)
    });
    verb!("brake", [rate: Dynamic] Segment::Ride(
        Task::Brake(slowing("brake", &rate)?),
        End::Still { within: PATIENCE }
    ));
    verb!("brake", [rate: Dynamic, time: Dynamic] {
        let (rate, time) = slowing_for(&rate, &time)?;
        Segment::Ride(Task::Brake(rate), End::After(time))
    });
    verb!("brake_to", [speed: Dynamic] Segment::Ride(
        Task::Brake(duty::EASY_BRAKE),
        End::Slowed {
            speed: pace("brake_to", &speed)?,
            within: PATIENCE
        }
    ));
    verb!("brake_to", [speed: Dynamic, rate: Dynamic] Segment::Ride(
        Task::Brake(slowing("brake_to", &rate)?),
        End::Slowed {
            speed: pace("brake_to", &speed)?,
            within: PATIENCE
        }
    ));
    verb!("follow", [trace: Arc<Trace>] {
        let end = trace.points.last().map_or(0.0, |p| p.0);
        Segment::Ride(Task::Follow(trace), End::After(end))
    });
    verb!("oil", [drops: Dynamic, name: &str] Segment::Service(
        Service::Oil {
            drops: held("oil", "number of drops", &drops, &duty::DROPS, D::Ratio)?,
            oil: variant::oil(name)?,
        }
    ));
    verb!("grease", [volume: Dynamic] Segment::Service(
        Service::Grease(held("grease", "volume", &volume, &duty::GREASE, D::Volume)?)
    ));
    verb!("set_fill", [fill: Dynamic] Segment::Service(
        Service::Found(held("set_fill", "oil fill", &fill, &duty::FILL, D::Ratio)?)
    ));
    verb!("found", [fill: Dynamic] Segment::Service(
        Service::Found(held("found", "oil fill", &fill, &duty::FILL, D::Ratio)?)
    ));
    for part in WEAR_PARTS.iter().filter(|row| row.renewal.as_ref().is_some_and(|new| new.about.is_some())) {
        let part = part.part;
        engine.register_fn(format!("new_{part}"), move |context: NativeCallContext, ride: &mut Ride| -> Answer<()> {
            ride.take(&context, || Ok(Segment::Service(Service::New(part))))
        });
    }
    register_settings(engine);
    register_readings(engine);
}

fn register_settings(engine: &mut Engine) {
    fn adjust(
        context: &NativeCallContext,
        ride: &Ride,
        (word, argument): (&'static str, &'static str),
        (path, value): (&str, &Dynamic),
    ) -> Answer<()> {
        let at = context.call_position();
        let value = of_setting(word, argument, path, value).map_err(|e| e.at(at))?;
        let mut machine = ride.machine();
        let path = variant::adjust(&mut machine, path, value).map_err(|e| WordError::from(e).at(at))?;
        machine.check().map_err(|e| WordError::from(variant::MachineError::from(e)).at(at))?;
        ride.act(context, Segment::Service(Service::Adjust(path, value)))?;
        ride.state.borrow_mut().machine = machine;
        Ok(())
    }
    macro_rules! setting {
        ($name:literal, $argument:literal, $path:literal) => {
            engine.register_fn($name, |context: NativeCallContext, ride: &mut Ride, value: Dynamic| -> Answer<()> {
                adjust(&context, ride, ($name, $argument), ($path, &value))
            });
        };
    }
    setting!("ambient", "temperature", "surroundings.ambient");
    setting!("wind", "speed", "surroundings.wind");
    setting!("grade", "slope", "surroundings.grade");
    engine.register_fn(
        "adjust",
        |context: NativeCallContext, ride: &mut Ride, path: &str, value: Dynamic| -> Answer<()> {
            adjust(&context, ride, ("adjust", "value"), (path, &value))
        },
    );
    engine.register_fn("new_spring", |context: NativeCallContext, ride: &mut Ride, speed: Dynamic| -> Answer<()> {
        let at = context.call_position();
        let speed = quantity("new_spring", "engagement speed", &speed, D::AngularSpeed).map_err(|e| e.at(at))?;
        let mut machine = ride.machine();
        variant::adjust(&mut machine, "clutch.engagement", speed).map_err(|e| WordError::from(e).at(at))?;
        machine.check().map_err(|e| WordError::from(variant::MachineError::from(e)).at(at))?;
        ride.act(&context, Segment::Service(Service::Spring(speed)))?;
        ride.state.borrow_mut().machine = machine;
        Ok(())
    });
}

fn register_readings(engine: &mut Engine) {
    engine.register_fn("celsius", |context: NativeCallContext, ride: &mut Ride, part: &str| -> Answer<FLOAT> {
        ride.temperature(&context, part).map(crate::read::units::celsius)
    });
    engine.register_fn("fahrenheit", |context: NativeCallContext, ride: &mut Ride, part: &str| -> Answer<FLOAT> {
        ride.temperature(&context, part).map(crate::read::units::fahrenheit)
    });
    engine.register_fn("reading", |context: NativeCallContext, ride: &mut Ride, name: &str| -> Answer<FLOAT> {
        let channel = known(name, |_| true).map_err(|e| e.at(context.call_position()))?;
        ride.read(&context, |simulation| simulation.reading(channel))
    });
    macro_rules! reading {
        ($($name:literal: $reading:expr),*) => { $(
            engine.register_get($name, |context: NativeCallContext, ride: &mut Ride| -> Answer<FLOAT> {
                ride.read(&context, $reading)
            });
        )* };
    }
    reading!(
        "clock": Simulation::clock,
        "fill": |s| s.reading(Channel::OilFill),
        "engagement": |s| s.reading(Channel::Engagement),
        "speed": |s| s.reading(Channel::VehicleSpeed)
    );
}

/// Reads a trace for `follow`.
pub fn read_trace(parts: &crate::read::parts_folder::PartsFolder, name: &str) -> Result<Arc<Trace>, WordError> {
    Ok(Arc::new(trace::read(name, &parts.read(name, ".csv")?)?))
}
