//! Recorded rides: speed over time or positions over time, cleaned into a trace that a rider can follow. Every change
//! that cleaning makes is reported.

use crate::read::calendar::moment;
use crate::read::geodesic::distance;
use crate::read::heads;
use crate::read::paced::{self, Paced};
use crate::read::refusal::Refusal;
use crate::read::units::short;
use roxmltree::{Document, Node};
use slipsoak_engine::duty::Trace;
use slipsoak_engine::parts::Dimension;
pub use slipsoak_engine::retraced::Cleaning;
use slipsoak_engine::rides::{
    EVEN, GAP, LONGEST, Point, RIDDEN, SHORTEST, Unclean, Unrecorded, clean, gaps, made_good, rising,
};

/// Largest number of attributes of one element of a GPX file: the parser compares each with all others.
const ATTRIBUTES: usize = 100;
/// Usual step of time over the longest that is no gap, above which a table is no recording, though some steps are short. Assumed.
const FAR: f64 = 5.0;

/// Reads and cleans a recording: GPX by the ending of the name, else CSV; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<(Trace, Cleaning), Refusal> {
    let mut report = Cleaning::default();
    let positions = file.to_lowercase().ends_with(".gpx");
    let (points, unrecorded) = if positions {
        from_positions(file, text, &mut report)?
    } else {
        (from_speeds(file, text, &mut report)?, vec![])
    };
    clean(&points, &unrecorded, report).map_err(|e| unclean(file, &e))
}

/// Error text for a recording that is no ride.
fn unclean(file: &str, why: &Unclean) -> Refusal {
    let refuse = |line: u64, why: String| Refusal::line(file, line, why);
    match *why {
        Unclean::TooFew => Refusal::new(format!(
            "{file} holds no ride: fewer than two usable points with different times are left; check its clock, or record for longer"
        )),
        Unclean::TooLong { line, length } => {
            let (hours, most) = (length / 3600.0, LONGEST / 3600.0);
            refuse(line, format!("the recording lasts {hours:.1} h; the longest is {most:.0} h: cut it into rides"))
        }
        Unclean::TooShort { line, length } => refuse(
            line,
            format!(
                "the recording lasts {} s from its first usable point to its last; the shortest is {SHORTEST} s: are its times right?",
                short(length)
            ),
        ),
        Unclean::Lost { line, lasts, way } => refuse(
            line,
            format!(
                "no position was recorded in the {:.0} min before it, in which the machine moved {}: what it rode there, and whether it was carried, is unknown beyond {RIDDEN} s; save what was recorded before and after as two rides",
                lasts / 60.0,
                road(way)
            ),
        ),
    }
}

/// A distance, in metres or kilometres.
fn road(way: f64) -> String {
    if way < 950.0 { format!("{way:.0} m") } else { format!("{:.1} km", way / 1e3) }
}

fn from_speeds(file: &str, text: &str, report: &mut Cleaning) -> Result<Vec<Point>, Refusal> {
    let table = paced::read(file, text)?;
    report.points = table.points.len() as u64;
    let points = rising(table.points.clone(), report);
    refuse_sparse(&table, &points)?;
    report.ignored = table.columns.spare;
    gaps(points.iter().map(|p| p.1), report);
    Ok(points.into_iter().map(|(line, time, speed)| Point { line, time, speed, made_good: None }).collect())
}

/// Refuses a table all of whose steps of time are gaps, or the usual one of which is far longer: nothing is known of the launches
/// between, and the times may be in another unit.
fn refuse_sparse(table: &Paced, points: &[(u64, f64, f64)]) -> Result<(), Refusal> {
    let mut steps: Vec<f64> = points.windows(2).map(|pair| pair[1].1 - pair[0].1).collect();
    steps.sort_by(f64::total_cmp);
    let far = steps.first().is_some_and(|least| *least > GAP);
    let usual = steps.get(steps.len().saturating_sub(1) / 2).copied();
    let usual = usual.filter(|usual| !table.dated && (far || *usual > FAR * GAP));
    let head = &table.columns.heads[table.time];
    let (Some(usual), Some(unit)) = (usual, head.unit) else { return Ok(()) };
    let number = unit.from_si(usual);
    let other = |(text, name)| {
        let other = heads::unit(text, Dimension::Time).filter(|other| other.scale < unit.scale)?;
        (other.si(number) <= GAP).then(|| format!("if the times are {name}, write `time [{text}]` in the head; else "))
    };
    let other = [("min", "minutes"), ("s", "seconds"), ("ms", "milliseconds")].into_iter().find_map(other);
    let why = format!(
        "the time usually goes up by {} {} from line to line, and points more than {GAP} s apart show no launch; {}record a point at least every {GAP} s",
        short(number),
        unit.texts[0],
        other.unwrap_or_default()
    );
    Err(Refusal::field(&table.columns.file, points[1].0, &head.name, why))
}

