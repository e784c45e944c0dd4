//! Sentences on whether the cover clears the drum, and for how long.

use crate::words::learned::learned;
use crate::words::reading::{ends, found};
use crate::words::say::{temperature, time, times};
use crate::words::text::Words;
use crate::words::use_of_machine::{amiss, nearer, slips, too_hot, wrong_oil};
use slipsoak_engine::fleet::Known;
use slipsoak_engine::names::Oiled;
use slipsoak_engine::parts::settings;
use slipsoak_engine::stack_up::{Clearance, Course, Fails, Gaps, When};

fn both(m: f64) -> String {
    format!("{:.2} mm ({:.1} thou)", 1e3 * m, m / 2.54e-5)
}

/// An approximate time, with the range of sampled assemblies.
fn about(w: &When) -> Option<String> {
    let range = w.early.zip(w.late).map_or_else(String::new, |(a, b)| {
        if a > 0.0 { format!(" ({})", times(a, b)) } else { format!(" (some when new, others at up to {})", time(b)) }
    });
    Some(format!("about {}{range}", time(w.time?)))
}

/// The answer: what forbids the use, whether it clears and until when, how it wears, then the new gap.
pub fn statement(g: &Gaps) -> Vec<Words> {
    let s = &g.stack;
    // What fails within the hour comes first, unless springs that drag as given are its cause; then relaxing springs: the
    // hours do not hold then.
    let fails = g.courses.first().and_then(forbidden);
    let then = match fails {
        Some(_) => "",
        None => ", and the washer may char long before the hours below, which are those of springs renewed in time",
    };
    let own = (g.sag.as_ref(), g.against.as_slice());
    let new = g.sag.as_ref().is_some_and(|sag| sag.new <= sag.highest);
    let amiss = amiss(own, g.renewed.as_ref(), g.sought.as_ref(), then).map(|said| (said, new));
    let until = || g.courses.first().map_or_else(String::new, |c| lasts(g, c));
    let mut say: Vec<Words> = g.wrong_oil.then(|| wrong_oil("this oil", "")).into_iter().collect();
    say.extend(thin(g).into_iter().map(Words::from));
    say.extend(match (fails, amiss) {
        (None, None) => vec![(clears(g, "It") + &until()).into()],
        (None, Some((amiss, _))) if g.sag.is_none() => vec![amiss.into(), (clears(g, "It") + &until()).into()],
        (None, Some((sags, _))) => vec![(sags + &clears(g, " It")).into()],
        (Some(fails), None) => vec![fails.plain(clears(g, SOUND))],
        (Some(fails), Some((sags, true))) => vec![sags.into(), fails.plain(clears(g, SOUND))],
        (Some(fails), Some((amiss, false))) => vec![fails, amiss.into(), clears(g, SOUND.trim_start()).into()],
    });
    if g.sag.is_none() {
        say.extend(nearer(&g.against, g.renewed.as_ref()).map(Words::from));
    }
    if g.courses.iter().any(|c| c.holds() && c.bronze_on_steel.time.is_some()) {
        say.push(
            "When the washer is worn through, stop riding. Bronze then runs on steel and galls, and nobody can say for how long the drum stays clear of the cover."
                .into(),
        );
    }
    say.extend(g.courses.iter().flat_map(worn).map(Words::from));
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
    say.push(
        format!(
            "Hours of riding, use: {}; in brackets the range that holds 90 % of {} sampled assemblies, seed {}.",
            g.usage,
            g.assemblies,
            g.head.seeds_listed()
        )
        .into(),
    );
    say.extend(learned(&g.learned).map(|learned| format!("{learned}; other wear constants are assumed.").into()));
    say.extend(g.slipping.as_ref().map(|slipping| slips(slipping).into()));
    say
}

