//! What to have, when the first cart stops, and the days lost.

use super::amounts::{hours, millilitres, pieces, plural};
use super::calendar::{after, day, week};
use super::choosing::choose;
use super::rule::{by_rule, policy};
use crate::words::number::{figures, number};
use crate::words::say::percent;
use crate::words::text::{Words, listed};
use crate::words::use_of_machine::{OWN, forbidden};
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Need, Outcome, SPARES, Season};
use slipsoak_engine::spring_choice::Renewed;
use slipsoak_engine::units::HOUR;

/// Share of a need down to which another rule lessens it by enough to be named.
const LESSENED: f64 = 0.8;

/// What 9 of 10 seasons need no more than; none for nothing.
pub(super) fn needed(outcome: &Outcome) -> Option<String> {
    let parts = outcome.needs.iter().filter(|need| need.nine_tenths > 0);
    let oil = (outcome.oil > 0.0).then(|| format!("{} of oil", millilitres(outcome.oil)));
    let all: Vec<String> = parts.map(|need| pieces(need.part, need.nine_tenths)).chain(oil).collect();
    (!all.is_empty()).then(|| listed(&all))
}

/// Whether the number that is enough in nine seasons of ten is far above that of half of them, for a reason common to all carts.
pub(super) fn wide(outcome: &Outcome) -> bool {
    outcome.needs.iter().any(|need| need.common >= 0.5 && need.nine_tenths > 3 * need.half + 2)
}

/// What to begin with where the numbers of nine seasons of ten are far above it.
pub(super) fn beginning(outcome: &Outcome) -> Option<String> {
    let halves = outcome.needs.iter().filter(|need| need.half > 0).map(|need| pieces(need.part, need.half));
    let halves: Vec<String> = halves.collect();
    (wide(outcome) && !halves.is_empty()).then(|| listed(&halves))
}

/// What carts take that are used or served wrongly, by the rule given and by that which is advised: no stock to buy.
pub(super) fn as_used(season: &Season, advised: usize) -> Words {
    let of = |k: usize| season.policies.get(k).map_or_else(String::new, taken);
    let own = format!("Used and serviced like this, {}.", of(0));
    let other = season.policies.get(advised).filter(|_| advised > 0);
    let other = other.map_or_else(String::new, |other| format!(" With “{}”, {}.", policy(&other.policy), taken(other)));
    (own + &other).into()
}

/// What half of the seasons and 9 in 10 take.
fn taken(outcome: &Outcome) -> String {
    let halves = outcome.needs.iter().filter(|need| need.half > 0).map(|need| pieces(need.part, need.half));
    let halves: Vec<String> = halves.collect();
    let halves = if halves.is_empty() { "no parts".to_owned() } else { format!("at most {}", listed(&halves)) };
    let nine = needed(outcome).map_or_else(|| "none either".to_owned(), |needed| format!("no more than {needed}"));
    format!("of each part by itself half of the sampled seasons take {halves}, and 9 in 10 {nine}")
}

/// What to have for the season.
pub(super) fn have(season: &Season, outcome: &Outcome) -> Words {
    let none = outcome.needs.iter().all(|need| need.nine_tenths == 0);
    let carts = if season.question.carts == 1 {
        "this cart".to_owned()
    } else {
        format!("these {} carts", season.question.carts)
    };
    let spread: Vec<_> = outcome.needs.iter().filter(|need| need.nine_tenths > need.half).collect();
    let half = |need: &&Need| pieces(need.part, need.half).replacen("0\u{a0}", "no ", usize::from(need.half == 0));
    let usual = match spread.iter().any(|need| need.half > 0) {
        true => format!("; half need at most {}", listed(&spread.iter().map(half).collect::<Vec<_>>())),
        false if spread.is_empty() => String::new(),
        false => "; half need none".to_owned(),
    };
    let by = by_rule(season, outcome);
    let Some(all) = needed(outcome) else {
        return format!(
            "No spare part and no oil is needed for {carts} this season{by}: 9 in 10 sampled seasons need none{usual}."
        )
        .into();
    };
    let sure = format!("of each by itself, 9 in 10 sampled seasons need no more{usual}");
    if let Some(few) = beginning(outcome) {
        return Words::from("Begin with ").strong(few).plain(format!(
            " for {carts}{by}: of each part by itself, half of the sampled seasons need no more, and 9 in 10 no more than {all}.{}",
            together(outcome, true)
        ));
    }
    let spares = if none { " and no spare parts" } else { "" };
    Words::from("Have ")
        .strong(all)
        .plain(format!(" for {carts} this season{spares}{by}: {sure}.{}", together(outcome, false)))
}

