//! Noise of a recording: measured while the machine stands, and smoothed so that rest reads as zero.

/// Longest interval between points that does not count as a gap, s.
pub const GAP: f64 = 10.0;

/// A reading of a recording.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// line in the file; 0 for a point that was added
    pub line: u64,
    /// s
    pub time: f64,
    /// m/s
    pub speed: f64,
    /// Speed made good over some seconds around the reading, m/s: way over time between two positions. At rest it shows the
    /// noise of two positions only, where a mean of speeds, which have no sign, shows that of all. None without positions.
    pub made_good: Option<f64>,
}

/// Speed above which no reading counts as noise at rest, m/s: a walking pace.
const WALKING: f64 = 1.5;
/// Fewest points, and shortest duration, s, of a slow stretch from which noise is estimated: a ramp through walking
/// pace is shorter.
const POINTS: usize = 6;
const STRETCH: f64 = 5.0;
/// Noise below which the recorder merely rounds its figures, m/s: several times the last digit of 0.1 km/h.
const ROUNDING: f64 = 0.02;
/// Largest number of neighbours on either side that a mean includes.
const NEIGHBOURS: usize = 64;
/// Longest way between two rests, m, that noise of positions may make, if it is slow as well. Assumed: twice the noise behind
/// the speed below which positions count as standing.
const DRIFT: f64 = 4.0;

/// Standard deviation of speeds about their mean while the machine stands, m/s; 0 for a clean recording.
///
/// In stretches below walking pace: the median modulus of the second differences, which are zero for a steady speed or
/// a ramp. It is divided by 1.652, its ratio to the deviation for normally distributed noise, and by 0.603, because a
/// speed has no sign (a folded normal distribution has 0.603 of the deviation). Neglects correlation of neighbouring
/// readings.
pub fn at_rest(points: &[Point]) -> f64 {
    let mut seen = vec![];
    for slow in points.chunk_by(|a, b| (a.speed < WALKING) == (b.speed < WALKING)) {
        let lasts = slow[slow.len() - 1].time - slow[0].time >= STRETCH;
        if slow[0].speed < WALKING && slow.len() >= POINTS && lasts {
            seen.extend(slow.windows(3).map(|w| (w[0].speed - 2.0 * w[1].speed + w[2].speed).abs()));
        }
    }
    if seen.is_empty() {
        return 0.0;
    }
    let middle = seen.len() / 2;
    let (_, median, _) = seen.select_nth_unstable_by(middle, f64::total_cmp);
    let noise = *median / 1.652 / 0.603;
    if noise > ROUNDING { noise } else { 0.0 }
}

/// Half the time over which speeds with that noise are smoothed, s: 0.33 m/s of noise are reduced to about 0.15 m/s.
/// Assumed.
pub fn reach(noise: f64) -> f64 {
    (6.0 * noise).round().clamp(1.0, 4.0)
}

/// Smoothed speed below which the machine is at rest, m/s: twice the noise, about four deviations of smoothed noise
/// above its mean. Assumed.
pub fn standing(noise: f64) -> f64 {
    (2.0 * noise).clamp(0.2, WALKING)
}

/// Means over that time on either side, as far as the interval is symmetric and crosses no gap. The end points stay.
pub fn even(points: &[Point], within: f64) -> Vec<Point> {
    let near = |k: usize, j: usize| (points[k].time - points[j].time).abs() <= within;
    let one = |k: usize| {
        let most = k.min(points.len() - 1 - k).min(NEIGHBOURS);
        let reach = (1..=most).take_while(|r| near(k, k - r) && near(k, k + r)).last().unwrap_or(0);
        let own = &points[k - reach..=k + reach];
        Point { speed: own.iter().map(|p| p.speed).sum::<f64>() / own.len() as f64, ..points[k] }
    };
    (0..points.len()).map(one).collect()
}

/// Speeds made good at the middle of each interval between times, m/s: over the longest way that reaches no further than that
/// time beyond either end of the interval. `way`: distance between two of the positions, m.
pub fn made_good(times: &[f64], within: f64, way: impl Fn(usize, usize) -> f64) -> Vec<f64> {
    let one = |k: usize| {
        let from = (0..=k).rev().take_while(|j| times[k] - times[*j] <= within).last().unwrap_or(k);
        let to = (k + 1..times.len()).take_while(|j| times[*j] - times[k + 1] <= within).last().unwrap_or(k + 1);
        way(from, to) / (times[to] - times[from])
    };
    (0..times.len().saturating_sub(1)).map(one).collect()
}

/// Sets points slower than a threshold to rest, and bumps that rise from rest to less than twice the threshold; bumps of
/// positions only if they lead hardly anywhere: a machine may crawl. Returns the number of points changed.
pub fn stand(points: &mut [Point], threshold: f64) -> u64 {
    let mut count = 0;
    let slow = |p: &Point| p.speed > 0.0 && p.made_good.unwrap_or(p.speed) < threshold;
    for point in points.iter_mut().filter(|p| slow(p)) {
        point.speed = 0.0;
        count += 1;
    }
    // Nothing is known of the way in a gap between positions.
    let one = |a: &Point, b: &Point| a.made_good.is_none() || b.time - a.time <= GAP;
    for bump in points.chunk_by_mut(|a, b| (a.speed > 0.0) == (b.speed > 0.0) && one(a, b)) {
        let way: f64 = bump.windows(2).map(|p| 0.5 * (p[0].speed + p[1].speed) * (p[1].time - p[0].time)).sum();
        let low = bump.iter().all(|p| p.made_good.unwrap_or(p.speed) < 2.0 * threshold);
        if bump[0].speed > 0.0 && low && (bump[0].made_good.is_none() || way < DRIFT) {
            count += bump.len() as u64;
            for point in bump.iter_mut() {
                point.speed = 0.0;
            }
        }
    }
    count
}
