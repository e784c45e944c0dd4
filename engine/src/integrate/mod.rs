//! Time stepping of a stiff system with located events, generic over the system.

mod rodas;
mod rows;
mod sparse;
mod stepper;
mod system;
mod work;

pub use rows::Rows;
pub use sparse::Sparse;
pub(crate) use stepper::FirstSteps;
pub use stepper::Stepper;
pub use system::{Ended, Entries, Flow, Jacobian, Observer, Sizes, Step, Stuck, System};
pub use work::Work;
