//! The plan of oiling, in sentences.

use super::answer::{Advised, Lasts, OilPlan};
use super::plan::leaks;
use crate::fleet::assumed_range;
use crate::parts::Machine;
use crate::say::{figures, percent, time, times};

const HOUR: f64 = 3600.0;

fn drops(n: f64) -> String {
    if n == 1.0 { "1\u{a0}drop".to_owned() } else { format!("{}\u{a0}drops", figures(n, 2)) }
}

fn outings(n: u64) -> String {
    if n == 1 { "after every outing".to_owned() } else { format!("every {n} outings") }
}

/// The dose of a habit: whole drops more where even one outing loses more than is asked for.
fn dose(p: &OilPlan, advised: &Advised) -> f64 {
    if advised.drops > p.drops { advised.drops.ceil() } else { p.drops }
}

/// How a dose is put on: no more of it warm than the pores then have room for.
fn put_on(p: &OilPlan, advised: &Advised) -> String {
    let room = (p.warm_room - (advised.fill - p.found) * p.full_drops).floor();
    if room >= dose(p, advised) {
        "after the ride, while the bushing is warm".to_owned()
    } else if room >= 1.0 {
        format!("after the ride, no more than {} while the bushing is warm and the rest when it is cold", drops(room))
    } else {
        "after the ride, when the bushing is cold".to_owned()
    }
}

fn per_hour(leak: f64) -> String {
    format!("{} per hour", figures(leak * HOUR, 2))
}

/// Time until service is due in a case.
fn due(lasts: &Lasts) -> String {
    let early = if lasts.within_first() { " (within the first outing)" } else { "" };
    lasts.due.map_or_else(|| "more than ten years of such outings".to_owned(), |due| time(due) + early)
}

pub(super) fn sentences(p: &OilPlan) -> Vec<String> {
    let mut say = if p.too_hot() { gone(p) } else { habit(p) };
    if let (Some(small), Some(large)) = (p.doses.first(), p.doses.last()) {
        say.push(format!(
            "Too much is thrown off, and some lands on the lining: ridden 30 s later, {} of {} stays and {} of {}; friction of the lining falls to {} and to {} of its dry value. An oiled lining slips, heats and may not hold.",
            percent(small.kept),
            drops(small.drops),
            percent(large.kept),
            drops(large.drops),
            percent(small.grip),
            percent(large.grip)
        ));
    }
    if let [plain, additive, ..] = &p.oils[..] {
        say.push(format!(
            "With {} of {} ridden at once the lining's friction falls to {} of its dry value and is back at {} after 20 min; with an oil that contains PTFE, silicone or a friction modifier it falls to {} and stays at {}: what these leave on the lining does not burn off. The model gives all three the same friction, 0.06, assumed.",
            drops(p.drops),
            plain.oil,
            percent(plain.least),
            percent(plain.after),
            percent(additive.least),
            percent(additive.after)
        ));
    }
    say
}

/// What is said where the oil is gone within the first outing.
fn gone(p: &OilPlan) -> Vec<String> {
    let Some(set) = p.case("as set") else { return vec![] };
    let at = |lasts: &Lasts| {
        let end = lasts.end.map(|end| format!(", end after {}", time(end))).unwrap_or_default();
        lasts.due.map_or_else(|| due(lasts), |due| format!("service level after {}{end}", time(due)))
    };
    let what =
        if set.end.is_some_and(|end| end <= set.outing) { "The oil is gone" } else { "The oil's service is due" };
    let mut say = vec![
        format!("{what} within the first outing: {} of riding.", at(set)),
        "No oiling habit carries this use; it needs less slip or more cooling.".to_owned(),
    ];
    let of = |name: &str| p.case(name).map(at).unwrap_or_default();
    say.push(format!(
        "From full with the least end leakage that is possible: {}; with the greatest: {}; with grease in the grooves: {}.",
        of("least leak"),
        of("most leak"),
        of("with grease")
    ));
    say
}

/// What is said of a habit that carries the use.
fn habit(p: &OilPlan) -> Vec<String> {
    let mut say = p.advised.map_or_else(|| vec![seldom(p)], |advised| with_margin(p, advised));
    if let (Some(set), Some(least), Some(most)) = (p.case("as set"), p.case("least leak"), p.case("most leak")) {
        let range = match (most.due, least.due) {
            (Some(a), Some(b)) => times(a, b),
            (Some(a), None) => format!("{} to {}", time(a), due(least)),
            _ => due(most),
        };
        say.push(format!(
            "A full bushing holds {}. Service is due at {}, after {} of riding; the end leakage, which nobody has measured, could make that anything from {range}.",
            drops(p.full_drops),
            percent(p.due_at),
            due(set)
        ));
        say.push(format!(
            "Where service is overdue the bushing takes {}, a few at a time with a rest between.",
            drops(p.drops_when_due.floor())
        ));
    }
    say.extend(kept(p));
    if let (Some(set), Some(greased)) = (p.case("as set"), p.case("with grease")) {
        say.push(format!(
            "Grease in the grooves that holds {} mL of oil carries a full bushing to {} of riding instead of {}; it bleeds at rest too.",
            figures(greased.grease * 1e6, 2),
            due(greased),
            due(set)
        ));
    }
    say
}

