//! How to service the carts, and their oil.

use super::amounts::plural;
use super::calendar::WEEKDAYS;
use super::comparison::{GRABS, weighed};
use super::rule::{by_rule, on};
use crate::words::number::{figures, number};
use crate::words::oiling::drops;
use crate::words::say::percent;
use crate::words::text::Words;
use slipsoak_engine::season::{Outcome, Season, ServiceDays};

/// That the day of oiling is one on which no cart rides.
fn closed(season: &Season, on: ServiceDays) -> Option<String> {
    let ServiceDays::Weekday(weekday) = on else { return None };
    let name = WEEKDAYS.get(weekday as usize)?;
    (!season.question.weekdays[weekday as usize]).then(|| {
        format!("{name} is a closed day: the oil goes in cold, as the bushing stands. After closing on a riding day it goes in warm.")
    })
}

/// How to service the carts.
pub(super) fn service(season: &Season, advised: usize) -> Words {
    let outcome = &season.policies[advised];
    let early = outcome
        .policy
        .preventive
        .map(|share| format!(" Renew parts on these days from {} of their use on.", percent(share)));
    let other = weighed(season, advised).map_or_else(String::new, |weighed| format!(" {weighed}"));
    let rule = match outcome.policy.oiling {
        None if advised == 0 => Words::from(
            "The carts are never oiled. Oil them, on the safe side: a dry bushing grabs its shaft, and the machine may then drive itself at idle.",
        ),
        None => Words::default(),
        Some(oiling) => {
            let when =
                if oiling.before_opening { "before opening" } else { "after closing, so that the oil rests overnight" };
            let dose = outcome.dose().unwrap_or(oiling.drops);
            let up_to = if dose > 1.0 { "up to " } else { "" };
            Words::from("Oil ")
                .strong(on(oiling.on))
                .plain(format!(
                    " {when}: {up_to}{}\u{a0}{} for each cart, {} in the season{}.{}",
                    figures(dose, 3),
                    if dose == 1.0 { "drop" } else { "drops" },
                    plural(outcome.oilings, "time"),
                    missed(outcome),
                    singly(oiling.drops, dose, outcome)
                ))
                .plain(closed(season, oiling.on).map_or_else(String::new, |closed| format!(" {closed}")))
        }
    };
    rule.plain(early.unwrap_or_default()).plain(other)
}

/// How drops are put on, and how far they refill the bushings by a rule that asks for so many.
fn singly(asked: f64, dose: f64, outcome: &Outcome) -> String {
    let singly = if dose > 1.0 {
        " Put them on one at a time, and stop when a drop stays on the face: more would run off, some of it onto the lining, which then slips and may not hold."
    } else {
        ""
    };
    let lacks =
        format!("on average a bushing lacks {} of a full one when it is oiled by this rule", drops(outcome.lacked));
    let most = figures(outcome.lacked_most, 2);
    let refilled = if outcome.lacked > asked {
        format!("The dose does not refill a bushing: {lacks}. Compare more drops, or more oilings (`--against`).")
    } else if outcome.lacked_most > asked {
        format!("The dose refills most bushings: {lacks}, but one in 20 more than {most}.")
    } else {
        format!("The dose refills 19 of 20 bushings: {lacks}, and 19 of 20 no more than {most}.")
    };
    format!(
        "{singly} {refilled} `slipsoak oiling` says how many drops a bushing has room for while it is warm, and how often."
    )
}

/// What carts that stopped miss of the oilings of a rule.
fn missed(outcome: &Outcome) -> String {
    let oiled = number(outcome.oiled, 1.0);
    if outcome.oiled > outcome.oilings as f64 - 0.5 {
        return String::new();
    }
    format!("; stopped carts miss some, so that it is {oiled} on average")
}

/// The oil.
pub(super) fn oil(season: &Season, outcome: &Outcome) -> Option<String> {
    let carts = season.question.carts as f64;
    let (due, by) = (outcome.due / carts, by_rule(season, outcome));
    let danger = "a danger at idle: the machine may drive itself";
    let grabbed = match outcome.grabbed {
        few if few < GRABS => String::new(),
        few if few < 0.5 => {
            format!(", and one bushing in about {} seasons grabs its shaft, {danger}", figures(1.0 / few, 2))
        }
        many => format!(", and {} bushings grab their shafts on average, {danger}", figures(many, 2)),
    };
    let falls = match season.question.carts {
        1 => format!("In {} of the seasons the oil falls to its service level{by}", percent(due)),
        _ => format!("In a season the oil of {} of the carts falls to its service level{by}", percent(due)),
    };
    (due >= 0.005 || outcome.grabbed >= GRABS).then(|| format!("{falls}{grabbed}."))
}
