//! The moments of a ride that a record keeps.

use super::names;

names! {
    /// A moment of a ride and of the rest after it.
    MomentOf {
        HottestLining = "hottest lining",
        MotorOff = "motor off",
        Standstill = "standstill",
        After2Min = "2 min after",
        After30Min = "30 min after",
        Asked = "at the time asked for",
    }
}
