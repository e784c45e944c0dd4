//! Recorded rides: speed over time or positions over time, cleaned into a trace that a rider can follow. What cleaning changes
//! is told line by line; nothing is left out in silence.

use crate::columns::{Columns, Unreadable};
use crate::geodesic::distance;
use roxmltree::{Document, Node};
use slipsoak_engine::duty::Trace;
use slipsoak_engine::parts::Dimension;
pub use slipsoak_engine::retraced::Cleaning;

/// Fastest speed of a small machine, m/s.
const FASTEST: f64 = 40.0;
/// Greatest change of speed that a wheel on the ground can make, m/s². Assumed: half again a hard stop on a dry road.
const HARDEST: f64 = 12.0;
/// Longest step between points that is no gap, s.
const GAP: f64 = 10.0;
/// Slower than this a position that wanders looks like riding, m/s. Assumed: 2 m of wander in 3 s.
const WANDER: f64 = 0.7;
/// Densest points that are kept as they are, s.
const DENSEST: f64 = 0.5;
/// Half the time over which positions are evened out, s, and how far a straight line may then miss the speed, m/s. Assumed.
const EVEN: f64 = 2.0;
const STRAIGHT: f64 = 0.25;
/// Longest recording, s.
const LONGEST: f64 = 2.0 * 86400.0;

/// A point: line in the file, s, m/s.
type Point = (u64, f64, f64);

/// Reads and cleans a recording: GPX where the name ends so, else CSV; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<(Trace, Cleaning), Unreadable> {
    let mut report = Cleaning::default();
    let positions = file.to_lowercase().ends_with(".gpx");
    let points =
        if positions { from_positions(file, text, &mut report)? } else { from_speeds(file, text, &mut report)? };
    clean(file, &points, positions, report)
}

fn leave_out(report: &mut Cleaning, line: u64) {
    if report.first_left_out == 0 {
        report.first_left_out = line;
    }
}

/// Keeps what comes later than all before it.
fn rising<T: Copy>(points: Vec<(u64, f64, T)>, report: &mut Cleaning) -> Vec<(u64, f64, T)> {
    let mut kept: Vec<(u64, f64, T)> = vec![];
    for point in points {
        match kept.last() {
            Some(last) if point.1 == last.1 => {
                report.repeated += 1;
                leave_out(report, point.0);
            }
            Some(last) if point.1 < last.1 => {
                report.backward += 1;
                leave_out(report, point.0);
            }
            _ => kept.push(point),
        }
    }
    kept
}

/// Counts the gaps between times.
fn gaps(times: impl Iterator<Item = f64> + Clone, report: &mut Cleaning) {
    for wide in times.clone().zip(times.skip(1)).map(|(a, b)| b - a).filter(|wide| *wide > GAP) {
        report.gaps += 1;
        report.gap_time += wide;
    }
}

fn from_speeds(file: &str, text: &str, report: &mut Cleaning) -> Result<Vec<Point>, Unreadable> {
    let dimension = |name: &str| Some(if name == "time" { Dimension::Time } else { Dimension::Speed });
    let columns = Columns::read(file, text, &["time", "speed"], dimension)?;
    let missing = |what: &str| Unreadable::Missing { file: file.to_owned(), line: columns.line, what: what.to_owned() };
    let clock = columns.place("time").ok_or_else(|| missing("the column `time [s]` is missing"))?;
    let pace =
        columns.place("speed").ok_or_else(|| missing("the column `speed [km/h]` (or [mph], [m/s]) is missing"))?;
    let mut points = vec![];
    for row in &columns.rows {
        let blank = |what: &str| Unreadable::Line {
            file: file.to_owned(),
            line: row.0,
            why: format!("the {what} is blank; leave the whole line out: a gap is bridged and reported"),
        };
        let time = columns.number(row, clock)?.ok_or_else(|| blank("time"))?;
        let speed = columns.number(row, pace)?.ok_or_else(|| blank("speed"))?;
        if speed < 0.0 {
            return Err(columns.refuse(row.0, pace, speed, "is below 0; a speed has no direction"));
        }
        points.push((row.0, time, speed));
    }
    report.points = points.len() as u64;
    let points = rising(points, report);
    gaps(points.iter().map(|p| p.1), report);
    Ok(points)
}

