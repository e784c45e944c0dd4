//! Noise of a recording: how much is seen at rest, and evening it out so that rest is rest again.

/// A point: line in the file, s, m/s.
pub type Point = (u64, f64, f64);

/// Faster than this no reading is noise at rest, m/s: a walking pace.
const WALKING: f64 = 1.5;
/// Fewest points, and shortest time, s, of a slow stretch that shows noise: a ramp through walking pace is shorter.
const POINTS: usize = 6;
const STRETCH: f64 = 5.0;
/// Less is how the recorder rounds its figures, m/s: the last digit of 0.1 km/h, several times over.
const ROUNDING: f64 = 0.02;
/// Most points to either side that a mean takes.
const NEIGHBOURS: usize = 64;

/// Standard deviation of speeds about their mean while the machine stands, m/s; 0 for a clean recording. In each stretch
/// below walking pace: the median of second differences, which a steady speed or a ramp leaves at nothing, over 1.652, what
/// it is for noise that is normally distributed; over 0.603, since a speed has no sign (a folded normal distribution has
/// 0.603 of the deviation). Neglects that neighbouring readings may err alike.
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

/// Half the time over which speeds of that noise are evened out, s: some 0.15 m/s of noise are left of 0.33 m/s. Assumed.
pub fn reach(noise: f64) -> f64 {
    (6.0 * noise).round().clamp(1.0, 4.0)
}

/// Below this an evened speed is rest, m/s: twice the noise, some four deviations of evened noise above its mean. Assumed.
pub fn standing(noise: f64) -> f64 {
    (2.0 * noise).clamp(0.2, WALKING)
}

/// Means over that time to either side, as far as that is the same on both and crosses no gap. The ends stay.
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

/// Takes what is slower than a threshold as standing, and what rises out of standing to less than twice that; how many.
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
