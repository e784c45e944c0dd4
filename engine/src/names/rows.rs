//! Parts with a use, events of a run, ledgers and their entries.

use super::names;

names! {
    /// A part, or a way in which a part reaches its limit, in the order of records.
    Part {
        Lining = "lining",
        Bushing = "bushing",
        Washer = "washer",
        Spring = "spring",
        Oil = "oil",
        CoverGap = "cover gap",
        Charring = "washer charring",
        Seized = "bushing seized",
    }
}

impl Part {
    /// Whether it wears. Oil does not: at its limit it is due for service, and the clutch continues.
    pub fn wears(self) -> bool {
        self != Self::Oil
    }
}

names! {
    /// A supply that services use up.
    Supply {
        Drops = "drops of oil",
        Grease = "mL of grease",
        Washers = "washers",
        Bushings = "bushings",
        Linings = "linings",
        Springs = "sets of springs",
    }
}

names! {
    /// A quantity that an inspection or a bench test reads, named by its column.
    Quantity {
        Washer = "washer",
        Bushing = "bushing",
        Lining = "lining",
        Engagement = "engagement",
        Spring = "spring",
        Weight = "weight",
        Drop = "drop",
        SpinDown = "spin-down",
        Charring = "charring",
    }
}

names! {
    /// A condition of a reading, named by its column.
    Condition {
        Drag = "drag",
        Spun = "spun",
        Warm = "warm",
    }
}

names! {
    /// An event of a run.
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
        Squeals = "bushing squeals",
        Grabs = "bushing grabs",
        Seizes = "bushing seizes",
        TooHot = "too hot to go on",
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

names! {
    /// A ledger.
    Book {
        Mechanics = "mechanics",
        Chain = "chain",
        Heat = "heat",
        Oil = "oil",
        Wear = "wear",
        Clutch = "clutch",
    }
}

names! {
    /// An entry of a ledger.
    Entry {
        MotorWork = "motor work",
        StarterWork = "starter work",
        TurningMotor = "turning motor",
        TurningDrum = "turning drum",
        ChainWork = "chain work",
        ChainLoss = "chain loss",
        SlipHeat = "slip heat",
        BearingHeat = "bearing heat",
        MotorHeat = "motor heat",
        MovingVehicle = "moving vehicle",
        Rolling = "rolling",
        Air = "air",
        Grade = "grade",
        Brake = "brake",
        InLining = "in lining",
        InDrum = "in drum",
        InDrumWall = "in drum wall",
        InWeb = "in web",
        InSprocket = "in sprocket",
        InBushing = "in bushing",
        InWasher = "in washer",
        InBushingAndWasher = "in bushing and washer",
        InShoes = "in shoes",
        InCarrier = "in carrier",
        InShaft = "in shaft",
        InShoesCarrierAndShaft = "in shoes, carrier and shaft",
        InMotorBlock = "in motor block",
        ToTheAir = "to the air",
        BandToTheAir = "band to the air",
        WebAndSprocketToTheAir = "web and sprocket to the air",
        ShoesAndCarrierToTheAir = "shoes and carrier to the air",
        Radiated = "radiated",
        ThroughTheShaft = "through the shaft to the motor",
        InPoresAtTheStart = "in pores at the start",
        InFilmAtTheStart = "in film at the start",
        InWasherAtTheStart = "in washer at the start",
        PutOn = "put on",
        InNewParts = "in new parts",
        InPores = "in pores",
        InFilm = "in film",
        InGrease = "in grease",
        OnLining = "on lining",
        Flung = "thrown off",
        Evaporated = "evaporated",
        RunOff = "run off",
        Leaked = "leaked",
        RemovedWithParts = "removed with parts",
        Lining = "lining",
        BushingBore = "bushing bore",
        Washer = "washer",
        BushingFace = "bushing face",
        TakenOffWithWornParts = "taken off with worn parts",
        TakenOff = "taken off",
        ForceAndPath = "force and path",
        Depth = "depth",
        Adjusted = "adjusted",
        EvenedOut = "evened out at skips",
    }
}

names! {
    /// A decision of a shop that a measurement may serve.
    Decision {
        Oiling = "oiling",
        Life = "life",
        Spring = "spring",
        Season = "season",
    }
}

names! {
    /// A way to measure, by hand or with a log.
    Method {
        Weigh = "weigh drum and bushing",
        Washer = "thickness of the washer",
        Bushing = "clearance of the bushing",
        Lining = "thickness of the lining",
        Engagement = "engagement by tachometer",
        Spring = "pull of the springs",
        Idle = "idle by tachometer",
        Drop = "drop of the idle",
        Face = "infra-red on the drum",
        SpinDown = "spin-down of the drum",
        Log = "thermocouple log",
    }
}
