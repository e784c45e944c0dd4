//! Systems with known solutions.

pub mod belt;
pub mod inertias;
pub mod reference;
pub mod smooth;
pub mod throw;
pub mod two_events;
