//! A season of a shop's carts: parts, dates, and policies of service.

use super::caller::{GEARS, MASS, OIL, WHEEL};
use super::options::{Form, LEARNED, USE, WANDER, named, quantity};
use super::phrases::{
    before_opening, dates, every, listed_temperatures, on, policy, prices, stock, temperatures, used, weekdays,
};
use super::question::{Case, Posed, Question};
use crate::read::refusal::Refusal;
use slipsoak_engine::parts::{Dimension as D, Machine};
use slipsoak_engine::season::{Oiling, Policy, ServiceDays, Wish, plan, trials};
use slipsoak_engine::units::DAY;

/// Drops of a service, if nothing is said.
const DROPS: f64 = 4.0;

pub(super) static SEASON: Question = Question {
    word: "season",
    about: "Plan a season of a rental fleet: parts to have, when carts stop, and policies of service side by side",
    asks: "which parts the carts need in a season",
    options: &[
        quantity("carts", (1.0, 1000.0), D::Ratio, "12").form(Form::Count(1000), "N").help("number of carts"),
        named("from", Form::Text, "DATE").help("first day, such as 2027-04-01"),
        named("to", Form::Text, "DATE").help("last day, such as 2027-10-31"),
        named("days", Form::Text, "WEEKDAYS")
            .help("days on which carts ride, such as \"Wed-Sun\" [default: every day]"),
        quantity("hours", (60.0, DAY), D::Time, "6 h")
            .form(Form::Hours, "HOURS")
            .help("running of a cart on such a day [default: 6 h]"),
        shop_use(),
        WANDER,
        named("temperatures", Form::Text, "LIST").help(
            "mean temperature of each month, such as \"8, 12, 18 °C\", or one for all [default: the machine's ambient]",
        ),
        quantity("drops", (0.5, 100.0), D::Ratio, "4")
            .form(Form::Drops, "N")
            .help("drops of oil of one service, or their volume, such as \"0.2 mL\""),
        named("oil-on", Form::Text, "WEEKDAY").help("weekday of the oiling [default: Mon]"),
        named("oil-every", Form::Text, "DAYS")
            .help("days between oilings instead of a weekday, such as \"14 days\": they fall on the next riding day"),
        named("oil-when", Form::Text, "WHEN").help("\"after closing\" or \"before opening\" [default: after closing]"),
        quantity("renew-at", (0.3, 1.0), D::Ratio, "80 %")
            .help("share of use from which a part is renewed on a service day [default: only at its limit]"),
        named("against", Form::Text, "RULES").help(
            "other rules to compare, such as \"4 drops every 14 days; 8 drops on Mon, renew at 80 %; never\" \
             [default: every riding day, and never]",
        ),
        named("used", Form::Text, "LIST")
            .help("running of parts at the start, such as \"washers 40 h, linings 120 h\" [default: new]"),
        named("stock", Form::Text, "LIST")
            .help("spare parts in stock, such as \"5 washers, 2 linings\" [default: always enough]"),
        quantity("lead", (0.0, 400.0 * DAY), D::Time, "5 days")
            .help("time until a reordered part arrives, such as \"5 days\" [default: nothing is reordered]"),
        named("prices", Form::Text, "LIST").help(
            "prices, such as \"washer 3, lining 45, work 15, oiling 2, day 60\"; day: a cart that cannot be let; what \
                   has no price counts as free, and no rule is then advised for its cost",
        ),
        LEARNED,
        named("direct", Form::Switch, "").help(
            "simulate three carts of a season launch by launch too, and say how well the answer agrees (minutes)",
        ),
        quantity("samples", (20.0, 1600.0), D::Ratio, "200").form(Form::Count(1600), "N").help("seasons to sample"),
        quantity("clutches", (60.0, 2000.0), D::Ratio, "400")
            .form(Form::Count(2000), "N")
            .help("clutches to simulate for the rates: more are more exact"),
        quantity("seed", (0.0, 9e15), D::Ratio, "1").form(Form::Count(u64::MAX), "N").help("seed of the samples"),
        MASS,
        WHEEL,
        GEARS,
        OIL,
    ],
    judges_others: false,
    of,
};

