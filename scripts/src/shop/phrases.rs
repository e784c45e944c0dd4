//! What somebody says of a season: dates, weekdays, temperatures, rules of oiling, parts and prices.

use crate::read::quantity::{QuantityError, read};
use crate::read::refusal::Refusal;
use crate::read::units::{maybe, nearest, show};
use slipsoak_engine::calendar::Date;
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::season::{Oiling, Policy, Prices, SPARES, ServiceDays};
use slipsoak_engine::units::DAY;

/// Weekdays by their first three letters, Monday first.
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
const FULL: [&str; 7] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
/// Longest season, days.
const LONGEST: i64 = 1100;
/// Lowest and highest mean temperature of a month, K.
const AMBIENT: (f64, f64) = (233.15, 333.15);
/// Largest number of parts in stock.
const MOST_PARTS: u64 = 10_000;
/// Largest price.
const MOST_PRICE: f64 = 1e9;

fn refused<T>(option: &str, why: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal::new(format!("{option}: {}", why.into())))
}

/// A date.
fn date(option: &str, text: Option<&str>) -> Result<Date, Refusal> {
    let Some(text) = text else {
        return refused(option, "it is missing; give the first and the last day, from 2027-04-01 to 2027-10-31");
    };
    let wrong = || format!("`{text}` is no date of the calendar; write year, month and day, such as 2027-04-01");
    Date::read(text).map_or_else(|| refused(option, wrong()), Ok)
}

/// First and last day of a season.
pub(super) fn dates(from: Option<&str>, to: Option<&str>) -> Result<(Date, Date), Refusal> {
    let (first, last) = match (date("from", from), date("to", to)) {
        (Ok(first), Ok(last)) => (first, last),
        (first, last) => return Err(Refusal::several([first.err(), last.err()].into_iter().flatten())),
    };
    if last < first {
        return refused("to", format!("{last} is before the first day, {first}; exchange the two dates"));
    }
    let days = last.0 - first.0 + 1;
    if days > LONGEST {
        return refused(
            "to",
            format!("from {first} to {last} are {days} days; a season has at most {LONGEST}: ask of one after another"),
        );
    }
    Ok((first, last))
}

/// Number of a weekday, 0 for Monday.
fn weekday(option: &str, text: &str) -> Result<usize, Refusal> {
    let plain = text.trim().trim_end_matches('.').to_lowercase();
    let plain = plain.strip_prefix("every ").unwrap_or(&plain).trim();
    let plain = plain.strip_suffix('s').filter(|one| FULL.contains(one)).unwrap_or(plain);
    let found = WEEKDAYS.iter().zip(FULL).position(|(short, full)| plain == *short || plain == full);
    found.map_or_else(
        || {
            let like = maybe(nearest(plain, WEEKDAYS.into_iter().chain(FULL)).as_deref());
            refused(
                option,
                format!("`{}` is no weekday{like}; weekdays: Mon, Tue, Wed, Thu, Fri, Sat, Sun", text.trim()),
            )
        },
        Ok,
    )
}

/// Weekdays, "Wed-Sun", "Sat, Sun" or "weekends".
pub(super) fn weekdays(text: &str) -> Result<[bool; 7], Refusal> {
    let text = match text.trim().to_lowercase().as_str() {
        "weekend" | "weekends" => "Sat-Sun",
        "weekday" | "weekdays" => "Mon-Fri",
        "daily" | "every day" => "Mon-Sun",
        _ => text,
    };
    let mut days = [false; 7];
    for one in text.split([',', ';']) {
        if let Some((from, to)) = one.split_once(['-', '–']).or_else(|| one.split_once(" to ")) {
            let (from, to) = (weekday("days", from)?, weekday("days", to)?);
            // "Sat-Mon" goes over the end of the week.
            let length = (to + 7 - from) % 7;
            (0..=length).for_each(|k| days[(from + k) % 7] = true);
        } else {
            days[weekday("days", one)?] = true;
        }
    }
    Ok(days)
}

/// Months of a season, each once.
fn months((first, last): (Date, Date)) -> Vec<u64> {
    let mut months: Vec<u64> = vec![];
    for number in first.0..=last.0 {
        let month = Date(number).month() as u64;
        if !months.contains(&month) {
            months.push(month);
        }
    }
    months
}

