//! Clock of the recorder: runs normally while the motor runs or coasts, and ever slower while it stands.
//!
//! Without it, a week's rest between two rides would leave a window or less for each ride.

/// Largest clock time of a rest, s; its first tenth runs at almost normal rate.
const LONGEST: f64 = 1200.0;

/// Windows up to this clock length, s, end at the end of a rest of twenty minutes or more, so that none contains the
/// start of the next ride too.
const ROUND: f64 = 256.0;

/// A clock that shows t while the motor runs. After the motor has stood for τ the reading has advanced by τ·L / (τ +
/// L), with L the largest clock time of a rest.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct RestClock {
    /// time and reading when the motor last stopped or started, s
    since: (f64, f64),
    resting: bool,
}

impl RestClock {
    /// Slows the clock from a time on, s, while the motor stands, or returns it to normal. A service during a rest
    /// starts a new rest.
    pub fn rest(&mut self, time: f64, resting: bool, anew: bool) {
        if resting != self.resting || anew {
            let reading = self.reading(time);
            let long = self.resting && reading - self.since.1 >= 0.5 * LONGEST;
            self.since = (time, if long { (reading / ROUND).ceil() * ROUND } else { reading });
            self.resting = resting;
        }
    }

    /// Reading of the clock at a time, s.
    pub fn reading(&self, time: f64) -> f64 {
        let past = time - self.since.0;
        self.since.1 + if self.resting { past * LONGEST / (past + LONGEST) } else { past }
    }

    /// Time of a reading, s; infinite if the rest never reaches that reading.
    pub fn time(&self, reading: f64) -> f64 {
        let past = reading - self.since.1;
        match self.resting {
            true if past >= LONGEST => f64::INFINITY,
            true => self.since.0 + past * LONGEST / (LONGEST - past),
            false => self.since.0 + past,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_rest_advances_the_clock_ever_less_and_its_reading_inverts() {
        let mut clock = RestClock::default();
        assert_eq!(clock.reading(100.0), 100.0);
        clock.rest(100.0, true, false);
        // Twenty minutes' rest advance the clock by half: 1200·1200 / 2400 = 600 s.
        assert_eq!(clock.reading(1300.0), 700.0);
        assert!((clock.reading(100.0 + 7.0 * 86400.0) - 1297.62).abs() < 0.01);
        for time in [100.0, 130.0, 1300.0, 604_900.0] {
            assert!((clock.time(clock.reading(time)) - time).abs() < 1e-9 * time);
        }
        assert!(clock.time(1300.0).is_infinite());
        let mut oiled = clock;
        oiled.rest(1300.0, true, true);
        // Started at the next round reading: 768 + 1200·1200 / 2400.
        assert_eq!(oiled.reading(2500.0), 1368.0);
        let mut short = clock;
        short.rest(700.0, false, false);
        // 1200·600 / 1800 = 400 s, and no rounding.
        assert_eq!((short.reading(760.0), short.time(560.0)), (560.0, 760.0));
        clock.rest(1300.0, false, false);
        assert_eq!((clock.reading(1360.0), clock.time(828.0)), (828.0, 1360.0));
    }
}
