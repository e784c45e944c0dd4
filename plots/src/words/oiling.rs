//! Sentences on when and how to oil.

use crate::words::number::figures;
use crate::words::say::{percent, time, times};
use crate::words::text::Words;
use crate::words::use_of_machine::{amiss, nearer, slips, too_hot, wrong_oil};
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Advice, Advised, Lasts, OilPlan};
use slipsoak_engine::units::{DAY, HOUR};

/// A week, s.
const WEEK: f64 = 7.0 * DAY;

fn drops(n: f64) -> String {
    if n == 1.0 { "1\u{a0}drop".to_owned() } else { format!("{}\u{a0}drops", figures(n, 2)) }
}

fn outings(n: u64) -> String {
    if n == 1 { "after every outing".to_owned() } else { format!("every {n} outings") }
}

/// Text of how to apply a dose: what the hot pores have no room for at once stands on the faces, and some of it runs off.
fn put_on(habit: &Advised) -> &'static str {
    if habit.warm >= habit.dose {
        ", and let it stand overnight"
    } else {
        ", a drop at a time. Let it stand overnight, and wipe off what runs out"
    }
}

fn per_hour(leak: f64) -> String {
    format!("{} per hour", figures(leak * HOUR, 2))
}

/// Time until service is due in this case.
fn due(lasts: &Lasts) -> String {
    let early = if lasts.within_first() { " (within the first outing)" } else { "" };
    after(lasts) + early
}

fn after(lasts: &Lasts) -> String {
    lasts.due.map_or_else(|| "more than ten years of such outings".to_owned(), time)
}

/// The answer: interval and dose, their uncertainty, then reasons.
pub fn statement(p: &OilPlan) -> Vec<Words> {
    let hot = p.beyond.as_ref().map(too_hot).into_iter();
    if p.wrong_oil {
        let never = wrong_oil("this oil", ", and ask again with it: no interval is given for this one");
        return std::iter::once(never).chain(hot).collect();
    }
    hot.chain(sentences(p).into_iter().map(Words::from)).collect()
}

fn sentences(p: &OilPlan) -> Vec<String> {
    let then = match p.advised {
        Advice::Never => "",
        _ => ", and the bushing runs hotter than computed: the intervals below are those of springs renewed in time",
    };
    let own = (p.sag.as_ref(), p.against.as_slice());
    let sag: Vec<String> = amiss(own, p.renewed.as_ref(), p.sought.as_ref(), then).into_iter().collect();
    // Oil that is gone within minutes comes before springs that relax over many hours.
    let mut say = match p.advised {
        Advice::Never => [gone(p), sag].concat(),
        Advice::Yearly => [sag, vec![seldom(p)], kept_oiled(p)].concat(),
        Advice::Every(habit) => [sag, with_margin(p, habit), kept_oiled(p)].concat(),
    };
    // Within the first three sentences, which are the answer.
    if let Some(near) = nearer(&p.against, p.renewed.as_ref()).filter(|_| p.sag.is_none()) {
        say.insert(say.len().min(2), near);
    }
    say.extend(p.case(LeakCase::AsSet).and_then(squeals));
    if let (Some(small), Some(large)) = (p.doses.first(), p.doses.last()) {
        let friction = match (nearly_full(small.grip), nearly_full(large.grip)) {
            (false, false) => {
                format!("falls to {} and to {} of its dry value", percent(small.grip), percent(large.grip))
            }
            (true, true) => "stays nearly full".to_owned(),
            _ => format!(
                "{} with {} and {} with {}",
                sinks(small.grip),
                drops(small.drops),
                sinks(large.grip),
                drops(large.drops)
            ),
        };
        say.push(format!(
            "Too much is thrown off, and some lands on the lining: ridden 30 s later, {} of {} stays and {} of {}; friction of the lining {friction}. An oiled lining slips, heats and may not hold.",
            percent(small.kept),
            drops(small.drops),
            percent(large.kept),
            drops(large.drops)
        ));
    }
    if let [plain, additive, ..] = &p.oils[..] {
        let back = if nearly_full(plain.least) {
            String::new()
        } else {
            format!(" and is back at {} after 20 min", percent(plain.after))
        };
        let stays = if nearly_full(additive.least) {
            " too, but".to_owned()
        } else {
            format!(" and stays at {}:", percent(additive.after))
        };
        say.push(format!(
            "With {} of {} ridden at once the lining's friction {}{back}. With an oil that contains PTFE, silicone or a friction modifier it {}{stays} what these leave on the lining does not burn off. The model gives all three the same friction, 0.06, assumed.",
            drops(p.drops),
            plain.oil,
            sinks(plain.least),
            sinks(additive.least)
        ));
    }
    say.extend(p.slipping.as_ref().map(slips));
    say
}

/// Whether a friction over the dry one is whole when it is said in whole per cent.
fn nearly_full(friction: f64) -> bool {
    friction >= 0.995
}