/// Speed between successive positions, at the middle of each interval that is no gap, and rest at both ends; and the gaps.
fn from_positions(file: &str, text: &str, report: &mut Cleaning) -> Result<(Vec<Point>, Vec<Unrecorded>), Refusal> {
    refuse_crowds(file, text)?;
    let lines = Lines::of(text);
    let document = Document::parse(text).map_err(|e| {
        let why = format!("column {}: {e}; is it GPX 1.1, whole to its end?", e.pos().col);
        Refusal::line(file, e.pos().row.into(), why)
    })?;
    let mut places = vec![];
    let (mut lowest, mut highest) = (f64::INFINITY, f64::NEG_INFINITY);
    for point in document.descendants().filter(|n| is_tag(*n, "trkpt")) {
        let start = point.range().start;
        let line = lines.at(start);
        let bad = |why: String| Refusal::line(file, line, format!("column {}: {why}", document.text_pos_at(start).col));
        let angle = |name: &str, most: f64| {
            let given = point
                .attribute(name)
                .ok_or_else(|| bad(format!("the point has no `{name}`; GPX 1.1 gives it in degrees")))?;
            let value = given.trim().parse::<f64>().ok().filter(|v| v.abs() <= most);
            value.ok_or_else(|| bad(format!("`{given}` is no `{name}`; it lies between −{most} and {most} degrees")))
        };
        let time = point.children().find(|n| is_tag(*n, "time")).and_then(|n| n.text());
        let time = time
            .ok_or_else(|| bad("the point has no <time>; record the ride with times, speed needs them".to_owned()))?;
        let time = moment(time.trim())
            .ok_or_else(|| bad(format!("`{time}` is no time; GPX 1.1 writes 2024-05-01T09:30:00Z")))?;
        let altitude = point.children().find(|n| is_tag(*n, "ele")).and_then(|n| n.text()?.trim().parse::<f64>().ok());
        if let Some(altitude) = altitude.filter(|altitude| altitude.is_finite()) {
            (lowest, highest) = (lowest.min(altitude), highest.max(altitude));
        }
        places.push((line, time, (angle("lat", 90.0)?, angle("lon", 180.0)?)));
    }
    if places.is_empty() {
        return Err(Refusal::new(format!(
            "{file} holds no track point (<trkpt>); routes and way points have no times"
        )));
    }
    report.climbs = (highest - lowest).max(0.0);
    report.points = places.len() as u64;
    let places = rising(places, report);
    gaps(places.iter().map(|p| p.1), report);
    let times: Vec<f64> = places.iter().map(|place| place.1).collect();
    let way = |from: usize, to: usize| distance(places[from].2, places[to].2);
    let wide = |k: usize| times[k + 1] - times[k] > GAP;
    let gap = |k: usize| Unrecorded { line: places[k + 1].0, from: times[k], to: times[k + 1], way: way(k, k + 1) };
    let intervals = times.len().saturating_sub(1);
    let unrecorded: Vec<Unrecorded> = (0..intervals).filter(|k| wide(*k)).map(gap).collect();
    let mut points: Vec<Point> = made_good(&times, EVEN, way)
        .into_iter()
        .enumerate()
        .filter(|(k, _)| !wide(*k))
        .map(|(k, good)| Point {
            line: places[k + 1].0,
            time: f64::midpoint(times[k], times[k + 1]),
            speed: way(k, k + 1) / (times[k + 1] - times[k]),
            made_good: Some(good),
        })
        .collect();
    if let (Some(first), Some(last)) = (places.first(), places.last()) {
        let rest = |line, time| Point { line, time, speed: 0.0, made_good: Some(0.0) };
        points.insert(0, rest(first.0, first.1));
        // The speed of the last interval stands for the last position already.
        let own = unrecorded.last().filter(|gap| gap.line == last.0).map_or(0, |gap| gap.line);
        points.push(rest(own, last.1));
    }
    Ok((points, unrecorded))
}

/// Start positions of the lines of a text.
struct Lines(Vec<usize>);

impl Lines {
    fn of(text: &str) -> Self {
        Self(std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect())
    }

