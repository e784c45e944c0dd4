//! Sentences on runs that cannot continue and machines that cannot be built, with values in units of use and what to do.

use crate::words::fault::OWN_IDLE;
use crate::words::number::figures;
use crate::words::say::{temperature, time, turns};
use crate::words::warnings::stopped;
use slipsoak_engine::parts::{Form, Invalid};
use slipsoak_engine::parts_file::show;
use slipsoak_engine::simulate::Failure;

/// Why a run cannot continue.
pub fn failure(failure: &Failure) -> String {
    match failure {
        Failure::Invalid(reason) => invalid(reason),
        Failure::TooHot(halt) => format!(
            "{}; parts are ruined before they are so hot: ride with less slip (a lower gear, less load, more throttle or another \
             spring), or cool the drum better",
            stopped(halt).text()
        ),
        Failure::Beyond { peak, limit } => format!(
            "a part reached {}, above the {} up to which the model is valid: no life can be given",
            temperature(*peak),
            temperature(*limit)
        ),
        Failure::NoIdle { after } => format!(
            "as described the motor cannot hold its own idle, whatever the clutch's springs: with the shoes off it stalls after {}; \
             {OWN_IDLE}",
            time(*after)
        ),
        Failure::Stuck { .. } | Failure::Nonsense { .. } | Failure::Duty { .. } | Failure::Ledger { .. } => {
            failure.to_string()
        }
    }
}

/// Why a machine cannot be built. A value outside its range is given in SI: advice on it depends on how it was written.
pub fn invalid(invalid: &Invalid) -> String {
    match invalid {
        Invalid::NeverEngages { engagement, top } => format!(
            "clutch.engagement is {}, at or above the motor's governed top speed of {}: it never engages; choose a weaker spring",
            turns(*engagement),
            turns(*top)
        ),
        Invalid::NoPreload { engagement, preload } => format!(
            "clutch.engagement is {}: across its gap the spring's rate alone is stronger than the shoes are at that speed \
             (preload {} N); choose a higher engagement, a softer spring or a smaller gap",
            turns(*engagement),
            figures(*preload, 2)
        ),
        Invalid::ShoeOutside { radius, drum } => format!(
            "clutch.shoe_radius is {} mm and drum.radius {} mm: the centre of mass of a shoe lies inside the drum; correct the one \
             that is wrong (each is a radius, half of a diameter)",
            figures(1e3 * radius, 3),
            figures(1e3 * drum, 3)
        ),
        Invalid::GapTooWide { gap, room } => format!(
            "clutch.gap is {} mm, but the centre of mass of a shoe is only {} mm from the drum (drum.radius less \
             clutch.shoe_radius): a shoe that travels so far would leave its guide; correct the one that is wrong",
            figures(1e3 * gap, 3),
            figures(1e3 * room, 3)
        ),
        Invalid::NotBelow { lower, low, upper, high, why } => format!(
            "{}, {}, is not below {}, {}: {why}; correct one of them",
            lower.path,
            show(*low, lower.dimension),
            upper.path,
            show(*high, upper.dimension)
        ),
        Invalid::ShoesStay { friction, force } => format!(
            "clutch.guide_friction is {} N, and the spring pulls a shoe off the drum by {} N: the shoes would stay there; choose less \
             friction, or a higher clutch.engagement",
            figures(*friction, 3),
            figures(*force, 3)
        ),
        Invalid::Jams {
            gain,
            friction,
            setting,
            bore_radius,
            pitch_radius,
            teeth,
            pitch,
            bore_most,
            teeth_least,
            friction_most,
        } => format!(
            "the bushing would jam by itself: friction {friction} ({setting}) times the radius of its bore, {:.2} mm, is {gain:.2} \
             times the pitch radius of the sprocket, {:.2} mm (drum.teeth {teeth:.0}, drum.pitch {:.3} mm), and must stay below \
             it: its torque pulls the chain, which presses the bushing harder; choose a bushing.bore below {:.1} mm, \
             {teeth_least:.0} teeth or more, or friction below {friction_most:.2}",
            1e3 * bore_radius,
            1e3 * pitch_radius,
            1e3 * pitch,
            1e3 * bore_most
        ),
        Invalid::SelfLocking { form, friction, lever } => self_locking(*form, *friction, *lever),
        Invalid::Range { .. } | Invalid::Curve { .. } | Invalid::Contradiction { .. } => invalid.to_string(),
    }
}

/// Why the friction of a shoe of that form would lock it, and what to choose.
fn self_locking(form: Form, friction: f64, lever: f64) -> String {
    // Three figures, rounded down: what is below it does not lock.
    let below = |limit: f64| {
        let place = 10_f64.powi(2 - limit.log10().floor() as i32);
        figures((limit * place).floor() / place, 3)
    };
    let shoe = match form {
        Form::Trailing => "a trailing shoe leads where the drum overruns the motor, and would lock itself there",
        Form::Leading => "a leading shoe would lock itself",
        Form::Wedge | Form::Floating => "a shoe on its wedge would lock itself",
    };
    let (arm, choose) = match form {
        Form::Wedge | Form::Floating => (
            format!("the tangent of clutch.guide_angle, {}", figures(lever, 3)),
            format!("a clutch.guide_angle below {}°", below((1.0 / friction).atan().to_degrees())),
        ),
        _ => (
            format!("its lever, {} (clutch.lever)", figures(lever, 3)),
            format!("a clutch.lever below {}", below(1.0 / friction)),
        ),
    };
    format!(
        "{shoe}: friction {} (lining.friction times clutch.peak) times {arm}, reaches 1; choose {choose}, or less friction",
        figures(friction, 3)
    )
}
