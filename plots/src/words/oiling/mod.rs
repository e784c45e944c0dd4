//! Sentences on when and how to oil.

mod amounts;
mod interval;
mod kept;

use self::amounts::after;
pub(crate) use self::amounts::{drops, leakage};
use self::interval::{seldom, with_margin};
use self::kept::kept_oiled;
use crate::words::say::{percent, time, times};
use crate::words::text::Words;
use crate::words::use_of_machine::{amiss, nearer, slips, too_hot, wrong_oil};
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Advice, Lasts, OilPlan};

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
        Advice::Never if p.case(LeakCase::AsSet).is_some_and(Lasts::within_first) => [gone(p), sag].concat(),
        Advice::Never => [sag, gone(p)].concat(),
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
            "With {} of {} ridden at once the lining's friction {}{back}. With an oil that contains PTFE, silicone or a friction modifier, in the bushing as well, it {}{stays} what these leave on the lining does not burn off. That is assumed, and so is their friction of 0.06.",
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

/// Sentences if no habit keeps the bushing oiled: service is due within the first outing, or an outing takes more than a dose gives.
fn gone(p: &OilPlan) -> Vec<String> {
    let Some(set) = p.case(LeakCase::AsSet) else { return vec![] };
    let what = if set.scored.is_some_and(|scored| scored <= set.outing) {
        "The bushing runs badly oiled and scores within the first outing: service is due"
    } else if set.end.is_some_and(|end| end <= set.outing) {
        "The oil is gone within the first outing: service is due"
    } else if set.within_first() {
        "Oil service is due within the first outing,"
    } else {
        "An outing spoils or loses more oil than the warm pores take: service is due"
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
            "Time until service with the least end leakage and the longest life of the oil in heat that are possible: {}; with the greatest and the shortest: {}; with grease in the grooves: {}.",
            of(LeakCase::Least),
            of(LeakCase::Most),
            of(LeakCase::Greased)
        ),
    ]
}

/// How long a full bushing lasts, and how far the end leakage leaves that open.
pub(crate) fn found(p: &OilPlan) -> String {
    let of = |name: LeakCase| p.lasts.iter().find(|lasts| lasts.name == name).and_then(|lasts| lasts.due);
    let Some(due) = of(LeakCase::AsSet) else {
        return "The oil of a full bushing lasts beyond what was computed".to_owned();
    };
    match (of(LeakCase::Most), of(LeakCase::Least)) {
        (Some(soon), Some(late)) => {
            format!(
                "The oil of a full bushing lasts until service {} of riding, {} with end leakage and oil life as set",
                times(soon, late),
                time(due)
            )
        }
        (Some(soon), None) => {
            format!(
                "The oil of a full bushing lasts until service {} of riding or more, {} with end leakage and oil life as set",
                time(soon),
                time(due)
            )
        }
        _ => format!(
            "The oil of a full bushing lasts until service {} of riding with end leakage and oil life as set",
            time(due)
        ),
    }
}
