//! The cases that the shop's questions work out.

use super::names;

names! {
    /// How the bushing is oiled while a gap wears.
    Oiled {
        Kept = "kept oiled",
        Dry = "run dry",
    }
}

names! {
    /// With which leakage, and whether with grease, it is followed how long an oiling lasts.
    LeakCase {
        AsSet = "as set",
        Least = "least leak",
        Most = "most leak",
        Greased = "with grease",
    }
}
