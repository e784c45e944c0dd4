//! Parts in stock, their running at the start, and prices.

use super::refused;
use crate::read::quantity::read;
use crate::read::refusal::Refusal;
use crate::read::units::{maybe, nearest};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::season::{Prices, SPARES};
use slipsoak_engine::units::DAY;

/// Largest number of parts in stock.
const MOST_PARTS: u64 = 10_000;

/// Largest price.
const MOST_PRICE: f64 = 1e9;

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
pub(in crate::shop) fn stock(text: &str) -> Result<Vec<(Part, u64)>, Refusal> {
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
pub(in crate::shop) fn used(text: &str) -> Result<Vec<(Part, f64)>, Refusal> {
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
pub(in crate::shop) fn prices(text: &str) -> Result<Prices, Refusal> {
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
