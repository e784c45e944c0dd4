//! Days of the calendar: their dates, weekdays and months.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// Years of dates: four digits, and no calendar before the Gregorian.
const YEARS: std::ops::RangeInclusive<i64> = 1600..=9999;
/// Days from 1 March of year 0 to 1 January 1970.
const SINCE: i64 = 719_468;
/// Days in 400 years, after which the calendar repeats.
const ERA: i64 = 146_097;

/// A day of the Gregorian calendar, by its number since 1 January 1970.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(pub i64);

impl Date {
    /// The day of this year, month (1 to 12) and day; none if there is no such day.
    ///
    /// ```
    /// use slipsoak_engine::calendar::Date;
    /// assert_eq!(Date::of(1970, 1, 2), Some(Date(1)));
    /// assert_eq!(Date::of(2000, 1, 1), Some(Date(10_957)));
    /// assert_eq!(Date::of(2027, 2, 29), None);
    /// ```
    pub fn of(year: i64, month: i64, day: i64) -> Option<Self> {
        let fits = YEARS.contains(&year) && (1..=12).contains(&month) && (1..=length(year, month)).contains(&day);
        // In a year that begins in March the leap day comes last.
        let (y, m) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
        let leaps = y.div_euclid(4) - y.div_euclid(100) + y.div_euclid(400);
        fits.then(|| Self(365 * y + leaps + (153 * m + 2) / 5 + day - 1 - SINCE))
    }

    /// The day written as year, month and day with dashes; none for any other text.
    ///
    /// ```
    /// use slipsoak_engine::calendar::Date;
    /// let first = Date::read("2027-04-01").unwrap();
    /// assert_eq!((first.to_string().as_str(), first.weekday(), first.month()), ("2027-04-01", 3, 4)); // a Thursday
    /// assert_eq!(Date::read("1.4.2027"), None);
    /// ```
    pub fn read(text: &str) -> Option<Self> {
        let whole = |text: &str, digits: usize| {
            (text.len() == digits && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
        };
        let mut parts = text.trim().split('-');
        let date = Self::of(whole(parts.next()?, 4)?, whole(parts.next()?, 2)?, whole(parts.next()?, 2)?);
        date.filter(|_| parts.next().is_none())
    }

    /// Year, month (1 to 12) and day of the month.
    pub fn parts(self) -> (i64, i64, i64) {
        let (era, day) = ((self.0 + SINCE).div_euclid(ERA), (self.0 + SINCE).rem_euclid(ERA));
        let year = (day - day / 1460 + day / 36_524 - day / (ERA - 1)) / 365;
        let of_year = day - (365 * year + year / 4 - year / 100);
        let m = (5 * of_year + 2) / 153;
        let month = if m < 10 { m + 3 } else { m - 9 };
        (year + 400 * era + i64::from(month <= 2), month, of_year - (153 * m + 2) / 5 + 1)
    }

    /// Month, 1 to 12.
    pub fn month(self) -> i64 {
        self.parts().1
    }

    /// Day of the week, 0 for Monday to 6 for Sunday.
    pub fn weekday(self) -> usize {
        // 1 January 1970 was a Thursday.
        (self.0 + 3).rem_euclid(7) as usize
    }
}

/// Number of days in a month.
fn length(year: i64, month: i64) -> i64 {
    match month {
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.parts();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

impl Serialize for Date {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Date {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        Self::read(&text).ok_or_else(|| D::Error::custom(format!("`{text}` is no date such as 2027-04-01")))
    }
}

#[cfg(feature = "schemas")]
impl schemars::JsonSchema for Date {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Date".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}$" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_day_of_400_years_follows_the_day_before() {
        let mut before = Date::of(1999, 12, 31).expect("a day");
        for number in before.0 + 1..=before.0 + ERA {
            let day = Date(number);
            let (year, month, of_month) = day.parts();
            let (y, m, d) = before.parts();
            let next = if d < length(y, m) {
                (y, m, d + 1)
            } else if m < 12 {
                (y, m + 1, 1)
            } else {
                (y + 1, 1, 1)
            };
            assert_eq!((year, month, of_month), next);
            assert_eq!(Date::of(year, month, of_month), Some(day));
            assert_eq!(day.weekday(), (before.weekday() + 1) % 7);
            before = day;
        }
    }

    #[test]
    fn a_date_is_read_as_it_is_written_and_nothing_else_is() {
        for text in ["2027-04-01", "2028-02-29", "1999-12-31"] {
            assert_eq!(Date::read(text).map(|date| date.to_string()).as_deref(), Some(text));
        }
        for none in ["2027-13-01", "2027-02-29", "2027-4-1", "27-04-01", "2027-04-01-02", "tomorrow", "", "1599-01-01"]
        {
            assert_eq!(Date::read(none), None, "{none}");
        }
    }
}