/// The use; carts are hired.
const fn shop_use() -> super::options::ShopOption {
    super::options::ShopOption { usual: "rental", ..USE }
}

fn of(Case { machine, usage, given, .. }: Case) -> Result<Posed, Refusal> {
    let text = |name: &str| given.text(name);
    // All of the texts are read first, so that one message names whatever is wrong.
    let rules = || text("against").unwrap_or_default().split(';').filter(|rule| !rule.trim().is_empty());
    let checks = [
        dates(text("from"), text("to")).map(drop),
        text("oil-every").map_or(Ok(()), |days| every(days).map(drop)),
        text("oil-on").map_or(Ok(()), |day| on(day).map(drop)),
        text("oil-when").map_or(Ok(()), |when| before_opening(when).map(drop)),
        rules().try_for_each(|rule| policy(rule).map(drop)),
        text("temperatures").map_or(Ok(()), |list| listed_temperatures(list).map(drop)),
        text("days").map_or(Ok(()), |days| weekdays(days).map(drop)),
        text("used").map_or(Ok(()), |list| used(list).map(drop)),
        text("stock").map_or(Ok(()), |list| stock(list).map(drop)),
        text("prices").map_or(Ok(()), |list| prices(list).map(drop)),
    ];
    let wrong: Vec<Refusal> = checks.into_iter().filter_map(Result::err).collect();
    if !wrong.is_empty() {
        return Err(Refusal::several(wrong));
    }
    let dates = dates(text("from"), text("to"))?;
    let default = |machine: &Machine| vec![(dates.0.month() as u64, machine.surroundings.ambient)];
    let months = text("temperatures").map(|list| temperatures(list, dates)).transpose()?;
    let on = match (text("oil-every"), text("oil-on")) {
        (Some(_), Some(_)) => {
            return Err(Refusal::new("oil-every: a weekday of the oiling is given too; give one of the two"));
        }
        (Some(days), None) => every(days)?,
        (None, Some(day)) => on(day)?,
        (None, None) => ServiceDays::Weekday(0),
    };
    let oiling = Oiling {
        drops: given.quantity("drops").unwrap_or(DROPS),
        on,
        before_opening: text("oil-when").map_or(Ok(false), before_opening)?,
    };
    let mut policies = vec![Policy { oiling: Some(oiling), preventive: given.quantity("renew-at") }];
    let others = match text("against") {
        Some(_) => rules().map(policy).collect::<Result<_, _>>()?,
        None => vec![
            Policy { oiling: Some(Oiling { on: ServiceDays::Every(1), ..oiling }), ..policies[0] },
            Policy { oiling: None, ..policies[0] },
        ],
    };
    for other in others {
        if !policies.contains(&other) {
            policies.push(other);
        }
    }
    let mut wish = Wish {
        temperatures: months.unwrap_or_else(|| default(&machine)),
        weekdays: text("days").map_or(Ok([true; 7]), weekdays)?,
        used: text("used").map_or(Ok(vec![]), used)?,
        stock: text("stock").map_or(Ok(vec![]), stock)?,
        lead: given.quantity("lead").map(|lead| (lead / DAY).ceil() as u64),
        prices: text("prices").map(prices).transpose()?,
        learned: given.learned.clone(),
        direct: given.switches.contains("direct"),
        ..Wish::new(machine, usage, dates, policies)
    };
    given.set("wander", &mut wish.wander);
    given.set("hours", &mut wish.hours);
    given.set_count("carts", &mut wish.carts);
    given.set_count("samples", &mut wish.samples);
    given.set_count("clutches", &mut wish.clutches);
    given.set_count("seed", &mut wish.seed);
    if !wish.days().iter().any(|day| day.open) {
        return Err(Refusal::new(format!("days: no riding day lies between {} and {}", dates.0, dates.1)));
    }
    let trials = trials(&wish);
    let answer = move |done: &(dyn Fn() + Sync)| Ok(plan(&wish, done)?.into());
    Ok(Posed { what: "trials of the season", trials, answer: Box::new(answer) })
}
