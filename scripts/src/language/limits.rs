//! Limits of a script, resources used, and reasons for stopping it.

use crate::language::closures::DEEPEST;
use slipsoak_engine::simulate::Skipping;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

/// Limits of a script.
#[derive(Clone, Debug)]
pub struct Limits {
    /// operations of the interpreter, for each run of the script or of a duty
    pub operations: u64,
    /// time of the interpreter and its words, without the engine's: per run, and over the whole command as far as it
    /// exceeds the engine's
    pub time: Duration,
    /// bytes that a run of the script or of a duty may hold
    pub memory: u32,
    /// tolerance of skipping repeated blocks
    pub skipping: Skipping,
    /// time used by all interpreters of a command
    pub spent: Arc<Spent>,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            operations: 20_000_000,
            time: Duration::from_mins(1),
            memory: 150_000_000,
            skipping: Skipping::default(),
            spent: Arc::default(),
        }
    }
}

/// Time used by the interpreters of a command, on all threads together.
#[derive(Debug, Default)]
pub struct Spent {
    script: AtomicU64,
    engine: AtomicU64,
}

impl Spent {
    /// Adds time of the script.
    pub(crate) fn add_script(&self, time: Duration) {
        self.script.fetch_add(time.as_nanos() as u64, Ordering::Relaxed);
    }

    /// Adds time of the engine.
    pub(crate) fn add_engine(&self, time: Duration) {
        self.engine.fetch_add(time.as_nanos() as u64, Ordering::Relaxed);
    }

    pub(crate) fn script(&self) -> Duration {
        Duration::from_nanos(self.script.load(Ordering::Relaxed))
    }

    pub(crate) fn engine(&self) -> Duration {
        Duration::from_nanos(self.engine.load(Ordering::Relaxed))
    }
}

/// Reason why a script was stopped.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum LimitError {
    /// too many operations
    #[error("the script was stopped after {0} operations; is there a loop that does not end?")]
    Operations(u64),
    /// too much time
    #[error("the script was stopped after {} s; is there a loop that does not end?", .0.as_secs_f64())]
    Time(Duration),
    /// too much time over all runs
    #[error(
        "the script was stopped: its own work has taken {:.0} s over all its runs, and the simulation {:.0} s; the script may \
         take {} s more than the simulation",
        .script.as_secs_f64(), .engine.as_secs_f64(), .most.as_secs_f64()
    )]
    Total {
        /// time of the script
        script: Duration,
        /// time of the engine
        engine: Duration,
        /// allowed time beyond the engine's
        most: Duration,
    },
    /// too much memory
    #[error("the script was stopped: what it holds takes more than {} MB of memory", .0 / 1_000_000)]
    Memory(u32),
    /// values nested too deep or in a cycle
    #[error(
        "the script was stopped: values hold one another more than {DEEPEST} deep, or in a circle (lists in lists, or closures \
         that take closures from outside)"
    )]
    Deep,
}

impl LimitError {
    /// Remedy.
    pub(crate) fn help(self) -> &'static str {
        match self {
            Self::Operations(_) | Self::Time(_) => "make the loop end, or use fewer and longer entries",
            Self::Total { .. } => "let the script do less for each run: fewer machines, shorter loops, files read once",
            Self::Memory(_) => "keep fewer and shorter lists, and no copies of machines or traces that are not needed",
            Self::Deep => "keep values side by side in one list",
        }
    }
}
