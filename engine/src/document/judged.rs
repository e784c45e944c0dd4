//! A spring as judged on a machine, with what was computed for it.

use super::finding::Weak;
use super::hill_start::HillStart;
use super::reason::Reason;
use super::verdict::{Verdict, Weight};
use super::warning::Warning;
use crate::names::Part;
use serde::{Deserialize, Serialize};

/// One spring on the machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Judged {
    /// its name in the stock
    pub name: String,
    /// engagement speed, new and at 20 °C, rad/s
    pub engagement: f64,
    /// whether it fits
    pub verdict: Verdict,
    /// reasons: those against it, then warnings, then facts
    pub reasons: Vec<Reason>,
    /// computed results; none if the machine cannot be built with it
    pub found: Option<Found>,
}

impl Judged {
    /// Lowest engagement speed, new and cold, at which a spring would stay clear of the highest idle `highest`, rad/s. Hot and
    /// relaxed it keeps the share r of its speed that this one keeps, and its floor grows with its speed; a part of the floor does
    /// not, which errs on the safe side.
    /// ```text
    /// ω r − highest ≥ floor ω / ω_this
    /// ```
    /// None if the springs are too uneven or relax too much for any speed to be clear.
    pub fn clear_from(&self, highest: f64) -> Option<f64> {
        let found = self.found.as_ref()?;
        let kept = (found.settled - found.floor) / self.engagement;
        (kept > 0.0).then(|| highest / kept)
    }

    /// Its margin over the highest idle, hot and relaxed, rad/s; none if it was not computed, or its relaxation is not known.
    pub fn margin(&self) -> Option<f64> {
        let unknown = self.reasons.iter().any(|reason| matches!(reason, Reason::SpringsUnknown { .. }));
        self.found.as_ref().filter(|_| !unknown).map(|found| found.margin)
    }

    /// Whether it drags at the highest idle, or may within its tolerances.
    pub fn is_near(&self) -> bool {
        self.reasons.iter().any(Reason::is_near)
    }

    /// Its reasons of one weight.
    pub fn of_weight(&self, weight: Weight) -> impl Iterator<Item = &Reason> {
        self.reasons.iter().filter(move |reason| reason.weight() == weight)
    }
}

/// A whole new set of a machine's own springs, in place of weaker ones.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Renewed {
    /// the springs that it has
    pub weak: Weak,
    /// the new set, judged as for a choice
    pub set: Judged,
}

impl Renewed {
    /// Whether the new set is the remedy.
    pub fn fits(&self) -> bool {
        self.set.verdict != Verdict::Unfit
    }
}

/// Results computed for one spring.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Found {
    /// lowest engagement speed: hot, and relaxed after the season, rad/s
    pub settled: f64,
    /// settled engagement over the highest idle, rad/s; below zero it drags
    pub margin: f64,
    /// least margin for the tolerances of springs and tachometer, with 19 of 20 clutches clear, rad/s
    pub floor: f64,
    /// dragging at the highest idle; none if it does not drag
    pub drag: Option<Drag>,
    /// lock-up speed: at a lower held speed the clutch slips permanently, m/s
    pub lock_speed: f64,
    /// point of lock-up at full throttle; none if it never locks
    pub balance: Option<Balance>,
    /// one launch at full throttle on the slope
    pub launch: Launch,
    /// a start on that slope from the hottest stop of the use; none on level ground or downhill
    pub start: Option<HillStart>,
    /// the use with every start on that slope; none if the use is ridden on it, or the start from its hottest stop is not borne
    pub each_start: Option<EachStart>,
    /// highest temperatures in the stop-and-go
    pub peaks: Peaks,
    /// oil fill of the bushing after the stop-and-go
    pub fill: f64,
    /// what the stop-and-go warns of and nothing else here says
    pub warnings: Vec<Warning>,
    /// slow speed held; none if none is given
    pub crawl: Option<Crawl>,
    /// steepest slope on which a start from cold still locks within half a minute, rise over run
    pub steepest: Option<f64>,
    /// steepest slope on which a start from the hottest stop of the use locks within half a minute, without burning the clutch or
    /// overheating its lining, rise over run; none if it bears none
    pub bears: Option<f64>,
    /// running time until the first part wears out in this use, oil apart, s
    pub life: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// the same time with every part's assumed wear constant at its worst and at its best, s; none if none changes it
    pub range: Option<[f64; 2]>,
}

impl Found {
    /// Highest temperature of the springs, in the use, in the start on a slope after it and at the slow speed held, K.
    pub fn springs(&self) -> f64 {
        self.peaks.springs(self.start, self.crawl)
    }
}

/// Dragging with the motor at its highest idle and the spring settled.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Drag {
    /// share of the idle variation over which it drags
    pub share: f64,
    /// mean slip power while standing on the brake, W
    pub power: f64,
    /// speed to which it creeps within 20 s off the brake, m/s; 0 if it stands
    pub creep: f64,
    /// whether the drag stalls the motor while standing on the brake
    pub stalls: bool,
}

/// Point at which the slipping clutch transmits the motor's torque at full throttle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Balance {
    /// motor speed, rad/s
    pub motor: f64,
    /// torque, N·m
    pub torque: f64,
    /// vehicle speed, m/s
    pub vehicle: f64,
}

/// One launch at full throttle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Launch {
    /// target speed, m/s
    pub speed: f64,
    /// time to that speed, s; none if it is not reached
    pub time: Option<f64>,
    /// time until the clutch locks, s; none if it does not
    pub locks: Option<f64>,
    /// slip energy until it locks, J
    pub heat: f64,
    /// distance that the machine rolls back before the clutch grips, m
    pub back: f64,
    /// speed at which it rolls back, m/s
    pub back_speed: f64,
}

/// The use with every start on a slope steeper than its own ground.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EachStart {
    /// highest temperature of the lining's rubbed face, K
    pub lining: f64,
    /// running time until the first part wears out, oil apart, s; none if none does, or a part is beyond the model
    pub life: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
}

/// Highest temperatures of the stop-and-go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Peaks {
    /// rubbed face of the lining, K
    pub lining: f64,
    /// inner face of the drum's wall, K
    pub drum: f64,
    /// bushing, K
    pub bushing: f64,
    /// washer, K
    pub washer: f64,
    /// washer while dry, if above the limit of a dry one, K
    pub washer_dry: Option<f64>,
    /// shoes and their springs, K
    pub shoes: f64,
    /// hottest part, if beyond the model, and the limit of the model, K: then there is no life
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beyond: Option<(f64, f64)>,
    /// mean slip power, W
    pub slip: f64,
    /// rise of the lining's peak in the last quarter, K
    pub rising: f64,
}

impl Peaks {
    /// Highest temperature of the springs, with that in the start on a slope and at the slow speed held, K.
    pub(crate) fn springs(&self, start: Option<HillStart>, crawl: Option<Crawl>) -> f64 {
        let others = [start.map(|start| start.shoes), crawl.map(|crawl| crawl.shoes)];
        others.into_iter().flatten().fold(self.shoes, f64::max)
    }
}

/// A slow speed held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Crawl {
    /// slip power at the end, W; 0 if it locks
    pub power: f64,
    /// lining after ten minutes, K
    pub lining: f64,
    /// bushing then, K
    pub bushing: f64,
    /// washer then, K
    pub washer: f64,
    /// shoes and their springs then, K
    pub shoes: f64,
}
