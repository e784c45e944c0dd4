//! What the stack-up and its wear come to, in sentences.

use super::answer::{Course, Gaps, When};
use crate::laws::margin::SEASON;
use crate::parts::Machine;
use crate::say::{temperature, time, times, turns};

fn both(m: f64) -> String {
    format!("{:.2} mm ({:.1} thou)", 1e3 * m, m / 2.54e-5)
}

/// About when, with the range of sampled assemblies.
fn about(w: &When) -> Option<String> {
    let range = w.early.zip(w.late).map_or_else(String::new, |(a, b)| format!(" ({})", times(a, b)));
    Some(format!("about {}{range}", time(w.time?)))
}

/// The answer in sentences; `sags` is said before the hours of wear, which do not hold then.
pub(super) fn sentences(g: &Gaps, sags: Option<String>) -> Vec<String> {
    let s = &g.stack;
    let least = s.nominal - s.worst;
    let required = both(g.limit);
    let clears = if least >= g.limit {
        format!("It clears: even the worst case leaves more than the required {required}.")
    } else if s.below_zero > 0.0 {
        format!(
            "It does not always clear: {:.2} % of assemblies are below the required {required}, and in {:.2} % the drum touches the cover when new.",
            100.0 * s.below_limit,
            100.0 * s.below_zero
        )
    } else {
        format!("It is tight: {:.2} % of assemblies are below the required {required}.", 100.0 * s.below_limit)
    };
    // Springs that sag go before any hours, which do not hold then.
    let until = match (sags, g.courses.first()) {
        (Some(sags), Some(course)) if course.charred.is_none() => format!(" {sags}"),
        (_, Some(course)) => lasts(course),
        (_, None) => String::new(),
    };
    let mut say = vec![clears + &until];
    say.push(format!(
        "New, the gap between drum and cover is {} nominal, {} in the worst case, {} by root sum square (RSS).",
        both(s.nominal),
        both(least),
        both(s.nominal - s.rss)
    ));
    say.push(
        "Run-out, end play and growth by heat, 0.1 to 0.2 mm together, are not in the stack: take them off.".to_owned(),
    );
    for c in &g.courses {
        say.extend(worn(c));
    }
    if g.courses.iter().any(|c| c.charred.is_none() && c.bronze_on_steel.time.is_some()) {
        say.push(
            "When the washer is worn through, stop riding. Bronze then runs on steel and galls, and nobody can say for how long the drum stays clear of the cover."
                .to_owned(),
        );
    }
    say.push(format!(
        "Hours of riding, use: {}; in brackets the range that holds 90 % of {} sampled assemblies, seed {}.",
        g.usage,
        g.assemblies,
        g.head.seeds_listed()
    ));
    say
}

/// For how long that holds, with the first way of oiling: what the answer begins with.
fn lasts(c: &Course) -> String {
    match (c.charred, &c.washer_due.time) {
        (Some(charred), _) => {
            format!(" But in this use the washer chars after about {} of running: do not use it so.", time(charred))
        }
        (None, Some(due)) => format!(" Replace the washer after about {} of riding, bushing {}.", time(*due), c.name),
        (None, None) => String::new(),
    }
}

/// What is said of one way of oiling: until the washer is worn through, and no further; of a washer that chars, only that.
fn worn(c: &Course) -> Vec<String> {
    if let Some(charred) = c.charred {
        return vec![format!(
            "Bushing {}: the washer chars after about {} of running, at up to {}. Do not use it so; a charred washer must be replaced.",
            c.name,
            time(charred),
            temperature(c.washer)
        )];
    }
    let mut say = vec![];
    if let (Some(due), Some(gone)) = (about(&c.washer_due), about(&c.bronze_on_steel)) {
        say.push(format!("Bushing {}: replace the washer at {due}; it is worn through at {gone}.", c.name));
    } else {
        say.push(format!("Bushing {}: the washer does not wear.", c.name));
    }
    let before =
        |w: &When| w.time.filter(|t| c.bronze_on_steel.time.is_none_or(|gone| *t < gone)).and_then(|_| about(w));
    if let Some(tight) = before(&c.tight) {
        let touches =
            before(&c.touches).map(|at| format!(", and the drum touches the cover at {at}")).unwrap_or_default();
        say.push(format!("But before the washer is gone the gap falls below what is required, at {tight}{touches}."));
    }
    say
}

/// Whether the springs relax in a season of the use until they engage below the idle: the clutch then drags, and heats the washer
/// beyond what was measured with springs that are new.
pub(super) fn sags(machine: &Machine, settled: Option<f64>) -> Option<String> {
    let (settled, idle) = (settled?, machine.motor.idle);
    (settled < idle).then(|| {
        format!(
            "Choose another spring first: these relax in this use until they engage at {}, below the idle of {}, within {}. The clutch then drags at every stop and the washer may char long before the hours below, which are those of springs renewed in time.",
            turns(settled),
            turns(idle),
            time(SEASON)
        )
    })
}

pub(super) fn assumed(machine: &Machine) -> Vec<String> {
    vec![
        "no value has been published for the wear of vulcanised fibre on steel: a factor of 10 either way is taken, and that is nearly all of the range of hours".to_owned(),
        format!(
            "{:.1}° of chain misalignment; more wears the washer faster",
            machine.washer.misalignment.to_degrees()
        ),
        "sizes are evenly spread over their tolerance, which sorted or reworked parts are not".to_owned(),
        "bronze on steel, in tables and figure only, wears at the dry bushing's constant; galling wears it 5 to 250 times faster, so that those hours are no guide to riding on".to_owned(),
    ]
}