/// In how many seasons the numbers of all parts are enough together, those of nine seasons of ten, or those of half of them too; nothing
/// if a single part is needed.
fn together(outcome: &Outcome, begun: bool) -> String {
    let several = outcome.needs.iter().filter(|need| need.nine_tenths > 0).count() > 1;
    if !several {
        return String::new();
    }
    let [half, nine] = <[f64; 2]>::from(outcome.together).map(percent);
    if begun {
        format!(" All parts together, the first numbers are enough in {half} of the seasons, the second in {nine}.")
    } else {
        format!(" All parts together, they are enough in {nine} of the seasons.")
    }
}

/// The answer where the carts must not be ridden in the use: parts to have would be the wrong advice.
pub(super) fn unfit(season: &Season) -> Vec<Words> {
    let renewed = season.renewed.as_ref();
    let instead = forbidden(OWN, &season.against, renewed, season.sought.as_ref());
    let stock = if renewed.is_some_and(Renewed::fits) {
        String::new()
    } else {
        format!(" {} judges every spring of a stock for them.", choose(season))
    };
    vec![
        Words::default().strong("Do not rent these carts out as they are").plain(format!(". {instead}")),
        format!(
            "That is computed with all constants as set, in the warmest month.{stock} Ask again with what you change: no parts are counted for carts that must not be ridden."
        )
        .into(),
    ]
}

/// Riding from one lining to the next below which the use counts as wrong, s: linings wear by design, and shops renew them.
/// Assumed.
const LINING: f64 = 150.0 * HOUR;

/// Riding from one piece of a part to the next, with all carts, s.
fn each(season: &Season, need: &Need) -> f64 {
    let asked = &season.question;
    asked.hours * asked.days as f64 * asked.carts.max(1) as f64 / need.half as f64
}

/// Parts for each cart, of all kinds together, and share of the carts whose bushings are worn out in half of the seasons and mostly grab,
/// above which the use or the service is wrong. Assumed.
const PARTS: u64 = 2;
const GRABBING: f64 = 0.25;

/// The part of the largest need, if half of the seasons take more than one of it for each cart or more than two parts of all kinds, or
/// the bushing, if many grab their shafts.
fn again(season: &Season, outcome: &Outcome) -> Option<Need> {
    let counts = |need: &&Need| need.part != Part::Lining || each(season, need) < LINING;
    let counted = || outcome.needs.iter().filter(counts);
    let (carts, all) = (season.question.carts, counted().map(|need| need.half).sum::<u64>());
    let most = counted().max_by_key(|need| need.half)?;
    let many = GRABBING * carts as f64;
    let bushing = outcome.needs.iter().find(|need| need.part == Part::Bushing && need.half as f64 > many);
    let grabbing = bushing.filter(|_| outcome.grabbed > many);
    (most.half > carts || all > PARTS * carts).then_some(most).or(grabbing).copied()
}

/// What comes before all numbers where carts need a part again and again: no stock cures that, but perhaps another rule of oiling.
pub(super) fn wrong_use(season: &Season, outcome: &Outcome) -> Option<Words> {
    let need = again(season, outcome)?;
    let carts = season.question.carts.max(1);
    let apiece = figures(need.half as f64 / carts as f64, 2);
    let all = format!("{} or more", pieces(need.part, need.half));
    let taken = if carts == 1 { all } else { format!("{all}, {apiece} for each cart") };
    let even = if season.policies.first().is_some_and(|own| own.policy != outcome.policy) {
        format!(" even with “{}”", policy(&outcome.policy))
    } else {
        String::new()
    };
    let found = format!(
        ":{even} half of the seasons take {taken}, one in {} of riding. {}",
        hours(each(season, &need)),
        remedy(season, outcome, &need)
    );
    Some(Words::default().strong("The use or the service is wrong, not the stock").plain(found))
}