/// How far the lining's friction falls.
fn sinks(least: f64) -> String {
    if nearly_full(least) {
        "stays nearly full".to_owned()
    } else {
        format!("falls to {} of its dry value", percent(least))
    }
}

/// Sentence on a bushing that scores though it holds oil: heat has aged it.
fn squeals(set: &Lasts) -> Option<String> {
    let after = set.scored?;
    Some(format!(
        "The bushing begins to score after {} of riding without fresh oil, with {} of its oil left: heat has aged it. It squeals then, later it grabs its shaft, and the machine may drive itself at idle.",
        time(after),
        percent(set.fill_at(after))
    ))
}

/// Sentences if service is due within the first outing.
fn gone(p: &OilPlan) -> Vec<String> {
    let Some(set) = p.case(LeakCase::AsSet) else { return vec![] };
    let what = if set.scored.is_some_and(|scored| scored <= set.outing) {
        "The bushing runs badly oiled and scores within the first outing: service is due"
    } else if set.end.is_some_and(|end| end <= set.outing) {
        "The oil is gone within the first outing: service is due"
    } else {
        "Oil service is due within the first outing,"
    };
    let then = |lasts: &Lasts| if lasts.scored.is_some() { "grabs its shaft" } else { "is dry" };
    let dry = set.end.map(|end| format!(", and the bushing {} after {}", then(set), time(end))).unwrap_or_default();
    let of = |name| {
        let Some(lasts) = p.case(name) else { return String::new() };
        let dry = lasts.end.map(|end| format!(" (it {} after {})", then(lasts), time(end))).unwrap_or_default();
        after(lasts) + &dry
    };
    vec![
        format!("{what} after {} of riding{dry}.", after(set)),
        "No oiling habit keeps the bushing oiled in this use. It needs less slip or more cooling.".to_owned(),
        format!(
            "Time until service with the least end leakage that is possible: {}; with the greatest: {}; with grease in the grooves: {}.",
            of(LeakCase::Least),
            of(LeakCase::Most),
            of(LeakCase::Greased)
        ),
    ]
}

/// How the end leakage is known.
pub(crate) fn leakage(p: &OilPlan) -> &'static str {
    if p.leak_learned() { "learned from measurements" } else { "assumed; nobody has measured it" }
}

/// How surely the end leakage is known, as a clause after it.
const fn how_sure(learned: bool) -> &'static str {
    if learned { "as measurements leave it open" } else { "which nobody has measured" }
}

/// Sentences on a bushing that a habit keeps oiled.
fn kept_oiled(p: &OilPlan) -> Vec<String> {
    let mut say = vec![];
    let of = |name| p.case(name);
    let full = format!("A full bushing holds {}. Service is due at {}", drops(p.full_drops), percent(p.due_at));
    let sure = how_sure(p.leak_learned());
    let soonest = of(LeakCase::Most).and_then(|most| most.due);
    let latest = of(LeakCase::Least).map(after).unwrap_or_default();
    say.push(
        match (of(LeakCase::AsSet), soonest) {
            (Some(Lasts { due: Some(set), .. }), Some(soonest)) => {
                let range = match of(LeakCase::Least).and_then(|least| least.due) {
                    Some(latest) => times(soonest, latest),
                    None => format!("{} to {latest}", time(soonest)),
                };
                format!("{full}, after {} of riding; the end leakage, {sure}, could make that anything from {range}.", time(*set))
            }
            (_, Some(soonest)) => format!("{full}, not within ten years of such outings; but with the greatest end leakage that is possible, {sure}, after {} of riding.", time(soonest)),
            (_, None) => format!("{full}, not within ten years of such outings, whatever the end leakage."),
        },
    );
    if of(LeakCase::AsSet).is_some_and(|set| set.due.is_some()) {
        say.push(format!(
            "Where service is overdue the bushing takes {}, a few at a time with a rest between.",
            drops(p.drops_when_due.floor())
        ));
    }
    say.extend(kept(p));
    let greased = of(LeakCase::AsSet).and_then(|set| set.due).zip(of(LeakCase::Greased));
    say.extend(greased.map(|(set, greased)| {
        let with = greased.due.map_or_else(|| "more than ten years".to_owned(), time);
        if with == time(set) {
            return format!(
                "Grease in the grooves that holds {} mL of oil hardly lengthens that; it bleeds at rest too.",
                figures(greased.grease * 1e6, 2)
            );
        }
        format!(
            "Grease in the grooves that holds {} mL of oil carries a full bushing to {} of riding instead of {}; it bleeds at rest too.",
            figures(greased.grease * 1e6, 2),
            with,
            time(set)
        )
    }));
    say
}

/// Sentences if a dose exceeds the loss of such outings.
fn seldom(p: &OilPlan) -> String {
    format!(
        "Such outings lose less than {} and do not reach the service level in ten years: oil once a year all the same, and check the fill.",
        drops(p.drops)
    )
}

