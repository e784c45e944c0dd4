//! A recorded ride as a machine rides it again: what cleaning did to the recording, its launches and what each cost the lining.

use super::head::Head;
use super::kind::{Document, Is, Kind};
use super::sound::{require, sound};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A recorded ride on one machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Retraced {
    /// which kind of document it is
    pub kind: Is<Retraced>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// name of the recording, without its folder
    pub file: String,
    /// SHA-256 of its text, hexadecimal
    pub file_hash: String,
    /// the machine
    pub machine: String,
    /// what cleaning did
    pub recording: Cleaning,
    /// the same in sentences
    pub cleaned: Vec<String>,
    /// lock-up speed: at a lower held speed the clutch slips, m/s
    pub lock_speed: f64,
    /// launches from standstill
    pub launches: Vec<Launch>,
    /// slip heat of the launches and of the whole ride, J
    pub heat: (f64, f64),
    /// distance that the machine covered, m
    pub distance: f64,
    /// hottest lining, K
    pub lining: f64,
    /// the lining's limit, K
    pub lining_most: f64,
    /// (least, most, launches) of each class of energy, J
    pub classes: Vec<(f64, f64, u64)>,
    /// (time s, wanted m/s, ridden m/s)
    pub speeds: Vec<(f64, f64, f64)>,
    /// what the run warns of
    pub warnings: Vec<String>,
}

impl Document for Retraced {
    const KIND: Kind = Kind::Retraced;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        require(self.speeds.len() > 1, "speeds", "it has fewer than two rows")?;
        let rising = self.speeds.windows(2).all(|w| w[1].0 > w[0].0);
        require(rising, "speeds", "its times do not rise")?;
        sound(self.speeds.iter().flat_map(|s| [s.0, s.1, s.2]), "speeds")?;
        sound(self.launches.iter().flat_map(|l| [l.time, l.slipped, l.energy]), "launches")?;
        sound(self.classes.iter().flat_map(|c| [c.0, c.1]), "classes")
    }
}

impl Retraced {
    /// Sentences on the launches in which the clutch did not lock: those ridden below the lock-up speed, and the others.
    pub fn unlocked(&self) -> Vec<String> {
        let (slow, other): (Vec<&Launch>, Vec<&Launch>) =
            self.launches.iter().filter(|l| !l.locked).partition(|l| l.fastest < self.lock_speed);
        let launches = |n: usize| if n == 1 { "1 launch".to_owned() } else { format!("{n} launches") };
        let mut all = vec![];
        if !slow.is_empty() {
            let speed = crate::say::road_speed(self.lock_speed);
            let n = launches(slow.len());
            all.push(format!("{n} never locked: the speed stayed below the lock-up speed of {speed}, where the clutch slips all the time."));
        }
        if !other.is_empty() {
            let n = launches(other.len());
            all.push(format!(
                "{n} did not lock: the throttle closed or the machine stopped before the clutch had caught up."
            ));
        }
        all
    }
}

/// One launch from standstill.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Launch {
    /// the vehicle sets off, s
    pub time: f64,
    /// how long the clutch slipped from its engagement on, s
    pub slipped: f64,
    /// slip heat in that time, J
    pub energy: f64,
    /// whether it locked before it stopped or let go again
    pub locked: bool,
    /// greatest speed of the vehicle in that time, m/s
    pub fastest: f64,
}

/// What cleaning found and did.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cleaning {
    /// points in the file
    pub points: u64,
    /// left out: the time was there already
    pub repeated: u64,
    /// left out: the time lay before its forerunner's
    pub backward: u64,
    /// left out: faster than a small machine, or changing speed faster than a wheel can
    pub jumps: u64,
    /// stretches longer than 10 s without a point, bridged by a straight line
    pub gaps: u64,
    /// their time together, s
    pub gap_time: f64,
    /// standard deviation of the speed at rest, m/s; 0 where none is seen, and of positions
    pub noise: f64,
    /// points too slow to be told from noise or from GPS drift, counted as standing
    pub standing: u64,
    /// slower than this counts as standing, m/s; 0 where nothing was evened out
    pub slow: f64,
    /// points joined into one a second
    pub joined: u64,
    /// greatest change of a speed by averaging it with its neighbours, m/s
    pub evened: f64,
    /// time to either side over which it was averaged, s
    pub evened_over: f64,
    /// columns of the file that were not used
    pub ignored: Vec<String>,
    /// points on a straight line between their neighbours, within 0.25 m/s: dropped
    pub straightened: u64,
    /// points of the trace
    pub kept: u64,
    /// time taken off at the start so that it begins at 0, s
    pub shifted: f64,
    /// line of the first point left out; 0 if none was
    pub first_left_out: u64,
    /// length of the trace, s
    pub duration: f64,
    /// the same, m
    pub distance: f64,
}
