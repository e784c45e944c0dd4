//! Reasons for and against a spring, from its computed results.

use super::wish::Wish;
use crate::document::reason::{Heated, Reason};
use crate::document::record::Warned;
use crate::document::spring_choice::{Crawl, Drag, Found};
use crate::laws::margin::share_touching;
use crate::laws::wear::relaxation_known;
use crate::names::Part;
use crate::parts::Machine;

/// Running time in which no part may wear out, s.
const AT_ONCE: f64 = 3600.0;
/// All reasons: those against the spring, then warnings, then facts.
pub(super) fn reasons(wish: &Wish, machine: &Machine, found: &Found) -> Vec<Reason> {
    let mut all = at_idle(wish, machine, found);
    all.extend(locking(wish, found));
    all.extend(starting(machine, found));
    all.extend(heat(wish, machine, found));
    all.extend(wear(wish, machine, found));
    all.extend(facts(wish, machine, found));
    all.sort_by_key(Reason::weight);
    all
}

fn at_idle(wish: &Wish, machine: &Machine, f: &Found) -> Vec<Reason> {
    let highest = machine.motor.idle + wish.wander;
    if let Some(drag) = f.drag {
        let Drag { share, power, creep, stalls } = drag;
        let idle_kind = machine.idle_kind;
        return vec![Reason::Drags { settled: f.settled, highest, share, power, creep, stalls, idle_kind }];
    }
    if let Some((peak, limit)) = beyond_known(wish, machine, f) {
        return vec![Reason::SpringsUnknown { peak, limit }];
    }
    let mut all = vec![Reason::Clear { settled: f.settled, margin: f.margin, highest }];
    if f.margin < f.floor {
        let shoes = machine.clutch.shoes.round() as u32;
        let share = share_touching(f.margin, f.settled, shoes, machine.tolerances());
        all.push(Reason::TooNear { margin: f.margin, floor: f.floor, share });
    }
    all
}

/// Peak temperature of springs that grow hotter than their relaxation is known to, and that limit, K.
pub(super) fn beyond_known(wish: &Wish, machine: &Machine, f: &Found) -> Option<(f64, f64)> {
    let limit = relaxation_known(machine.clutch.relaxation, machine.clutch.relaxation_doubling, wish.season);
    (f.springs() > limit).then_some((f.springs(), limit))
}

fn locking(wish: &Wish, f: &Found) -> Vec<Reason> {
    let mut all = vec![];
    if f.balance.is_none() {
        all.push(Reason::NeverLocks);
    } else if let Some(steepest) = f.steepest.filter(|s| *s < wish.grade) {
        all.push(Reason::TooSteep { grade: wish.grade, steepest });
    } else if f.launch.locks.is_none() {
        all.push(Reason::LocksLate { grade: wish.grade, warm: false });
    } else if f.start.is_some_and(|start| start.locks.is_none()) {
        all.push(Reason::LocksLate { grade: wish.grade, warm: true });
    }
    if f.launch.back > 1e-3 {
        all.push(Reason::RollsBack { grade: wish.grade, distance: f.launch.back, speed: f.launch.back_speed });
    }
    all
}

/// A start on the slope from the hottest stop of the use, and every start on it.
fn starting(machine: &Machine, f: &Found) -> Vec<Reason> {
    let (limits, bears) = (&machine.limits, f.bears);
    let Some(start) = f.start else { return vec![] };
    let mut all = vec![];
    all.extend(start.burns.map(|_| Reason::StartBurns { start, bears }));
    if start.lining > limits.lining_bond && f.peaks.lining <= limits.lining_bond {
        all.push(Reason::Beyond { peak: start.lining });
    }
    // What the use itself heats so far is said of it.
    if start.lining > limits.lining_most {
        let said = f.peaks.lining > limits.lining_most;
        all.extend((!said).then_some(Reason::StartTooHot { start, limit: limits.lining_most, bears }));
    } else if start.lining > limits.lining_steady {
        all.push(Reason::StartHot { start, limit: limits.lining_steady });
    } else {
        all.push(Reason::Starts(start));
    }
    all.extend(f.each_start.map(|each| Reason::EachStart {
        grade: start.grade,
        lining: each.lining,
        limit: limits.lining_most,
        lasts: each.ended_by.zip(each.life),
    }));
    all
}

