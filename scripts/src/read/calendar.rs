//! Times of a recording: date, clock time and zone in the format of GPX.

/// Accepted years of a recorded ride.
const YEARS: std::ops::RangeInclusive<i64> = 1970..=2200;

/// Seconds since 1970 of a time such as 2024-05-01T09:30:00.5Z or …+02:00; none for an impossible date or time.
pub fn moment(text: &str) -> Option<f64> {
    let (date, rest) = text.split_once('T')?;
    let mut parts = date.split('-').map(whole);
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let cut = rest.find(['Z', '+', '-']).unwrap_or(rest.len());
    let (clock, zone) = rest.split_at(cut);
    let mut fields = clock.splitn(3, ':');
    let (hour, minute) = (whole(fields.next()?)?, whole(fields.next()?)?);
    let second = fields.next().filter(|s| s.bytes().all(|b| b.is_ascii_digit() || b == b'.'))?.parse::<f64>().ok()?;
    let fits = YEARS.contains(&year) && (1..=12).contains(&month) && (1..=length(year, month)).contains(&day);
    if parts.next().is_some() || !fits || hour > 23 || minute > 59 || second >= 61.0 {
        return None;
    }
    let ahead = match zone {
        "" | "Z" => 0,
        zone => {
            let (h, m) = zone[1..].split_once(':')?;
            let (h, m) = (whole(h)?, whole(m)?);
            let whole = (h <= 14 && m <= 59).then_some(3600 * h + 60 * m)?;
            if zone.starts_with('-') { -whole } else { whole }
        }
    };
    // Days since 1970 in a calendar whose year begins in March, so that the leap day comes last.
    let (y, m) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let days =
        365 * y + y.div_euclid(4) - y.div_euclid(100) + y.div_euclid(400) + (153 * m + 2) / 5 + day - 1 - 719_468;
    Some((86400 * days + 3600 * hour + 60 * minute - ahead) as f64 + second)
}

/// A number consisting only of digits.
fn whole(text: &str) -> Option<i64> {
    text.bytes().all(|b| b.is_ascii_digit()).then(|| text.parse().ok())?
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_those_of_the_calendar() {
        // The second of 1 January 2000 is 946 684 800 (the calendar's closed form: 10 957 days).
        assert_eq!(moment("2000-01-01T00:00:00Z"), Some(946_684_800.0));
        assert_eq!(moment("2000-03-01T02:00:00.5+02:00"), Some(946_684_800.0 + 60.0 * 86400.0 + 0.5));
        assert!(moment("2024-02-29T00:00:00Z").is_some());
    }

    #[test]
    fn impossible_dates_and_times_are_refused() {
        for none in [
            "yesterday",
            "2024-13-01T00:00:00Z",
            "2024-02-31T00:00:00Z",
            "2023-02-29T00:00:00Z",
            "9000000000000000000-01-01T00:00:00Z",
            "2024-05-01T09:30:00+nan:00",
            "2024-05-01T09:30:00+inf:00",
            "2024-05-01T09:30:nanZ",
            "2024-05-01T-1:30:00Z",
            "2024-05-01T09:30:00+99:00",
        ] {
            assert_eq!(moment(none), None, "{none}");
        }
    }
}
