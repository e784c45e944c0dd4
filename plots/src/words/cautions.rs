//! Cautions: one sentence each, and the rules for which of them apply to a result.

use slipsoak_engine::laws::oil;
use slipsoak_engine::names::{Channel, Happening, TaskName};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Setting, Warned};
use slipsoak_engine::spring_choice::{Choice, Judged, Verdict};
use std::collections::BTreeSet;

/// What a surface of each heat does to oil, as a clause.
macro_rules! smokes {
    () => {
        "oil on the hot drum smokes"
    };
}
macro_rules! lights {
    () => {
        "hot enough to light oil vapour; keep oil and petrol away. Never pour oil or water on a hot drum"
    };
}
macro_rules! ignites {
    () => {
        "oil may catch fire without a spark"
    };
}

/// What oil on a hot drum does at the heat of a warning, as a clause; empty for other kinds.
pub(crate) const fn hot_oil(kind: Warned) -> &'static str {
    match kind {
        Warned::Smokes => smokes!(),
        Warned::Vapour => lights!(),
        Warned::Fire => ignites!(),
        _ => "",
    }
}

/// A hazard to people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// slip above 2 kW for more than 10 s
    LetGo,
    /// the machine may drive itself at idle
    Creep,
    /// a dry or seized bushing drives the machine at idle
    DryBushing,
    /// oil on the hot drum smokes
    Smoke,
    /// oil vapour on the hot drum can be lit
    Vapour,
    /// oil may catch fire without a spark
    Fire,
    /// no motor braking on descents
    Descent,
    /// rolling back before the clutch grips
    RollBack,
    /// the governor must not be changed
    Governor,
    /// oil on the linings
    OiledLining,
    /// engagement must not be tested by hand
    NeverHold,
    /// dust from linings and washers
    Dust,
    /// results are estimates
    Estimates,
    /// hot and turning parts
    Hot,
    /// responsibility for decisions
    Codes,
}

/// Cautions that apply to every result.
pub const ALWAYS: [Caution; 3] = [Caution::Estimates, Caution::Hot, Caution::Codes];

/// Every caution, the most urgent first: in two or three words, empty for those that always apply; and its sentence.
const CAUTIONS: [(Caution, &str, &str); 15] = [
    (
        Caution::LetGo,
        "burning clutch",
        "Slip above 2 kW for more than 10 s: let go of the throttle, the clutch is burning.",
    ),
    (
        Caution::Creep,
        "creep at idle",
        "A clutch that drags can make the machine creep at idle, and idle creep can hurt someone: keep the brake on and a stop switch in reach.",
    ),
    (
        Caution::DryBushing,
        "dry bushing",
        "A dry or seized bushing can drive the machine at idle whatever the spring: keep a stop switch in reach and the chain guard on.",
    ),
    (Caution::Smoke, "oil smoke", concat!("Above 200 °C (392 °F) ", smokes!(), ": let it cool before oiling.")),
    (Caution::Vapour, "oil vapour", concat!("A drum above 220 °C (428 °F) is ", lights!(), ".")),
    (Caution::Fire, "oil fire", concat!("Above 300 °C (572 °F) ", ignites!(), ".")),
    (
        Caution::Descent,
        "no motor braking",
        "On a descent the clutch lets go below its engagement speed: there is no motor braking, the brakes alone hold the machine.",
    ),
    (
        Caution::RollBack,
        "rolling back",
        "On a slope the machine rolls back before the clutch grips: hold it with the brake, and keep clear behind it.",
    ),
    (Caution::Governor, "governor", "Never raise or defeat the governor to change how the clutch behaves."),
    (Caution::OiledLining, "oiled lining", "Keep oil off the linings: an oiled clutch slips, heats and may not hold."),
    (Caution::NeverHold, "turning parts", "Never hold the drum or the chain to test engagement."),
    (
        Caution::Dust,
        "dust",
        "Lining and washer dust: no compressed air, do not breathe it; old linings may contain asbestos.",
    ),
    (Caution::Estimates, "", "Results are estimates for comparing, never a safety certificate."),
    (Caution::Hot, "", "Drum and chain burn and keep turning: motor off and cool before touching."),
    (Caution::Codes, "", "Local codes and qualified people decide."),
];

impl Caution {
    /// Every caution, the most urgent first.
    pub fn all() -> impl Iterator<Item = Self> {
        CAUTIONS.iter().map(|(caution, ..)| *caution)
    }

    /// The sentence.
    pub const fn text(self) -> &'static str {
        CAUTIONS[self as usize].2
    }

    /// The caution in two or three words, where there is no room for the sentence; empty for those that always apply.
    pub const fn brief(self) -> &'static str {
        CAUTIONS[self as usize].1
    }
}

/// Cautions for a surface with this peak temperature, K, with oil nearby.
pub fn of_heat(peak: f64) -> &'static [Caution] {
    match peak {
        t if t >= oil::IGNITES => &[Caution::Vapour, Caution::Fire],
        t if t >= oil::LIGHTS => &[Caution::Vapour],
        t if t >= oil::SMOKES => &[Caution::Smoke],
        _ => &[],
    }
}

