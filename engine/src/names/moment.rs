//! Moments of a ride kept in a record.

use super::names;

names! {
    /// A moment of a ride or of the rest after it.
    MomentOf {
        HottestLining = "hottest lining",
        MotorOff = "motor off",
        Standstill = "standstill",
        After2Min = "2 min after",
        After30Min = "30 min after",
        Asked = "at the time given",
    }
}
