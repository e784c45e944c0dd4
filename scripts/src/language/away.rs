//! Time and memory used by the engine while a script runs.

use slipsoak_memory::held;
use std::cell::Cell;
use std::time::{Duration, Instant};

/// Time and memory that the engine uses while a script runs; they are not counted for the script.
#[derive(Debug, Default)]
pub struct Away {
    pub(crate) time: Cell<Duration>,
    pub(crate) bytes: Cell<i64>,
}

impl Away {
    /// Runs work of the engine.
    pub fn during<T>(&self, work: impl FnOnce() -> T) -> T {
        let (start, before) = (Instant::now(), held());
        let done = work();
        self.time.set(self.time.get() + start.elapsed());
        self.bytes.set(self.bytes.get() + held() - before);
        done
    }
}
