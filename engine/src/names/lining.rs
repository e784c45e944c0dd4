//! Materials of the lining.

use super::names;

names! {
    /// Material of the lining.
    LiningKind {
        Woven = "woven",
        Moulded = "moulded",
        Sintered = "sintered",
        BareMetal = "bare metal",
    }
}

impl LiningKind {
    /// Whether it is woven, as that of a machine whose kind is not given.
    pub fn is_woven(&self) -> bool {
        *self == Self::Woven
    }
}

#[allow(clippy::derivable_impls, reason = "the enum is declared by its names")]
impl Default for LiningKind {
    fn default() -> Self {
        Self::Woven
    }
}
