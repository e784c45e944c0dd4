//! Why a run cannot begin or go on.

use super::said::{RPM, Said, all, clauses};
use slipsoak_engine::names::{Channel, TaskName};
use slipsoak_engine::parts::{Form, Invalid, settings};
use slipsoak_engine::record::Halt;
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

fn locking(form: Form) -> Invalid {
    Invalid::SelfLocking { form, friction: 0.52, lever: 1.925_123_456 }
}

/// The reason why a machine cannot be built after another: a new one has to find its place here.
pub fn next_invalid(last: Option<&Invalid>) -> Option<Invalid> {
    let Some(last) = last else { return Some(Invalid::Range { setting: &settings::drum::teeth, value: 2.5 }) };
    Some(match last {
        Invalid::Range { .. } => locking(Form::Leading),
        Invalid::SelfLocking { form: Form::Leading, .. } => locking(Form::Trailing),
        Invalid::SelfLocking { form: Form::Trailing, .. } => locking(Form::Wedge),
        Invalid::SelfLocking { .. } => Invalid::Jams {
            gain: 1.12,
            friction: 0.9,
            setting: "bushing.friction_scored",
            bore_radius: 0.02,
            pitch_radius: 0.016,
            teeth: 8.0,
            pitch: 0.0127,
            bore_most: 0.0356,
            teeth_least: 9.0,
            friction_most: 0.8,
        },
        Invalid::Jams { .. } => Invalid::NeverEngages { engagement: 3900.0 * RPM, top: 3800.0 * RPM },
        Invalid::NeverEngages { .. } => Invalid::NoPreload { engagement: 1200.0 * RPM, preload: -12.0 },
        Invalid::NoPreload { .. } => Invalid::ShoeOutside { radius: 0.08, drum: 0.0508 },
        Invalid::ShoeOutside { .. } => Invalid::GapTooWide { gap: 0.015, room: 0.0108 },
        Invalid::GapTooWide { .. } => Invalid::NotBelow {
            lower: &settings::motor::stall,
            low: 1400.0 * RPM,
            upper: &settings::motor::idle,
            high: 1300.0 * RPM,
            why: "the motor would stall at idle",
        },
        Invalid::NotBelow { .. } => Invalid::ShoesStay { friction: 190.0, force: 43.7 },
        Invalid::ShoesStay { .. } => Invalid::Curve { problem: "there are fewer than two points".to_owned() },
        Invalid::Curve { .. } => Invalid::Contradiction {
            what: "there is no new chain to be put in; renew the part that wears it".to_owned(),
        },
        Invalid::Contradiction { .. } => return None,
    })
}

/// Failures of a run that are not errors of the program, nor a number of a duty, of which the script's word speaks.
pub fn failures() -> Vec<Failure> {
    let (task, part, temperature) = (TaskName::Throttle, Channel::LiningSurface, 973.15);
    let hot = Halt { time: 723.0, task, segment: 14, part, temperature };
    let invalid = all(next_invalid).into_iter().map(Failure::Invalid);
    invalid
        .chain([Failure::TooHot(hot), Failure::Beyond { peak: 790.0, limit: 773.15 }, Failure::NoIdle { after: 0.097 }])
        .collect()
}

pub fn refused() -> Vec<Said> {
    let range = |f: &&Failure| matches!(f, Failure::Invalid(Invalid::Range { .. }));
    let all = failures();
    let said: Vec<Words> = all.iter().filter(|f| !range(f)).map(|f| words::failure::failure(f).into()).collect();
    vec![clauses("why a run cannot continue", &said)]
}

/// An error of the engine is for programs: a reader's units are put to it where sentences are.
#[test]
fn the_engine_gives_its_errors_in_si_only() {
    for failure in failures() {
        let text = failure.to_string();
        for unit in ["rpm", "°", " mm", " min", "km/h"] {
            assert!(!text.contains(unit), "“{unit}” in {text}");
        }
    }
}
