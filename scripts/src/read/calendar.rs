//! Times of a recording: dates, clock times and zones as GPX writes them, and as tables do.

use slipsoak_engine::calendar::Date;

/// Accepted years of a recorded ride.
const YEARS: std::ops::RangeInclusive<i64> = 1970..=2200;

/// Seconds of a day.
const DAY: f64 = 86_400.0;
/// Seconds since 1970 that a count may mean: the years 2001 to 2096.
const SINCE_1970: std::ops::Range<f64> = 1e9..4e9;

/// Seconds since 1970 of a time such as 2024-05-01T09:30:00.5Z or …+02:00; none for an impossible date or time.
pub fn moment(text: &str) -> Option<f64> {
    let (date, rest) = text.split_once('T')?;
    let mut parts = date.split('-').map(whole);
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let date = Date::of(year, month, day).filter(|_| YEARS.contains(&year) && parts.next().is_none())?;
    let cut = rest.find(['Z', '+', '-']).unwrap_or(rest.len());
    let (clock, zone) = rest.split_at(cut);
    let clock = seconds(clock).filter(|clock| *clock < DAY + 1.0)?;
    let ahead = match zone {
        "" | "Z" => 0,
        zone => {
            let (h, m) = zone[1..].split_once(':')?;
            let (h, m) = (whole(h)?, whole(m)?);
            let whole = (h <= 14 && m <= 59).then_some(3600 * h + 60 * m)?;
            if zone.starts_with('-') { -whole } else { whole }
        }
    };
    Some((86400 * date.0 - ahead) as f64 + clock)
}

/// Seconds of a time such as 09:30:00.5; hours may be more than a day's.
fn seconds(clock: &str) -> Option<f64> {
    let mut fields = clock.splitn(3, ':');
    let (hour, minute) = (whole(fields.next()?)?, whole(fields.next()?)?);
    let second = fields.next().filter(|s| s.bytes().all(|b| b.is_ascii_digit() || b == b'.'))?.parse::<f64>().ok()?;
    (hour < 1_000_000 && minute <= 59 && second < 61.0).then(|| (3600 * hour + 60 * minute) as f64 + second)
}

/// The clock before AM or PM, and whether it is of the second half of the day; none without them.
fn half(text: &str) -> Option<(&str, bool)> {
    let lower = text.to_ascii_lowercase();
    let marks = [("am", false), ("a.m.", false), ("pm", true), ("p.m.", true)];
    let (mark, second) = marks.into_iter().find(|(mark, _)| lower.ends_with(mark))?;
    Some((text[..text.len() - mark.len()].trim_end(), second))
}

/// Seconds of a clock time: 14:30:05, or 02:30:05 PM.
fn clock(text: &str) -> Option<f64> {
    let Some((clock, second)) = half(text) else { return seconds(text) };
    let time = seconds(clock).filter(|time| (3600.0..13.0 * 3600.0).contains(time))?;
    // The hour of 12 begins each half of a day.
    let of_half = if time >= 0.5 * DAY { time - 0.5 * DAY } else { time };
    Some(if second { of_half + 0.5 * DAY } else { of_half })
}

/// Seconds of the fields of a column, each with its line: dates with times, clock times, or counts since 1970 in a unit that their
/// size tells. None if they are other numbers; an error names the line and what to write. Blank fields stay blank.
#[allow(clippy::type_complexity)] // a column as it comes, and as it is read
pub fn times<'a>(
    fields: impl Iterator<Item = (u64, &'a str)> + Clone,
) -> Result<Option<Vec<Option<f64>>>, (u64, String)> {
    let given = || fields.clone().filter(|field| !field.1.is_empty());
    let numbers: Option<Vec<f64>> = given().map(|field| field.1.parse().ok()).collect();
    if let Some(numbers) = numbers {
        let fits = |scale: f64| numbers.iter().all(|n| SINCE_1970.contains(&(n * scale)));
        let scale = [1.0, 1e-3, 1e-6, 1e-9].into_iter().find(|scale| fits(*scale)).filter(|_| !numbers.is_empty());
        let read = |(_, field): (u64, &str)| field.parse::<f64>().ok().zip(scale).map(|(n, scale)| n * scale);
        return Ok(scale.map(|_| fields.map(read).collect()));
    }
    let Some(first) = given().find(|field| field.1.contains([':', 'T'])) else { return Ok(None) };
    let clocks = clock(&first.1.replace(',', ".")).is_some();
    let halves = half(first.1).is_some();
    let (mut all, mut days, mut before) = (vec![], 0.0, 0.0);
    for (line, field) in fields {
        let text = field.replace(',', ".");
        let time = if clocks { clock(&text) } else { dated(&text) };
        if time.is_none() && !field.is_empty() {
            return Err((line, unread(field, first.1, clocks)));
        }
        if !field.is_empty() && half(field).is_some() != halves {
            let (with, without) = if halves { (first.1, field) } else { (field, first.1) };
            return Err((line, format!("`{with}` has AM or PM and `{without}` has not; write all alike")));
        }
        // A clock that is set back by more than half a day has passed midnight.
        if clocks && let Some(time) = time {
            if time + 0.5 * DAY < before {
                days += DAY;
            }
            before = time;
        }
        all.push(time.map(|time| time + days));
    }
    Ok(Some(all))
}

