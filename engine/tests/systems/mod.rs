//! Systems with known answers.

pub mod reference;
