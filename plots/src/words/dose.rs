//! Doses of oil.

use slipsoak_engine::names::Entry;

/// Entries of oil that ends on the ground.
pub const GROUND: [Entry; 3] = [Entry::Flung, Entry::Leaked, Entry::RunOff];
