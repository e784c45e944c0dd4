//! Judgement of one spring on the machine.

use super::reasons::reasons;
use super::trials::{crawl, drag, each_start, launch, peaks, steepest, stop_and_go};
use super::wish::Wish;
use crate::document::reason::Reason;
use crate::document::record::{Warned, Warning};
use crate::document::spring_choice::{Balance, Found, Judged};
use crate::document::verdict::Verdict;
use crate::laws::margin::margin_floor;
use crate::names::Channel;
use crate::parts::{Invalid, MOST_SHOES, Machine};
use crate::simulate::{Failure, balance, cold_idle, full_throttle, lock_up_speed, settled};
use crate::spread::first_worn_range;
use crate::statistics::NINETY_FIVE;

/// Warnings of the stop-and-go that no other result of a spring shows.
const ALSO_WARNED: [Warned; 20] = [
    Warned::RunsAway,
    Warned::Overspeed,
    Warned::TooSlow,
    Warned::BushingDrives,
    Warned::Seizes,
    Warned::Grabs,
    Warned::Squeals,
    Warned::LetGo,
    Warned::Stall,
    Warned::Fire,
    Warned::Vapour,
    Warned::Smokes,
    Warned::Additive,
    Warned::Glaze,
    Warned::BushingLoad,
    Warned::OutOfReach,
    Warned::Overrun,
    Warned::NoBraking,
    Warned::Launch,
    Warned::Brake,
];

/// A spring of a stock.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// name
    pub name: String,
    /// engagement speed in this clutch, new and at 20 °C, rad/s
    pub engagement: f64,
    /// spring rate per shoe, N/m; that of the machine if not given
    pub rate: Option<f64>,
}

/// Judges one spring. Fails only if a simulation fails; a spring with which the machine cannot be built does not fit.
pub fn judge(wish: &Wish, spring: &Spring) -> Result<Judged, Failure> {
    let mut machine = wish.machine.clone();
    // Springs are fitted as a set: a weak or broken one of the machine is taken out.
    machine.fit_set();
    machine.clutch.engagement = spring.engagement;
    machine.clutch.spring_rate = spring.rate.unwrap_or(machine.clutch.spring_rate);
    judged(wish, spring.name.clone(), &machine)
}

/// Judges the springs that the machine has, a weak or broken one among them.
pub(super) fn judge_own(wish: &Wish) -> Result<Judged, Failure> {
    judged(wish, wish.machine.name.clone(), &wish.machine)
}

fn judged(wish: &Wish, name: String, machine: &Machine) -> Result<Judged, Failure> {
    let engagement = machine.clutch.engagement;
    let (reasons, found) = match machine.check() {
        Ok(()) => {
            let found = find(wish, &scattered(machine))?;
            (reasons(wish, machine, &found), Some(found))
        }
        Err(Invalid::NeverEngages { .. }) => {
            (vec![Reason::NeverEngages { engagement, top: machine.motor.no_load }], None)
        }
        Err(Invalid::NoPreload { preload, .. }) => (vec![Reason::NoPreload { engagement, preload }], None),
        Err(other) => return Err(other.into()),
    };
    Ok(Judged { name, engagement, verdict: Verdict::of(&reasons), reasons, found })
}

/// The machine with springs that scatter: by what it gives, or else as assumed, if its shoes are followed one by one.
fn scattered(machine: &Machine) -> Machine {
    let mut machine = machine.clone();
    if machine.clutch.shoes <= MOST_SHOES as f64 {
        machine.springs.scatter = machine.tolerances().spring;
    }
    machine
}

fn find(wish: &Wish, machine: &Machine) -> Result<Found, Failure> {
    let (run, stop) = stop_and_go(wish, machine)?;
    let peaks = peaks(&run);
    let start = (wish.grade > 0.0).then(|| stop.start(wish.grade)).transpose()?;
    let limit = machine.lining_limit();
    let steepest = steepest(machine)?;
    let bears = stop.bears(start, steepest, limit)?;
    let [_, ridden] = wish.usage.ground(machine);
    let borne =
        start.is_some_and(|start| wish.grade > ridden.max(0.0) && start.burns.is_none() && start.lining <= limit);
    let crawl = wish.crawl.map(|speed| crawl(machine, speed)).transpose()?;
    let hottest = peaks.springs(start, crawl);
    // The least margin allows for the scatter within a set.
    let mut even = machine.clone();
    even.springs.scatter = 0.0;
    let settled = settled(&even, hottest, wish.season);
    let highest = machine.motor.idle + wish.wander;
    let end = run.first_worn().and_then(|part| Some((part.running?, part.part)));
    let mut warnings: Vec<Warning> = run.warnings.iter().filter(|w| ALSO_WARNED.contains(&w.kind)).copied().collect();
    if !warnings.iter().any(|w| w.kind == Warned::BushingDrives) {
        warnings.extend(cold_idle(machine, highest)?);
    }
    Ok(Found {
        settled,
        margin: settled - highest,
        floor: margin_floor(settled, machine.clutch.shoes.round() as u32, machine.tolerances(), NINETY_FIVE),
        drag: if settled < highest { Some(drag(wish, machine, settled)?) } else { None },
        lock_speed: lock_up_speed(machine),
        balance: balance(machine).map(|w| Balance {
            motor: w,
            torque: full_throttle(machine, w),
            vehicle: w * machine.speed_per_drum(),
        }),
        launch: launch(wish, machine)?,
        start,
        each_start: if borne { each_start(wish, machine)? } else { None },
        peaks,
        fill: run.windows.mean.last().map_or(1.0, |row| Channel::OilFill.of(row)),
        warnings,
        crawl,
        steepest,
        bears,
        life: end.as_ref().map(|e| e.0),
        ended_by: end.map(|e| e.1),
        range: first_worn_range(run.running_lives(), machine.lining_kind, &wish.known),
    })
}
