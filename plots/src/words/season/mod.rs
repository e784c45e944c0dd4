//! Sentences on the season of a shop's carts.

mod advice;
mod amounts;
mod assumptions;
mod calendar;
mod choosing;
mod comparison;
mod followed;
mod rule;
mod servicing;
mod worn_before;

use crate::words::say::temperature;
use crate::words::text::Words;
use crate::words::use_of_machine::{amiss, nearer, varies, wrong_oil};
use advice::{as_used, beginning, first, have, lost, needed, unfit, wide, wrong_use};
use amounts::{hours, plural};
use assumptions::{checked, coarse, near_idle, reasons};
use calendar::weekdays;
use comparison::{GRABS, compared, hidden, money, overdoses, shelf};
use followed::followed;
use servicing::{oil, service};
use slipsoak_engine::season::Season;
use worn_before::worn_before;

pub use assumptions::{assumed, rate};
pub use calendar::{date, month};
pub use comparison::{advised, has_its_price};
pub use rule::policy;

/// The conditions of the question.
pub fn given(season: &Season) -> String {
    let q = &season.question;
    let warm = q.temperatures.iter().map(|month| month.1);
    let (low, high) = warm.fold((f64::MAX, f64::MIN), |(low, high), t| (low.min(t), high.max(t)));
    let ambient = if high - low < 0.5 { temperature(low) } else { crate::words::say::temperatures(low, high) };
    format!(
        "{}, {} to {}, {} ({} riding days of {}); use: {}; {ambient} around{}; {}",
        plural(q.carts, "cart"),
        date(q.first),
        date(q.last),
        weekdays(q.weekdays),
        q.days,
        hours(q.hours),
        season.usage,
        idle(season),
        season.oil
    )
}

/// The variation of the idle, where it is not the usual one.
fn idle(season: &Season) -> String {
    let varies = varies(season.question.wander);
    if varies.is_empty() { varies } else { varies + " from cart to cart" }
}

/// The answer: what to have, how to service, when the first cart stops; then reasons.
pub fn statement(season: &Season) -> Vec<Words> {
    let mut said: Vec<Words> = oil_first(season).into_iter().collect();
    if !season.may_ride() {
        said.extend(unfit(season));
        return said;
    }
    let advised = advised(season);
    let Some(outcome) = season.policies.get(advised) else { return vec![] };
    said.extend(worn_before(season));
    said.extend(springs_first(season).map(Words::from));
    said.extend(coarse(season).map(Words::from));
    // Rules, stock and cost with an oil that must not be used would be read as advice.
    let fit = !season.wrong_oil;
    if fit {
        let wrong = wrong_use(season, outcome);
        let (parts, buy) = if wrong.is_none() {
            (have(season, outcome), " before you buy more")
        } else {
            (as_used(season, advised), "")
        };
        said.extend(wrong.into_iter().chain([parts]));
        said.extend(nearer(&season.against, season.renewed.as_ref()).map(Words::from));
        said.extend(wide(outcome).then(|| {
            format!("Nearly all of the difference between these numbers is one constant of each part that nobody has measured, the same for all carts. Measure the parts of one cart in its first weeks (`slipsoak measure --for life` says which narrows most, `--for oiling` of the oil), learn from it (`slipsoak calibrate`), and ask again{buy}.").into()
        }));
        said.push(service(season, advised));
        said.extend(overdoses(season).map(Words::from));
    } else {
        said.push(as_used(season, advised));
    }
    // A danger comes before dates.
    let danger = outcome.grabbed >= GRABS;
    let oiled = oil(season, outcome).map(Words::from);
    said.extend(oiled.clone().filter(|_| danger));
    said.push(first(season, outcome));
    if fit {
        said.extend(compared(season).into_iter().map(Words::from));
        said.extend(shelf(season, outcome).map(Words::from));
    }
    said.extend(oiled.filter(|_| !danger));
    said.extend(lost(season, outcome).map(Words::from));
    if fit {
        said.extend([money(season, outcome), hidden(season)].into_iter().flatten().map(Words::from));
        said.extend(reasons(season, outcome).into_iter().map(Words::from));
    }
    said.push(checked(season).into());
    said.extend(followed(season).into_iter().map(Words::from));
    said.extend(near_idle(season).map(Words::from));
    said
}

/// A new set in place of weak springs with which the carts may still be ridden.
fn springs_first(season: &Season) -> Option<String> {
    let own = (None, season.against.as_slice());
    amiss(own, season.renewed.as_ref(), season.sought.as_ref(), "")
}

/// That the carts' oil is never to be used; none if it is not such an oil.
fn oil_first(season: &Season) -> Option<Words> {
    season.wrong_oil.then(|| wrong_oil("this oil", ", and ask again with it"))
}

/// Whether the use or the service is wrong, so that the answer is no stock of parts.
pub fn wrong(season: &Season) -> bool {
    let outcome = season.policies.get(advised(season));
    season.wrong_oil || !season.may_ride() || outcome.is_some_and(|outcome| wrong_use(season, outcome).is_some())
}

/// The finding of the figure: what to have by the policy that is advised.
pub fn found(season: &Season) -> String {
    let outcome = season.policies.get(advised(season));
    if season.wrong_oil {
        return "Never use this oil: it stays on the lining".to_owned();
    }
    if !season.may_ride() {
        return "These carts do not fit this use".to_owned();
    }
    if wrong(season) {
        return "The use or the service is wrong, not the stock".to_owned();
    }
    let needed = outcome.and_then(|outcome| match beginning(outcome) {
        Some(few) => Some(format!("begin with {few}")),
        None => needed(outcome).map(|all| format!("have {all}")),
    });
    let carts = plural(season.question.carts, "cart");
    needed.map_or_else(|| format!("{carts}, a season: no parts needed"), |all| format!("For {carts}, a season: {all}"))
}
