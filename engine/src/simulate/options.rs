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

/// Allowed errors of an integrator step, relative to the close ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// of speeds and throttle
    pub speeds: f64,
    /// of temperatures and oil
    pub rest: f64,
    /// of the lining's first cell without slip and of the locked drum, over the above
    pub without_slip: f64,
    /// of speeds and throttle while the lining slips, over that of speeds
    pub slipping: f64,
    /// of the film in the bushing's clearance, over the rest
    pub film: f64,
}

impl Tolerance {
    /// The close tolerance, for comparisons: wear within 1e-4 and temperatures within 0.03 K of the equations' solution,
    /// at about twice the steps of a run by default.
    pub const CLOSE: Self = Self::alike(1.0);

    /// The default, of runs and lives: the lining's peak within 0.5 K, all other temperatures within 0.1 K, every part's
    /// wear within 0.1 %, the fill within 0.1 %, each with a margin of three on the duties of
    /// `engine/tests/accuracy_classes.rs`.
    pub const RUNS: Self = Self { speeds: 75.0, rest: 9.0, without_slip: 3.0, slipping: 2.0, film: 0.4 };

    /// The same factor for every state.
    pub const fn alike(times: f64) -> Self {
        Self { speeds: times, rest: times, without_slip: 1.0, slipping: 1.0, film: 1.0 }
    }

    /// This tolerance times a factor.
    #[must_use]
    pub const fn times(self, factor: f64) -> Self {
        Self { speeds: self.speeds * factor, rest: self.rest * factor, ..self }
    }
}

impl Options {
    /// Those of a run of which nothing is recorded, such as a clutch of a fleet.
    pub const UNRECORDED: Self = Self { windows: 0, events: 2000, launches: 0, tolerance: Tolerance::RUNS };
}

impl Default for Options {
    fn default() -> Self {
        Self { windows: 600, ..Self::UNRECORDED }
    }
}
