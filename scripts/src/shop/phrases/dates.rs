//! Dates, weekdays and temperatures of a season.

use super::refused;
use crate::read::quantity::{QuantityError, read};
use crate::read::refusal::Refusal;
use crate::read::units::{between, maybe, nearest, show};
use slipsoak_engine::calendar::Date;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::units::ZERO_C;

/// Weekdays by their first three letters, Monday first.
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

const FULL: [&str; 7] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// Longest season, days.
const LONGEST: i64 = 1100;

/// Lowest and highest mean temperature of a month, K.
const AMBIENT: (f64, f64) = (-40.0 + ZERO_C, 60.0 + ZERO_C);

/// A date.
fn date(option: &str, text: Option<&str>) -> Result<Date, Refusal> {
    let Some(text) = text else {
        return refused(option, "it is missing; give the first and the last day, from 2027-04-01 to 2027-10-31");
    };
    let wrong = || format!("`{text}` is no date of the calendar; write year, month and day, such as 2027-04-01");
    Date::read(text).map_or_else(|| refused(option, wrong()), Ok)
}

/// First and last day of a season.
pub(in crate::shop) fn dates(from: Option<&str>, to: Option<&str>) -> Result<(Date, Date), Refusal> {
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
pub(in crate::shop) fn weekday(option: &str, text: &str) -> Result<usize, Refusal> {
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
pub(in crate::shop) fn weekdays(text: &str) -> Result<[bool; 7], Refusal> {
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
pub(in crate::shop) fn temperatures(text: &str, dates: (Date, Date)) -> Result<Vec<(u64, f64)>, Refusal> {
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
pub(in crate::shop) fn listed_temperatures(text: &str) -> Result<Vec<f64>, Refusal> {
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
        let [least, most] = between(AMBIENT, Dimension::Temperature);
        let value = show(kelvin, Dimension::Temperature);
        refused(option, format!("{value} is no mean temperature of a month; it must lie between {least} and {most}"))
    };
    parts.iter().map(one).collect()
}
