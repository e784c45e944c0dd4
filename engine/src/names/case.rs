//! Cases computed for the shop questions, and quantiles of a fleet's times.

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

names! {
    /// A time by which a share of a fleet has reached a state.
    Quantile {
        B10 = "B10",
        B50 = "B50",
        B90 = "B90",
    }
}

impl Quantile {
    /// The share of the fleet, 0 to 1.
    pub const fn share(self) -> f64 {
        match self {
            Self::B10 => 0.1,
            Self::B50 => 0.5,
            Self::B90 => 0.9,
        }
    }
}
