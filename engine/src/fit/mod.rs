//! Will it fit, and when will it rub: the stack that leaves the gap between drum and cover, new and as it wears.

mod answer;
mod assemblies;
mod gaps;
mod stack;

pub use answer::{Clearance, Course, Drawn, Gaps, Layer, Point, Stack, When};
pub use gaps::{Wish, gaps};
pub use stack::{share_below, stack};
