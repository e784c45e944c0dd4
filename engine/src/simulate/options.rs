//! Options of a run.

/// Options of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// largest number of windows; if there are more, they are joined in pairs. With 0, nothing is recorded: the run has
    /// no windows and no extremes (of segments or overall), its parts have no curves and their lives refer to the whole
    /// run, and there are no warnings of peaks and of dragging at idle. Ledgers, events and use of the parts are
    /// complete.
    pub windows: usize,
    /// largest number of events listed; if there are more, the least informative kinds are left out
    pub events: usize,
    /// largest number of launches kept, with the slip energy of each
    pub launches: usize,
    /// tolerance of the integrator
    pub tolerance: Tolerance,
}

/// Allowed errors of an integrator step, relative to the defaults.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// of speeds and throttle
    pub speeds: f64,
    /// of temperatures and oil
    pub rest: f64,
}

impl Tolerance {
    /// For lives: half the steps. Wear is a sum over whole launches, to which the errors of speeds within a launch add
    /// little: every part's wear and the oil of a life stay within 3e-4, relaxation within 2e-3.
    pub const LIVES: Self = Self { speeds: 24.0, rest: 2.0 };

    /// The same factor for every state.
    pub const fn alike(times: f64) -> Self {
        Self { speeds: times, rest: times }
    }
}

impl Options {
    /// Those of a run of which nothing is recorded, such as a clutch of a fleet.
    pub const UNRECORDED: Self = Self { windows: 0, events: 2000, launches: 0, tolerance: Tolerance::alike(1.0) };
}

impl Default for Options {
    fn default() -> Self {
        Self { windows: 600, ..Self::UNRECORDED }
    }
}
