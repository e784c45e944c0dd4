//! Launches from standstill, with the slip energy of each.

use crate::document::retraced::Launch;
use crate::names::Happening;

/// A time, s, and the slip energy until then, J.
type Slipped = (f64, f64);

/// A launch under way: from the clutch's engagement.
#[derive(Clone, Copy, Debug)]
struct UnderWay {
    from: Slipped,
    sets_off: f64,
    fastest: f64,
}

/// Launches of a machine, in order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Launches {
    done: Vec<Launch>,
    /// largest number kept
    most: usize,
    /// start and end of the latest step
    step: [Slipped; 2],
    engaged: Option<Slipped>,
    under_way: Option<UnderWay>,
}

impl Launches {
    /// None yet; at most this number is kept.
    pub fn new(most: usize) -> Self {
        Self { most, ..Self::default() }
    }

    /// Sees a step, and the vehicle's speed at its end, m/s.
    pub fn see(&mut self, step: [Slipped; 2], speed: f64) {
        self.step = step;
        if let Some(launch) = &mut self.under_way {
            launch.fastest = launch.fastest.max(speed);
        }
    }

    /// Hears of an event in the latest step or at its end.
    pub fn hear(&mut self, time: f64, what: Happening) {
        let now = self.slipped(time);
        match what {
            Happening::Engages => self.engaged = Some(now),
            Happening::SetsOff => {
                let from = self.engaged.unwrap_or(now);
                self.under_way = Some(UnderWay { from, sets_off: time, fastest: 0.0 });
            }
            Happening::Locks | Happening::Stops | Happening::Releases => {
                if let Some(launch) = self.under_way.take().filter(|_| self.done.len() < self.most) {
                    self.done.push(launch.until(now, what == Happening::Locks));
                }
                if what == Happening::Releases {
                    self.engaged = None;
                }
            }
            _ => {}
        }
    }

    /// All launches; one that is under way ends now.
    pub fn list(&self) -> Vec<Launch> {
        let last = self.under_way.map(|launch| launch.until(self.step[1], false));
        self.done.iter().copied().chain(last).collect()
    }

    /// Slip energy until a time in the latest step.
    fn slipped(&self, time: f64) -> Slipped {
        let [(from, before), (until, after)] = self.step;
        let share = ((time - from) / (until - from).max(1e-12)).clamp(0.0, 1.0);
        (time, before + (after - before) * share)
    }
}

impl UnderWay {
    fn until(self, (time, energy): Slipped, locked: bool) -> Launch {
        let (slipped, energy) = (time - self.from.0, energy - self.from.1);
        Launch { time: self.sets_off, slipped, energy, locked, fastest: self.fastest }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_launch_slips_from_engagement_until_it_locks_stops_or_lets_go_and_the_last_until_now() {
        let mut launches = Launches::new(9);
        launches.see([(0.0, 0.0), (4.0, 40.0)], 0.0);
        launches.hear(1.0, Happening::Engages);
        launches.hear(3.0, Happening::SetsOff);
        launches.see([(4.0, 40.0), (6.0, 140.0)], 5.0);
        launches.hear(6.0, Happening::Locks);
        // It stays engaged: the next launch slips from there on, until it stops.
        launches.hear(6.0, Happening::Engages);
        launches.hear(6.0, Happening::SetsOff);
        launches.see([(6.0, 140.0), (8.0, 160.0)], 2.0);
        let first = Launch { time: 3.0, slipped: 5.0, energy: 130.0, locked: true, fastest: 5.0 };
        let second = Launch { time: 6.0, slipped: 2.0, energy: 20.0, locked: false, fastest: 2.0 };
        assert_eq!(launches.list(), [first, second]);
        launches.hear(8.0, Happening::Releases);
        launches.hear(8.0, Happening::Stops);
        assert_eq!(launches.list(), [first, second]);
        launches.most = 2;
        launches.hear(8.0, Happening::SetsOff);
        launches.hear(8.0, Happening::Stops);
        assert_eq!(launches.list().len(), 2);
    }
}
