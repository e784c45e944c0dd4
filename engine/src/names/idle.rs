//! What holds the motor's idle speed.

use super::names;

names! {
    /// What holds the motor's idle speed.
    IdleKind {
        Unstated = "not stated",
        ThrottleStop = "throttle stop",
        Governed = "governed",
    }
}

impl IdleKind {
    /// Whether a governor opens the throttle against a drag. Runs of a machine whose kind is not stated idle on the stop.
    pub fn is_governed(self) -> bool {
        self == Self::Governed
    }

    /// The kinds that it may be.
    pub fn possible(self) -> &'static [Self] {
        match self {
            Self::Unstated => &[Self::ThrottleStop, Self::Governed],
            Self::ThrottleStop => &[Self::ThrottleStop],
            Self::Governed => &[Self::Governed],
        }
    }
}

#[allow(clippy::derivable_impls, reason = "the enum is declared by its names")]
impl Default for IdleKind {
    fn default() -> Self {
        Self::Unstated
    }
}
