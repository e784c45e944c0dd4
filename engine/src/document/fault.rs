//! Faults for which a machine must not be used as it is, found of a run.

use super::record::{PartUse, Run, Warned};
use crate::laws::margin::{SEASON, Tolerances, share_touching};
use crate::laws::wear::relaxation_known;
use crate::names::{Channel, Happening, Part};
use crate::parts::settings;
use crate::units::HOUR;
use serde::{Deserialize, Serialize};

/// Running time below which a life counts as none, s.
pub const EARLY: f64 = HOUR;

/// Fault for which a machine must not be used as it is, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Fault {
    /// the clutch drags at idle
    Drags,
    /// the friction of a cold, sound bushing moves the machine off at idle, whatever the springs
    BushingDrives,
    /// a slope carries the machine off
    RunsAway,
    /// a descent drives the motor beyond its governed speed
    Overspeed,
    /// a part grows hotter than the model reaches
    Beyond,
    /// a part fails within the hour
    Early,
    /// the bushing grabs its shaft within a season, before its oil is due
    Grabs,
    /// the lining is hotter than its bond stands
    Bond,
    /// the lining is over its limit
    Lining,
    /// the bushing runs dry within the hour
    Dry,
    /// the motor stalls
    Stalls,
    /// it does not reach the speed asked, or does not move, in half of its starts or more
    TooSlow,
    /// the oil has an additive that stays on the lining
    Additive,
    /// the springs grow hotter than their relaxation is known to, so that how near to the idle they come is unknown
    Springs,
    /// the springs engage too near to the idle at their hottest
    Near,
    /// the springs relax too near to the idle
    Settles,
}

impl Fault {
    /// Those of a machine and its duty, whatever its springs and oil.
    pub const OF_DUTY: [Self; 4] = [Self::BushingDrives, Self::RunsAway, Self::Overspeed, Self::TooSlow];
}

/// Whether a bushing that fails first after this running time grabs its shaft within a season, though its oil is due later.
pub fn grabs(life: Option<f64>, part: Option<Part>, due: Option<f64>) -> bool {
    part == Some(Part::Seized) && life.is_some_and(|life| life < SEASON && due.is_none_or(|due| life < due))
}

/// The gravest fault by these warnings, apart from the margin over idle: from the life and its first worn part, and the running times
/// after which the bushing is dry and its oil is due.
pub(super) fn gravest(
    warned: impl Fn(Warned) -> bool,
    (life, part): (Option<f64>, Option<Part>),
    [dry, due]: [Option<f64>; 2],
) -> Option<Fault> {
    // What a scored bushing does is its own fault.
    let sound = ![Warned::Squeals, Warned::Grabs, Warned::Seizes].into_iter().any(&warned);
    let early = |time: Option<f64>| time.is_some_and(|time| time < EARLY);
    [
        (Fault::Drags, warned(Warned::Drag) || warned(Warned::Creep)),
        (Fault::BushingDrives, warned(Warned::BushingDrives) && sound),
        (Fault::RunsAway, warned(Warned::RunsAway)),
        (Fault::Overspeed, warned(Warned::Overspeed)),
        (Fault::Beyond, warned(Warned::Beyond)),
        (Fault::Early, early(life)),
        (Fault::Grabs, grabs(life, part, due)),
        (Fault::Bond, warned(Warned::Bond)),
        (Fault::Lining, warned(Warned::Lining)),
        (Fault::Dry, early(dry)),
        (Fault::Stalls, warned(Warned::Stall)),
        (Fault::TooSlow, warned(Warned::TooSlow)),
        (Fault::Additive, warned(Warned::Additive)),
    ]
    .into_iter()
    .find(|(_, given)| *given)
    .map(|(fault, _)| fault)
}

impl Run {
    /// The gravest fault, including too small a margin over idle, for use where there is a choice.
    pub fn fault(&self) -> Option<Fault> {
        let unknown = || self.springs_unknown().map(|_| Fault::Springs);
        self.own_fault().or_else(unknown).or_else(|| self.too_near().map(|(fault, ..)| fault))
    }

    /// Whether its motor stalls at its own idle: before a shoe touches the drum, and with a sound bushing.
    pub fn stalls_by_itself(&self) -> bool {
        let first = |what: Happening| self.events.iter().find(|event| event.what == what).map(|event| event.time);
        let sound = first(Happening::Squeals).is_none();
        sound
            && first(Happening::Stalls)
                .is_some_and(|stalls| first(Happening::Engages).is_none_or(|touches| touches > stalls))
    }

    /// The gravest fault of machine and duty, whatever its springs and oil.
    pub fn of_duty(&self) -> Option<Fault> {
        let only = [
            Warned::BushingDrives,
            Warned::RunsAway,
            Warned::Overspeed,
            Warned::TooSlow,
            Warned::Squeals,
            Warned::Grabs,
            Warned::Seizes,
        ];
        gravest(|kind| only.contains(&kind) && self.warned(kind).is_some(), (None, None), [None, None])
    }

    /// Peak temperature of springs that grow hotter than their relaxation over a season is known to, and that limit, K.
    pub fn springs_unknown(&self) -> Option<(f64, f64)> {
        let c = [&settings::clutch::relaxation, &settings::clutch::relaxation_doubling];
        let [Some(at_120), Some(doubling)] = c.map(|setting| self.setting(setting)) else { return None };
        let (peak, limit) = (Channel::Shoes.of(&self.overall.most), relaxation_known(at_120, doubling, SEASON));
        (peak > limit).then_some((peak, limit))
    }

    /// The gravest fault shown by the run itself.
    pub fn own_fault(&self) -> Option<Fault> {
        let running = |part: &PartUse| part.running.or(part.life);
        let first = self.first_worn();
        let oil = || self.parts.iter().find(|part| part.part == Part::Oil).and_then(running);
        let due = self.horizon.as_ref().map_or_else(oil, |horizon| horizon.service_running);
        let dry = self.warned(Warned::Dry).map(|warning| warning.value);
        let life = (first.and_then(running), first.map(|first| first.part));
        gravest(|kind| self.warned(kind).is_some(), life, [dry, due])
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

    /// How near the springs engage to the highest idle, at their hottest in the run or relaxed for a season, where that is nearer than
    /// a choice allows: the margin over it and what tolerances take, rad/s, and the share of such clutches that touch there.
    pub fn near_idle(&self) -> Option<(f64, f64, f64)> {
        self.too_near()?;
        let (idle, shoes) = (self.setting(&settings::motor::idle)?, self.setting(&settings::clutch::shoes)?);
        let hot = Some(Channel::Engagement.of(&self.overall.least)).filter(|w| w.is_finite() && *w > 0.0);
        let engages = hot.into_iter().chain(self.engagement.settled).reduce(f64::min)?;
        let floor = self.margin_needed(engages)? - self.variation();
        let margin = engages - idle - self.variation();
        Some((margin, floor, share_touching(margin, engages, shoes.round() as u32, Tolerances::assumed(idle))))
    }
}
