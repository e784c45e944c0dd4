//! The oiling plan.

use super::Is;
use super::finding::{Assumed, Beyond, Sag, Slipping};
use super::head::Head;
use super::reason::Reason;
use super::record::Setting;
use super::sound::{filled, sound};
use super::spring_choice::{Judged, Renewed};
use crate::curve::along;
use crate::names::LeakCase;
use crate::parts::settings;
use crate::spread::Known;
use serde::{Deserialize, Serialize};

/// The answer on when and how to oil. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct OilPlan {
    /// kind of document
    pub kind: Is<OilPlan>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// its use
    pub usage: String,
    /// the oil
    pub oil: String,
    /// idle variation to either side, rad/s
    #[serde(default = "crate::laws::margin::usual")]
    pub wander: f64,
    /// whether the machine's oil is one of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// riding in a week, s; none if unknown
    #[serde(default)]
    pub weekly: Option<f64>,
    /// end leakage λ at 80 °C and 2500 rpm, 1/s: assumed, and decisive
    pub leak: f64,
    /// oil fill at which service is due
    pub due_at: f64,
    /// oil capacity of the full bushing, drops
    pub full_drops: f64,
    /// the same, kg
    pub full_mass: f64,
    /// life of a full bushing: with the leakage and the oil's life in heat as set, with the smallest possible leakage and the longest life,
    /// with the largest and the shortest, and with grease
    pub lasts: Vec<Lasts>,
    /// drops of one service, as asked for
    pub drops: f64,
    /// drops of them by which the intervals go: no more than the whole number, at least one, for which the pores have room while warm,
    /// halfway to the service level
    pub dose: f64,
    /// recommended oiling interval
    pub advised: Advice,
    /// recommended interval for the largest possible end leakage and the shortest life of the oil in heat
    pub advised_at_most_leak: Advice,
    /// measurement of the leakage by weighing a drum; none if the bushing runs dry within the first outing, or if the leakage was
    /// learned
    pub weighing: Option<Weighing>,
    /// drops that refill a bushing from the service level
    pub drops_when_due: f64,
    /// drops for which the pores have room at the fill where habits are compared, while the bushing is warm from a ride
    pub warm_room: f64,
    /// fill at which the habits are compared
    pub found: f64,
    /// share of the dose that is kept, by time of oiling
    pub habits: Vec<Habit>,
    /// effect of doses of different sizes if the machine is ridden at once
    pub doses: Vec<Dose>,
    /// effect of oils on friction if the machine is ridden at once
    pub oils: Vec<Grip>,
    /// springs that relax below idle; the intervals then assume springs renewed in time; none if they do not
    pub sag: Option<Sag>,
    /// reasons for which the springs do not fit the use
    pub against: Vec<Reason>,
    /// a whole new set in place of springs that sag or do not fit, where they are weaker than such a set
    pub renewed: Option<Renewed>,
    /// in place of springs that sag or do not fit, the softest that stays clear of the highest idle, judged as for a choice; none if no speed
    /// is clear, or where a new set of the same is the remedy
    pub sought: Option<Judged>,
    /// a part hotter than the model is valid; none if there is none
    pub beyond: Option<Beyond>,
    /// a held speed at which the clutch slips; none if there is none
    pub slipping: Option<Slipping>,
    /// constants of oiling that a calibration learned, by which the ranges go
    #[serde(default)]
    pub learned: Vec<Known>,
    /// assumptions of the answer
    pub assumed: Vec<Assumed>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl OilPlan {
    /// Whether a calibration learned the end leakage.
    pub fn leak_learned(&self) -> bool {
        Known::factor_of(&self.learned, &settings::oiling::leak).is_some()
    }

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.lasts, "lasts")?;
        filled(&self.habits, "habits")?;
        let curves = self.lasts.iter().flat_map(|l| &l.fill).chain(self.habits.iter().flat_map(|h| &h.kept));
        sound(curves.flat_map(|p| [p.0, p.1]), "lasts.fill, habits.kept")
    }
}

/// Recommended oiling interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Advice {
    /// no interval: service is due within the first outing
    Never,
    /// once a year: a dose exceeds the loss of ten years of such outings
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

/// A habit of oiling with a margin of safety: counted from full with the loss of the first outing, the dose reduced to
/// the share kept overnight, whole outings, at most half of the time to service if that is an outing, and fresh oil enough to keep pace
/// with what heat spoils.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Advised {
    /// outings between oilings
    pub outings: u64,
    /// riding time between oilings, s
    pub riding: f64,
    /// oil fill after that time from full
    pub fill: f64,
    /// drops that replace the loss; more than the dose if even one outing loses more
    pub drops: f64,
    /// drops to apply: the dose, or more whole drops if even one outing loses more
    pub dose: f64,
    /// number of them to put on while the bushing is warm from the ride, for which its pores have room; the others when it is cold
    pub warm: f64,
}

/// Measurement of the leakage: a drum weighed with its bushing full and again before the first oiling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weighing {
    /// whole outings until then, as many as even the largest leakage and the shortest life of the oil allow before service is due; 0 if it
    /// is due within the first
    pub outings: u64,
    /// riding time until then, s
    pub riding: f64,
    /// oil lost by then with the leakage as set, kg
    pub lost: f64,
    /// oil lost by then with the largest leakage, kg
    pub lost_at_most_leak: f64,
}

/// Life of a full bushing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Lasts {
    /// case
    pub name: LeakCase,
    /// end leakage λ, 1/s
    pub leak: f64,
    /// life of the oil in heat, at 100 °C, s
    pub oil_life: f64,
    /// grease in the grooves, m³ of oil
    pub grease: f64,
    /// riding time of the first outing, s
    pub outing: f64,
    /// oxidation of the oil per riding time in the first outing, 1/s
    #[serde(default)]
    pub ages: f64,
    /// (riding s, fill) at the ends of outings, after the rest
    pub fill: Vec<(f64, f64)>,
    /// riding time until service is due, s: by its fill, or as the bushing squeals; none beyond ten years of outings
    pub due: Option<f64>,
    /// riding time until the bushing runs dry or grabs its shaft, s; computed only if service is due within the first outing
    pub end: Option<f64>,
    /// riding time until the bushing is scored and squeals, s; none if service is due before
    #[serde(default)]
    pub scored: Option<f64>,
}

/// A habit of oiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Habit {
    /// whether the bushing is warm from a ride
    pub warm: bool,
    /// (wait before the next spin s, share of the dose kept)
    pub kept: Vec<(f64, f64)>,
}

/// A dose applied 30 s before a ride.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Dose {
    /// drops
    pub drops: f64,
    /// share kept in pores and film after the first minute
    pub kept: f64,
    /// largest oil mass on the lining, kg
    pub on_lining: f64,
    /// smallest friction of the lining relative to a dry one
    pub grip: f64,
}

/// Effect of an oil on friction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Grip {
    /// oil
    pub oil: String,
    /// smallest friction of the lining relative to a dry one
    pub least: f64,
    /// relative friction after the ride
    pub after: f64,
}

impl OilPlan {
    /// Life of a full bushing in a case.
    pub fn case(&self, name: LeakCase) -> Option<&Lasts> {
        self.lasts.iter().find(|lasts| lasts.name == name)
    }
}

impl Lasts {
    /// Whether service is due within the first outing.
    pub fn within_first(&self) -> bool {
        self.due.is_some_and(|due| due <= self.outing)
    }

    /// Oil fill after a riding time, s: linear between the ends of outings.
    pub fn fill_at(&self, riding: f64) -> f64 {
        along(&self.fill, riding)
    }
}
