//! What the reader should know: limits passed, dragging, slipping for ever, and what the result leans on.

use super::channels::index;
use crate::duty::Task;
use crate::model::Assembly;
use crate::record::{Event, Extremes, PartUse, Warning};
use crate::say::road_speed;

const RPM: f64 = std::f64::consts::PI / 30.0;
const KM_H: f64 = 1.0 / 3.6;
/// Temperature up to which the properties of air are fitted, K.
const BEYOND: f64 = 500.0 + 273.15;
/// A speed that is missed by more than this share of it was out of reach: the rider's control stays closer.
const BEHIND: f64 = 0.03;

/// What was noticed under way.
#[derive(Clone, Debug, Default)]
pub(super) struct Noticed {
    slow_hold: Option<(f64, f64)>,
    drag: Option<f64>,
    creeps: bool,
    pub unreached: u64,
    /// speed asked of the motor and the greatest it came to, m/s: the pair furthest apart
    beyond: Option<(f64, f64)>,
    /// brakings that did not come down to their speed
    pub not_slowed: u64,
}

impl Noticed {
    pub fn task(&mut self, a: &Assembly, task: &Task) {
        let held: Vec<f64> = match task {
            Task::Hold(speed) => vec![*speed],
            Task::Follow(trace) => trace.points.windows(2).filter(|p| p[0].1 == p[1].1).map(|p| p[0].1).collect(),
            _ => vec![],
        };
        let lock = a.machine.clutch.engagement * a.speed_per_drum;
        for speed in held {
            if speed > 0.0 && speed < lock && self.slow_hold.is_none_or(|(held, _)| speed < held) {
                self.slow_hold = Some((speed, lock));
            }
        }
    }

    /// A held speed or the greatest of a trace, and the greatest speed reached, m/s.
    pub fn reached(&mut self, asked: f64, reached: f64) {
        let short = asked - reached;
        if short > BEHIND * asked && self.beyond.is_none_or(|(a, r)| short > a - r) {
            self.beyond = Some((asked, reached));
        }
    }

    pub fn segment(&mut self, task: &str, extremes: &Extremes, events: &[Event], start: f64) {
        let mean = |name: &str| index(name).and_then(|k| extremes.mean.get(k)).copied().unwrap_or(0.0);
        if task == "idle" && mean("slip power") > 1.0 {
            self.drag = Some(self.drag.unwrap_or(0.0).max(mean("slip power")));
        }
        if task == "coast" {
            self.creeps |= events.iter().rev().take_while(|e| e.time >= start).any(|e| e.what == "sets off");
        }
    }

    pub fn warnings(&self, a: &Assembly, overall: &Extremes, parts: &[PartUse], duration: f64) -> Vec<Warning> {
        let mut list = vec![];
        let mut warn = |kind: &str, text: String| list.push(Warning { kind: kind.to_owned(), text });
        let m = &a.machine;
        if let Some(power) = self.drag {
            warn(
                "drag",
                format!(
                    "the clutch drags at idle with a mean of {power:.0} W: it engages at {:.0} rpm, the motor idles at {:.0} rpm",
                    m.clutch.engagement / RPM,
                    m.motor.idle / RPM
                ),
            );
        }
        if self.creeps {
            warn("creep", "with the brake off the machine sets off by itself at idle".to_owned());
        }
        if let Some((speed, lock)) = self.slow_hold {
            warn(
                "lock speed",
                format!(
                    "a held speed of {:.1} km/h lies below the lock speed of {:.1} km/h: the clutch slips as long as it is held",
                    speed / KM_H,
                    lock / KM_H
                ),
            );
        }
        if let Some((asked, reached)) = self.beyond {
            let text = format!(
                "the ride asks for {}, but motor and gearing reached {}: what is shown is the ride at the lower speed",
                road_speed(asked),
                road_speed(reached)
            );
            warn("speed", text);
        }
        if self.unreached > 0 {
            warn("launch", format!("launches that did not reach their speed in time: {}", self.unreached));
        }
        if self.not_slowed > 0 {
            warn("brake", format!("brakings that did not come down to their speed in time: {}", self.not_slowed));
        }
        for e in a.events.iter().filter(|e| e.what == "stalls").take(1) {
            warn("stall", format!("the motor stalls at {:.1} s", e.time));
        }
        let most = |name: &str| index(name).and_then(|k| overall.most.get(k)).copied().unwrap_or(0.0);
        let l = &m.limits;
        for (name, limit, what) in [
            ("lining surface", l.lining_most, "greatest temperature of the lining"),
            ("bushing", l.bushing_warning, "temperature at which the bushing's oil suffers"),
            ("washer", l.washer_oiled, "limit of the fibre washer"),
            ("shoes", l.spring_most, "service limit of their springs' wire"),
        ] {
            let peak = most(name);
            if peak > limit {
                warn(
                    "limit",
                    format!("{name}: peak of {:.0} °C, over the {what} of {:.0} °C", peak - 273.15, limit - 273.15),
                );
            }
        }
        if most("lining surface") > BEYOND {
            let text = format!(
                "the lining's surface comes to {:.0} °C: beyond 500 °C the laws of air, lining and oil do not hold; read it as burnt, not as a temperature",
                most("lining surface") - 273.15
            );
            warn("limit", text);
        }
        for p in parts.iter().filter(|p| p.used >= 1.0) {
            warn("limit", format!("the {} reaches its limit within the run ({:.1} h)", p.part, duration / 3600.0));
        }
        warn(
            "assumed",
            format!(
                "oil losses lean on the end leak λ = {:.3} per hour at 80 °C and 2500 rpm, which nobody has measured (0.006 to 2 is possible)",
                m.oiling.leak * 3600.0
            ),
        );
        warn(
            "assumed",
            "wear leans on assumed constants (lining, washer, dry bushing): take lives as comparisons".to_owned(),
        );
        list
    }
}
