//! Trials of a spring on the machine: the whole use, the idle on the brake, one launch, the steepest slope, a slow speed held.

use super::lock;
use super::wish::Wish;
use crate::document::record::{Run, Warned};
use crate::document::spring_choice::{Crawl, Drag, EachStart, Launch, Peaks};
use crate::duty::{End, Segment, Task};
use crate::hill_start::{PATIENCE, Stop, launch_to, launched, ridden_to_stops};
use crate::names::{Channel, Happening, IdleKind, TaskName};
use crate::parts::{Machine, settings};
use crate::simulate::{FINER, Failure, Options, Simulation, Tolerance, repeated};
use crate::usage::{last, most_between};

/// Number of bisections of a slope: to about a hundredth of it.
const HALVINGS: u32 = 7;
/// Tolerance of the integrator where the machine creeps.
const CREEPING: Tolerance = Tolerance::alike(FINER);
/// Duration of the slow speed, s.
const CRAWL: f64 = 600.0;

/// A ride of a few tasks, repeated with smaller steps if the integration fails.
fn ridden(machine: &Machine, tolerance: Tolerance, tasks: &[Segment]) -> Result<Run, Failure> {
    repeated(tolerance, |tolerance| {
        let mut sim = Simulation::new(machine.clone(), Options { tolerance, ..Options::default() })?;
        for task in tasks {
            sim.perform(task)?;
        }
        sim.finish(&machine.name, "a few tasks")
    })
}

/// Time after which the clutch first locks up once the first task of a ride has ended, s.
fn locks(run: &Run) -> Option<f64> {
    let start = run.segments.first()?.end;
    run.events.iter().find(|e| e.what == Happening::Locks && e.time > start).map(|e| e.time - start)
}

/// The complete use, and its hottest stop.
pub(super) fn stop_and_go(wish: &Wish, machine: &Machine) -> Result<(Run, Stop), Failure> {
    repeated(Tolerance::RUNS, |tolerance| {
        let (sim, stop) = ridden_to_stops(&wish.usage, machine, wish.simulated, tolerance)?;
        Ok((sim.finish(&machine.name, &wish.usage.name)?, stop))
    })
}

/// The use with every start on the slope; none if the use is ridden on it, or has no such start.
pub(super) fn each_start(wish: &Wish, machine: &Machine) -> Result<Option<EachStart>, Failure> {
    let Some(usage) = wish.usage.starting_on(machine, wish.grade) else { return Ok(None) };
    let run = repeated(Tolerance::RUNS, |tolerance| {
        let mut sim = Simulation::new(machine.clone(), Options { tolerance, ..Options::default() })?;
        usage.ride(&mut sim, wish.simulated)?;
        sim.finish(&machine.name, &usage.name)
    })?;
    let end = run.first_worn().and_then(|part| Some((part.running?, part.part)));
    Ok(Some(EachStart {
        lining: Channel::LiningSurface.of(&run.overall.most),
        life: end.map(|e| e.0),
        ended_by: end.map(|e| e.1),
    }))
}

/// Highest temperatures of the use.
pub(super) fn peaks(run: &Run) -> Peaks {
    let most = |channel: Channel| channel.of(&run.overall.most);
    let (half, late) = (0.5 * run.duration, 0.75 * run.duration);
    let lining = |from, until| most_between(run, Channel::LiningSurface, from, until);
    Peaks {
        lining: most(Channel::LiningSurface),
        drum: most(Channel::DrumFace),
        bushing: most(Channel::Bushing),
        washer: most(Channel::Washer),
        washer_dry: run.warned(Warned::DryWasher).map(|w| w.value),
        shoes: most(Channel::Shoes),
        beyond: run.warned(Warned::Beyond).map(|w| (w.value, w.limit)),
        slip: Channel::SlipPower.of(&run.overall.mean),
        rising: lining(late, run.duration) - lining(half, late),
    }
}

/// Stands on the brake for a minute at the highest idle with the settled spring, then releases it; if the kind of idle is
/// not stated, the worst of both.
pub(super) fn drag(wish: &Wish, machine: &Machine, settled: f64) -> Result<Drag, Failure> {
    let kinds = machine.idle_kind.possible().iter();
    let of_kinds: Vec<Drag> = kinds.map(|kind| drag_with(*kind, wish, machine, settled)).collect::<Result<_, _>>()?;
    let worst = |a: Drag, b: Drag| Drag {
        share: a.share,
        power: a.power.max(b.power),
        creep: a.creep.max(b.creep),
        stalls: a.stalls || b.stalls,
    };
    Ok(of_kinds.into_iter().reduce(worst).expect("an idle is of some kind"))
}

