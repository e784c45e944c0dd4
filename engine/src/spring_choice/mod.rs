//! Choice of a spring: every spring of a stock judged on one machine, with reasons.

mod judge;
mod lock;
mod rank;
mod reasons;
mod sketch;
mod sought;
mod trials;
mod wish;

pub use crate::document::reason::{Heated, Reason};
pub use crate::document::spring_choice::{
    Balance, Choice, Crawl, Drag, EachStart, Found, Judged, Launch, MadeOf, Peaks, Renewed, Sketched, Trade,
};
pub use crate::document::verdict::{Verdict, Weight};
pub use judge::{Spring, judge};
pub use lock::steepest;
pub use rank::choice;
pub use sketch::sketch;
pub use sought::{InPlace, in_place_of_own, in_place_of_stock, sought};
pub use wish::Wish;
