//! Faults of a run in words.

use crate::sheet::axis::extent;
use crate::words::compared::{LIMITED, channel, peak};
use crate::words::reading::{End, end, ends as end_of};
use crate::words::say::{self, percent};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::laws::margin::SEASON;
use slipsoak_engine::names::{Channel, Part, distinct};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned, Warning};
use slipsoak_engine::units::{HOUR, in_rpm};

/// The fault in a word or two.
pub(crate) const fn in_brief(fault: Fault) -> &'static str {
    match fault {
        Fault::Drags => "drags at idle",
        Fault::BushingDrives => "cold bushing moves it off at idle",
        Fault::RunsAway => "runs away on a slope",
        Fault::Overspeed => "motor overdriven downhill",
        Fault::TooSlow => "too slow for the duty",
        Fault::Beyond => "beyond the model",
        Fault::Early => "lasts under 1\u{a0}h",
        Fault::Grabs => "bushing grabs",
        Fault::Bond | Fault::Lining => "lining too hot",
        Fault::Dry => "runs dry",
        Fault::Stalls => "stalls",
        Fault::Additive => "wrong oil",
        Fault::Springs => "springs too hot",
        Fault::Near => "too near idle",
        Fault::Settles => "relaxes to idle",
    }
}

/// Margins of a whole new set of a run's springs over its idle, as hot as in the run and relaxed for a season, and as new, each less
/// that which it needs, rad/s; none if the springs are no weaker than such a set.
pub(crate) fn new_set(run: &Run) -> Option<[f64; 2]> {
    let idle = run.setting(&settings::motor::idle)?;
    let new = run.setting(&settings::clutch::engagement)?;
    let [settled, new] =
        [run.engagement.renewed?, new].map(|engages| Some(engages - idle - run.margin_needed(engages)?));
    Some([settled?, new?])
}

/// Leaves out what is found of runs with an oil that stays on the lining, which is none to keep, unless all have one.
pub(crate) fn leave_wrong_oils<'r, T>(found: &mut Vec<T>, run: impl Fn(&T) -> &'r Run) {
    let sound = |one: &T| run(one).warned(Warned::Additive).is_none();
    if found.iter().any(sound) {
        found.retain(sound);
    }
}

/// The hottest part of a run and its peak temperature, K.
fn hottest_part(run: &Run) -> Option<(Channel, f64)> {
    let all = Channel::ALL.into_iter().filter(|channel| channel.is_temperature());
    all.filter_map(|channel| Some((channel, peak(run, channel)?))).max_by(|a, b| a.1.total_cmp(&b.1))
}

/// The part to which a temperature channel belongs.
fn called(channel: Channel) -> &'static str {
    match channel {
        Channel::LiningSurface => "lining",
        Channel::DrumFace | Channel::Band => "drum",
        Channel::Web => "web of the drum",
        channel => channel.name(),
    }
}

/// The part that exceeds its limit by most in a run, its temperature and the limit, K; none if no limit is exceeded.
pub(crate) fn most_over(run: &Run) -> Option<(Warned, &'static str, f64, f64)> {
    let over = LIMITED.into_iter().filter_map(|(kind, part)| {
        // A dry washer has a lower limit; it is reported only if the other one is kept.
        let warning = run.warned(kind).filter(|_| kind != Warned::DryWasher || run.warned(Warned::Washer).is_none())?;
        Some((kind, part, warning.value, warning.limit))
    });
    over.max_by(|a, b| (a.2 - a.3).total_cmp(&(b.2 - b.3)))
}

/// Effect of a fault in these runs, of one or several machines.
pub(crate) fn does(fault: Fault, runs: &[&Run]) -> String {
    effect(fault, runs, runs.windows(2).all(|two| two[0].variant == two[1].variant))
}

/// What to check of a motor that cannot hold its own idle.
pub(crate) const OWN_IDLE: &str = "check motor.inertia, motor.throttle_lag, motor.drag and idle_kind, and whether the bushing (bushing.bore, bushing.length, bushing.clearance) and its cold oil suit a motor of this size";

/// Distance below which a machine has stood for all of its run, m.
const STANDS: f64 = 1.0;