/// Speed between successive positions, at the middle of each step, and standing at the ends.
fn from_positions(file: &str, text: &str, report: &mut Cleaning) -> Result<Vec<Point>, Unreadable> {
    let document = Document::parse(text).map_err(|e| Unreadable::Line {
        file: file.to_owned(),
        line: u64::from(e.pos().row),
        why: format!("column {}: {e}; is it GPX 1.1, whole to its end?", e.pos().col),
    })?;
    let mut places = vec![];
    for point in document.descendants().filter(|n| n.has_tag_name_of("trkpt")) {
        let at = document.text_pos_at(point.range().start);
        let line = u64::from(at.row);
        let bad =
            |why: String| Unreadable::Line { file: file.to_owned(), line, why: format!("column {}: {why}", at.col) };
        let angle = |name: &str, most: f64| {
            let given = point
                .attribute(name)
                .ok_or_else(|| bad(format!("the point has no `{name}`; GPX 1.1 gives it in degrees")))?;
            let value = given.trim().parse::<f64>().ok().filter(|v| v.abs() <= most);
            value.ok_or_else(|| bad(format!("`{given}` is no `{name}`; it lies between −{most} and {most} degrees")))
        };
        let time = point.children().find(|n| n.has_tag_name_of("time")).and_then(|n| n.text());
        let time = time
            .ok_or_else(|| bad("the point has no <time>; record the ride with times, speed needs them".to_owned()))?;
        let time = moment(time.trim())
            .ok_or_else(|| bad(format!("`{time}` is no time; GPX 1.1 writes 2024-05-01T09:30:00Z")))?;
        places.push((line, time, (angle("lat", 90.0)?, angle("lon", 180.0)?)));
    }
    if places.is_empty() {
        return Err(Unreadable::Empty {
            file: file.to_owned(),
            what: "track point (<trkpt>); routes and way points have no times",
        });
    }
    report.points = places.len() as u64;
    let places = rising(places, report);
    gaps(places.iter().map(|p| p.1), report);
    let middle = |pair: &[(u64, f64, (f64, f64))]| {
        let step = pair[1].1 - pair[0].1;
        (pair[1].0, 0.5 * (pair[0].1 + pair[1].1), distance(pair[0].2, pair[1].2) / step)
    };
    let mut points: Vec<Point> = places.windows(2).map(middle).collect();
    if let (Some(first), Some(last)) = (places.first(), places.last()) {
        points.insert(0, (first.0, first.1, 0.0));
        points.push((last.0, last.1, 0.0));
    }
    Ok(points)
}

trait TagName {
    fn has_tag_name_of(&self, name: &str) -> bool;
}
impl TagName for Node<'_, '_> {
    /// Whatever its namespace.
    fn has_tag_name_of(&self, name: &str) -> bool {
        self.is_element() && self.tag_name().name() == name
    }
}

/// Seconds since 1970 of a time such as 2024-05-01T09:30:00.5Z or …+02:00.
fn moment(text: &str) -> Option<f64> {
    let (date, rest) = text.split_once('T')?;
    let mut parts = date.split('-').map(|p| p.parse::<i64>().ok());
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let cut = rest.find(['Z', '+', '-']).unwrap_or(rest.len());
    let (clock, zone) = rest.split_at(cut);
    let mut parts = clock.split(':').map(|p| p.parse::<f64>().ok());
    let (hour, minute, second) = (parts.next()??, parts.next()??, parts.next()??);
    let fits = (1..=12).contains(&month) && (1..=31).contains(&day) && hour < 24.0 && minute < 60.0 && second < 61.0;
    if !fits {
        return None;
    }
    let ahead = match zone {
        "" | "Z" => 0.0,
        zone => {
            let (h, m) = zone[1..].split_once(':')?;
            let whole = 3600.0 * h.parse::<f64>().ok()? + 60.0 * m.parse::<f64>().ok()?;
            if zone.starts_with('-') { -whole } else { whole }
        }
    };
    // Days since 1970 in a calendar whose year begins in March, so that the leap day comes last.
    let (y, m) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let days =
        365 * y + y.div_euclid(4) - y.div_euclid(100) + y.div_euclid(400) + (153 * m + 2) / 5 + day - 1 - 719_468;
    Some(days as f64 * 86400.0 + 3600.0 * hour + 60.0 * minute + second - ahead)
}

/// Whether a wheel can come from one point to the next.
fn reachable(from: &Point, to: &Point) -> bool {
    (to.2 - from.2).abs() <= HARDEST * (to.1 - from.1) + 0.5
}