/// What is said where a dose is more than such outings lose.
fn seldom(p: &OilPlan) -> String {
    format!(
        "Such outings lose less than {} and do not reach the service level in ten years: oil once a year all the same, and check the fill.",
        drops(p.drops)
    )
}

/// When to oil, and how much sooner with the greatest leakage.
fn with_margin(p: &OilPlan, advised: Advised) -> Vec<String> {
    let mut say = vec![format!(
        "Oil with {} after every {} of riding ({}): {}, and let it stand overnight.",
        drops(dose(p, &advised)),
        time(advised.riding),
        outings(advised.outings),
        put_on(p, &advised)
    )];
    let most = p.case("most leak");
    let leak = most.map_or(0.0, |most| most.leak);
    say.push(match (p.advised_at_most_leak, most) {
        (Some(most), _) => format!(
            "That is for an end leakage of {}, which nobody has measured. With the greatest that is possible, {}, oil with {} after every {} ({}), {} times as often.",
            per_hour(p.leak),
            per_hour(leak),
            drops(dose(p, &most)),
            time(most.riding),
            outings(most.outings),
            figures(advised.outings as f64 / most.outings as f64, 2)
        ),
        (None, most) => format!(
            "That is for an end leakage of {}, which nobody has measured. With the greatest that is possible, {}, service is due after {}: no oiling habit would carry that.",
            per_hour(p.leak),
            per_hour(leak),
            most.map(due).unwrap_or_default()
        ),
    });
    if let (Some(set), Some(most)) = (p.case("as set"), most)
        && let Some(first) = most.due.map(|due| (due / most.outing).floor().max(1.0))
    {
        let riding = first * most.outing;
        let lost = |lasts: &Lasts| format!("{} mg", figures((1.0 - lasts.fill_at(riding)) * p.full_mass * 1e6, 2));
        say.push(format!(
                "Until a drum has been weighed, oil the first time after {} of riding ({first:.0} outings) at the latest: even with the greatest leakage the bushing is then no lower than its service level. Weigh the drum, clean, with its bushing full and again then, before oiling: a loss of {} is the leakage as set, {} the greatest.",
                time(riding),
                lost(set),
                lost(most)
            ));
    }
    say.push(format!(
        "The interval is on the safe side: it counts from full with all that the first outing throws off, takes the smaller of what is kept warm and cold, is cut to whole outings and is at most half of the time to service. The fill is then {}, above the {} of service.",
        percent(advised.fill),
        percent(p.due_at)
    ));
    say
}

/// What is kept of a dose, and why.
fn kept(p: &OilPlan) -> Vec<String> {
    let kept = |warm: bool, wait: f64| {
        let habit = p.habits.iter().find(|h| h.warm == warm);
        habit.and_then(|h| h.kept.iter().find(|k| k.0 == wait)).map_or(0.0, |k| k.1)
    };
    let [cold, warm] = [false, true].map(|warm| kept(warm, 43200.0));
    let mut say = vec![
        format!(
            "Put on cold, {} of the dose is kept after a wait of 30 s, {} after 10 min, {} after 30 min; put on warm after the ride, {} after 10 min and {} overnight.",
            percent(kept(false, 30.0)),
            percent(kept(false, 600.0)),
            percent(kept(false, 1800.0)),
            percent(kept(true, 600.0)),
            percent(warm)
        ),
        format!(
            "What counts is the rest before the drum turns again: cold oil left overnight is kept to {}. Warmth only shortens the wait, from an hour or more to ten minutes. Oiling after the ride helps because a rest follows.",
            percent(cold)
        ),
    ];
    if p.warm_room < p.drops {
        say.push(format!(
            "Hot oil fills more of the pores: a bushing at {} that is warm from the ride has room for {}, not for {}. The rest stands on its faces, and some runs off before cooling draws it in: {} of a warm dose is kept overnight, {} of a cold one. A warm dose should not exceed that room.",
            percent(p.found),
            drops(p.warm_room),
            drops(p.drops),
            percent(warm),
            percent(cold)
        ));
    }
    say
}

pub(super) fn assumed(m: &Machine) -> Vec<String> {
    let (least, most) = leaks(m);
    let soaks = assumed_range("oiling.imbibe_time").unwrap_or((m.oiling.imbibe_time, m.oiling.imbibe_time));
    vec![
        format!(
            "end leakage of {} at 80 °C and 2500 rpm ({} to {} is possible); it decides how long an oiling lasts; weigh a drum before and after a season to measure it: one hundredth of the oil is about 11 mg",
            per_hour(m.oiling.leak),
            figures(least * HOUR, 2),
            per_hour(most)
        ),
        format!(
            "how fast the pores soak up oil, {:.0} s at 80 °C ({} to {} s is possible): it shifts every wait in minutes alike",
            m.oiling.imbibe_time,
            figures(soaks.0, 2),
            figures(soaks.1, 2)
        ),
        format!(
            "share of thrown oil that lands on the lining, {:.0} %, and the rate at which slip wipes it off",
            100.0 * m.oiling.lining_share
        ),
    ]
}
