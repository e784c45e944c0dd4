//! Stack-up: the gap between drum and cover, when new and over its wear.

mod answer;
mod assemblies;
mod gaps;
mod stack;

pub use answer::{Clearance, Course, Drawn, Gaps, Layer, Point, Stack, When};
pub use gaps::{Wish, gaps};
pub use stack::{share_below, stack};