fn heat(wish: &Wish, machine: &Machine, f: &Found) -> Vec<Reason> {
    let (limits, peaks) = (&machine.limits, &f.peaks);
    let mut all = vec![];
    if peaks.lining > limits.lining_most {
        all.push(Reason::TooHot { part: Heated::Lining, peak: peaks.lining, limit: limits.lining_most });
    }
    if peaks.lining > limits.lining_bond {
        all.push(Reason::Beyond { peak: peaks.lining });
    }
    if let Some((peak, limit)) = peaks.beyond {
        all.push(Reason::NoLife { peak, limit });
    }
    if peaks.washer > limits.washer_char {
        all.push(Reason::TooHot { part: Heated::Washer, peak: peaks.washer, limit: limits.washer_char });
    }
    let speed = wish.crawl.unwrap_or(0.0);
    let held = |of: fn(&Crawl) -> f64| f.crawl.as_ref().map_or(0.0, of);
    for (part, peak, crawl, limit, beyond) in [
        (Heated::Lining, peaks.lining, held(|c| c.lining), limits.lining_steady, limits.lining_most),
        (Heated::Bushing, peaks.bushing, held(|c| c.bushing), limits.bushing_warning, f64::INFINITY),
        (Heated::Washer, peaks.washer, held(|c| c.washer), limits.washer_oiled, limits.washer_char),
        (Heated::DryWasher, peaks.washer_dry.unwrap_or(0.0), 0.0, limits.washer_dry, limits.washer_char),
        (Heated::Springs, f.springs(), 0.0, limits.spring_most, f64::INFINITY),
    ] {
        if crawl > beyond {
            all.push(Reason::CrawlTooHot { speed, part, peak: crawl, limit: beyond });
        } else if crawl > limit && peak <= limit && part != Heated::Lining {
            all.push(Reason::CrawlHot { speed, part, peak: crawl, limit });
        }
        if peak > limit && peak <= beyond {
            all.push(Reason::Hot { part, peak, limit });
        }
    }
    all
}

fn wear(wish: &Wish, machine: &Machine, f: &Found) -> Vec<Reason> {
    let mut all = vec![];
    if f.fill < machine.limits.oil_end {
        all.push(Reason::OilGone { fill: f.fill.max(0.0), after: wish.simulated });
    }
    // A bushing that grabs its shaft within the use is said once, and before that it seizes for good.
    let grabs = f.warnings.iter().any(|warning| warning.kind == Warned::Grabs);
    if let Some((after, part)) = f.life.zip(f.ended_by).filter(|(_, part)| !(grabs && *part == Part::Seized)) {
        // A bushing that grabs may drive the machine: that within a season is no life.
        let least = if part == Part::Seized { wish.season } else { AT_ONCE };
        all.push(if after < least { Reason::WearsOut { part, after } } else { Reason::Lasts { part, after } });
    }
    all.extend(f.warnings.iter().map(|warning| Reason::InUse(*warning)));
    all
}

fn facts(wish: &Wish, machine: &Machine, f: &Found) -> Vec<Reason> {
    let mut all = vec![];
    if let Some(b) = f.balance {
        all.push(Reason::Locks {
            motor: b.motor,
            torque: b.torque,
            speed: b.vehicle,
            steepest: f.steepest,
            bears: f.bears,
        });
    }
    if let Some((time, locks)) = f.launch.time.zip(f.launch.locks) {
        all.push(Reason::Launch { grade: wish.grade, speed: f.launch.speed, time, locks, heat: f.launch.heat });
    }
    all.push(Reason::Peaks { lining: f.peaks.lining, drum: f.peaks.drum, power: f.peaks.slip });
    if let Some(slipping) = wish.usage.slipping(machine) {
        all.push(Reason::HeldSlipping { speed: slipping.held, lock: slipping.lock });
    }
    let speed = wish.crawl.unwrap_or(0.0);
    all.push(match f.crawl {
        Some(c) if c.power > 1.0 => {
            let limit = machine.limits.lining_steady;
            Reason::CrawlSlips { speed, power: c.power, lining: c.lining, limit, lock: f.lock_speed }
        }
        Some(_) => Reason::CrawlLocked { speed },
        None => Reason::Steady { lock: f.lock_speed },
    });
    all
}
