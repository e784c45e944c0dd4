//! Cases computed for the shop questions.

use super::names;

names! {
    /// Oiling of the bushing while a gap wears.
    Oiled {
        Kept = "kept oiled",
        Dry = "run dry",
    }
}

names! {
    /// Case of an oiling's life: leakage, and whether with grease.
    LeakCase {
        AsSet = "as set",
        Least = "least leak",
        Most = "most leak",
        Greased = "with grease",
    }
}
