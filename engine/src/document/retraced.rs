//! A recorded ride repeated by a machine: changes by cleaning, launches, and the slip energy of each.

use super::Is;
use super::head::Head;
use super::sound::{require, sound};
use super::warning::Warning;
use crate::names::IdleKind;
use serde::{Deserialize, Serialize};

/// A recorded ride on one machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Retraced {
    /// kind of document
    pub kind: Is<Retraced>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// name of the recording, without its folder
    pub file: String,
    /// SHA-256 of its text, hexadecimal
    pub file_hash: String,
    /// the machine
    pub machine: String,
    /// slope on which all of it was ridden, rise over run
    pub grade: f64,
    /// changes made by cleaning
    pub recording: Cleaning,
    /// lock-up speed: at a lower held speed the clutch slips, m/s
    pub lock_speed: f64,
    /// launches from standstill
    pub launches: Vec<Launch>,
    /// number of times that it set off by rolling, with no slip energy: no launches
    pub rolled: u64,
    /// slip energy of the launches and of the whole ride, J
    pub heat: (f64, f64),
    /// distance that the machine covered, m
    pub distance: f64,
    /// hottest lining, K
    pub lining: f64,
    /// the lining's limit, K
    pub lining_most: f64,
    /// (least, greatest, number of launches) of each class of slip energy, J
    pub classes: Vec<(f64, f64, u64)>,
    /// (time s, target m/s, actual m/s)
    pub speeds: Vec<(f64, f64, f64)>,
    /// engagement speed of the weakest spring, cold and new, rad/s
    pub engagement: f64,
    /// idle speed, rad/s
    pub idle: f64,
    /// what holds it
    #[serde(default)]
    pub idle_kind: IdleKind,
    /// warnings of the run
    pub warnings: Vec<Warning>,
}

impl Retraced {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        require(self.speeds.len() > 1, "speeds", "it has fewer than two rows")?;
        let rising = self.speeds.windows(2).all(|w| w[1].0 > w[0].0);
        require(rising, "speeds", "its times do not rise")?;
        sound(self.speeds.iter().flat_map(|s| [s.0, s.1, s.2]), "speeds")?;
        sound(self.launches.iter().flat_map(|l| [l.time, l.slipped, l.energy]), "launches")?;
        sound(self.classes.iter().flat_map(|c| [c.0, c.1]), "classes")
    }
}

impl Retraced {
    /// Numbers of launches that did not lock up: those ridden below the lock-up speed, and the others.
    pub fn unlocked(&self) -> (usize, usize) {
        let (slow, other): (Vec<&Launch>, Vec<&Launch>) =
            self.launches.iter().filter(|l| !l.locked).partition(|l| l.fastest < self.lock_speed);
        (slow.len(), other.len())
    }
}

/// One launch from standstill.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Launch {
    /// time at which the vehicle sets off, s
    pub time: f64,
    /// duration of slip from engagement, s
    pub slipped: f64,
    /// slip energy in that time, J
    pub energy: f64,
    /// whether it locked up before it stopped or disengaged
    pub locked: bool,
    /// highest speed of the vehicle in that time, m/s
    pub fastest: f64,
}

/// Findings and changes of cleaning.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Cleaning {
    /// number of points in the file
    pub points: u64,
    /// dropped: repeated time
    pub repeated: u64,
    /// dropped: time before that of the point before
    pub backward: u64,
    /// dropped: faster than a small machine, or with a larger acceleration than a wheel can have
    pub jumps: u64,
    /// intervals longer than 10 s without a point: those of speeds are bridged by a straight line
    pub gaps: u64,
    /// their total time, s
    pub gap_time: f64,
    /// those in which the machine stood, by the positions on both sides
    pub stood: u64,
    /// their total time, s
    pub stood_time: f64,
    /// distance between the positions on both sides of the others, m; 0 for speeds
    pub moved_way: f64,
    /// speed at which it begins, if the machine did not set off then, m/s; 0 if it did
    pub begins: f64,
    /// range of the altitudes recorded with positions, m, which are not used; 0 without
    pub climbs: f64,
    /// standard deviation of the speed at rest, m/s; 0 if there is none, and for positions
    pub noise: f64,
    /// points slower than noise or GPS drift, counted as standing
    pub standing: u64,
    /// speed below which points count as standing, m/s; 0 if nothing was smoothed
    pub slow: f64,
    /// points joined into one a second
    pub joined: u64,
    /// largest change of a speed by smoothing, m/s
    pub evened: f64,
    /// time on either side over which speeds were averaged, s
    pub evened_over: f64,
    /// unused columns of the file
    pub ignored: Vec<String>,
    /// points on a straight line between their neighbours, within 0.25 m/s: dropped
    pub straightened: u64,
    /// points of the recording that the trace keeps: all but those dropped and joined
    pub kept: u64,
    /// time subtracted so that the trace begins at 0, s
    pub shifted: f64,
    /// line of the first dropped point; 0 if none was dropped
    pub first_left_out: u64,
    /// duration of the trace, s
    pub duration: f64,
    /// length of the trace, m
    pub distance: f64,
}
