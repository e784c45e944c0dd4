//! Time axis with long rests folded, so that rides a week apart are not mere spikes.

use crate::figures::reading::clock;
use crate::sheet::axis::round_step;
use crate::sheet::strip::Fold;
use crate::words::number::number;
use slipsoak_engine::record::Run;
use slipsoak_engine::units::HOUR;

/// Ratio of window lengths in a rest and in a ride from which the rest is folded: that is after an hour, when a clutch
/// has cooled.
const RESTING: f64 = 16.0;
/// The shortest fold, s.
const SHORTEST: f64 = 3600.0;
/// Width of a fold, as a share of the unfolded time.
const WIDE: f64 = 0.04;

/// Time axis of a run.
#[derive(Clone)]
pub struct Times {
    /// seconds per unit of the axis
    per: f64,
    unit: &'static str,
    /// folded rests, s
    folds: Vec<(f64, f64)>,
    /// width of each fold, s
    wide: f64,
    duration: f64,
    /// time from which it counts, s, and its name if it was asked for
    zero: f64,
    since: String,
}

impl Times {
    /// Time axis of a span of a run, s, that counts from its start; `since`: the start as it was asked for.
    pub fn span((from, to): (f64, f64), since: String) -> Self {
        let (per, unit) = clock(to - from);
        Self { per, unit, folds: vec![], wide: 0.0, duration: to, zero: from, since }
    }

    /// Time axis of a run. Rests are folded if they make up most of the run; otherwise the axis suits a run of this
    /// many seconds.
    pub fn of(run: &Run, longest: f64) -> Self {
        let folds = long_rests(run);
        let folded: f64 = folds.iter().map(|(from, to)| to - from).sum();
        if folded > 0.5 * run.duration {
            let shown = run.duration - folded;
            let (per, unit) = clock(shown / (folds.len() + 1) as f64);
            return Self {
                per,
                unit,
                wide: WIDE * shown,
                folds,
                duration: run.duration,
                zero: 0.0,
                since: String::new(),
            };
        }
        let (per, unit) = clock(longest);
        Self { per, unit, folds: vec![], wide: 0.0, duration: run.duration, zero: 0.0, since: String::new() }
    }

    /// Position of a time, s, in units of the axis; within a fold by its share of the rest.
    pub fn at(&self, time: f64) -> f64 {
        let past = |(from, to): &(f64, f64)| (time.clamp(*from, *to) - from) * (1.0 - self.wide / (to - from));
        (time - self.zero - self.folds.iter().map(past).sum::<f64>()) / self.per
    }

    /// The time at a position, s.
    pub fn time(&self, at: f64) -> f64 {
        let (mut from, mut to) = (self.zero, self.duration);
        for _ in 0..40 {
            let middle = f64::midpoint(from, to);
            if self.at(middle) < at { from = middle } else { to = middle }
        }
        to
    }

    /// Whether a time, s, is in a fold.
    pub fn folded(&self, time: f64) -> bool {
        self.folds.iter().any(|(from, to)| time > *from && time < *to)
    }

    /// Ends of the axis.
    pub fn range(&self) -> (f64, f64) {
        (self.at(self.zero), self.at(self.duration))
    }

    /// Title of the axis.
    pub fn title(&self) -> String {
        if !self.since.is_empty() {
            format!("{} from “{}”", self.unit, self.since)
        } else if self.folds.is_empty() {
            format!("time, {}", self.unit)
        } else {
            format!("time since each start, {}; grey: rest left out", self.unit)
        }
    }

    /// The folds on the axis, each with its duration as text.
    pub fn folds(&self) -> Vec<Fold> {
        let one = |(from, to): &(f64, f64)| Fold { from: self.at(*from), to: self.at(*to), words: lasting(to - from) };
        self.folds.iter().map(one).collect()
    }

    /// Smallest step between ticks, in units of the axis; in minutes those that divide an hour.
    fn step(&self, least: f64) -> f64 {
        let of_an_hour = [1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0].into_iter().find(|step| *step >= least);
        of_an_hour.filter(|_| self.per < HOUR).unwrap_or_else(|| round_step(least))
    }

    /// Ticks that count from each start, if rests are folded.
    pub fn ticks(&self) -> Option<Vec<(f64, String)>> {
        let starts = std::iter::once(0.0).chain(self.folds.iter().map(|fold| fold.1));
        let ends = self.folds.iter().map(|fold| fold.0).chain([self.duration]);
        let stretches: Vec<(f64, f64)> = starts.zip(ends).map(|(from, to)| (self.at(from), self.at(to))).collect();
        let step = self.step(self.range().1 / 12.0);
        let within = |(from, to): &(f64, f64)| {
            // The last third of a step is left free for the next start.
            let count = if to - from > 1e-3 * step { (((to - from) / step + 2.0 / 3.0) as u32).max(1) } else { 0 };
            let from = *from;
            (0..count).map(move |k| f64::from(k) * step).map(move |past| (from + past, number(past, step)))
        };
        (!self.folds.is_empty()).then(|| stretches.iter().flat_map(within).collect())
    }
}

/// The rest periods after about their first hour, s, recognised by the record's longer windows.
fn long_rests(run: &Run) -> Vec<(f64, f64)> {
    if run.horizon.is_some() {
        return vec![];
    }
    let long = run.windows.spans().filter(|(from, to)| to - from > RESTING * run.windows.length);
    let mut rests: Vec<(f64, f64)> = vec![];
    for (from, to) in long {
        match rests.last_mut() {
            Some(last) if last.1 == from => last.1 = to,
            _ => rests.push((from, to)),
        }
    }
    rests.retain(|(from, to)| to - from > SHORTEST);
    rests
}

/// A duration in two units: 6 d 23 h.
fn lasting(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round();
    let (days, hours) = ((minutes / 1440.0).floor(), (minutes / 60.0).floor() % 24.0);
    if days > 0.0 { format!("{days} d {hours} h") } else { format!("{hours} h {} min", minutes % 60.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rides() -> Times {
        let hour = 3600.0;
        // A ride of an hour, a rest of ten hours of which one is shown, and a ride of an hour.
        Times {
            per: 60.0,
            unit: "minutes",
            folds: vec![(2.0 * hour, 11.0 * hour)],
            wide: 0.1 * hour,
            duration: 12.0 * hour,
            zero: 0.0,
            since: String::new(),
        }
    }

    #[test]
    fn time_outside_folds_keeps_its_scale() {
        let times = rides();
        assert_eq!([0.0, 7200.0].map(|t| times.at(t)), [0.0, 120.0]);
        assert!((times.at(39_600.0) - 126.0).abs() < 1e-9 && (times.at(43_200.0) - 186.0).abs() < 1e-9);
        assert!((times.at(23_400.0) - 123.0).abs() < 1e-9, "the middle of the fold");
        for time in [1800.0, 23_400.0, 41_400.0] {
            assert!((times.time(times.at(time)) - time).abs() < 1e-3, "{time} and back");
        }
        assert!(times.folded(7201.0) && !times.folded(7200.0) && !times.folded(39_600.0));
    }

    #[test]
    fn ticks_count_from_each_start() {
        let ticks = rides().ticks().expect("a fold");
        let words: Vec<&str> = ticks.iter().map(|tick| tick.1.as_str()).collect();
        assert_eq!(words, ["0", "30", "60", "90", "0", "30"]);
        assert!((ticks[4].0 - 126.0).abs() < 1e-9);
    }

    #[test]
    fn rests_are_given_in_two_units() {
        assert_eq!([5400.0, 604_800.0 - 3600.0].map(lasting), ["1 h 30 min", "6 d 23 h"]);
    }
}
