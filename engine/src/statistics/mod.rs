//! Statistics of lives: what a sample of ends says about all clutches, and which uncertain setting matters.

mod percentile;

pub use percentile::{Bounds, percentile, wilks};