fn drag_with(idle_kind: IdleKind, wish: &Wish, machine: &Machine, settled: f64) -> Result<Drag, Failure> {
    let mut worst = Machine { idle_kind, ..machine.clone() };
    worst.motor.idle += wish.wander;
    // Of a set with a weak spring all then touch where the weak one does, which errs to the safe side.
    worst.fit_set();
    worst.clutch.engagement = settled.max(settings::clutch::engagement.least);
    // A spring so weak that its rate alone holds the shoes cannot be simulated settled; when new it drags less.
    if worst.preload() < 0.0 {
        worst.clutch.engagement = machine.clutch.engagement;
    }
    let tasks = [Segment::Ride(Task::Idle, End::After(60.0)), Segment::Ride(Task::Coast, End::After(20.0))];
    let run = ridden(&worst, CREEPING, &tasks)?;
    let over = machine.motor.idle + wish.wander - settled;
    Ok(Drag {
        share: if wish.wander > 0.0 { (over / (2.0 * wish.wander)).min(1.0) } else { 1.0 },
        power: last(&run, TaskName::Idle).map_or(0.0, |(e, ..)| Channel::SlipPower.of(&e.mean)),
        creep: last(&run, TaskName::Coast).map_or(0.0, |(e, ..)| Channel::VehicleSpeed.of(&e.most)),
        stalls: run.events.iter().any(|e| e.what == Happening::Stalls),
    })
}

/// A launch at full throttle on the slope to a speed, continued for the time to lock up.
pub(super) fn launch(wish: &Wish, machine: &Machine) -> Result<Launch, Failure> {
    let mut machine = machine.clone();
    machine.surroundings.grade = wish.grade;
    let speed = launch_to(&machine);
    let run = ridden(&machine, CREEPING, &launched(speed))?;
    let mut throttled = run.segments.iter().filter(|s| s.task == TaskName::Throttle);
    let heat = throttled.clone().map(|s| Channel::SlipPower.of(&s.extremes.mean) * (s.end - s.start)).sum();
    let first = throttled.next();
    let reached = first.filter(|_| run.launched());
    let (back, back_speed) = rolled_back(&run, first.map_or(0.0, |s| s.start));
    Ok(Launch { speed, time: reached.map(|s| s.end - s.start), locks: locks(&run), heat, back, back_speed })
}

/// Distance, m, and speed, m/s, at which a machine rolled back after a time.
fn rolled_back(run: &Run, start: f64) -> (f64, f64) {
    let throttled = run.segments.iter().filter(|s| s.end > start);
    let speed = throttled.map(|s| -Channel::VehicleSpeed.of(&s.extremes.least)).fold(0.0, f64::max);
    let mut far = 0.0;
    let mut from = 0.0;
    for (end, row) in run.windows.end.iter().zip(&run.windows.mean) {
        if *end > start {
            far += (-Channel::VehicleSpeed.of(row)).max(0.0) * (end - from);
        }
        from = *end;
    }
    (far, speed)
}

/// Whether a start at full throttle on a slope locks up in time.
fn locks_on(machine: &Machine, grade: f64) -> Result<bool, Failure> {
    let mut machine = machine.clone();
    machine.surroundings.grade = grade;
    let tasks = [Segment::Ride(Task::Idle, End::After(5.0)), Segment::Ride(Task::Throttle(1.0), End::After(PATIENCE))];
    Ok(locks(&ridden(&machine, CREEPING, &tasks)?).is_some())
}

/// Steepest slope, rise over run, on which a start from cold locks up within half a minute, by bisection below the
/// limit by torque alone; none if it does not lock up on level ground.
pub(super) fn steepest(machine: &Machine) -> Result<Option<f64>, Failure> {
    let Some(bound) = lock::steepest(machine).filter(|s| *s > 0.0) else { return Ok(None) };
    if !locks_on(machine, 0.0)? {
        return Ok(None);
    }
    let (mut low, mut high) = (0.0, bound.min(0.5));
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if locks_on(machine, middle)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Some(low))
}

/// A slow speed held for ten minutes.
pub(super) fn crawl(machine: &Machine, speed: f64) -> Result<Crawl, Failure> {
    let held = [CRAWL - 60.0, 60.0].map(|time| Segment::Ride(Task::Hold(speed), End::After(time)));
    let run = ridden(machine, Tolerance::RUNS, &held)?;
    let most = |channel: Channel| channel.of(&run.overall.most);
    Ok(Crawl {
        power: last(&run, TaskName::Hold).map_or(0.0, |(e, ..)| Channel::SlipPower.of(&e.mean)),
        lining: most(Channel::LiningSurface),
        bushing: most(Channel::Bushing),
        washer: most(Channel::Washer),
        shoes: most(Channel::Shoes),
    })
}
