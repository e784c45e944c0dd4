//! A season of a shop's carts: which parts they need and when, and how policies of service compare.

mod check;
mod clutch;
mod constants;
mod course;
mod day;
#[cfg(test)]
mod example;
mod gauge;
mod map;
mod needs;
mod plan;
mod probe;
#[cfg(test)]
mod sampled_days;
#[cfg(test)]
mod sampled_seasons;
mod service_days;
mod shop;
mod simulated;
mod store;
mod surface;
mod warming;
mod wish;
mod workshop;

pub use crate::document::season::{
    Amount, Asked, Chosen, Course, Difference, Direct, Event, FirstStop, Followed, Happened, MapError, Mapped, Need,
    Oiling, Outcome, Paired, Policy, Prices, Rate, SPARES, Season, ServiceDays, Split, Week, WornBefore,
};
pub use day::Day;
pub use needs::{Demands, enough};
pub use plan::{plan, trials};
pub use wish::Wish;
pub use workshop::{Cart, Log, Stock, season, spare};
