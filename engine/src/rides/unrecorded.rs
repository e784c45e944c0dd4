//! What a machine did while no position was recorded, by the positions on both sides: it stood, or it moved, and its mean
//! speed is known.

use super::noise::Point;
use crate::document::retraced::Cleaning;

/// An interval without positions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unrecorded {
    /// line of the position at its end
    pub line: u64,
    /// its begin, s
    pub from: f64,
    /// its end, s
    pub to: f64,
    /// distance between the positions on both sides, m
    pub way: f64,
}

/// Longest interval that is ridden at its mean speed, s. Assumed: a longer one may hold stops and launches.
pub const RIDDEN: f64 = 120.0;
/// Change of speed by which a machine slows and sets off there, m/s². Assumed: an ordinary stop.
const CHANGE: f64 = 1.5;
/// Largest share of the interval that one change of speed takes.
const SHARE: f64 = 1.0 / 3.0;
/// Way beyond that of stopping and setting off, m, and its mean speed, m/s, up to which a machine stood. Assumed: positions wander
/// by ten metres where a receiver begins anew; two metres in three seconds.
const STOOD: (f64, f64) = (20.0, 0.7);

impl Unrecorded {
    /// Its duration, s.
    pub fn lasts(&self) -> f64 {
        self.to - self.from
    }

    /// Speed made good over it, m/s.
    pub(super) fn mean(&self) -> f64 {
        self.way / self.lasts()
    }

    /// Its points, between the times and speeds before and after it, s and m/s, if the machine stood or moved for no longer than
    /// that; counted in the report.
    pub(super) fn ridden(
        &self,
        (begin, before): (f64, f64),
        (end, after): (f64, f64),
        report: &mut Cleaning,
    ) -> Option<[Point; 4]> {
        let gone = self.way + before * (self.from - begin) + after * (end - self.to);
        let lasts = end - begin;
        let ramp = |from: f64, to: f64| ((to - from).abs() / CHANGE).min(SHARE * lasts);
        let way = |held: f64| {
            let (slowing, leaving) = (ramp(before, held), ramp(held, after));
            0.5 * (before + held) * slowing + held * (lasts - slowing - leaving) + 0.5 * (held + after) * leaving
        };
        let beyond = gone - way(0.0);
        let held = if beyond <= STOOD.0 && beyond <= STOOD.1 * lasts {
            report.stood += 1;
            report.stood_time += self.lasts();
            0.0
        } else if self.lasts() > RIDDEN {
            return None;
        } else {
            report.moved_way += self.way;
            // The way grows with the speed that is held.
            let (mut slow, mut fast) = (0.0, 3.0 * gone / lasts);
            for _ in 0..60 {
                let middle = f64::midpoint(slow, fast);
                *(if way(middle) < gone { &mut slow } else { &mut fast }) = middle;
            }
            fast
        };
        let (slowing, leaving) = (ramp(before, held), ramp(held, after));
        let all = [(begin, before), (begin + slowing, held), (end - leaving, held), (end, after)];
        Some(all.map(|(time, speed)| Point { line: 0, time, speed, made_good: Some(speed) }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Way under its points, m.
    fn way(points: &[Point]) -> f64 {
        points.windows(2).map(|p| 0.5 * (p[0].speed + p[1].speed) * (p[1].time - p[0].time)).sum()
    }

    #[test]
    fn it_covers_the_way_between_the_positions_or_stands() {
        for (lasts, gone, sides) in [(17.0, 62.0, (4.0, 4.0)), (60.0, 300.0, (8.0, 0.0)), (11.0, 60.0, (8.0, 8.0))] {
            let one = Unrecorded { line: 9, from: 5.0, to: 5.0 + lasts, way: gone };
            let mut report = Cleaning::default();
            let points = one.ridden((one.from, sides.0), (one.to, sides.1), &mut report).expect("ridden");
            assert!((way(&points) / gone - 1.0).abs() < 1e-9, "{points:?}");
            assert_eq!((points[0].speed, points[3].speed, report.stood), (sides.0, sides.1, 0));
            assert!(points.windows(2).all(|p| p[1].time >= p[0].time), "{points:?}");
        }
        for (lasts, gone, sides) in [(600.0, 3.0, (0.0, 0.0)), (600.0, 40.0, (8.0, 0.0)), (12.0, 5.0, (0.0, 0.0))] {
            let one = Unrecorded { line: 9, from: 0.0, to: lasts, way: gone };
            let mut report = Cleaning::default();
            let points = one.ridden((one.from, sides.0), (one.to, sides.1), &mut report).expect("stood");
            assert_eq!((points[1].speed, points[2].speed), (0.0, 0.0), "{points:?}");
            assert_eq!((report.stood, report.stood_time, report.moved_way), (1, lasts, 0.0));
        }
        let far = Unrecorded { line: 9, from: 0.0, to: 600.0, way: 1200.0 };
        assert_eq!(far.ridden((0.0, 5.0), (600.0, 5.0), &mut Cleaning::default()), None);
    }
}
