//! What goes through the same block again and again, and how its quantities behave from block to block.

/// How a quantity behaves from block to block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    /// it drifts slowly; its error is held below the tolerance times its change, plus about this for each e-fold of the way
    Drifts(f64),
    /// as one that drifts, but what it has grown by slows it: its slope falls as S/(1 + n S/c), and it grows as a logarithm
    Slows(f64),
    /// it follows what drifts and is carried along without a say in the length of jumps
    Follows,
    /// it settles to where what drifts lets it; so far off, it is as good as there
    Settles(f64),
}

/// Something that goes through the same block again and again.
pub trait Repeating {
    /// What `hold` keeps.
    type Held;
    /// Why a block cannot be run.
    type Error;
    /// Runs one block in full.
    fn block(&mut self) -> Result<(), Self::Error>;
    /// The courses of all quantities, by the last block: one that settles may drift where nothing pulls it to its place any more.
    fn quantities(&self) -> Vec<Course>;
    /// The present values of all quantities.
    fn read(&self) -> Vec<f64>;
    /// Puts values in place of the present ones; so many blocks were skipped for them (0 for a correction).
    fn put(&mut self, values: &[f64], blocks: f64);
    /// Keeps the present state.
    fn hold(&self) -> Self::Held;
    /// Returns to a kept state.
    fn restore(&mut self, held: Self::Held);
    /// A number that changes where the laws change (a part worn through): never skipped across, and what was foreseen before
    /// says nothing after it.
    fn regime(&self) -> u64 {
        0
    }
    /// A number that changes where something is passed whose time is asked for, though the laws stay the same: never skipped
    /// across.
    fn passed(&self) -> u64 {
        0
    }
    /// Most blocks that may be skipped before a limit comes in sight, for changes per block of all quantities.
    fn room(&self, _slopes: &[f64]) -> f64 {
        f64::INFINITY
    }
    /// Whether the way ends here.
    fn over(&self) -> bool {
        false
    }
}
