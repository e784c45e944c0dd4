//! A recorded ride, cleaned into a trace that a rider can follow. Every change that cleaning makes is counted in the
//! report.

use super::noise::{self, GAP, Point};
use super::unrecorded::{RIDDEN, Unrecorded};
use crate::document::retraced::Cleaning;
use crate::duty::Trace;
use thiserror::Error;

/// Highest plausible speed of a small machine, m/s.
const FASTEST: f64 = 40.0;
/// Largest plausible acceleration of a wheel on the ground, m/s². Assumed: 1.5 times a hard stop on a dry road.
const HARDEST: f64 = 12.0;
/// A hard launch, m/s²: what is faster from the first point on was under way before it. Assumed.
const SETS_OFF: f64 = 3.0;
/// Speed below which position noise looks like riding, m/s. Assumed: 2 m of noise in 3 s.
const WANDER: f64 = 0.7;
/// Shortest point spacing that is kept without averaging, s.
const DENSEST: f64 = 0.5;
/// Half the time over which positions are smoothed, s, and the tolerance of the straight lines that replace points,
/// m/s. Assumed.
pub const EVEN: f64 = 2.0;
const STRAIGHT: f64 = 0.25;
/// Longest recording, s.
pub const LONGEST: f64 = 10.0 * 86400.0;

/// Shortest recording, s.
pub const SHORTEST: f64 = 1.0;
/// Largest number of points that straight lines are fitted to at once, so that the time taken grows linearly with the
/// points.
const AT_ONCE: usize = 512;
/// Reason why a recording is no ride.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum Unclean {
    /// fewer than two points
    #[error("fewer than two usable points with different times are left")]
    TooFew,
    /// longer than a recording may be
    #[error("the recording lasts {length} s, more than {LONGEST} s")]
    TooLong {
        /// line of its last point
        line: u64,
        /// s
        length: f64,
    },
    /// shorter than a ride can be
    #[error("the recording lasts {length} s, less than {SHORTEST} s")]
    TooShort {
        /// line of its last point
        line: u64,
        /// s
        length: f64,
    },
    /// moved over a longer interval without positions than its mean speed stands for
    #[error("it moved {way} m within {lasts} s without positions, more than {RIDDEN} s")]
    Lost {
        /// line of the position at its end
        line: u64,
        /// s
        lasts: f64,
        /// m
        way: f64,
    },
}

fn leave_out(report: &mut Cleaning, line: u64) {
    if report.first_left_out == 0 {
        report.first_left_out = line;
    }
}

