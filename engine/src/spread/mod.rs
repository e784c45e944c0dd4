//! Spread of settings: distributions, samples, correlations, sampled machines.

mod correlation;
mod distribution;
mod draw;
mod sample;
mod uncertain;

pub use correlation::mixture;
pub use distribution::{ASSUMED, SPRINGS, Spread, assumed, assumed_factor, assumed_of, assumed_range};
pub use draw::deviate;
pub use sample::{machine_at, sample};
pub use uncertain::Uncertain;
