//! Starts on slopes, from where a use leaves the clutch hottest.

pub use crate::document::hill_start::HillStart;

use crate::document::record::Warned;
use crate::duty::{EASY_BRAKE, End, Segment, Service, Task};
use crate::names::{Channel, Happening, TaskName};
use crate::parts::{Machine, settings};
use crate::simulate::{Failure, Held, Options, Simulation, Tolerance, repeated};
use crate::usage::{Usage, governed_speed};

/// Target speed of a launch, as a share of the governed speed.
const LAUNCH_TO: f64 = 0.8;
/// Time limit of a launch, s, and the time at full throttle after it.
pub(crate) const PATIENCE: f64 = 30.0;
/// Number of bisections of a slope: to about a fiftieth of it.
const HALVINGS: u32 = 5;
/// Speed below which a machine counts as standing, m/s.
const STANDS: f64 = 0.05;

/// Target speed of a launch, m/s.
pub(crate) fn launch_to(machine: &Machine) -> f64 {
    LAUNCH_TO * governed_speed(machine)
}

/// A launch at full throttle to a speed, continued for the time to lock up.
pub(crate) const fn launched(speed: f64) -> [Segment; 3] {
    [
        Segment::Ride(Task::Idle, End::After(5.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed, within: PATIENCE }),
        Segment::Ride(Task::Throttle(1.0), End::After(PATIENCE)),
    ]
}

/// Where a use leaves the lining hottest and the machine stands, or its end if it never does.
pub(crate) struct Stop {
    held: Held,
    lining: Option<f64>,
}

/// A use ridden for some time, s, and its hottest stop.
pub(crate) fn ridden_to_stops(
    usage: &Usage,
    machine: &Machine,
    time: f64,
    tolerance: Tolerance,
) -> Result<(Simulation, Stop), Failure> {
    let mut sim = Simulation::new(machine.clone(), Options { tolerance, ..Options::default() })?;
    let mut hottest: Option<(f64, Held)> = None;
    usage.ride_watched(&mut sim, time, &mut |sim| {
        let lining = sim.reading(Channel::LiningSurface);
        let stands = sim.reading(Channel::VehicleSpeed).abs() < STANDS && sim.halted().is_none();
        if stands && hottest.as_ref().is_none_or(|(known, _)| lining > *known) {
            hottest = Some((lining, sim.hold()));
        }
    })?;
    let stop = hottest
        .map_or_else(|| Stop { held: sim.hold(), lining: None }, |(lining, held)| Stop { held, lining: Some(lining) });
    Ok((sim, stop))
}

impl Stop {
    /// A start at full throttle from it on a slope, rise over run.
    pub fn start(&self, grade: f64) -> Result<HillStart, Failure> {
        repeated(Tolerance::RUNS, |tolerance| {
            let mut sim = Simulation::from_held(self.held.clone(), Options { tolerance, ..Options::default() })?;
            if self.lining.is_none() {
                sim.perform(&Segment::Ride(Task::Brake(EASY_BRAKE), End::Still { within: 2.0 * PATIENCE }))?;
            }
            sim.perform(&Segment::Service(Service::Adjust(&settings::surroundings::grade, grade)))?;
            let speed = launch_to(sim.machine());
            let from = sim.clock();
            for task in &launched(speed) {
                sim.perform(task)?;
            }
            let run = sim.finish("machine", "a start")?;
            let throttled = || run.segments.iter().filter(|s| s.start >= from && s.task == TaskName::Throttle);
            let begins = throttled().next().map_or(from, |s| s.start);
            let locks = run.events.iter().find(|e| e.what == Happening::Locks && e.time > begins);
            let most = |channel: Channel| throttled().map(|s| channel.of(&s.extremes.most)).fold(0.0, f64::max);
            Ok(HillStart {
                grade,
                locks: locks.map(|e| e.time - begins),
                heat: throttled().map(|s| Channel::SlipPower.of(&s.extremes.mean) * (s.end - s.start)).sum(),
                lining: most(Channel::LiningSurface),
                shoes: most(Channel::Shoes),
                burns: run.warned(Warned::LetGo).map(|w| w.value),
            })
        })
    }

    /// Steepest slope, rise over run, on which a start from it is borne with the lining within a limit, K, by bisection below a bound
    /// from what is known of one start; none if none is borne on level ground.
    pub fn bears(&self, known: Option<HillStart>, bound: Option<f64>, limit: f64) -> Result<Option<f64>, Failure> {
        let borne = |grade: f64| -> Result<bool, Failure> { Ok(self.start(grade)?.is_borne(limit)) };
        let Some(bound) = bound else { return Ok(None) };
        let (mut low, mut high) = match known {
            Some(start) if start.is_borne(limit) => (start.grade, bound.max(start.grade)),
            Some(start) => (0.0, bound.min(start.grade)),
            None => (0.0, bound),
        };
        if known.is_none_or(|start| start.grade < high) && borne(high)? {
            return Ok(Some(high));
        }
        if low == 0.0 && !borne(0.0)? {
            return Ok(None);
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if borne(middle)? {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Some(low))
    }
}