/// Mean temperature of each month, "8, 12, 18 °C", one for each month of the season or one for all.
pub(super) fn temperatures(text: &str, dates: (Date, Date)) -> Result<Vec<(u64, f64)>, Refusal> {
    let read = listed_temperatures(text)?;
    let months = months(dates);
    match read[..] {
        [all] => Ok(months.into_iter().map(|month| (month, all)).collect()),
        _ if read.len() == months.len() => Ok(months.into_iter().zip(read).collect()),
        _ => refused(
            "temperatures",
            format!(
                "{} temperatures are given, but {} to {} takes {}; give one for each month, or one for all",
                read.len(),
                dates.0,
                dates.1,
                months.len()
            ),
        ),
    }
}

/// Temperatures of a list, K.
pub(super) fn listed_temperatures(text: &str) -> Result<Vec<f64>, Refusal> {
    let option = "temperatures";
    let parts: Vec<&str> = text.split([',', ';']).map(str::trim).collect();
    let unit =
        parts.last().map_or("", |last| last.trim_start_matches(|c: char| c.is_ascii_digit() || "+-−. ".contains(c)));
    if unit.is_empty() {
        return refused(
            option,
            format!("`{text}` has no unit; write it after the last number, \"8, 12, 18 °C\" or \"46, 54, 64 °F\""),
        );
    }
    let one = |part: &&str| {
        let plain = part.replace('−', "-");
        let bare = plain.parse::<f64>().is_ok();
        let whole = if bare { format!("{plain} {unit}") } else { plain };
        let kelvin = read(&whole, Dimension::Temperature).map_err(|mut why| {
            if let QuantityError::Number { example, .. } = &mut why {
                "8, 12, 18 °C".clone_into(example);
            }
            Refusal::new(format!("{option}: {why}"))
        })?;
        if (AMBIENT.0..=AMBIENT.1).contains(&kelvin) {
            return Ok(kelvin);
        }
        let [value, least, most] = [kelvin, AMBIENT.0, AMBIENT.1].map(|v| show(v, Dimension::Temperature));
        refused(option, format!("{value} is no mean temperature of a month; it must lie between {least} and {most}"))
    };
    parts.iter().map(one).collect()
}

/// A number of drops with its rule: "4 drops on Mon", "4 drops every 14 days", "never"; with "before opening" or "after closing".
pub(super) fn policy(text: &str) -> Result<Policy, Refusal> {
    let form = "write for example \"4 drops on Mon\", \"4 drops every 14 days before opening\", \"never\", or with parts renewed early, \"4 drops on Mon, renew at 80 %\"";
    let (oiling, renewing) = text.split_once(',').map_or((text, None), |(oiling, renewing)| (oiling, Some(renewing)));
    let preventive = renewing.map(|words| share(words.trim().trim_start_matches("renew at").trim())).transpose()?;
    let plain = oiling.trim().to_lowercase();
    if plain == "never" {
        return Ok(Policy { oiling: None, preventive });
    }
    let before = plain.contains("before opening");
    let plain = plain.replace("before opening", "").replace("after closing", "").replace("riding day", "day");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let (drops, on) = match words[..] {
        [drops, "drop" | "drops", "on", day] => (drops, ServiceDays::Weekday(weekday("against", day)? as u64)),
        [drops, "drop" | "drops", "every", number, "day" | "days"] => (drops, every(number)?),
        [drops, "drop" | "drops", "daily"] | [drops, "drop" | "drops", "every", "day"] => {
            (drops, ServiceDays::Every(1))
        }
        _ => return refused("against", format!("`{}` is no rule of service; {form}", text.trim())),
    };
    let drops = drops.parse::<f64>().ok().filter(|drops| (0.5..=100.0).contains(drops));
    let Some(drops) = drops else {
        return refused(
            "against",
            format!("`{}`: the drops must be a number between 0.5 and 100; {form}", text.trim()),
        );
    };
    Ok(Policy { oiling: Some(Oiling { drops, on, before_opening: before }), preventive })
}

/// Days between oilings, "14" or "14 days".
pub(super) fn every(text: &str) -> Result<ServiceDays, Refusal> {
    let plain = text.trim().trim_end_matches("days").trim_end_matches("day").trim();
    let days = plain.parse::<u64>().ok().filter(|days| (1..=365).contains(days));
    days.map_or_else(
        || {
            refused(
                "oil-every",
                format!("`{text}` is no number of days between 1 and 365; write for example \"14 days\""),
            )
        },
        |days| Ok(ServiceDays::Every(days)),
    )
}

/// A weekday of oiling.
pub(super) fn on(text: &str) -> Result<ServiceDays, Refusal> {
    Ok(ServiceDays::Weekday(weekday("oil-on", text)? as u64))
}

/// Whether oil is put on before opening.
pub(super) fn before_opening(text: &str) -> Result<bool, Refusal> {
    match text.trim().to_lowercase().as_str() {
        "before opening" | "before" => Ok(true),
        "after closing" | "after" => Ok(false),
        other => refused("oil-when", format!("`{other}` is neither \"before opening\" nor \"after closing\"")),
    }
}

