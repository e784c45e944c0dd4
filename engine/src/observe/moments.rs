//! Moments that show how a clutch heats and cools: its hottest lining, the stop, and the rest after it.

use crate::document::record::Moment;
use crate::names::{Channel, MomentOf, Row};

const LINING: usize = Channel::LiningSurface as usize;

/// Moments after the stop, s, and their names.
const AFTER: [(f64, MomentOf); 2] = [(120.0, MomentOf::After2Min), (1800.0, MomentOf::After30Min)];

/// One ride and the rest after it.
#[derive(Clone, Debug, Default)]
struct Ride {
    hottest: Option<(f64, Row)>,
    standstill: Option<(f64, Row)>,
    off: Option<(f64, Row)>,
    after: [Option<(f64, Row)>; AFTER.len()],
}

/// The present ride, and the most informative so far.
#[derive(Clone, Debug, Default)]
pub(super) struct Moments {
    now: Ride,
    best: Ride,
    last: Option<(f64, Row)>,
    /// the values before the last
    earlier: Option<(f64, Row)>,
}

impl Moments {
    /// Adds the values at a time.
    pub fn see(&mut self, time: f64, row: &Row) {
        if let Some(off) = &self.now.off {
            for (place, (wait, _)) in self.now.after.iter_mut().zip(AFTER) {
                let at = off.0 + wait;
                if place.is_none() && time >= at {
                    *place = Some((at, between(self.earlier.as_ref(), self.last.as_ref(), (time, row), at)));
                }
            }
            self.earlier = self.last.replace((time, *row));
            return;
        }
        if self.now.hottest.as_ref().is_none_or(|hot| row[LINING] > hot.1[LINING]) {
            self.now.hottest = Some((time, *row));
        }
    }

    /// Marks that the vehicle comes to rest.
    pub fn halt(&mut self, time: f64, row: &Row) {
        if self.now.off.is_none() {
            self.now.standstill = Some((time, *row));
        }
    }

    /// Marks that the motor is switched off or stalls.
    pub fn switch_off(&mut self, time: f64, row: &Row) {
        if self.now.off.is_none() {
            self.now.off = Some((time, *row));
            (self.earlier, self.last) = (None, self.now.off);
        }
    }

    /// Begins a new ride, also after a jump in time.
    pub fn begin(&mut self) {
        let ride = std::mem::take(&mut self.now);
        if ride.rank() > self.best.rank() {
            self.best = ride;
        }
        (self.last, self.earlier) = (None, None);
    }

    /// The moments of the ride with the longest rest; ties: the hottest lining.
    pub fn kept(&self) -> Vec<Moment> {
        let mut all = self.clone();
        all.begin();
        let ride = all.best;
        let stop =
            ride.off.map(|off| (MomentOf::MotorOff, off)).or(ride.standstill.map(|halt| (MomentOf::Standstill, halt)));
        let after = AFTER.iter().zip(ride.after).filter_map(|((_, name), kept)| Some((*name, kept?)));
        let moments = ride.hottest.map(|hot| (MomentOf::HottestLining, hot)).into_iter().chain(stop).chain(after);
        moments.map(|(what, (time, row))| Moment { what, time, values: row.to_vec() }).collect()
    }
}

impl Ride {
    /// Rank of a ride: number of moments of its rest, then the lining temperature.
    fn rank(&self) -> (usize, f64) {
        let rests = self.after.iter().flatten().count() + usize::from(self.off.is_some());
        (rests, self.hottest.map_or(f64::NEG_INFINITY, |hot| hot.1[LINING]))
    }
}

/// Interpolated values at a time between the last and the present ones: on a parabola through both and those before, or
/// on a straight line.
fn between(earlier: Option<&(f64, Row)>, last: Option<&(f64, Row)>, (time, row): (f64, &Row), at: f64) -> Row {
    let Some((t1, y1)) = last.filter(|last| last.0 < time) else { return *row };
    let share = ((at - t1) / (time - t1)).clamp(0.0, 1.0);
    let straight = |k: usize| y1[k] + share * (row[k] - y1[k]);
    let Some((t0, y0)) = earlier.filter(|earlier| earlier.0 < *t1) else { return std::array::from_fn(straight) };
    let bend = (at - t1) * (at - time) / (time - t0);
    std::array::from_fn(|k| straight(k) + bend * ((row[k] - y1[k]) / (time - t1) - (y1[k] - y0[k]) / (t1 - t0)))
}
