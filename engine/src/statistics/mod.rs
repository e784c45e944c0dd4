//! Statistics of lives: percentiles without a distribution, Weibull's distribution, shares.

mod percentile;
mod share;
mod weibull;

pub use percentile::{Bounds, percentile, wilks};
pub use share::share_of;
pub use weibull::{Weibull, fit};
