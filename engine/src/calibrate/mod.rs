//! Constants learned from measurements: bounded least squares with priors, and what the data cannot tell.
//!
//! The residuals are (predicted − measured)/deviation. A constant is fitted on a scale of its own (its logarithm, say), on
//! which its prior, where it has one, is normal. [`fit`] starts from several places, all of which follow from a seed;
//! [`separate`] says beforehand which constants the data cannot tell, or cannot tell apart.

mod constant;
mod document;
mod fitting;
mod inspection;
mod level;
mod separation;

pub use constant::{Constant, Scale};
pub use document::{Calibration, Evidence, Forecast, Learned, Quality, Reading, RunningIn, Source, Told};
pub use fitting::{Effort, Fitted, Measured, Noise, Unfitted, fit};
pub use inspection::{Manner, Quantity, Way, When, run_in};
pub use level::share_level;
pub use separation::{Inseparable, separate, strongest};
