//! The laws: pure functions, SI units, generic over [`crate::real::Real`] where a state enters.
//!
//! Each law says what it gives, its balance, its equation, what it neglects and where it comes from.

pub mod air;
pub mod bearing;
pub mod conduction;
pub mod convection;
pub mod deviates;
pub mod friction;
pub mod history;
pub mod margin;
pub mod motor;
pub mod oil;
pub mod shoe;
pub mod springs;
pub mod stack;
pub mod vehicle;
pub mod wear;
