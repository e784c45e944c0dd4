//! A fleet: clutches of one kind, each with its own sample of the uncertain settings.

mod outcome;
mod paired;
mod report;

pub use crate::document::fleet::{
    DRAGGING, Direction, Fleet, Gain, Milestone, Outcome, Paired, Report, Share, Wearing,
};
pub use crate::spread::{
    ASSUMED, Known, Levels, MOST_CLUTCHES, Spread, Uncertain, among_clutches, assumed, assumed_factor, assumed_of,
    assumed_range, common_share, deviate, first_worn_range, life_factor, machine_at, mixture, sample,
};
pub use outcome::LEVELS;
pub use paired::{paired, sign_test};
pub use report::{CONFIDENCE, report};