/// A share of use, "80 %".
fn share(text: &str) -> Result<f64, Refusal> {
    let read = read(text, Dimension::Ratio).map_err(|why| Refusal::new(format!("renew-at: {why}")))?;
    if (0.3..=1.0).contains(&read) {
        return Ok(read);
    }
    refused(
        "renew-at",
        format!("{} is no share of use to renew at; it must lie between 30 and 100 %", show(read, Dimension::Ratio)),
    )
}

/// The spare part with this name.
fn part(option: &str, text: &str) -> Result<Part, Refusal> {
    let plain = text.trim().to_lowercase();
    let plain = plain.trim_start_matches("sets of ").trim_start_matches("set of ");
    let one = plain.strip_suffix('s').unwrap_or(plain);
    SPARES.into_iter().find(|spare| spare.name() == one).map_or_else(
        || {
            let names = SPARES.map(Part::name);
            let like = maybe(nearest(one, names).as_deref());
            refused(
                option,
                format!("there is no spare part `{}`{like}; spare parts: {}", text.trim(), names.join(", ")),
            )
        },
        Ok,
    )
}

/// Clauses of a list, such as "5 washers, 2 linings".
fn clauses(text: &str) -> impl Iterator<Item = &str> {
    text.split([',', ';']).map(str::trim).filter(|clause| !clause.is_empty())
}

/// What the clauses of a list say, of each thing once.
fn listed<K: PartialEq, T>(
    option: &str,
    text: &str,
    one: impl Fn(&str) -> Result<(K, T), Refusal>,
) -> Result<Vec<(K, T)>, Refusal> {
    let mut known: Vec<(&str, (K, T))> = vec![];
    for clause in clauses(text) {
        let read = one(clause)?;
        if let Some((first, _)) = known.iter().find(|(_, other)| other.0 == read.0) {
            return refused(option, format!("`{first}` and `{clause}` say the same thing twice; give one of the two"));
        }
        known.push((clause, read));
    }
    Ok(known.into_iter().map(|(_, read)| read).collect())
}

/// Parts in stock, "5 washers, 2 linings".
pub(super) fn stock(text: &str) -> Result<Vec<(Part, u64)>, Refusal> {
    let one = |clause: &str| {
        let (number, name) = clause.split_once(' ').unwrap_or((clause, ""));
        let count = number.parse::<u64>().ok().filter(|count| *count <= MOST_PARTS);
        let Some(count) = count else {
            return refused(
                "stock",
                format!("`{clause}`: write a number and a part, such as \"5 washers, 2 linings\""),
            );
        };
        Ok((part("stock", name)?, count))
    };
    listed("stock", text, one)
}

/// Running of parts at the start, "washers 40 h, linings 120 h".
pub(super) fn used(text: &str) -> Result<Vec<(Part, f64)>, Refusal> {
    let one = |clause: &str| {
        let Some((name, time)) = clause.split_once(' ') else {
            return refused("used", format!("`{clause}`: write a part and its hours, such as \"washers 40 h\""));
        };
        let hours = read(time, Dimension::Time).map_err(|why| Refusal::new(format!("used, {name}: {why}")))?;
        if !(0.0..=1000.0 * DAY).contains(&hours) {
            return refused("used", format!("{clause}: the hours must lie between 0 and 24 000 h"));
        }
        Ok((part("used", name)?, hours))
    };
    listed("used", text, one)
}

/// What has a price.
#[derive(Clone, Copy, PartialEq)]
enum Priced {
    Work,
    Oiling,
    Day,
    Part(Part),
}

