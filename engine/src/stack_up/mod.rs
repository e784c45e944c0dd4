//! Stack-up: the gap between drum and cover, when new and over its wear.

mod assemblies;
mod gaps;
mod stack;

pub use crate::document::stack_up::{Clearance, Course, Drawn, Fails, Gaps, Layer, Point, Stack, When};
pub use gaps::{Wish, gaps};
pub use stack::{share_below, stack};
