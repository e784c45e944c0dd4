//! Spread of settings: distributions, samples, correlations, sampled machines.

mod correlation;
mod distribution;
mod draw;
mod known;
mod levels;
mod sample;
mod uncertain;

pub use correlation::mixture;
pub use distribution::{
    ASSUMED, Spread, assumed, assumed_factor, assumed_of, assumed_range, first_worn_range, life_factor,
};
pub use draw::deviate;
pub use known::Known;
pub use levels::{Levels, MOST_CLUTCHES, among_clutches, common_share};
pub use sample::{machine_at, sample};
pub use uncertain::Uncertain;