/// Keeps points that are later than all points before them.
pub fn rising<T: Copy>(points: Vec<(u64, f64, T)>, report: &mut Cleaning) -> Vec<(u64, f64, T)> {
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
pub fn gaps(times: impl Iterator<Item = f64> + Clone, report: &mut Cleaning) {
    for wide in times.clone().zip(times.skip(1)).map(|(a, b)| b - a).filter(|wide| *wide > GAP) {
        report.gaps += 1;
        report.gap_time += wide;
    }
}

/// Whether a wheel can change speed fast enough to get from one point to the next.
fn reachable(from: &Point, to: &Point) -> bool {
    (to.speed - from.speed).abs() <= HARDEST * (to.time - from.time) + 0.5
}

/// Cleans the points into a trace, and reports what was changed. Speeds derived from positions are smoothed over a fixed
/// time; for speeds of a wheel sensor the noise is measured at rest. `unrecorded`: intervals without positions, between whose
/// sides no point stands.
///
/// ```
/// use slipsoak_engine::retraced::Cleaning;
/// use slipsoak_engine::rides::{Point, clean};
/// let points = [(1, 10.0, 0.0), (2, 12.0, 3.0), (3, 13.0, 90.0), (4, 14.0, 3.0)]
///     .map(|(line, time, speed)| Point { line, time, speed, made_good: None });
/// let (trace, report) = clean(&points, &[], Cleaning::default()).unwrap();
/// assert_eq!(trace.points, [(0.0, 0.0), (2.0, 3.0), (4.0, 3.0)]);
/// assert_eq!((report.jumps, report.first_left_out, report.shifted), (1, 3, 10.0));
/// ```
pub fn clean(points: &[Point], unrecorded: &[Unrecorded], mut report: Cleaning) -> Result<(Trace, Cleaning), Unclean> {
    let positions = points.iter().any(|point| point.made_good.is_some());
    let mut sound: Vec<Point> = vec![];
    // Mid-interval times may coincide if times differ by less than their resolution.
    let given = recorded(points);
    let points: Vec<Point> = points.chunk_by(|a, b| b.time <= a.time).map(|alike| alike[0]).collect();
    report.repeated += given - recorded(&points);
    for (k, point) in points.iter().enumerate() {
        let before = sound.last().is_none_or(|last| reachable(last, point));
        // A jump confirmed by the next point is real; a jump that the next point reverses is a recording error.
        let confirmed = points.get(k + 1).is_some_and(|next| reachable(point, next)) && point.speed <= FASTEST;
        if point.speed <= FASTEST && (before || (confirmed && sound.is_empty())) {
            sound.push(*point);
        } else {
            report.jumps += 1;
            leave_out(&mut report, point.line);
        }
    }
    if sound.len() < 2 {
        return Err(Unclean::TooFew);
    }
    let start = sound[0].time;
    report.shifted = start;
    // Positions begin with a rest that is not recorded.
    let first = sound[usize::from(sound[0].made_good.is_some())];
    let moves = first.speed > WANDER + SETS_OFF * (first.time - start);
    report.begins = if moves { first.speed } else { 0.0 };
    for point in &mut sound {
        point.time -= start;
    }
    let length = sound[sound.len() - 1].time;
    let line = sound.iter().map(|point| point.line).max().unwrap_or(0);
    if length > LONGEST {
        return Err(Unclean::TooLong { line, length });
    }
    if length < SHORTEST {
        return Err(Unclean::TooShort { line, length });
    }
    if length / ((sound.len() - 1) as f64) < DENSEST {
        let before = recorded(&sound);
        sound = each_second(&sound);
        report.joined = before - recorded(&sound);
    }
    let (reach, slow) = if positions {
        (EVEN, WANDER)
    } else {
        report.noise = noise::at_rest(&sound);
        (noise::reach(report.noise), noise::standing(report.noise))
    };
    if positions || report.noise > 0.0 {
        let even = noise::even(&sound, reach);
        let changes = sound.iter().zip(&even).map(|(a, b)| (a.speed - b.speed).abs());
        report.evened = changes.fold(0.0, f64::max);
        report.evened_over = reach;
        report.slow = slow;
        sound = even;
        report.standing = noise::stand(&mut sound, slow);
    }
    let shifted = unrecorded.iter().map(|gap| Unrecorded { from: gap.from - start, to: gap.to - start, ..*gap });
    fill(&mut sound, &shifted.collect::<Vec<_>>(), &mut report)?;
    if positions || report.joined > 0 || report.noise > 0.0 {
        let before = recorded(&sound);
        sound = straight(&sound);
        report.straightened += before - recorded(&sound);
    }
    let trace: Vec<(f64, f64)> = sound.iter().map(|p| (p.time, p.speed)).collect();
    report.kept = recorded(&sound);
    report.duration = trace[trace.len() - 1].0;
    report.distance = trace.windows(2).map(|p| 0.5 * (p[0].1 + p[1].1) * (p[1].0 - p[0].0)).sum();
    Ok((Trace { points: trace }, report))
}

/// Puts points into the intervals without positions.
fn fill(sound: &mut Vec<Point>, unrecorded: &[Unrecorded], report: &mut Cleaning) -> Result<(), Unclean> {
    for (k, gap) in unrecorded.iter().enumerate() {
        // Faster than a machine can be: a position on one side is wrong.
        if gap.mean() > FASTEST {
            report.jumps += 1;
            leave_out(report, gap.line);
            continue;
        }
        let at = sound.partition_point(|point| point.time <= gap.from);
        let (Some(before), Some(after)) = (sound[..at].last().copied(), sound.get(at).copied()) else { continue };
        // Where two of them meet, nothing but their mean speeds is known.
        let side = |other: Option<&Unrecorded>, time: f64, known: &Point| {
            let beside = other.filter(|other| other.from <= gap.to && other.to >= gap.from);
            beside.map_or((known.time, known.speed), |other| (time, f64::midpoint(other.mean(), gap.mean())))
        };
        let begin = side(k.checked_sub(1).map(|k| &unrecorded[k]), gap.from, &before);
        let end = side(unrecorded.get(k + 1), gap.to, &after);
        let lost = Unclean::Lost { line: gap.line, lasts: gap.lasts(), way: gap.way };
        let mut within = gap.ridden(begin, end, report).ok_or(lost)?.to_vec();
        within.retain(|point| point.time > before.time && point.time < after.time);
        within.dedup_by(|later, earlier| later.time <= earlier.time);
        // The position at its end, unless the ride ends there.
        if after.line != gap.line {
            match within.last_mut() {
                Some(last) => last.line = gap.line,
                None => report.straightened += 1,
            }
        }
        sound.splice(at..at, within);
    }
    Ok(())
}

/// Number of points that the recording has itself: a line of 0 stands for a point that was added.
fn recorded(points: &[Point]) -> u64 {
    points.iter().filter(|point| point.line > 0).count() as u64
}

/// A subset of the points whose straight lines miss no other point by more than the tolerance, and no point at rest at
/// all: split at the worst point, repeatedly.
fn straight(points: &[Point]) -> Vec<Point> {
    let miss = |from: usize, to: usize, k: usize| {
        let (first, last, p) = (points[from], points[to], points[k]);
        let line = first.speed + (last.speed - first.speed) * (p.time - first.time) / (last.time - first.time);
        // Rest must stay rest: a line with a small speed would be creep.
        if p.speed == 0.0 && line > 0.0 { f64::INFINITY } else { (p.speed - line).abs() }
    };
    let mut kept = vec![0];
    for block in (0..points.len()).step_by(AT_ONCE) {
        let mut ends = vec![(block + AT_ONCE).min(points.len() - 1)];
        while let (Some(&from), Some(&to)) = (kept.last(), ends.last()) {
            let misses = (from + 1..to).map(|k| (k, miss(from, to, k)));
            match misses.max_by(|a, b| a.1.total_cmp(&b.1)) {
                Some((k, far)) if far > STRAIGHT => ends.push(k),
                _ => kept.extend(ends.pop()),
            }
        }
    }
    kept.dedup();
    kept.into_iter().map(|k| points[k]).collect()
}

/// One point a second: the mean of the points within half a second of it. The end points stay.
fn each_second(dense: &[Point]) -> Vec<Point> {
    let (first, last) = (dense[0], dense[dense.len() - 1]);
    let inner = dense[1..dense.len() - 1].chunk_by(|a, b| a.time.round() == b.time.round()).map(|near| {
        let mean = |of: &dyn Fn(&Point) -> f64| near.iter().map(of).sum::<f64>() / near.len() as f64;
        Point {
            time: near[0].time.round(),
            speed: mean(&|p| p.speed),
            made_good: near[0].made_good.map(|_| mean(&|p| p.made_good.unwrap_or(0.0))),
            ..near[0]
        }
    });
    std::iter::once(first).chain(inner.filter(|p| p.time > first.time && p.time < last.time)).chain([last]).collect()
}
