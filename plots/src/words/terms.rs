//! The terms of the trade: each stands once, with its meaning and what not to call it.

/// A term.
#[derive(Clone, Copy, Debug)]
pub struct Term {
    /// term
    pub term: &'static str,
    /// meaning
    pub meaning: &'static str,
    /// names for the same thing that are not used
    pub instead_of: &'static [&'static str],
}

/// Writes the table: a term, its meaning, and what not to call it.
macro_rules! terms {
    ($($term:literal = $meaning:literal $(, not $($other:literal)|+)?;)+) => {
        /// Every term, from the clutch by its life to the study of many.
        pub const TERMS: &[Term] =
            &[$(Term { term: $term, meaning: $meaning, instead_of: &[$($($other),+)?] }),+];
    };
}

terms! {
    "carrier" = "part on the motor's shaft that drives the shoes";
    "shoe" = "weight on the carrier that flies out against its spring and presses its lining on the drum";
    "lining" = "friction material on a shoe; it wears and must not overheat", not "brake pad";
    "drum rim" = "ring of the drum on whose inside the linings rub", not "drum band" | "drum ring";
    "bushing" = "porous bronze bearing, filled with oil, on which the drum turns at idle", not "bush" | "drum bearing";
    "washer" = "thin fibre ring between the bushing and the cover";
    "proud" = "by how much the bushing stands out of the sprocket, which sets the gap to the cover";
    "cover gap" = "clearance between drum and cover; it shrinks as the washer wears";
    "thou" = "a thousandth of an inch, 0.0254 mm", not "mil";
    "preload" = "force of a spring with the shoe at rest", not "pre-tension";
    "engagement speed" = "speed of the motor at which the first shoe touches the drum; lower when hot and relaxed", not "clutch-in speed";
    "relaxation" = "loss of a spring's force with heat and time";
    "idle variation" = "half of the range of idle speeds, ± rpm", not "idle wander" | "wanders";
    "margin" = "engagement speed less the highest idle speed, rpm", not "reserve over the idle";
    "drag" = "slip of the engaged clutch at idle, with the machine standing; it heats the clutch";
    "creep" = "motion of the machine at idle, driven by drag; it can hurt someone", not "crawling by itself";
    "launch" = "start from standstill until the clutch locks up; the machine sets off", not "steepest start";
    "lock-up speed" = "lowest road speed that can be held without slip; at full throttle the clutch locks up later", not "lock speed" | "balance speed";
    "torque capacity" = "greatest torque that the shoes transmit at a speed of the motor", not "carried torque";
    "friction" = "ratio of the linings' drag to their pressure; less on oil", not "grip of the lining" | "least grip";
    "slip energy" = "work lost in the slipping clutch, kJ; slip power is its rate, W", not "slip heat" | "heat of rubbing" | "heat of slipping";
    "oil fill" = "share of a full bushing's oil that is left, %", not "share of its oil" | "oil found";
    "end leakage" = "share of the bushing's oil that its ends lose in an hour", not "end leak" | "leaked at ends";
    "thrown off" = "of oil that the turning drum loses", not "flung" | "flung off";
    "service due" = "the oil fill has reached the share at which the bushing should be oiled", not "oil due";
    "worn out" = "of a part that has reached its limit; a clutch with such a part has failed", not "ended by" | "ends it" | "is at its end";
    "running hours" = "hours with the motor running; hours by the calendar include the rests", not "motor hours";
    "pass" = "one repetition of a duty that is repeated";
    "nominal" = "the value in the machine's file, before anything is sampled";
    "sampled" = "chosen at random within the range of a setting, reproducibly from a seed", not "drawn";
    "horizon" = "time to which a study follows each clutch", not "end of the study";
    "B10" = "time by which 10 % of the clutches have failed; B50 and B90 likewise", not "L10";
    "assumed" = "of a constant that nobody has published or measured for such a clutch", not "was taken" | "is taken";
    "depends on" = "changes with", not "leans on" | "hangs on" | "goes by";
}