/// Prices, "washer 3, lining 45, work 15, oiling 2, day 60".
pub(super) fn prices(text: &str) -> Result<Prices, Refusal> {
    let one = |clause: &str| {
        let price = clause.rsplit_once(' ').and_then(|(name, price)| Some((name, price.parse::<f64>().ok()?)));
        let Some((name, price)) = price.filter(|(_, price)| (0.0..=MOST_PRICE).contains(price)) else {
            return refused(
                "prices",
                format!(
                    "`{clause}`: write a name and a number, 0 or more and without a currency, such as \"washer 3, lining 45, work 15, oiling 2, day 60\""
                ),
            );
        };
        let what = match name.trim().to_lowercase().as_str() {
            "work" => Priced::Work,
            "oiling" => Priced::Oiling,
            "day" => Priced::Day,
            _ => Priced::Part(part("prices", name).map_err(|why| {
                Refusal::new(format!("{why}; besides work, oiling and day (a cart that cannot be let)"))
            })?),
        };
        Ok((what, price))
    };
    let mut prices = Prices::default();
    for (what, price) in listed("prices", text, one)? {
        match what {
            Priced::Work => prices.visit = Some(price),
            Priced::Oiling => prices.oiling = Some(price),
            Priced::Day => prices.day_down = Some(price),
            Priced::Part(part) => prices.parts.push((part, price)),
        }
    }
    Ok(prices)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said<T: std::fmt::Debug>(answer: Result<T, Refusal>) -> String {
        answer.expect_err("it is refused").to_string()
    }

    #[test]
    fn weekdays_are_read_as_people_write_them() {
        let of = |text: &str| {
            let days = weekdays(text).expect("weekdays");
            (0..7).filter(|k| days[*k]).collect::<Vec<_>>()
        };
        assert_eq!(of("Wed-Sun"), [2, 3, 4, 5, 6]);
        assert_eq!(of("Sat-Mon"), [0, 5, 6]);
        assert_eq!(of("Sat to Mon"), [0, 5, 6]);
        assert_eq!(of("mondays, Fri."), [0, 4]);
        assert!(
            said(weekdays("Wedn-Sun")).contains("`Wedn` is no weekday; did you mean `wed`?"),
            "{}",
            said(weekdays("Wedn-Sun"))
        );
    }

    #[test]
    fn a_temperature_for_each_month_or_one_for_all() {
        let dates = dates(Some("2027-04-01"), Some("2027-06-30")).expect("dates");
        let read = temperatures("8, 12, 18 °C", dates).expect("temperatures");
        assert_eq!(read.iter().map(|m| m.0).collect::<Vec<_>>(), [4, 5, 6]);
        assert!((read[2].1 - 291.15).abs() < 1e-9);
        assert!((temperatures("50 °F", dates).expect("one")[1].1 - 283.15).abs() < 1e-9);
        assert!(
            said(temperatures("8, 12 °C", dates))
                .contains("2 temperatures are given, but 2027-04-01 to 2027-06-30 takes 3")
        );
        assert!(said(temperatures("8, 12, 18", dates)).contains("no unit"));
        assert!(said(temperatures("8, 12, 180 °C", dates)).contains("180"));
    }

    #[test]
    fn dates_the_wrong_way_and_impossible_ones_are_refused() {
        assert!(said(dates(Some("2027-10-31"), Some("2027-04-01"))).contains("before the first day"));
        assert!(said(dates(Some("2027-02-30"), Some("2027-04-01"))).contains("`2027-02-30` is no date"));
        assert!(said(dates(None, Some("2027-04-01"))).starts_with("from: it is missing"));
        assert!(said(dates(Some("2020-01-01"), Some("2027-04-01"))).contains("days; a season has at most"));
    }

    #[test]
    fn rules_parts_and_prices_are_read_and_refused_by_name() {
        let rule = policy("4 drops every 14 days before opening, renew at 80 %").expect("a rule");
        let oiling = Oiling { drops: 4.0, on: ServiceDays::Every(14), before_opening: true };
        assert_eq!(rule, Policy { oiling: Some(oiling), preventive: Some(0.8) });
        assert_eq!(policy("never").expect("a rule").oiling, None);
        assert!(said(policy("a bit of oil")).contains("write for example"));
        assert_eq!(stock("5 washers, 2 sets of springs").expect("a stock"), [(Part::Washer, 5), (Part::Spring, 2)]);
        assert!(said(stock("5 belts")).contains("there is no spare part `belts`"));
        assert!(said(stock("washers")).contains("write a number and a part"));
        let read = prices("washer 3, work 15.5, day 60").expect("prices");
        assert_eq!((read.parts, read.visit, read.day_down), (vec![(Part::Washer, 3.0)], Some(15.5), Some(60.0)));
        assert_eq!((read.oiling, prices("oiling 0").expect("prices").oiling), (None, Some(0.0)));
        assert!(said(prices("tyre 3")).contains("spare part `tyre`"));
        assert!(
            said(stock("2 linings, 1 washer, 3 lining")).contains("stock: `2 linings` and `3 lining` say the same")
        );
        assert!(said(used("linings 40 h, linings 4000 h")).contains("used: `linings 40 h` and `linings 4000 h` say"));
        assert!(said(prices("washer 3, day 1, washer 5")).contains("prices: `washer 3` and `washer 5` say"));
        assert!(said(prices("work 3, Work 5")).contains("`work 3` and `Work 5` say the same thing twice"));
        assert!((used("washers 40 h").expect("hours")[0].1 - 144_000.0).abs() < 1e-6);
    }
}