/// That washers may be too thin when new.
fn thin(g: &Gaps) -> Option<String> {
    let washer = g.layers.iter().find(|layer| layer.is_washer())?;
    let limit = both(g.washer_limit);
    let thinnest = washer.size - washer.tolerance;
    (thinnest <= g.washer_limit).then(|| {
        format!(
            "Measure each washer before it is fitted: within its tolerance it may have {} when new, and one of {limit} is to be replaced.",
            both(thinnest.max(0.0))
        )
    })
}

/// What is judged where the clutch as used is ruined.
const SOUND: &str = " New, with sound parts, it";

/// What forbids the use: a part that fails, or heat beyond the model.
fn forbidden(c: &Course) -> Option<Words> {
    let failing = |fails: Fails| {
        let fail = format!("In this use {} after about {} of running: ", ends(fails.part), time(fails.after));
        Words::from(fail).strong("do not use it so.")
    };
    c.fails.map(failing).or(c.beyond.as_ref().map(too_hot))
}

/// The new gap compared with the required one, of what is called by this word, and what to do where it is less.
fn clears(g: &Gaps, it: &str) -> String {
    let change = if falls_short(g) { format!(" {CHANGE}") } else { String::new() };
    format!("{}.{change}", compared(g, it))
}

/// Whether the usual assembly is below the required gap.
fn falls_short(g: &Gaps) -> bool {
    g.clearance != Clearance::Clears && g.stack.nominal < g.limit
}

/// The new gap compared with the required one.
fn compared(g: &Gaps, it: &str) -> String {
    let share = |share: f64| {
        let percent = format!("{:.2}", 100.0 * share);
        if share > 0.0 && percent == "0.00" { "less than 0.01\u{a0}%".to_owned() } else { format!("{percent}\u{a0}%") }
    };
    let required = both(g.limit);
    let below = format!("{} of assemblies are below the required {required}", share(g.stack.below_limit));
    let touching = share(g.stack.below_zero);
    match g.clearance {
        Clearance::Clears => format!("{it} clears: even the worst case leaves more than the required {required}"),
        Clearance::Tight if falls_short(g) => format!("{it} does not clear: {below}"),
        Clearance::Tight => format!("{it} is tight: {below}"),
        Clearance::Touches => {
            let always = if falls_short(g) { "" } else { "always " };
            format!("{it} does not {always}clear: {below}, and in {touching} the drum touches the cover when new")
        }
    }
}

/// What to do where it does not clear.
const CHANGE: &str = "Change the cover, the washer or the bushing before it is ridden.";

/// Next to it: from when to measure the washer, and at what size to replace it. Its wear constant may be off by ten, so that
/// hours alone are no guide.
fn lasts(g: &Gaps, c: &Course) -> String {
    let Some(due) = due(c).filter(|due| *due > 0.0) else { return String::new() };
    let known = Known::factor_of(&g.learned, &settings::washer::wear_oiled).is_some();
    let from = earliest(c).filter(|early| *early < due).unwrap_or(0.0);
    let from = if from > 0.0 { format!("From {} of riding on measure", time(from)) } else { "Measure".to_owned() };
    format!(
        " {from} the washer, and replace it at {}. With the wear constant as {}, bushing {}, that is after about {}.",
        replaced(g),
        if known { "learned" } else { "set" },
        c.name,
        time(due)
    )
}

/// When a washer is to be replaced, by its own limit or by the gap that is required: with nominal sizes.
fn due(c: &Course) -> Option<f64> {
    c.washer_due.time.into_iter().chain(c.tight.time).reduce(f64::min)
}

/// The same of the shortest-lived of sampled assemblies.
fn earliest(c: &Course) -> Option<f64> {
    c.washer_due.early.into_iter().chain(c.tight.early).reduce(f64::min)
}

/// The thickness at which a washer is to be replaced: its own limit, or what is left of it when the gap is no more than required.
fn replaced(g: &Gaps) -> String {
    let spare = g.stack.nominal - g.limit;
    let washer = g.layers.iter().find(|layer| layer.is_washer()).map(|layer| layer.size - spare);
    match washer.filter(|left| *left > g.washer_limit) {
        // Up to the next hundredth of a millimetre.
        Some(left) => {
            let left = 1e-5 * (1e5 * left - 1e-6).ceil();
            format!("{}, or as soon as the gap is down to the required {}", both(left), both(g.limit))
        }
        None => both(g.washer_limit),
    }
}