/// Whether a bushing begins with less oil than that at which its service is due.
pub(crate) fn begins_overdue(run: &Run) -> bool {
    let first = run.windows.most.first().and_then(|row| channel(row, Channel::OilFill));
    first.zip(run.setting(&settings::limits::oil_service)).is_some_and(|(fill, due)| fill < due)
}

/// Effect of a fault in these runs, of one machine or of several.
pub(crate) fn effect(fault: Fault, runs: &[&Run], one: bool) -> String {
    let (s, es) = if one { ("s", "es") } else { ("", "") };
    let hottest = runs.iter().filter_map(|run| peak(run, Channel::LiningSurface)).fold(0.0, f64::max);
    let up_to = if runs.len() == 1 { "" } else { "up to " };
    match fault {
        Fault::Drags => format!("drag{s} at idle"),
        Fault::BushingDrives => {
            let all = runs.iter().filter_map(|run| run.warned(Warned::BushingDrives));
            let warmest = all.map(|warned| warned.value).fold(0.0, f64::max);
            format!("move{s} off at idle by the friction of a cold bushing, {up_to}{}", say::temperature(warmest))
        }
        Fault::RunsAway => {
            let all = runs.iter().filter_map(|run| run.warned(Warned::RunsAway));
            let most = all.map(|warned| warned.value).fold(0.0, f64::max);
            format!("run{s} away on a slope with its brake off, at up to {}", say::road_speed(most))
        }
        Fault::Overspeed => {
            let all = runs.iter().filter_map(|run| run.warned(Warned::Overspeed));
            let most = all.map(|warned| warned.value).fold(0.0, f64::max);
            format!("let{s} the descent drive the motor to {up_to}{}, beyond its governed speed", say::turns(most))
        }
        Fault::TooSlow if runs.iter().all(|run| run.distance.abs() < STANDS) => format!("do{es} not move off"),
        Fault::TooSlow => {
            let failed: Vec<&Warning> = runs.iter().filter_map(|run| run.warned(Warned::TooSlow)).collect();
            let (least, most) = extent(failed.iter().map(|w| w.value / w.limit));
            let starts = match failed.as_slice() {
                [all] if all.value >= all.limit => format!("all of {:.0} starts", all.limit),
                [one] => format!("{:.0} of {:.0} starts", one.value, one.limit),
                _ if least >= 1.0 => "all starts".to_owned(),
                _ => format!("up to {} of the starts", percent(most)),
            };
            format!("do{es} not reach the required speed in {starts}")
        }
        Fault::Beyond => {
            let hot: Vec<(Channel, f64)> = runs.iter().filter_map(|run| hottest_part(run)).collect();
            let limit = runs.iter().filter_map(|run| Some(run.warned(Warned::Beyond)?.limit)).fold(0.0, f64::max);
            match hot.iter().max_by(|a, b| a.1.total_cmp(&b.1)) {
                Some((part, most)) if *most > limit => {
                    let same = hot.iter().all(|(other, _)| called(*other) == called(*part));
                    let part = if same { format!("the {}", called(*part)) } else { "a part".to_owned() };
                    format!("heat{s} {part} to {up_to}{}, hotter than the model reaches", say::temperature(*most))
                }
                _ => format!("run{s} hotter than the model reaches"),
            }
        }
        Fault::Grabs => {
            let lives = || runs.iter().filter_map(|run| end(run)).map(|end| end.running);
            let when = say::times(lives().fold(f64::INFINITY, f64::min), lives().fold(0.0, f64::max));
            let overdue = runs.iter().filter(|run| begins_overdue(run)).count();
            let oil = match overdue {
                0 => ", before its oil is due",
                all if all == runs.len() => ", its oil overdue from the start",
                _ => "",
            };
            format!("let{s} the bushing grab its shaft after {when}{oil}")
        }
        Fault::Early => {
            let ends: Vec<End> = runs.iter().filter_map(|run| end(run)).collect();
            let low = ends.iter().map(|end| end.running).fold(f64::INFINITY, f64::min);
            let high = ends.iter().map(|end| end.running).fold(0.0, f64::max);
            let when = if say::time(low) == say::time(high) { say::time(high) } else { say::times(low, high) };
            let part = ends.first().map_or(Part::Lining, |end| end.part);
            match part {
                _ if ends.iter().any(|end| end.part != part) => {
                    let all = distinct(ends.iter().map(|end| end_of(end.part)));
                    format!("last{s} only {when}, until {}", all.join(" or "))
                }
                Part::Charring => format!("char{s} the washer after {when}"),
                Part::Seized => format!("let{s} the bushing grab after {when}"),
                Part::CoverGap => format!("let{s} drum and cover touch after {when}"),
                part => format!("wear{s} out the {part} in {when}"),
            }
        }
        Fault::Bond | Fault::Lining => format!("overheat{s} the lining, {up_to}{}", say::temperature(hottest)),
        Fault::Dry => format!("run{s} out of oil within the hour"),
        Fault::Stalls if runs.iter().all(|run| run.stalls_by_itself()) => {
            format!("cannot hold {} own idle: the motor stalls with the shoes off", if one { "its" } else { "their" })
        }
        Fault::Stalls => format!("stall{s} the motor"),
        Fault::Additive => {
            let has = if one { "has" } else { "have" };
            format!("{has} oil with PTFE, silicone or a friction modifier, which stays on the lining")
        }
        Fault::Springs => {
            let all: Vec<(f64, f64)> = runs.iter().filter_map(|run| run.springs_unknown()).collect();
            let peak = all.iter().map(|n| n.0).fold(0.0, f64::max);
            let limit = all.iter().map(|n| n.1).fold(f64::INFINITY, f64::min);
            let [peak, limit] = [peak, limit].map(say::temperature);
            format!("heat{s} the springs to {up_to}{peak}, beyond {limit}, to which their relaxation is known")
        }
        Fault::Near | Fault::Settles => near(fault, runs, one),
    }
}

