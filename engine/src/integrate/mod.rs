//! Time stepping of a stiff system with located events, generic over the system.

mod rodas;
mod rows;
mod sparse;
mod stepper;
mod work;

pub use rows::Rows;
pub use sparse::Sparse;
pub use stepper::{Ended, Entries, Flow, Jacobian, Observer, Sizes, Step, Stepper, Stuck, System};
pub use work::Work;
