//! Systems that repeat the same block, and the behaviour of their quantities from block to block.

/// Behaviour of a quantity from block to block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    /// drifts slowly; its error stays below the tolerance times its change, plus about this much for each e-fold of
    /// time
    Drifts(f64),
    /// drifts, and slows down by its own growth: its slope falls as S/(1 + n S/c), so that it grows as a logarithm
    Slows(f64),
    /// drifts towards a level that moves slowly, by the same share of the distance in each block; allowed errors as of what drifts
    Relaxes(f64),
    /// follows slow quantities; extrapolated too, without limiting the length of jumps
    Follows,
    /// relaxes to a quasi-steady value set by the slow quantities; within this distance of it (the settling width), it
    /// counts as settled
    Settles(f64),
    /// returns to the same value at the end of every block, whatever it began with, as the speed of a motor does (the settling width);
    /// only of what is foretold piece by piece
    Returns(f64),
}

/// A system that repeats the same block.
pub trait Repeating {
    /// The state that `hold` keeps.
    type Held;
    /// Reason why a block cannot be run.
    type Error;
    /// Runs one block in full.
    fn block(&mut self) -> Result<(), Self::Error>;
    /// Courses of all quantities, judged by the last block. A settling quantity may turn into a drifting one when
    /// nothing drives it back any more.
    fn quantities(&self) -> Vec<Course>;
    /// Whether a state that settles takes several blocks for it; the others forget a disturbance within a block.
    fn lingers(&self, _quantity: usize) -> bool {
        true
    }
    /// The present values of all quantities.
    fn read(&self) -> Vec<f64>;
    /// Replaces the present values, after this many skipped blocks (0 for a correction).
    fn put(&mut self, values: &[f64], blocks: f64);
    /// Keeps the present state.
    fn hold(&self) -> Self::Held;
    /// Returns to a kept state.
    fn restore(&mut self, held: Self::Held);
    /// A number that changes where the laws change (a part worn through). Such a change is never skipped across, and
    /// extrapolations from before it are discarded.
    fn regime(&self) -> u64 {
        0
    }
    /// A number that changes at a milestone whose time is wanted although the laws stay the same. It is never skipped
    /// across.
    fn passed(&self) -> u64 {
        0
    }
    /// Largest number of blocks that may be skipped before a limit comes near, for these changes per block of all
    /// quantities.
    fn room(&self, _slopes: &[f64]) -> f64 {
        f64::INFINITY
    }
    /// Whether the repetition is over.
    fn over(&self) -> bool {
        false
    }
}

/// A repeated block made of pieces, some of which recur, within the block or from block to block.
pub trait Pieced: Repeating {
    /// Number of kinds of recurring pieces.
    fn kinds(&self) -> usize;
    /// Kind of the next piece; none if it is always simulated.
    fn kind(&self) -> Option<usize>;
    /// Simulates the next piece.
    fn perform(&mut self) -> Result<(), Self::Error>;
    /// Number of recurring pieces inside the next piece that may be foretold one by one; 0 if it is simulated as a whole.
    fn inside(&self) -> usize {
        0
    }
    /// Goes down to the pieces inside the next piece; `over` is then true after the last of them.
    fn enter(&mut self) {}
    /// Goes up again, to the end of the piece that was entered.
    fn leave(&mut self) {}
    /// Passes over the next piece, which recurs; values of all quantities after it. They are `put` later.
    fn pass(&mut self, values: &[f64]);
    /// A number that differs where the next piece is simulated under other settings.
    fn setting(&self) -> u64;
    /// Whether the next piece leaves everything but its quantities as it finds it.
    fn steady(&self) -> bool;
    /// Whether the next piece may be the last of its kind.
    fn closes(&self) -> bool;
}
