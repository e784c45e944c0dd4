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
    "lock-up speed" = "road speed from which the clutch carries full throttle without slip", not "lock speed" | "balance speed";
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

/// Words that readers stumble over, though they stand for no term, each with plainer ones.
pub const PLAINER: &[(&str, &str)] = &[
    ("lean on", "depend on"),
    ("leans on", "depends on"),
    ("hang on", "depend on"),
    ("hangs on", "depends on"),
    ("hangs together", "is correlated"),
    ("goes by", "depends on"),
    ("comes to", "reaches"),
    ("come to", "reach"),
    ("tell apart", "distinguish, separate"),
    ("tells apart", "distinguishes"),
    ("ends it", "is worn out first"),
    ("was taken", "value used"),
    ("put through", "the duty"),
    ("speaks against", "the least unsuitable"),
    ("asked for", "required"),
    ("carries this", "keeps oiled"),
    ("carried on", "extrapolated"),
    ("so many", "this many, N"),
    ("outlast the horizon", "still working"),
    ("the horizon hides", "undecided"),
    ("it stands", "its limit"),
    ("passes the", "exceeds the"),
    ("limit was passed", "limit was exceeded"),
    ("pass every other limit", "meet every other limit"),
    ("over the greatest", "above its limit"),
    ("suffers", "starts to degrade"),
    ("in decades", "on a logarithmic scale"),
    ("used up in service", "oil and parts used"),
    ("in or out", "fits or not"),
    ("slips if held below", "lowest steady speed without slip"),
    ("slips when held below", "lowest steady speed without slip"),
    ("makes it slip", "slips all the time"),
    ("the trade fits", "common practice"),
    ("gives away", "gives up"),
    ("stood still", "were perfectly steady"),
    ("first part ends", "first part is worn out"),
    ("most for the lining", "limit, lining"),
    ("will it rub", "does the cover clear the drum"),
    ("root of squares", "RSS"),
    ("root of the sum of squares", "RSS"),
    ("laid on each other", "the stack-up"),
    ("at none they rub", "0: they touch"),
    ("standing proud", "proud of the sprocket"),
    ("lying back", "set back"),
    ("equally likely", "evenly spread"),
    ("likeliest", "most likely"),
    ("evenly apart", "evenly spaced"),
    ("rest before the next spin", "wait before riding"),
    ("least grip", "lowest friction"),
    ("grip of the", "friction of the"),
    ("drink", "soak up oil"),
    ("charring ends", "chars after"),
    ("not yet steady", "no steady rate yet"),
    ("heat's way", "where the heat goes"),
    ("shone upon", "radiation received"),
    ("heat of rubbing", "friction heat"),
    ("where nine motors in ten", "range in which 90 % of motors"),
    ("when clutches end", "time to failure"),
    ("straight between", "interpolated between"),
    ("clutches of slipsoak", "computed by"),
    ("answers of slipsoak", "computed by"),
    ("to get the same again", "how to reproduce this"),
    ("limits and what to look at", "warnings"),
    ("what it comes to", "summary"),
    ("may lie between", "range"),
    ("tells them apart", "differs"),
    ("came in", "in"),
    ("went out", "out"),
    ("fails latest", "lives longest"),
    ("exclude no gain", "at 90 % confidence"),
    ("include no gain", "no clear difference"),
    ("clutch for clutch", "on the same sampled clutches"),
    ("by chance", "p (sign test)"),
    ("could be off", "before: ÷ or ×"),
    ("hold the truth", "are 90 % intervals"),
    ("not yet seen", "for a new clutch"),
    ("clutches differ by", "spread between clutches"),
    ("errors go together", "correlation of the errors"),
    ("ended there", "agree"),
    ("all nominal", "everything at its nominal value"),
    ("first share", "share alone"),
    ("total share", "share with interactions"),
    ("exit codes", "exit status"),
    ("approvals", "approve nothing"),
    ("every block was run", "the parts were run with --no-skip"),
    ("how skipping is judged", "for checking"),
    ("on a dark ground", "for a dark background"),
    ("one page with everything", "a single page with everything"),
    ("page to pass on", "a page to share"),
    ("by a factor e", "time constant, or leaves 37 %"),
    ("worked to", "controlled to"),
    ("shares per hour", "1/h"),
    ("gives warning", "degrades"),
    ("imbibing", "soaking up"),
    ("weight on the bushing", "radial load on the bushing"),
    ("static over kinetic", "ratio of static to kinetic"),
    ("lets no time pass", "takes no time"),
    ("left to it", "dropped"),
    ("taken as standing", "counted as standing"),
    ("was there already", "repeated"),
    ("say nothing of", "do not determine"),
    ("what would tell", "what to measure"),
    ("taken up again", "resumed"),
    ("what helps is", "what counts is"),
];
