//! Dates, weekdays and weeks of a season in words.

use crate::words::text::listed;
use slipsoak_engine::calendar::Date;
use slipsoak_engine::season::Season;

/// Weekdays, Monday first, and months.
pub(super) const WEEKDAYS: [&str; 7] = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The name of a month, 1 to 12.
pub fn month(number: u64) -> &'static str {
    MONTHS[(number.clamp(1, 12) - 1) as usize]
}

/// A date in words, 1 April 2027.
pub fn date(date: Date) -> String {
    let (year, number, day) = date.parts();
    format!("{day}\u{a0}{}\u{a0}{year}", month(number as u64))
}

/// A date within a year that is known, 1 April.
pub(super) fn day(date: Date) -> String {
    let (_, number, day) = date.parts();
    format!("{day}\u{a0}{}", month(number as u64))
}

/// Weekdays of riding.
pub(super) fn weekdays(open: [bool; 7]) -> String {
    if open.iter().all(|open| *open) {
        return "every day".to_owned();
    }
    let days: Vec<usize> = (0..7).filter(|k| open[*k]).collect();
    if let [first, _, .., last] = days[..]
        && last - first + 1 == days.len()
    {
        return format!("{} to {}", WEEKDAYS[first], WEEKDAYS[last]);
    }
    listed(&days.iter().map(|k| WEEKDAYS[*k].to_owned()).collect::<Vec<_>>())
}

/// The day of the season after so many days.
pub(super) fn after(season: &Season, days: f64) -> Date {
    Date(season.question.first.0 + days.max(0.0).floor() as i64)
}

pub(super) fn week(days: f64) -> u64 {
    (days.max(0.0) / 7.0).floor() as u64 + 1
}
