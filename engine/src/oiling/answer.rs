//! The plan of oiling.

use crate::document::record::Setting;
use crate::document::{
    Document, Head, Is, Kind,
    sound::{filled, sound},
};
use crate::finding::{Assumed, Sag, Slipping};
use crate::names::LeakCase;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The answer to when and how to oil. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OilPlan {
    /// which kind of document it is
    pub kind: Is<OilPlan>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// its use
    pub usage: String,
    /// the oil
    pub oil: String,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// end leakage λ at 80 °C and 2500 rpm, 1/s: assumed, and deciding
    pub leak: f64,
    /// oil fill at which service is due
    pub due_at: f64,
    /// oil that the full bushing holds, in drops
    pub full_drops: f64,
    /// the same, kg
    pub full_mass: f64,
    /// how long a full bushing lasts: with the leakage as set, with the least and the most that are possible, with grease
    pub lasts: Vec<Lasts>,
    /// drops of one service
    pub drops: f64,
    /// when to put such a dose on
    pub advised: Advice,
    /// the same with the most end leakage that is possible
    pub advised_at_most_leak: Advice,
    /// how the leakage is measured by weighing a drum; none where the oil is gone within the first outing
    pub weighing: Option<Weighing>,
    /// drops that bring a bushing whose service is due back to full, of which the last run off more and more
    pub drops_when_due: f64,
    /// drops for which the pores have room at the fill at which habits are compared, while the bushing is warm from a ride
    pub warm_room: f64,
    /// fill at which the habits are compared
    pub found: f64,
    /// what is kept of the dose by when it is put on
    pub habits: Vec<Habit>,
    /// what doses of different sizes do when the machine is ridden at once
    pub doses: Vec<Dose>,
    /// what oils do to the grip when the machine is ridden at once
    pub oils: Vec<Grip>,
    /// springs that relax below the idle: the intervals are those of springs renewed in time; none if they do not
    pub sag: Option<Sag>,
    /// a speed that the use holds slipping; none where it holds none
    pub slipping: Option<Slipping>,
    /// what it depends on
    pub assumed: Vec<Assumed>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl Document for OilPlan {
    const KIND: Kind = Kind::Oiling;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        filled(&self.lasts, "lasts")?;
        filled(&self.habits, "habits")?;
        let curves = self.lasts.iter().flat_map(|l| &l.fill).chain(self.habits.iter().flat_map(|h| &h.kept));
        sound(curves.flat_map(|p| [p.0, p.1]), "lasts.fill, habits.kept")
    }
}

/// When to oil.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Advice {
    /// in no habit: service is due within the first outing
    Never,
    /// once a year: a dose is more than ten years of such outings lose
    Yearly,
    /// by a habit
    Every(Advised),
}

impl Advice {
    /// The habit, if there is one.
    pub const fn habit(&self) -> Option<Advised> {
        match self {
            Self::Every(habit) => Some(*habit),
            Self::Never | Self::Yearly => None,
        }
    }
}

/// A habit of oiling that errs on the safe side: counted from full with what the first outing loses, the dose by what is kept
/// of it overnight, whole outings, and no longer than half of the time to the service.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Advised {
    /// outings from one oiling to the next
    pub outings: u64,
    /// riding from one oiling to the next, s
    pub riding: f64,
    /// fill of the bushing after that riding from full
    pub fill: f64,
    /// drops that make good what was lost by then; more than the dose where even one outing loses more
    pub drops: f64,
    /// drops to put on: the dose, or whole drops more where even one outing loses more than it
    pub dose: f64,
    /// whole drops of them for which the pores have room while the bushing is warm from the ride
    pub warm: f64,
}

/// A drum weighed with its bushing full and again before the first oiling: by what it lost the leakage is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weighing {
    /// outings until then: as many as even the greatest leakage allows before service is due
    pub outings: u64,
    /// riding until then, s
    pub riding: f64,
    /// oil lost by then with the leakage as set, kg
    pub lost: f64,
    /// the same with the greatest leakage, kg
    pub lost_at_most_leak: f64,
}

/// How long a full bushing lasts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lasts {
    /// which case
    pub name: LeakCase,
    /// end leakage λ, 1/s
    pub leak: f64,
    /// grease in the grooves, m³ of oil
    pub grease: f64,
    /// riding of the first outing, s
    pub outing: f64,
    /// (riding s, fill) at the ends of outings, after the rest
    pub fill: Vec<(f64, f64)>,
    /// riding until service is due, s; none beyond ten years of outings
    pub due: Option<f64>,
    /// riding until the oil is at its end, s; sought only where service is due within the first outing
    pub end: Option<f64>,
}

/// A habit of oiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Habit {
    /// whether the bushing is warm from a ride
    pub warm: bool,
    /// (wait before the next spin s, share of the dose kept)
    pub kept: Vec<(f64, f64)>,
}

/// A dose put on 30 s before a ride.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dose {
    /// drops
    pub drops: f64,
    /// share kept in pores and film after the first minute
    pub kept: f64,
    /// most oil on the lining, kg
    pub on_lining: f64,
    /// least grip of the lining over a dry one's
    pub grip: f64,
}

/// What an oil does to the grip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Grip {
    /// oil
    pub oil: String,
    /// least grip of the lining over a dry one's
    pub least: f64,
    /// grip after the ride
    pub after: f64,
}

impl OilPlan {
    /// How long a full bushing lasts in a case.
    pub fn case(&self, name: LeakCase) -> Option<&Lasts> {
        self.lasts.iter().find(|lasts| lasts.name == name)
    }
}

impl Lasts {
    /// Whether service is due within the first outing.
    pub fn within_first(&self) -> bool {
        self.due.is_some_and(|due| due <= self.outing)
    }

    /// Fill after so much riding, s: straight between the ends of outings.
    pub fn fill_at(&self, riding: f64) -> f64 {
        let next = self.fill.iter().position(|point| point.0 >= riding);
        let Some(k) = next.filter(|k| *k > 0) else {
            return if riding <= 0.0 { 1.0 } else { self.fill.last().map_or(1.0, |point| point.1) };
        };
        let ((t0, s0), (t1, s1)) = (self.fill[k - 1], self.fill[k]);
        s0 + (s1 - s0) * (riding - t0) / (t1 - t0).max(1e-9)
    }
}
