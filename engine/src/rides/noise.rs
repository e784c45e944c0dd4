//! Noise of a recording: measured while the machine stands, and smoothed so that rest reads as zero.

/// A point: line in the file, s, m/s.
pub type Point = (u64, f64, f64);

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

/// Standard deviation of speeds about their mean while the machine stands, m/s; 0 for a clean recording.
///
/// In stretches below walking pace: the median modulus of the second differences, which are zero for a steady speed or
/// a ramp. It is divided by 1.652, its ratio to the deviation for normally distributed noise, and by 0.603, because a
/// speed has no sign (a folded normal distribution has 0.603 of the deviation). Neglects correlation of neighbouring
/// readings.
pub fn at_rest(points: &[Point]) -> f64 {
    let mut seen = vec![];
    for slow in points.chunk_by(|a, b| (a.2 < WALKING) == (b.2 < WALKING)) {
        let lasts = slow[slow.len() - 1].1 - slow[0].1 >= STRETCH;
        if slow[0].2 < WALKING && slow.len() >= POINTS && lasts {
            seen.extend(slow.windows(3).map(|w| (w[0].2 - 2.0 * w[1].2 + w[2].2).abs()));
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
    let near = |k: usize, j: usize| (points[k].1 - points[j].1).abs() <= within;
    let one = |k: usize| {
        let most = k.min(points.len() - 1 - k).min(NEIGHBOURS);
        let reach = (1..=most).take_while(|r| near(k, k - r) && near(k, k + r)).last().unwrap_or(0);
        let own = &points[k - reach..=k + reach];
        (points[k].0, points[k].1, own.iter().map(|p| p.2).sum::<f64>() / own.len() as f64)
    };
    (0..points.len()).map(one).collect()
}

/// Sets points slower than a threshold to rest, and bumps that rise from rest to less than twice the threshold. Returns
/// the number of points changed.
pub fn stand(points: &mut [Point], threshold: f64, and_bumps: bool) -> u64 {
    let mut count = 0;
    for point in points.iter_mut().filter(|p| p.2 > 0.0 && p.2 < threshold) {
        point.2 = 0.0;
        count += 1;
    }
    if and_bumps {
        for bump in points.chunk_by_mut(|a, b| (a.2 > 0.0) == (b.2 > 0.0)) {
            if bump[0].2 > 0.0 && bump.iter().all(|p| p.2 < 2.0 * threshold) {
                count += bump.len() as u64;
                for point in bump.iter_mut() {
                    point.2 = 0.0;
                }
            }
        }
    }
    count
}
