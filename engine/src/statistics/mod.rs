//! Statistics of lives: what a sample of ends says about all clutches, and which uncertain setting matters.

mod first;
mod indices;
mod lognormal;
mod percentile;
mod weibull;

pub use first::{Share, first_to_fail, share_of, weibull_series};
pub use indices::{Design, Index};
pub use lognormal::{lognormal_life, normal_quantile, normal_share};
pub use percentile::{Bounds, percentile, wilks};
pub use weibull::{Fit, Weibull, fit, weibull_life};
