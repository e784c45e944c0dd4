//! The answer to the choice of a spring.

use super::Is;
use super::finding::{Assumed, Weak};
use super::head::Head;
pub use super::judged::{Balance, Crawl, Drag, EachStart, Found, Judged, Launch, Peaks, Renewed};
use super::record::Setting;
use super::sound::{filled, require, sound};
use crate::names::LiningKind;
use crate::spread::Known;
use serde::{Deserialize, Serialize};

/// The answer to which spring to fit. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// kind of document
    pub kind: Is<Choice>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// use for which springs were judged
    pub usage: String,
    /// true idle speed, rad/s
    pub idle: f64,
    /// idle variation to either side, rad/s
    pub wander: f64,
    /// slope on which it must start, rise over run
    pub grade: f64,
    /// least and greatest slope on which the use was ridden, rise over run
    #[serde(default)]
    pub ground: [f64; 2],
    /// load carried besides the machine's mass, kg
    pub load: f64,
    /// slow speed that is held, m/s
    pub crawl: Option<f64>,
    /// time over which the springs relax, s
    pub season: f64,
    /// length of the stop-and-go that was simulated, s
    pub simulated: f64,
    /// kind of the lining
    pub lining_kind: LiningKind,
    /// temperature limit of the lining, K
    pub lining_most: f64,
    /// source of the torque curve, if it is sketched and not measured
    pub sketched: Option<Sketched>,
    /// the spring by the trade's rule
    pub trade: Trade,
    /// recommended spring: of the best verdict that any spring gets, the one with the longest computed life; none if
    /// none fits
    pub best: Option<String>,
    /// spring with the longest life if the idle were constant and springs had no tolerances
    pub best_steady: Option<String>,
    /// all springs by verdict: those that fit, then those with warnings, by their lives; then the others by their
    /// speeds
    pub springs: Vec<Judged>,
    /// if none fits, the spring with the least against it
    pub least_unsuitable: Option<String>,
    /// if none fits, the softest spring of any stock that stays clear of the highest idle, judged like the others; none if no
    /// speed is clear
    pub sought: Option<Judged>,
    /// wear constants that a calibration learned, by which the ranges of lives go
    #[serde(default)]
    pub learned: Vec<Known>,
    /// the machine's own springs, if they are weaker than a whole new set, as which each spring is judged
    pub weak: Option<Weak>,
    /// assumptions of the answer
    pub assumed: Vec<Assumed>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl Choice {
    /// The spring with that name.
    pub fn spring(&self, name: &str) -> Option<&Judged> {
        self.springs.iter().find(|spring| spring.name == name)
    }

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.springs, "springs")?;
        let known = |name: &String| self.springs.iter().any(|s| s.name == *name);
        let named = [self.best.as_ref(), self.best_steady.as_ref(), self.least_unsuitable.as_ref()];
        require(named.into_iter().flatten().all(known), "best", "it names no spring of the list")?;
        sound(self.springs.iter().map(|s| s.engagement), "springs.engagement")
    }
}

/// A sketched torque curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Sketched {
    /// rated power, W
    pub power: f64,
    /// rated speed, rad/s
    pub speed: f64,
}

/// The trade's rule, common practice without a source, and its engineering components.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Trade {
    /// 200 rpm above the true idle, rad/s
    pub rule: f64,
    /// spring of the stock nearest to it
    pub spring: String,
    /// margins that the rule has to cover with this spring; none if they could not be computed
    pub made_of: Option<MadeOf>,
    /// peak temperature of its springs and that to which their relaxation is known, K, where they get hotter: the margins are not known
    /// then
    pub too_hot: Option<(f64, f64)>,
}

/// Components of the margin of a spring over the true idle, rad/s.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MadeOf {
    /// the idle's variation to one side
    pub idle: f64,
    /// tolerances of springs and tachometer
    pub tolerances: f64,
    /// heat, and a season of relaxation
    pub settling: f64,
}

impl MadeOf {
    /// Sum of the components.
    pub fn sum(&self) -> f64 {
        self.idle + self.tolerances + self.settling
    }
}
