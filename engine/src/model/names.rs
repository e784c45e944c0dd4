//! Names of the states, counters, slow quantities and guards, and the modes of the system.

/// Coupled states by index, SI.
#[allow(missing_docs)]
pub mod state {
    pub const MOTOR: usize = 0;
    pub const DRUM: usize = 1;
    pub const THROTTLE: usize = 2;
    /// first lining cell, at the rubbed face
    pub const LINING: usize = 3;
    pub const LINING_CELLS: usize = 6;
    /// first drum cell, at the rubbed face
    pub const WALL: usize = 9;
    pub const WALL_CELLS: usize = 4;
    pub const BAND: usize = WALL + WALL_CELLS - 1;
    pub const WEB: usize = 13;
    pub const SPROCKET: usize = 14;
    pub const BUSHING: usize = 15;
    pub const WASHER: usize = 16;
    pub const SHOES: usize = 17;
    pub const CARRIER: usize = 18;
    pub const SHAFT: usize = 19;
    pub const BLOCK: usize = 20;
    /// heat held by the head over the block, J
    pub const HEAD: usize = 21;
    /// oil masses, kg
    pub const PORES: usize = 22;
    pub const FILM: usize = 23;
    pub const WASHER_OIL: usize = 24;
    pub const GREASE: usize = 25;
    /// plain oil on the lining
    pub const LINING_OIL: usize = 26;
    /// oil on the lining that neither wipes nor burns off
    pub const LINING_RESIDUE: usize = 27;
    /// plain oil in the lining's pores
    pub const SOAKED: usize = 28;
    /// score of the bushing: 0 smooth, 1 seized
    pub const SCORE: usize = 29;
    pub const COUNT: usize = 30;
}

/// Name of a state or counter.
pub(crate) fn called(index: usize) -> &'static str {
    const NAMES: [&str; state::COUNT] = [
        "speed of the motor",
        "speed of the drum",
        "throttle opening",
        "temperature of the lining",
        "temperature of the lining",
        "temperature of the lining",
        "temperature of the lining",
        "temperature of the lining",
        "temperature of the lining",
        "temperature of the drum's wall",
        "temperature of the drum's wall",
        "temperature of the drum's wall",
        "temperature of the band",
        "temperature of the web",
        "temperature of the sprocket",
        "temperature of the bushing",
        "temperature of the washer",
        "temperature of the shoes",
        "temperature of the carrier",
        "temperature of the shaft",
        "temperature of the block",
        "heat of the motor's head",
        "oil in the pores",
        "oil in the film",
        "oil in the washer",
        "oil in the grease",
        "oil on the lining",
        "oil on the lining",
        "oil in the lining",
        "score of the bushing",
    ];
    NAMES.get(index).copied().unwrap_or("a sum of the books")
}

/// Pure integrals by index, counted after the states.
#[allow(missing_docs)]
pub mod counter {
    use super::state::COUNT as N;
    pub const MOTOR_WORK: usize = N;
    pub const CHAIN_WORK: usize = N + 1;
    pub const SLIP: usize = N + 2;
    pub const BEARING: usize = N + 3;
    pub const ROLLING: usize = N + 4;
    pub const AIR: usize = N + 5;
    pub const GRADE: usize = N + 6;
    pub const BRAKE: usize = N + 7;
    pub const CHAIN_LOSS: usize = N + 8;
    pub const MOTOR_HEAT: usize = N + 9;
    pub const LOST: usize = N + 10;
    pub const FLUNG: usize = N + 11;
    pub const EVAPORATED: usize = N + 12;
    pub const RUN_OFF: usize = N + 13;
    pub const LEAKED: usize = N + 14;
    pub const DISTANCE: usize = N + 15;
    /// destinations of the clutch's own heat: convected from band, from web and sprocket, from shoes and carrier,
    /// radiated, and conducted through the shaft to the motor's block, J
    pub const BAND_AIR: usize = N + 16;
    pub const DISC_AIR: usize = N + 17;
    pub const INNER_AIR: usize = N + 18;
    pub const RADIATED: usize = N + 19;
    pub const TO_MOTOR: usize = N + 20;
    pub const COUNT: usize = 21;
}

/// Slow quantities by index: wear depths of the pairs, ageing quantities, times, then the pairs' worn volumes by force
/// and sliding path, counted separately from the depths and never reset.
#[allow(missing_docs)]
pub mod slow {
    use crate::life::Pair;
    use crate::parts::MOST_SHOES;