/// The rule for the wall: often enough for the greatest leakage, and never more than the bushing takes.
fn wall(p: &OilPlan, often: Advised) -> String {
    let by_calendar = p.weekly.map(|weekly| calendar(often.riding / weekly * WEEK));
    let after = [Some(time(often.riding) + " of riding"), by_calendar].into_iter().flatten();
    format!(
        "For the wall: oil after {} ({}), while the bushing is warm from the ride. Put on up to {}, one at a time; stop when a drop stays on the face, let it stand overnight and wipe off what runs out.",
        outings(often.outings).trim_start_matches("after "),
        after.collect::<Vec<_>>().join("; "),
        drops(often.dose)
    )
}

/// An interval of the calendar, s, on the safe side: whole weeks, or whole days.
fn calendar(interval: f64) -> String {
    let (weeks, days) = ((interval / WEEK).floor(), (interval / DAY).floor());
    let every = match (weeks, days) {
        (0.0, ..=1.0) => "every day".to_owned(),
        (0.0, days) => format!("every {days:.0} days"),
        (1.0, _) => "every week".to_owned(),
        (weeks, _) => format!("every {weeks:.0} weeks"),
    };
    format!("at that much riding a week, {every}")
}

/// The interval, and how much longer it is with the leakage as set.
fn with_margin(p: &OilPlan, habit: Advised) -> Vec<String> {
    let most = p.case(LeakCase::Most);
    let sure = how_sure(p.leak_learned());
    let set = if p.leak_learned() { "as learned" } else { "as set" };
    let greatest = per_hour(most.map_or(0.0, |most| most.leak));
    let mut say = match p.advised_at_most_leak.habit() {
        Some(often) => vec![
            wall(p, often),
            format!(
                "That is enough even with the greatest end leakage that is possible, {greatest}, {sure}. With {}, {set}, {} after every {} ({}) are enough.",
                per_hour(p.leak),
                drops(habit.dose),
                time(habit.riding),
                outings(habit.outings)
            ),
        ],
        None => vec![
            format!(
                "Oil with {} after every {} of riding ({}), after the ride while the bushing is warm{}.",
                drops(habit.dose),
                time(habit.riding),
                outings(habit.outings),
                put_on(&habit)
            ),
            format!(
                "That is for an end leakage of {}, {sure}. With the greatest that is possible, {greatest}, service is due after {}: no oiling habit keeps the bushing oiled then.",
                per_hour(p.leak),
                most.map(due).unwrap_or_default()
            ),
        ],
    };
    if let Some(weighing) = p.weighing {
        let mg = |kg: f64| format!("{} mg", figures(1e6 * kg, 2));
        say.push(format!(
            "Weigh a drum to know which: clean, with its bushing full, and again after {} of riding ({}) without oiling, after which it is no lower than its service level even with the greatest leakage. A loss of {} is the leakage as set, {} the greatest.",
            time(weighing.riding),
            if weighing.outings == 1 { "one outing".to_owned() } else { format!("{} outings", weighing.outings) },
            mg(weighing.lost),
            mg(weighing.lost_at_most_leak)
        ));
    }
    say.push(format!(
        "The interval is on the safe side: it counts from full with all that the first outing throws off, takes the smaller of what is kept warm and cold, is cut to whole outings, is at most half of the time to service, and lets fresh oil keep pace with what heat spoils, so that the bushing does not score. The fill is then {}, above the {} of service.",
        percent(habit.fill),
        percent(p.due_at)
    ));
    say
}

/// Sentences on the share of a dose that is absorbed, and why.
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
            "Hot oil fills more of the pores: a bushing at {} that is warm from the ride has room for {}, not for {}. The rest stands on its faces, and some runs off before cooling draws it in: {} of a warm dose is kept overnight, {} of a cold one. The interval allows for that: put it on warm, a drop at a time, and wipe off what runs out.",
            percent(p.found),
            drops(p.warm_room),
            drops(p.drops),
            percent(warm),
            percent(cold)
        ));
    }
    say
}

/// How long a full bushing lasts, and how far the end leakage leaves that open.
pub(crate) fn found(p: &OilPlan) -> String {
    let of = |name: LeakCase| p.lasts.iter().find(|lasts| lasts.name == name).and_then(|lasts| lasts.due);
    let Some(due) = of(LeakCase::AsSet) else { return "A full bushing lasts beyond what was computed".to_owned() };
    match (of(LeakCase::Most), of(LeakCase::Least)) {
        (Some(soon), Some(late)) => {
            format!("A full bushing lasts {} of riding, {} at the end leakage as set", times(soon, late), time(due))
        }
        (Some(soon), None) => {
            format!("A full bushing lasts {} of riding or more, {} at the end leakage as set", time(soon), time(due))
        }
        _ => format!("A full bushing lasts {} of riding at the end leakage as set", time(due)),
    }
}
