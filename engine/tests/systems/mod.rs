//! Systems with known answers.

pub mod belt;
pub mod inertias;
pub mod reference;
pub mod smooth;