/// Seconds since 1970 of a date with a time: as GPX writes it, with a blank for its T, or 01.05.2024 09:30:00.
fn dated(text: &str) -> Option<f64> {
    let (date, at) = text.split_once(['T', 't', ' '])?;
    let date = match date.split(['.', '/']).collect::<Vec<_>>()[..] {
        // With points the day comes first; with slashes that is not certain.
        [day, month, year] if date.contains('.') && year.len() == 4 => format!("{year}-{month}-{day}"),
        [year, month, day] if year.len() == 4 => format!("{year}-{month}-{day}"),
        _ => date.to_owned(),
    };
    if half(at.trim()).is_some() {
        return Some(moment(&format!("{date}T00:00:00Z"))? + clock(at.trim())?);
    }
    moment(&format!("{date}T{}", at.trim().replace('z', "Z").replace(' ', "")))
}

/// What to do about a field that is no time like the first of its column.
fn unread(field: &str, first: &str, clocks: bool) -> String {
    if let Some((clock, _)) = half(field).filter(|(clock, _)| clock.matches(':').count() == 1) {
        let mark = field[clock.len()..].trim();
        return format!("`{field}` has no seconds; write them too, as in {clock}:00 {mark}");
    }
    if field.split([' ', 'T']).next_back().is_some_and(|clock| clock.matches(':').count() == 1) {
        return format!("`{field}` may be hours and minutes, or minutes and seconds; write all three, as in 00:09:30");
    }
    if field.contains('/') {
        return format!("`{field}`: which is the day, which the month? write 2024-05-01 09:30:00");
    }
    if field != first && clocks {
        return format!("`{field}` is no clock time as the first of this column, {first}, is; write all alike");
    }
    format!("`{field}` is no time; write 2024-05-01 09:30:00 or 09:30:00, or seconds under `time [s]`")
}

/// A number consisting only of digits.
fn whole(text: &str) -> Option<i64> {
    text.bytes().all(|b| b.is_ascii_digit()).then(|| text.parse().ok())?
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

    /// Times of a column, counted from its first field.
    fn column(fields: &[&str]) -> Result<Option<Vec<f64>>, String> {
        let lines = fields.iter().enumerate().map(|(k, field)| (k as u64 + 2, *field));
        let read = times(lines).map_err(|(line, why)| format!("{line}: {why}"))?;
        Ok(read.map(|all| all.iter().flatten().map(|time| time - all[0].unwrap_or(0.0)).collect()))
    }

    #[test]
    fn dates_clock_times_and_counts_since_1970_are_told_apart_by_their_fields() {
        for fields in [
            ["2024-05-01T09:59:59Z", "2024-05-01T10:00:00.5Z"],
            ["2024-05-01 09:59:59", "2024-05-01 10:00:00,5"],
            ["2024-05-01 09:59:59 +02:00", "2024-05-01 08:00:00.5Z"],
            ["01.05.2024 09:59:59", "01.05.2024 10:00:00.5"],
            ["2024/05/01 23:59:59", "2024/05/02 00:00:00.5"],
            ["09:59:59", "10:00:00.5"],
            ["23:59:59", "00:00:00.5"],
            ["11:59:59 AM", "12:00:00.5 PM"],
            ["11:59:59 pm", "12:00:00,5 am"],
            ["12:59:59 p.m.", "1:00:00.5 p.m."],
            ["2024-05-01 11:59:59 PM", "2024-05-02 12:00:00.5\u{202f}AM"],
            ["01.05.2024 12:59:59PM", "01.05.2024 01:00:00.5PM"],
            ["1714555799", "1714555800.5"],
            ["1714555799000", "1714555800500"],
            ["1714555799000000000", "1714555800500000000"],
        ] {
            assert_eq!(column(&fields), Ok(Some(vec![0.0, 1.5])), "{fields:?}");
        }
        assert_eq!(column(&["0", "1.5"]), Ok(None));
        for (fields, said) in [
            (["05/01/2024 09:30:00", ""], "2: `05/01/2024 09:30:00`: which is the day"),
            (["09:30", "09:31"], "2: `09:30` may be hours and minutes, or minutes and seconds"),
            (["2:30 PM", "2:31 PM"], "2: `2:30 PM` has no seconds; write them too, as in 2:30:00 PM"),
            (["11:30:00 AM", "14:30:00 PM"], "3: `14:30:00 PM` is no clock time"),
            (["09:30:00 AM", "09:30:01"], "3: `09:30:00 AM` has AM or PM and `09:30:01` has not"),
            (["05/01/2024 02:30:00 PM", ""], "2: `05/01/2024 02:30:00 PM`: which is the day"),
            (["09:30:00", "noon"], "3: `noon` is no clock time as the first of this column, 09:30:00, is"),
            (["2024-05-01 09:30:00", "2024-02-30 09:30:00"], "3: `2024-02-30 09:30:00` is no time"),
        ] {
            let refused = column(&fields).expect_err(said);
            assert!(refused.contains(said), "{refused}");
        }
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
