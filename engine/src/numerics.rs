//! The numerical methods, none of which knows of clutches.
//!
//! [`Stepper`] integrates any stiff [`System`] with located events. [`travel`] carries anything [`Repeating`] over many
//! repetitions of a block and skips most of them. [`Dual`] is a number with slopes, on which a function written over
//! [`Real`] gives its derivatives; [`along`] reads a curve.

pub use crate::curve::along;
pub use crate::horizon::{Counts, Course, Pieced, Repeating, SkipStats, Skipping, recur, travel};
pub use crate::integrate::{
    Ended, Entries, Flow, Jacobian, Observer, Rows, Sizes, Sparse, Step, Stepper, Stuck, System, Work,
};
pub use crate::real::{Dual, Real};