fn clean(file: &str, points: &[Point], positions: bool, mut report: Cleaning) -> Result<(Trace, Cleaning), Unreadable> {
    let mut sound: Vec<Point> = vec![];
    for (k, point) in points.iter().enumerate() {
        let before = sound.last().is_none_or(|last| reachable(last, point));
        // A jump that the next point confirms is the machine's, one that it takes back is the recorder's.
        let confirmed = points.get(k + 1).is_some_and(|next| reachable(point, next)) && point.2 <= FASTEST;
        if point.2 <= FASTEST && (before || (confirmed && sound.is_empty())) {
            sound.push(*point);
        } else {
            report.jumps += 1;
            leave_out(&mut report, point.0);
        }
    }
    if sound.len() < 2 {
        return Err(Unreadable::Empty { file: file.to_owned(), what: "ride: fewer than two usable points are left" });
    }
    if positions {
        let even = even(&sound);
        let changes = sound.iter().zip(&even).map(|(a, b)| (a.2 - b.2).abs());
        report.evened = changes.fold(0.0, f64::max);
        sound = even;
        let slow = sound.iter_mut().filter(|p| p.2 > 0.0 && p.2 < WANDER);
        for point in slow {
            point.2 = 0.0;
            report.standing += 1;
        }
    }
    let start = sound[0].1;
    report.shifted = start;
    let mut trace: Vec<(f64, f64)> = sound.iter().map(|p| (p.1 - start, p.2)).collect();
    let length = trace[trace.len() - 1].0;
    if length > LONGEST {
        let why = format!(
            "the recording lasts {:.1} h; the longest is {:.0} h: cut it into rides",
            length / 3600.0,
            LONGEST / 3600.0
        );
        return Err(Unreadable::Line { file: file.to_owned(), line: sound[sound.len() - 1].0, why });
    }
    if length / ((trace.len() - 1) as f64) < DENSEST {
        let before = trace.len();
        trace = each_second(&trace);
        report.joined = (before - trace.len()) as u64;
    }
    if positions || report.joined > 0 {
        let before = trace.len();
        trace = straight(&trace);
        report.straightened = (before - trace.len()) as u64;
    }
    report.kept = trace.len() as u64;
    report.duration = trace[trace.len() - 1].0;
    report.distance = trace.windows(2).map(|p| 0.5 * (p[0].1 + p[1].1) * (p[1].0 - p[0].0)).sum();
    Ok((Trace { points: trace }, report))
}

/// Means over a little time to either side, as far as that is the same on both and crosses no gap. The ends stay.
fn even(points: &[Point]) -> Vec<Point> {
    let near = |k: usize, j: usize| (points[k].1 - points[j].1).abs() <= EVEN;
    let one = |k: usize| {
        let most = k.min(points.len() - 1 - k);
        let reach = (1..=most).take_while(|r| near(k, k - r) && near(k, k + r)).last().unwrap_or(0);
        let own = &points[k - reach..=k + reach];
        (points[k].0, points[k].1, own.iter().map(|p| p.2).sum::<f64>() / own.len() as f64)
    };
    (0..points.len()).map(one).collect()
}

/// Few points whose straight lines miss no other by more than allowed, nor any that stands: split at the worst, again and
/// again.
fn straight(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let miss = |from: usize, to: usize, k: usize| {
        let (first, last, p) = (points[from], points[to], points[k]);
        let line = first.1 + (last.1 - first.1) * (p.0 - first.0) / (last.0 - first.0);
        // Standing is standing: a line that creeps through it is no rest.
        if p.1 == 0.0 && line > 0.0 { f64::INFINITY } else { (p.1 - line).abs() }
    };
    let mut kept = vec![0];
    let mut ends = vec![points.len() - 1];
    while let (Some(&from), Some(&to)) = (kept.last(), ends.last()) {
        let misses = (from + 1..to).map(|k| (k, miss(from, to, k)));
        match misses.max_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((k, far)) if far > STRAIGHT => ends.push(k),
            _ => kept.extend(ends.pop()),
        }
    }
    kept.into_iter().map(|k| points[k]).collect()
}

/// One point a second: the mean of those within half a second of it. The ends stay.
fn each_second(dense: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut joined: Vec<(f64, f64, f64)> = vec![];
    for (time, speed) in &dense[1..dense.len() - 1] {
        let second = time.round();
        match joined.last_mut() {
            Some(last) if last.0 == second => *last = (second, last.1 + speed, last.2 + 1.0),
            _ => joined.push((second, *speed, 1.0)),
        }
    }
    let (first, last) = (dense[0], dense[dense.len() - 1]);
    let inner = joined.into_iter().map(|(t, sum, n)| (t, sum / n)).filter(|p| p.0 > first.0 && p.0 < last.0);
    std::iter::once(first).chain(inner).chain([last]).collect()
}