    /// The line of a byte, from 1.
    fn at(&self, byte: usize) -> u64 {
        self.0.partition_point(|start| *start <= byte) as u64
    }
}

/// Refuses elements with more attributes than any recorder writes.
fn refuse_crowds(file: &str, text: &str) -> Result<(), Refusal> {
    let mut rest = text;
    while let Some(open) = rest.find('<') {
        rest = &rest[open..];
        let skipped = [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>")];
        if let Some((_, close)) = skipped.iter().find(|(begin, _)| rest.starts_with(begin)) {
            rest = rest.find(close).map_or("", |end| &rest[end..]);
            continue;
        }
        let (mut quote, mut attributes, mut end) = (None, 0, rest.len());
        for (at, byte) in rest.bytes().enumerate() {
            match (quote, byte) {
                (None, b'>') => {
                    end = at;
                    break;
                }
                (None, b'"' | b'\'') => quote = Some(byte),
                (None, b'=') => attributes += 1,
                (Some(mark), byte) if mark == byte => quote = None,
                _ => {}
            }
        }
        if attributes > ATTRIBUTES {
            let line = Lines::of(text).at(text.len() - rest.len());
            let why = format!("an element has more than {ATTRIBUTES} attributes; is it GPX 1.1?");
            return Err(Refusal::line(file, line, why));
        }
        rest = &rest[end..];
    }
    Ok(())
}

/// Whether the tag of a node has that name, in any namespace.
fn is_tag(node: Node, name: &str) -> bool {
    node.is_element() && node.tag_name().name() == name
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fmt::Write;

    #[test]
    fn distances_equal_published_ones() {
        // Two survey marks of a geodetic datum manual's worked example, GRS 80 ellipsoid (from memory): 54 972.271 m.
        let angle = |d: f64, m: f64, s: f64| d + m / 60.0 + s / 3600.0;
        let from = (-angle(37.0, 57.0, 3.72030), angle(144.0, 25.0, 29.52440));
        let to = (-angle(37.0, 39.0, 10.15610), angle(143.0, 55.0, 35.38390));
        assert!((distance(from, to) - 54_972.271).abs() < 2e-3, "{}", distance(from, to));
        // From equator to pole on this ellipsoid (from memory): 10 001 965.729 m.
        assert!((distance((0.0, 0.0), (90.0, 0.0)) - 10_001_965.729).abs() < 2e-3);
    }

    #[test]
    fn the_report_lists_what_cleaning_did() {
        let text = "time [s],speed [km/h]\n100,0\n101,5\n101,6\n102,400\n103,10\n102.5,10\n104,10\n130,10\n131,0\n";
        let (trace, report) = read("ride.csv", text).unwrap();
        assert_eq!((report.points, report.repeated, report.backward, report.jumps), (9, 1, 1, 1));
        assert_eq!((report.gaps, report.gap_time, report.first_left_out), (1, 26.0, 4));
        assert_eq!(trace.points.len(), 6);
        assert_eq!((trace.points[0], report.shifted), ((0.0, 0.0), 100.0));
        assert_eq!(slipsoak_plots::words::cleaning::lines(&report, "ride.csv").len(), 7);
    }

    #[test]
    fn a_table_whose_steps_are_gaps_is_refused_with_the_unit_that_would_make_them_short() {
        let table = |unit: &str, step: f64, odd: &str| {
            let line = |k: i32| format!("{},5.{}\n", f64::from(k) * step, k % 3);
            let rows = (0..9).fold(String::new(), |rows, k| rows + line(k).as_str());
            read("ride.csv", &format!("time [{unit}],speed [m/s]\n{rows}{odd}"))
        };
        for (unit, step, odd, said) in [
            ("s", 1000.0, "", "line 3, column `time`: the time usually goes up by 1000 s"),
            ("s", 100.0, "803,5\n", "if the times are milliseconds, write `time [ms]`"),
            ("s", 20.0, "", "`time [ms]` in the head; else record a point at least every 10 s"),
            ("min", 1.0, "", "if the times are seconds, write `time [s]`"),
        ] {
            let refused = table(unit, step, odd).expect_err(said).to_string();
            assert!(refused.contains(said), "{refused}");
        }
        for (unit, step, odd) in [("s", 10.0, ""), ("s", 20.0, "165,5\n"), ("ms", 1000.0, ""), ("min", 0.1, "")] {
            assert!(table(unit, step, odd).is_ok(), "{step} {unit}");
        }
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
