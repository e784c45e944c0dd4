//! Why a spring fits or does not, in sentences with their numbers.

use super::answer::Found;
use super::judge::Wish;
use crate::parts::{Invalid, Machine};

/// Revolutions per minute.
pub(super) fn rpm(w: f64) -> String {
    format!("{:.0} rpm", w * 30.0 / std::f64::consts::PI)
}

fn speed(v: f64) -> String {
    format!("{:.1} km/h ({:.1} mph)", 3.6 * v, v / 0.44704)
}

fn heat(t: f64) -> String {
    format!("{:.0} °C ({:.0} °F)", t - 273.15, (t - 273.15) * 1.8 + 32.0)
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// A slope, to a tenth of a per cent.
fn steep(grade: f64) -> String {
    format!("{:.1} %", 100.0 * grade)
}

fn slope(grade: f64) -> String {
    if grade == 0.0 { "on the level".to_owned() } else { format!("on a slope of {}", steep(grade)) }
}

/// What speaks against a spring, and what else there is to know.
pub(super) fn reasons(wish: &Wish, machine: &Machine, found: Result<&Found, &Invalid>) -> (Vec<String>, Vec<String>) {
    match found {
        Ok(found) => (against(wish, machine, found), others(wish, machine, found)),
        Err(invalid) => (vec![format!("it cannot be fitted: {invalid}")], vec![]),
    }
}

fn against(wish: &Wish, machine: &Machine, f: &Found) -> Vec<String> {
    let mut list = vec![];
    let highest = machine.motor.idle + wish.wander;
    if let Some(drag) = f.drag {
        let creep = if drag.creep > 0.05 {
            format!("; off the brake the machine creeps to {} in 20 s: idle creep can hurt someone", speed(drag.creep))
        } else {
            String::new()
        };
        list.push(format!(
            "it drags at idle: hot and relaxed it engages at {}, and the idle wanders up to {} ({} of its wander lies above): {:.0} W while standing{creep}",
            rpm(f.settled),
            rpm(highest),
            percent(drag.share),
            drag.power
        ));
    }
    if f.balance.is_none() {
        list.push("it never locks: at no speed does it take the motor's full torque".to_owned());
    } else if let Some(steepest) = f.steepest.filter(|s| *s < wish.grade) {
        list.push(format!(
            "it does not lock on the slope of {}: the steepest on which it locks within half a minute is {}",
            steep(wish.grade),
            steep(steepest)
        ));
    } else if f.launch.locks.is_none() {
        list.push(format!("it does not lock within a minute of full throttle {}", slope(wish.grade)));
    }
    let most = machine.limits.lining_most;
    if f.peaks.lining > most {
        list.push(format!(
            "its lining comes to {} in the stop-and-go; the most it stands is {}",
            heat(f.peaks.lining),
            heat(most)
        ));
    }
    if let Some(crawl) = f.crawl.filter(|c| c.lining > most) {
        list.push(format!(
            "held at {} its lining comes to {} within ten minutes; the most it stands is {}",
            speed(wish.crawl.unwrap_or(0.0)),
            heat(crawl.lining),
            heat(most)
        ));
    }
    list
}

fn others(wish: &Wish, machine: &Machine, f: &Found) -> Vec<String> {
    let mut list = vec![];
    let highest = machine.motor.idle + wish.wander;
    if f.drag.is_none() {
        list.push(format!(
            "it never drags: hot and relaxed it engages at {}, {} over the highest idle of {}",
            rpm(f.settled),
            rpm(f.margin),
            rpm(highest)
        ));
    }
    if let Some(b) = f.balance {
        let steepest = f.steepest.map_or_else(|| "no slope".to_owned(), |s| format!("slopes of up to {}", steep(s)));
        list.push(format!(
            "at full throttle it locks at {} with {:.1} N·m, {}; within half a minute it locks on {steepest}",
            rpm(b.motor),
            b.torque,
            speed(b.vehicle)
        ));
    }
    if let Some((time, locks)) = f.launch.time.zip(f.launch.locks) {
        list.push(format!(
            "a launch {} reaches {} in {time:.1} s, locks after {locks:.1} s and makes {:.1} kJ of slip heat",
            slope(wish.grade),
            speed(f.launch.speed),
            f.launch.heat / 1e3
        ));
    }
    list.push(format!(
        "in the stop-and-go the lining comes to {}, the drum to {}, with {:.0} W of slip heat",
        heat(f.peaks.lining),
        heat(f.peaks.drum),
        f.peaks.slip
    ));
    if let Some(held) = wish.usage.held_slipping(machine) {
        list.push(format!("the use holds {}, at which it slips all the time", speed(held)));
    }
    if f.peaks.lining > machine.limits.lining_steady && f.peaks.lining <= machine.limits.lining_most {
        list.push(format!("the lining passes the {} that it stands for long", heat(machine.limits.lining_steady)));
    }
    if f.peaks.shoes > machine.limits.spring_most {
        list.push(format!(
            "its springs come to {}, over the {} of their wire",
            heat(f.peaks.shoes),
            heat(machine.limits.spring_most)
        ));
    }
    list.push(match f.crawl {
        Some(c) if c.power > 1.0 => format!(
            "held at {} it slips all the time, {:.0} W, and the lining comes to {} within ten minutes: it locks from {} up",
            speed(wish.crawl.unwrap_or(0.0)),
            c.power,
            heat(c.lining),
            speed(f.lock_speed)
        ),
        Some(_) => format!("held at {} it stays locked", speed(wish.crawl.unwrap_or(0.0))),
        None => format!("a speed held below {} makes it slip for as long as it is held", speed(f.lock_speed)),
    });
    if let Some((life, part)) = f.life.zip(f.ended_by.as_ref()) {
        list.push(format!("in this use the {part} ends it after about {:.0} h", life / 3600.0));
    }
    list
}
