//! Faults for which a machine must not be used as it is, found of a run.

use super::record::{Run, Warned};
use crate::names::Channel;
use crate::parts::settings;
use crate::units::HOUR;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Running time below which a life counts as none, s.
pub const EARLY: f64 = HOUR;

/// Fault for which a machine must not be used as it is, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Fault {
    /// the clutch drags at idle
    Drags,
    /// a part grows hotter than the model reaches
    Beyond,
    /// a part fails within the hour
    Early,
    /// the lining is hotter than its bond stands
    Bond,
    /// the lining is over its limit
    Lining,
    /// the bushing runs dry within the hour
    Dry,
    /// the motor stalls
    Stalls,
    /// the oil has an additive that stays on the lining
    Additive,
    /// the springs engage too near to the idle at their hottest
    Near,
    /// the springs relax too near to the idle
    Settles,
}

/// The gravest fault by these warnings, apart from the margin over idle.
pub(super) fn gravest(warned: impl Fn(Warned) -> bool, life: Option<f64>, dry: Option<f64>) -> Option<Fault> {
    let early = |time: Option<f64>| time.is_some_and(|time| time < EARLY);
    [
        (Fault::Drags, warned(Warned::Drag) || warned(Warned::Creep)),
        (Fault::Beyond, warned(Warned::Beyond)),
        (Fault::Early, early(life)),
        (Fault::Bond, warned(Warned::Bond)),
        (Fault::Lining, warned(Warned::Lining)),
        (Fault::Dry, early(dry)),
        (Fault::Stalls, warned(Warned::Stall)),
        (Fault::Additive, warned(Warned::Additive)),
    ]
    .into_iter()
    .find(|(_, given)| *given)
    .map(|(fault, _)| fault)
}

impl Run {
    /// The gravest fault, including too small a margin over idle, for use where there is a choice.
    pub fn fault(&self) -> Option<Fault> {
        self.own_fault().or_else(|| self.too_near().map(|(fault, ..)| fault))
    }

    /// The gravest fault shown by the run itself.
    pub fn own_fault(&self) -> Option<Fault> {
        let life = self.first_worn().and_then(|first| first.running.or(first.life));
        gravest(|kind| self.warned(kind).is_some(), life, self.warned(Warned::Dry).map(|warning| warning.value))
    }

    /// Whether a spring engages too close to idle, at its hottest in the run or after relaxing for a season at that
    /// temperature. Returns its margin over idle, and the margin needed for idle variation and tolerances, rad/s.
    pub fn too_near(&self) -> Option<(Fault, f64, f64)> {
        let idle = self.setting(&settings::motor::idle)?;
        let hot = Some(Channel::Engagement.of(&self.overall.least)).filter(|w| w.is_finite() && *w > 0.0);
        let all = [(Fault::Near, hot), (Fault::Settles, self.engagement.settled)];
        all.into_iter().find_map(|(fault, engages)| {
            let engages = engages?;
            let needed = self.margin_needed(engages)?;
            (engages - idle < needed).then_some((fault, engages - idle, needed))
        })
    }
}