/// What to do about a bushing whose friction moves the machine off at idle.
pub(crate) const DRIVES: &str =
    "hold it on its brake until the bushing is warm, or use a thinner straight petroleum oil; no spring changes it";

/// What to mind of a motor that a descent drives.
pub(crate) const OVERDRIVEN: &str = "since no clutch limits the speed of a motor that the wheels drive";

/// Cautions for the runs of a record, the most urgent first.
pub fn of_record(record: &Record) -> Vec<Caution> {
    let all: BTreeSet<Caution> = record.runs.iter().flat_map(of_run).collect();
    all.into_iter().collect()
}

/// Share of the dry friction below which a lining counts as oiled.
pub(crate) const OILED: f64 = 0.9;

/// Warnings of a machine that may move off at idle.
const CREEPS: [Warned; 4] = [Warned::Drag, Warned::WeakShoe, Warned::Creep, Warned::BushingDrives];

fn of_run(run: &Run) -> Vec<Caution> {
    let mut all = vec![];
    let hottest = [Channel::LiningSurface, Channel::DrumFace].map(|channel| channel.of(&run.overall.most));
    all.extend(of_heat(hottest.into_iter().fold(0.0, f64::max)));
    if run.warned(Warned::LetGo).is_some() {
        all.push(Caution::LetGo);
    }
    if CREEPS.iter().any(|kind| run.warned(*kind).is_some()) {
        all.push(Caution::Creep);
    }
    let end = run.setting(&settings::limits::oil_end).unwrap_or(0.0);
    if Channel::OilFill.of(&run.overall.least) < end {
        all.push(Caution::DryBushing);
    }
    let slope = run.setting(&settings::surroundings::grade).is_some_and(|grade| grade != 0.0);
    if run.descends() || run.segments.iter().any(|s| s.task == TaskName::Coast) {
        all.push(Caution::Descent);
    }
    if slope || run.events.iter().any(|e| e.what == Happening::RollsBack) {
        all.push(Caution::RollBack);
    }
    if run.grip.is_some_and(|[least, _]| least < OILED) || Channel::OilOnLining.of(&run.overall.most) > 5e-6 {
        all.push(Caution::OiledLining);
    }
    all
}

/// Cautions for a choice of springs.
pub fn of_choice(choice: &Choice) -> Vec<Caution> {
    let found = || choice.springs.iter().filter_map(|s| s.found.as_ref());
    let mut all = vec![Caution::Governor, Caution::NeverHold, Caution::Dust];
    if found().any(|f| f.drag.is_some() || f.warnings.iter().any(|w| w.kind == Warned::BushingDrives)) {
        all.push(Caution::Creep);
    }
    // For springs that may be fitted; for all if there is none.
    let fit = |s: &&Judged| s.verdict != Verdict::Unfit || choice.best.is_none();
    let peaks = choice.springs.iter().filter(fit).filter_map(|s| Some(s.found.as_ref()?.peaks.lining));
    all.extend(of_heat(peaks.fold(0.0, f64::max)));
    all.extend(of_ground(choice.grade));
    all.sort_unstable();
    all
}

/// Cautions for a machine on ground of this slope, rise over run.
pub(crate) fn of_ground(grade: f64) -> &'static [Caution] {
    of_descents(grade != 0.0)
}

/// Cautions for a study of which any duty has a descent.
pub(crate) fn of_descents(any: bool) -> &'static [Caution] {
    if any { &[Caution::Descent, Caution::RollBack] } else { &[] }
}

/// These cautions and those for the ground of a machine with these settings, the most urgent first.
pub(crate) fn on_its_ground(applying: &[Caution], settings: &[Setting]) -> Vec<Caution> {
    let grade = settings.iter().find(|s| s.path == settings::surroundings::grade.path).map_or(0.0, |s| s.value);
    let all: BTreeSet<Caution> = applying.iter().chain(of_ground(grade)).copied().collect();
    all.into_iter().collect()
}

/// Cautions for an oiling plan.
pub const OILING: [Caution; 3] = [Caution::DryBushing, Caution::Vapour, Caution::OiledLining];

/// Cautions for the gap between drum and cover, and for work on its parts.
pub const GAPS: [Caution; 3] = [Caution::DryBushing, Caution::NeverHold, Caution::Dust];

#[cfg(test)]
mod tests {
    use super::*;
    use slipsoak_engine::units::ZERO_C;

    #[test]
    fn each_caution_has_the_row_of_its_rank() {
        assert!(Caution::all().enumerate().all(|(rank, caution)| caution as usize == rank));
    }

    #[test]
    fn a_hot_surface_calls_for_the_caution_of_its_heat() {
        let at = |celsius: f64| of_heat(celsius + ZERO_C);
        assert_eq!(
            [150.0, 199.0, 201.0, 225.0, 310.0].map(at),
            [&[][..], &[], &[Caution::Smoke], &[Caution::Vapour], &[Caution::Vapour, Caution::Fire]]
        );
    }
}
