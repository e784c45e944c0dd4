//! Recorded rides: cleaned into traces that a rider can follow, and the launches of a ride.

mod cleaning;
mod launches;
mod noise;
mod unrecorded;

pub use cleaning::{EVEN, LONGEST, SHORTEST, Unclean, clean, gaps, rising};
pub use launches::{classes, followed, launched};
pub use noise::{GAP, Point, made_good};
pub use unrecorded::{RIDDEN, Unrecorded};