/// What was found and done, in sentences.
pub fn lines(cleaning: &Cleaning, file: &str) -> Vec<String> {
    let mut all = vec![format!(
        "{file}: {} points, {} kept, {:.0} s, {:.0} m",
        cleaning.points, cleaning.kept, cleaning.duration, cleaning.distance
    )];
    let mut say = |count: u64, what: &str| {
        if count > 0 {
            all.push(format!("  {count} {what}"));
        }
    };
    say(cleaning.repeated, "with a time that was there already: left out");
    say(cleaning.backward, "with a time before that of the point before: left out");
    say(cleaning.jumps, "faster than 40 m/s or changing speed by more than 12 m/s²: left out");
    say(cleaning.standing, "slower than a wandering position (0.7 m/s): taken as standing");
    say(cleaning.joined, "joined with neighbours into one a second");
    say(cleaning.straightened, "met by a straight line between neighbours within 0.25 m/s: left to it");
    say(
        cleaning.gaps,
        &format!(
            "{} longer than 10 s, {:.0} s together: bridged by a straight line",
            if cleaning.gaps == 1 { "gap" } else { "gaps" },
            cleaning.gap_time
        ),
    );
    if cleaning.evened > 0.0 {
        all.push(format!(
            "  positions jitter: evened out over 2 s to either side, by {:.1} m/s at most",
            cleaning.evened
        ));
    }
    if cleaning.first_left_out > 0 {
        all.push(format!("  the first point left out is on line {}", cleaning.first_left_out));
    }
    if cleaning.shifted != 0.0 {
        all.push(format!("  the time begins at {:.1} s: counted from there", cleaning.shifted));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fmt::Write;

    #[test]
    fn times_are_those_of_the_calendar() {
        // The second of 1 January 2000 is 946 684 800 (the calendar's closed form: 10 957 days).
        assert_eq!(moment("2000-01-01T00:00:00Z"), Some(946_684_800.0));
        assert_eq!(moment("2000-03-01T02:00:00.5+02:00"), Some(946_684_800.0 + 60.0 * 86400.0 + 0.5));
        assert_eq!(moment("2024-13-01T00:00:00Z"), None);
        assert_eq!(moment("yesterday"), None);
    }

    #[test]
    fn distances_are_those_published() {
        // Two survey marks of a geodetic datum manual's worked example, GRS 80 ellipsoid (from memory): 54 972.271 m.
        let angle = |d: f64, m: f64, s: f64| d + m / 60.0 + s / 3600.0;
        let from = (-angle(37.0, 57.0, 3.72030), angle(144.0, 25.0, 29.52440));
        let to = (-angle(37.0, 39.0, 10.15610), angle(143.0, 55.0, 35.38390));
        assert!((distance(from, to) - 54_972.271).abs() < 2e-3, "{}", distance(from, to));
        // From equator to pole on this ellipsoid (from memory): 10 001 965.729 m.
        assert!((distance((0.0, 0.0), (90.0, 0.0)) - 10_001_965.729).abs() < 2e-3);
    }

    #[test]
    fn cleaning_says_what_it_did() {
        let text = "time [s],speed [km/h]\n100,0\n101,5\n101,6\n102,400\n103,10\n102.5,10\n104,10\n130,10\n131,0\n";
        let (trace, report) = read("ride.csv", text).unwrap();
        assert_eq!((report.points, report.repeated, report.backward, report.jumps), (9, 1, 1, 1));
        assert_eq!((report.gaps, report.gap_time, report.first_left_out), (1, 26.0, 4));
        assert_eq!(trace.points.len(), 6);
        assert_eq!((trace.points[0], report.shifted), ((0.0, 0.0), 100.0));
        assert_eq!(lines(&report, "ride.csv").len(), 7);
    }

    #[test]
    fn a_dense_recording_keeps_its_distance() {
        let mut text = String::from("time [s],speed [m/s]\n");
        for k in 0..=600 {
            let t = 0.1 * f64::from(k);
            writeln!(text, "{t},{}", 5.0 + 3.0 * (t / 10.0).sin()).unwrap();
        }
        let (trace, report) = read("ride.csv", &text).unwrap();
        assert_eq!(report.joined, 540);
        assert_eq!(trace.points.len() as u64 + report.straightened, 61);
        // ∫ 5 + 3 sin(t/10) over 60 s.
        let exact = 300.0 + 30.0 * (1.0 - 6.0_f64.cos());
        assert!((report.distance / exact - 1.0).abs() < 2e-3, "{} for {exact}", report.distance);
    }
}
