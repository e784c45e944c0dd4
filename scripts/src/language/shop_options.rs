//! Options of the shop's questions: each is one row, for the command line and for scripts.

use crate::language::plan::ShopQuestion;
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::{DAY, RPM};
use std::collections::BTreeMap;

/// One option.
#[derive(Clone, Copy, Debug)]
pub struct ShopOption {
    /// name in a script; `--name` on the command line
    pub name: &'static str,
    /// least and greatest value, SI
    pub range: (f64, f64),
    /// kind of quantity
    pub dimension: D,
    /// usual value, as an example in messages
    pub usual: &'static str,
    /// whether it is a whole number
    pub whole: bool,
}

/// Values of options by their names, SI.
pub type Options = BTreeMap<&'static str, f64>;

const fn quantity(name: &'static str, range: (f64, f64), dimension: D, usual: &'static str) -> ShopOption {
    ShopOption { name, range, dimension, usual, whole: false }
}

const fn count(name: &'static str, range: (f64, f64), usual: &'static str) -> ShopOption {
    ShopOption { name, range, dimension: D::Ratio, usual, whole: true }
}

const CHOOSE: &[ShopOption] = &[
    quantity("idle", (800.0 * RPM, 4000.0 * RPM), D::AngularSpeed, "1700 rpm"),
    quantity("wander", (0.0, 500.0 * RPM), D::AngularSpeed, "75 rpm"),
    quantity("grade", (-0.5, 0.5), D::Ratio, "4 %"),
    quantity("load", (0.0, 2000.0), D::Mass, "60 kg"),
    quantity("crawl", (0.1, 30.0), D::Speed, "10 km/h"),
    quantity("season", (3600.0, 3.6e8), D::Time, "300 h"),
    quantity("power", (100.0, 1e5), D::Power, "6.5 hp"),
    quantity("rated", (1500.0 * RPM, 19000.0 * RPM), D::AngularSpeed, "3600 rpm"),
];
/// Where the cover stands; toward the drum below zero.
pub const COVER: ShopOption = quantity("cover", (-0.02, 0.02), D::Length, "-10 thou");
/// Tolerance of that, and of every size of the stack.
pub const COVER_TOLERANCE: ShopOption = quantity("cover_tolerance", (0.0, 5e-3), D::Length, "5 thou");
const GAPS: &[ShopOption] =
    &[COVER, COVER_TOLERANCE, count("seed", (0.0, 9e15), "1"), count("assemblies", (100.0, 1e6), "10000")];
const OILING: &[ShopOption] = &[
    quantity("riding", (300.0, DAY), D::Time, "40 min"),
    quantity("rest", (0.0, 366.0 * DAY), D::Time, "12 h"),
    quantity("drops", (0.5, 100.0), D::Ratio, "4"),
    quantity("found", (0.3, 1.0), D::Ratio, "85 %"),
    quantity("grease", (1e-9, 1e-5), D::Volume, "0.5 mL"),
];

impl ShopQuestion {
    /// The options of the question.
    pub fn options(self) -> &'static [ShopOption] {
        match self {
            Self::Choose => CHOOSE,
            Self::Gaps => GAPS,
            Self::Oiling => OILING,
        }
    }

    /// The option of a name.
    pub fn option(self, name: &str) -> Option<&'static ShopOption> {
        self.options().iter().find(|option| option.name == name)
    }
}
