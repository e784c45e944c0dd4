//! Statistics of lives: what a sample says about all clutches, and shares of variance due to uncertain settings.

mod bank;
mod counts;
mod first;
mod indices;
mod lognormal;
mod percentile;
mod regression;
mod screen;
mod weibull;

pub use bank::{Bank, Worth};
pub use counts::{count_at, none_of};
pub use first::{Share, share_of, weibull_series};
pub use indices::{Design, Index};
pub use lognormal::{NINETY_FIVE, lognormal_life, normal_quantile, normal_share};
pub use percentile::{Bounds, percentile, wilks};
pub use screen::Learnt;
pub use weibull::{Fit, Weibull, fit, weibull_life};
