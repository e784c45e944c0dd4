//! Sentences on whether the cover clears the drum, and for how long.

use crate::words::say::{temperature, time, times};
use crate::words::text::Words;
use crate::words::use_of_machine::{sags, slips};
use slipsoak_engine::names::Oiled;
use slipsoak_engine::stack_up::{Clearance, Course, Gaps, When};

fn both(m: f64) -> String {
    format!("{:.2} mm ({:.1} thou)", 1e3 * m, m / 2.54e-5)
}

/// An approximate time, with the range of sampled assemblies.
fn about(w: &When) -> Option<String> {
    let range = w.early.zip(w.late).map_or_else(String::new, |(a, b)| format!(" ({})", times(a, b)));
    Some(format!("about {}{range}", time(w.time?)))
}

/// The answer: what forbids the use, whether it clears and until when, then the new gap, then the gap over its wear.
pub fn statement(g: &Gaps) -> Vec<Words> {
    let s = &g.stack;
    // A use that chars the washer comes first, then sagging springs: the hours do not hold then.
    let mut say = vec![match (&g.sag, g.courses.first()) {
        (_, Some(Course { charred: Some(charred), .. })) => {
            let chars = format!("In this use the washer chars after about {} of running: ", time(*charred));
            Words::from(chars).strong("do not use it so.").plain(clears(g, " New, with a sound washer, it"))
        }
        (Some(sag), Some(_)) => {
            let then =
                ", and the washer may char long before the hours below, which are those of springs renewed in time";
            (sags(sag, then) + &clears(g, " It")).into()
        }
        (None, Some(course)) => (clears(g, "It") + &lasts(course)).into(),
        (_, None) => clears(g, "It").into(),
    }];
    say.push(
        format!(
            "New, the gap between drum and cover is {} nominal, {} in the worst case, {} by root sum square (RSS).",
            both(s.nominal),
            both(s.nominal - s.worst),
            both(s.nominal - s.rss)
        )
        .into(),
    );
    say.push(
        "Run-out, end play and growth by heat, 0.1 to 0.2 mm together, are not in the stack: take them off.".into(),
    );
    say.extend(g.courses.iter().flat_map(worn).map(Words::from));
    if g.courses.iter().any(|c| c.charred.is_none() && c.bronze_on_steel.time.is_some()) {
        say.push(
            "When the washer is worn through, stop riding. Bronze then runs on steel and galls, and nobody can say for how long the drum stays clear of the cover."
                .into(),
        );
    }
    say.push(
        format!(
            "Hours of riding, use: {}; in brackets the range that holds 90 % of {} sampled assemblies, seed {}.",
            g.usage,
            g.assemblies,
            g.head.seeds_listed()
        )
        .into(),
    );
    say.extend(g.slipping.as_ref().map(|slipping| slips(slipping).into()));
    say
}

/// The new gap compared with the required one, of what is called by this word.
fn clears(g: &Gaps, it: &str) -> String {
    let required = both(g.limit);
    let below = 100.0 * g.stack.below_limit;
    match g.clearance {
        Clearance::Clears => format!("{it} clears: even the worst case leaves more than the required {required}."),
        Clearance::Tight => format!("{it} is tight: {below:.2} % of assemblies are below the required {required}."),
        Clearance::Touches => format!(
            "{it} does not always clear: {below:.2} % of assemblies are below the required {required}, and in {:.2} % the drum touches the cover when new.",
            100.0 * g.stack.below_zero
        ),
    }
}

/// First sentence of the answer: how long the gap holds, with the first way of oiling.
fn lasts(c: &Course) -> String {
    let due = c.washer_due.time;
    due.map_or_else(String::new, |due| {
        format!(" Replace the washer after about {} of riding, bushing {}.", time(due), c.name)
    })
}

/// Sentences on one way of oiling, until the washer is worn through; for a washer that chars, only that.
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
        let grabs = match c.name {
            Oiled::Kept => "",
            Oiled::Dry => " A dry bushing grabs its shaft long before: never ride so.",
        };
        say.push(format!("Bushing {}: replace the washer at {due}; it is worn through at {gone}.{grabs}", c.name));
    } else {
        say.push(format!("Bushing {}: no wear of the washer was computed, since the clutch does not slip or the machine has stopped: ride this use once in a duty before you trust it.", c.name));
    }
    let before =
        |w: &When| w.time.filter(|t| c.bronze_on_steel.time.is_some_and(|gone| *t < gone)).and_then(|_| about(w));
    if let Some(tight) = before(&c.tight) {
        let touches =
            before(&c.touches).map(|at| format!(", and the drum touches the cover at {at}")).unwrap_or_default();
        say.push(format!("But before the washer is gone the gap falls below what is required, at {tight}{touches}."));
    }
    say
}