/// What to change where a part is needed again and again: another rule of oiling if that mends or lessens it, the spring and
/// the slip otherwise.
fn remedy(season: &Season, outcome: &Outcome, need: &Need) -> String {
    let of = |other: &Outcome| other.needs.iter().find(|one| one.part == need.part).map_or(u64::MAX, |one| one.half);
    let oiled = season.policies.iter().filter(|other| other.policy.oiling.is_some() && other.policy != outcome.policy);
    let best = oiled.min_by_key(|other| of(other));
    let choose = format!(
        "Compare springs ({}: of those that stay clear of the idle the nearest slips least), stop and start less often",
        choose(season)
    );
    let (by, name) = best.map_or((u64::MAX, String::new()), |best| (of(best), policy(&best.policy)));
    let left = || pieces(need.part, by);
    if by <= season.question.carts && by < need.half {
        let left = if by == 0 { format!("no {}", need.part.name()) } else { format!("at most {}", left()) };
        format!("Another service mends it: with “{name}” half of the seasons need {left}.")
    } else if by as f64 <= LESSENED * need.half as f64 {
        format!(
            "“{name}” lessens it to {}, which is not enough. {choose}, or ride with less load, before you buy parts.",
            left()
        )
    } else if best.is_some() {
        format!("No rule of oiling compared here mends it. {choose}, or ride with less load, before you buy parts.")
    } else {
        format!("{choose}, ride with less load, or oil more often (`--against` compares rules), before you buy parts.")
    }
}

/// When the first cart stops.
pub(super) fn first(season: &Season, outcome: &Outcome) -> Words {
    let (stop, by) = (&outcome.first_stop, by_rule(season, outcome));
    let Some(half) = stop.half.estimate else {
        if stop.share == 0.0 {
            // With a confidence of 95 %: 1 − 0.05^(1/n).
            let most = 100.0 * (1.0 - 0.05_f64.powf(1.0 / season.samples.max(1) as f64));
            return format!(
                "No cart stopped in any of {} sampled seasons{by}: it happens in less than {}\u{a0}% of seasons.",
                season.samples,
                figures(most, 2)
            )
            .into();
        }
        return format!("In {} of the seasons a cart stops{by}, in the others none.", percent(stop.share)).into();
    };
    let [early, half_of_them] = [stop.tenth.estimate.unwrap_or(half), half].map(|days| after(season, days));
    let early = if early < half_of_them { format!("; in one season of ten by {}", day(early)) } else { String::new() };
    let part = stop.part.map_or_else(String::new, |part| format!(", most often by its {}", limiting(part)));
    Words::from("Expect the first cart to stop ")
        .strong(format!("in week {}", week(half)))
        .plain(format!(" ({}){by}{part}{early}.", day(half_of_them)))
}

/// What of a cart is at its limit.
fn limiting(part: Part) -> &'static str {
    match part {
        Part::Seized => "bushing, which grabs the shaft",
        Part::Charring => "washer, which chars",
        Part::CoverGap => "washer, since the cover comes too near",
        Part::Spring => "springs, which have relaxed",
        part => part.name(),
    }
}

/// The parts at hand, by which days are lost.
fn stocked(season: &Season) -> String {
    let q = &season.question;
    if q.stock.is_empty() {
        return "every part always at hand".to_owned();
    }
    let held: Vec<String> = q.stock.iter().map(|(part, number)| pieces(*part, *number)).collect();
    let others = if q.stock.len() < SPARES.len() { " and every other part always at hand" } else { "" };
    let lead = q.lead.map_or_else(String::new, |days| {
        format!(", reordered as they are used and there after {},", plural(days, "day"))
    });
    format!("{} in stock{lead}{others}", listed(&held))
}

/// Days lost.
pub(super) fn lost(season: &Season, outcome: &Outcome) -> Option<String> {
    let all = (season.question.carts * season.question.days) as f64;
    (outcome.down.mean > 0.0).then(|| {
        let (stocked, by) = (stocked(season), by_rule(season, outcome));
        format!(
            "On average {} of {} cart-days are lost{}{stocked}, in one season of ten {} or more. A day is lost from the stop until the cart opens again with the new part.",
            figures(outcome.down.mean, 2),
            number(all, 1.0),
            if by.is_empty() { " with ".to_owned() } else { by + " and " },
            figures(outcome.down.nine_tenths, 2)
        )
    })
}
