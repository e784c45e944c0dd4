//! Constants learned from measurements: bounded least squares with priors, and a check of what the data determine.
//!
//! The residuals are (predicted − measured)/deviation. Each constant is fitted on a scale of its own, for example its
//! logarithm, on which its prior, if any, is normal. [`fit`] starts from several places, which all follow from a seed.
//! [`separate`] finds beforehand the constants that the data do not determine or cannot separate.
//!
//! A [`Problem`] is a machine, its duties and the measurements under them. [`Problem::solve`] gives the constants,
//! [`evidence`] the data beside the fit.

mod between;
mod compare;
mod constant;
mod evidence;
mod fitting;
mod idle;
mod inspection;
mod learnable;
mod level;
mod log;
mod problem;
mod quantity;
mod search;
mod separation;
mod slopes;
mod solution;
mod telling;
mod thermometer;
mod unexplained;
mod unreached;

pub use crate::document::calibration::{
    Calibration, Evidence, Forecast, Learned, Quality, Reading, RunningIn, Source, Stated, Thermocouple, Told,
};
pub use crate::simulate::Worn;
pub use crate::statistics::NINETY_FIVE;
pub(crate) use between::among_clutches;
pub use compare::{Compared, Farthest, Misfit};
pub use constant::{Constant, Scale};
pub use evidence::evidence;
pub use fitting::{Fitted, Noise, Unfitted, fit};
pub use idle::idle_shown;
pub use inspection::{Read, Way, When, run_in};
pub use learnable::{learnable, setting};
pub use level::share_level;
pub(crate) use log::LEVEL;
pub use log::{GAUGE, Logged, temperatures};
pub use problem::{Inspected, Problem};
pub use quantity::{Condition, Conditional, Deviation, Inspection, Quantity, Under};
pub use search::{Effort, Measured};
pub use separation::{Inseparable, separate, strongest};
pub use slopes::span;
pub use solution::{Solution, Unsolved};
pub use thermometer::{Delay, Stretch, Thermometer, lagging};
pub use unexplained::Unexplained;
pub use unreached::Unreached;
