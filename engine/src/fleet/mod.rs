//! A fleet: clutches of one kind, each with its own draw of what is uncertain.

mod correlation;
mod draw;
mod paired;
mod report;
mod spread;

pub use correlation::mixture;
pub use draw::deviate;
pub use paired::{Gain, Paired, paired, sign_test};
pub use report::{Fleet, LEVELS, Milestone, Outcome, Report, Share, Wearing, report};
pub use spread::{ASSUMED, Spread, Uncertain, assumed_factor, assumed_range, machine_at, sample};
