//! What happens in a run.

use super::names;

names! {
    /// Something that happens in a run.
    Happening {
        Engages = "engages",
        Releases = "releases",
        Meets = "meets",
        Locks = "locks",
        Unlocks = "unlocks",
        SlipsOver = "slips over",
        Stops = "stops",
        SetsOff = "sets off",
        RollsBack = "rolls back",
        Stalls = "stalls",
        MotorStarts = "motor starts",
        SwitchedOff = "switched off",
        MotorStops = "motor stops",
        ReachesSpeed = "reaches speed",
        LiningThrough = "lining worn through",
        BushingThrough = "bushing worn through",
        WasherThrough = "washer worn through",
        FaceGone = "bushing's face worn away",
        Oiled = "oiled",
        Greased = "greased",
        Found = "found",
        NewLining = "new lining",
        NewWasher = "new washer",
        NewBushing = "new bushing",
        NewSpring = "new spring",
        Adjusted = "adjusted",
    }
}