/// That springs engage, hot, or relaxed for a season, too near to the idle: by how much they all are over it.
fn near(fault: Fault, runs: &[&Run], one: bool) -> String {
    let all: Vec<(f64, f64)> = runs
        .iter()
        .filter_map(|run| run.too_near())
        .map(|(_, over, needed)| (rounded(over), rounded(needed)))
        .collect();
    let (least, most) = extent(all.iter().map(|near| near.0));
    let (fewest, needed) = extent(all.iter().map(|near| near.1));
    let up_to = if fewest < needed { "up to " } else { "" };
    let (s, es) = if one { ("s", "es") } else { ("", "") };
    let season = format!("{:.0} h", SEASON / HOUR);
    let where_to = match (least, most) {
        (_, ..0.0) if least < most => format!("{:.0} to {:.0} rpm below idle", -most, -least),
        (_, ..0.0) => format!("{:.0} rpm below idle", -least),
        (..0.0, _) => format!("from {:.0} rpm below to {most:.0} above idle", -least),
        _ if least < most => format!("{least:.0} to {most:.0} rpm above idle"),
        _ => format!("{least:.0} rpm above idle"),
    };
    match fault {
        Fault::Near if least < 0.0 => format!("engage{s} {where_to} once hot, {up_to}{needed:.0} above it needed"),
        Fault::Near if least < most => format!("engage{s} only {where_to} once hot, {up_to}{needed:.0} needed"),
        Fault::Near => format!("engage{s} only {where_to}, {up_to}{needed:.0} needed"),
        _ if most <= 0.0 => format!("drag{s} at idle after relaxing for {season}"),
        _ => {
            let to = if least < 0.0 { "" } else { "to " };
            format!("relax{es} {to}{where_to} in {season}, {up_to}{needed:.0} needed")
        }
    }
}

/// A speed in whole rpm.
fn rounded(speed: f64) -> f64 {
    in_rpm(speed).round()
}

/// Why a run's machine must not be fitted for its duty. The margin over the idle counts where there is a choice: the springs of one
/// machine can be looked at.
pub(crate) fn unfit(record: &Record, run: &Run) -> Option<Fault> {
    let choice = record.runs.iter().any(|other| other.variant != run.variant);
    if choice { run.fault() } else { run.own_fault() }
}