/// Sentences on one way of oiling, until the washer is worn through; for a part that fails before, only that.
fn worn(c: &Course) -> Vec<String> {
    if let Some(fails) = c.fails {
        return vec![format!(
            "Bushing {}: {} after about {} of running, at up to {} at the washer. Do not use it so; {} must be replaced.",
            c.name,
            ends(fails.part),
            time(fails.after),
            temperature(c.washer),
            found(fails.part)
        )];
    }
    if c.beyond.is_some() {
        return vec![format!("Bushing {}: no hours, since a part becomes too hot for the model.", c.name)];
    }
    let mut say = vec![];
    if let (Some(due), Some(gone)) = (about(&c.washer_due), about(&c.bronze_on_steel)) {
        let grabs = match c.name {
            Oiled::Kept => "",
            Oiled::Dry => " A dry bushing grabs its shaft long before: never ride so.",
        };
        let tight = c.tight.time.zip(c.washer_due.time).filter(|(tight, own)| tight < own);
        let due = match tight.and_then(|_| about(&c.tight)) {
            Some(_) if c.tight.time == Some(0.0) => {
                format!("the gap is less than required when new; the washer's own limit is reached at {due}")
            }
            _ if c.washer_due.time == Some(0.0) => "the washer is due when new".to_owned(),
            Some(tight) => format!(
                "replace the washer at {tight}, when the gap is down to what is required; its own limit is reached at {due}"
            ),
            None => format!("replace the washer at {due}"),
        };
        say.push(format!("Bushing {}: {due}; it is worn through at {gone}.{grabs}", c.name));
    } else {
        say.push(format!("Bushing {}: no wear of the washer was computed, since the clutch does not slip or the machine has stopped: ride this use once in a duty before you trust it.", c.name));
    }
    // What is so when new is said of the new gap.
    let before = |w: &When| {
        let worn = w.time.filter(|t| *t > 0.0 && c.bronze_on_steel.time.is_some_and(|gone| *t < gone));
        worn.and_then(|_| about(w))
    };
    // Where the gap ends the washer, that is said above.
    let said = c.tight.time.zip(c.washer_due.time).is_some_and(|(tight, own)| tight < own);
    match (before(&c.tight), before(&c.touches)) {
        (Some(tight), touches) if !said => {
            let touches = touches.map(|at| format!(", and the drum touches the cover at {at}")).unwrap_or_default();
            say.push(format!("Before the washer is gone the gap falls below what is required, at {tight}{touches}."));
        }
        (_, Some(touches)) => {
            say.push(format!("Before the washer is gone the drum touches the cover, at {touches}."));
        }
        _ => {}
    }
    say
}

/// What a figure of the gap finds: that it does not clear, else from when the washer is to be measured, after what the shortest-lived
/// of sampled assemblies last.
pub(crate) fn washer_found(g: &Gaps) -> String {
    if g.clearance == Clearance::Touches || falls_short(g) {
        return compared(g, "The cover");
    }
    let from = |course: &Course| earliest(course).or_else(|| due(course));
    let known =
        || g.courses.iter().filter(|course| course.holds()).filter_map(|course| Some((from(course)?, &course.name)));
    if known().any(|(from, _)| from <= 0.0) {
        return "Measure each washer before it is fitted: it may be due when new".to_owned();
    }
    let said = |(k, (from, name))| {
        let riding = if k == 0 { " of riding" } else { "" };
        format!("from {}{riding} on if {name}", time(from))
    };
    let all: Vec<String> = known().enumerate().map(said).collect();
    if all.is_empty() {
        return "The washer is not due within the hours computed".to_owned();
    }
    format!("Measure the washer {}", all.join(", "))
}
