//! Choice of a spring: every spring of a stock judged on one machine, with reasons.

mod answer;
mod judge;
mod lock;
mod rank;
mod reason;
mod reasons;
mod sketch;
mod wish;

pub use answer::{Balance, Choice, Crawl, Drag, Found, Judged, Launch, MadeOf, Peaks, Sketched, Trade};
pub use judge::{Spring, judge};
pub use lock::steepest;
pub use rank::choice;
pub use reason::{Heated, Reason, Verdict, Weight};
pub use sketch::sketch;
pub use wish::Wish;