    const N: usize = Pair::COUNT;
    pub const LINING: usize = depth(Pair::Lining);
    pub const RELAXATION: usize = N;
    pub const AGE: usize = N + 1;
    pub const OXIDATION: usize = N + 2;
    /// time during which the shoes slip on the drum, s
    pub const SLIDING_TIME: usize = N + 3;
    /// time during which bushing and washer turn on the shaft, s
    pub const TURNING_TIME: usize = N + 4;
    pub const RUNNING_TIME: usize = N + 5;
    /// share of its life that heat has taken from the washer's fibre
    pub const DOSE: usize = N + 6;
    /// glaze of the lining: 0 clean, 1 glazed
    pub const GLAZE: usize = N + 7;
    const VOLUMES: usize = N + 8;
    /// lining worn off each shoe, m, if their springs differ
    pub const SHOES: usize = VOLUMES + N;
    /// number of slow quantities
    pub const COUNT: usize = SHOES + MOST_SHOES;

    /// wear depth of a pair, m
    pub const fn depth(pair: Pair) -> usize {
        pair as usize
    }

    /// worn volume of a pair by force and sliding path, m³
    pub const fn volume(pair: Pair) -> usize {
        VOLUMES + pair as usize
    }

    /// Whether a quantity is a wear depth or a worn volume.
    #[cfg(test)]
    pub const fn wears(index: usize) -> bool {
        index < N || index >= VOLUMES
    }
}

/// Guards by index: each falls through zero at its event.
#[allow(missing_docs)]
pub mod guard {
    use crate::names::Happening;

    pub const ENGAGE: usize = 0;
    pub const RELEASE: usize = 1;
    pub const SPEEDS_EQUAL: usize = 2;
    pub const BREAKAWAY: usize = 3;
    pub const STANDSTILL: usize = 4;
    pub const SET_OFF: usize = 5;
    pub const ROLL_BACK: usize = 6;
    pub const STALL: usize = 7;
    pub const MOTOR_STOPPED: usize = 8;
    pub const BRAKE_EASES: usize = 9;
    pub const BRAKE_BITES: usize = 10;
    pub const TARGET: usize = 11;
    pub const SEIZED: usize = 12;
    pub const TOO_HOT: usize = 13;
    pub const COUNT: usize = 14;
    /// event of each guard, or the name of its chatter if no event is recorded
    pub const WHAT: [Result<Happening, &str>; COUNT] = [
        Ok(Happening::Engages),
        Ok(Happening::Releases),
        Ok(Happening::Meets),
        Ok(Happening::Unlocks),
        Ok(Happening::Stops),
        Ok(Happening::SetsOff),
        Ok(Happening::RollsBack),
        Ok(Happening::Stalls),
        Ok(Happening::MotorStops),
        Err("brake eases"),
        Err("brake bites"),
        Ok(Happening::ReachesSpeed),
        Err("bushing seized"),
        Ok(Happening::TooHot),
    ];

    /// Name of a guard.
    pub(crate) const fn called(guard: usize) -> &'static str {
        match WHAT[guard] {
            Ok(what) => what.name(),
            Err(name) => name,
        }
    }
}

/// State of the clutch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contact {
    /// shoes off the drum
    Free,
    /// rubbing; +1 if the motor is faster
    Slip(f64),
    /// locked: motor and drum turn together
    Locked,
}

/// State of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Motion {
    /// at rest
    Held,
    /// forward +1, backward −1
    Moving(f64),
}

/// State of the motor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MotorState {
    /// firing
    Running,
    /// switched off or stalled, still turning
    Coasting,
    /// at rest
    Stopped,
}

/// Speed over ground at which a segment ends, m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Target {
    /// reached from below
    Faster(f64),
    /// reached from above
    Slower(f64),
}

/// The rider's demand on the throttle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ask {
    /// this opening, 0..1
    Opening(f64),
    /// this speed, m/s, at this time, with this slope, m/s²
    Speed {
        /// speed at `at`
        speed: f64,
        /// its slope
        slope: f64,
        /// s
        at: f64,
    },
}

/// The rider's demand on the brake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BrakeAsk {
    /// off
    Off,
    /// decelerate by this much, m/s², or if negative accelerate by no more than that; then hold
    Slow(f64),
}
