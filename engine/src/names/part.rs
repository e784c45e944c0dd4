//! The parts whose use is counted.

use super::names;

names! {
    /// A part, or a way in which one comes to its limit, in the order of records.
    Part {
        Lining = "lining",
        Bushing = "bushing",
        Washer = "washer",
        Spring = "spring",
        Oil = "oil",
        CoverGap = "cover gap",
        Charring = "washer charring",
    }
}

impl Part {
    /// Whether it wears. Oil does not: at its limit it is due for service, and the clutch goes on.
    pub fn wears(self) -> bool {
        self != Self::Oil
    }
}
