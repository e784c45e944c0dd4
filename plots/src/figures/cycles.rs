//! Temperatures over the hours that a motor runs: the hottest of each launch's cycle, and the last quarter.

use crate::figures::moment;
use crate::figures::temperatures::hides_rides;
use crate::sheet::prelude::*;
use crate::words::reading::celsius;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::Run;
use std::collections::VecDeque;

/// Start of the last quarter, as a share of the time shown.
const LATE: f64 = 0.75;

/// Values of a run's windows: time, s of the motor running, and least, mean and greatest, °C.
type Values = Vec<(f64, [f64; 3])>;

/// Time that is shown of a run, s of the motor running: all of it, or of the span asked for; nothing if the run lacks the span.
pub(super) fn shown(run: &Run, look: &Look) -> (f64, f64) {
    if look.from.is_none() && look.to.is_none() {
        return (0.0, run.running_time);
    }
    let Some((from, to)) = moment::span(run, look) else { return (0.0, 0.0) };
    let w = &run.windows;
    let course = |time: f64| {
        let ends = w.spans().zip(&w.running).scan(0.0, |before, ((start, end), running)| {
            Some((start, end, std::mem::replace(before, *running), *running))
        });
        let inside = |(start, end, from, to): (f64, f64, f64, f64)| {
            from + (to - from) * ((time - start) / (end - start)).clamp(0.0, 1.0)
        };
        ends.take_while(|window| window.0 <= time).last().map_or(0.0, inside)
    };
    (course(from), course(to))
}

/// Values of the windows, the time at the window's end. Windows in which the motor stands add none; windows so long that they
/// contain rests have their greatest value alone.
fn windows(run: &Run, channel: Channel) -> Values {
    let w = &run.windows;
    let mut last = 0.0;
    let ran = |(k, running): (usize, &f64)| {
        let moved = *running > last;
        last = *running;
        let rows = if hides_rides(run) { [&w.most; 3] } else { [&w.least, &w.mean, &w.most] };
        moved.then(|| (*running, rows.map(|rows| celsius(channel.of(&rows[k])))))
    };
    w.running.iter().enumerate().filter_map(ran).collect()
}

/// Values of the windows within the time that is shown, counted from its start.
pub(super) fn values(run: &Run, channel: Channel, look: &Look) -> Values {
    let (from, to) = shown(run, look);
    let within = windows(run, channel).into_iter().filter(|(time, _)| *time > from && *time <= to * (1.0 + 1e-9));
    within.map(|(time, row)| (time - from, row)).collect()
}

/// The hottest of each cycle within the time that is shown, from its start.
pub(super) fn line(run: &Run, channel: Channel, look: &Look) -> Vec<Place> {
    let (from, to) = shown(run, look);
    let all = hottest(cycle(run), &windows(run, channel)).into_iter();
    all.filter(|(time, _)| *time > from && *time <= to * (1.0 + 1e-9))
        .map(|(time, value)| (time - from, value))
        .collect()
}

/// Duration of a cycle, from one launch to the next on average and a little longer, s; 0 if there are no two.
fn cycle(run: &Run) -> f64 {
    if run.launches > 1 { 1.05 * run.running_time / run.launches as f64 } else { 0.0 }
}

/// Greatest value within a cycle before each time, so that a comb of launches becomes one line.
fn hottest(cycle: f64, values: &[(f64, [f64; 3])]) -> Vec<Place> {
    let mut best: VecDeque<Place> = VecDeque::new();
    let mut line = vec![];
    for (time, [_, _, most]) in values {
        while best.back().is_some_and(|last| last.1 <= *most) {
            best.pop_back();
        }
        best.push_back((*time, *most));
        while best.front().is_some_and(|first| first.0 < time - cycle) {
            best.pop_front();
        }
        line.extend(best.front().map(|first| (*time, first.1)));
    }
    line
}

/// Coolest, mean and hottest in the last quarter.
pub(super) fn late(values: &[(f64, [f64; 3])]) -> Option<[f64; 3]> {
    let from = LATE * values.last()?.0;
    let late: Vec<[f64; 3]> = values.iter().filter(|value| value.0 >= from).map(|value| value.1).collect();
    let mean = late.iter().map(|row| row[1]).sum::<f64>() / late.len() as f64;
    Some([late.iter().map(|row| row[0]).fold(f64::INFINITY, f64::min), mean, extent(late.iter().map(|row| row[2])).1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hottest_of_each_cycle_is_the_greatest_within_one_before() {
        // Ten launches in 1000 s: cycles of 100 s, each with a peak that rises by 2 K, 10 s after its start.
        let value = |k: i32| if k % 10 == 1 { 100.0 + 2.0 * f64::from(k / 10) } else { 50.0 };
        let values: Vec<(f64, [f64; 3])> = (0..100).map(|k| (10.0 * f64::from(k), [0.0, 0.0, value(k)])).collect();
        let line = hottest(105.0, &values);
        let from_first = line.iter().skip(1).map(|point| point.1).collect::<Vec<_>>();
        assert!(from_first.is_sorted() && from_first[0] == 100.0 && from_first[98] == 118.0, "{from_first:?}");
        assert_eq!(late(&values), Some([0.0, 0.0, 118.0]));
        // A run of one launch has no cycle.
        assert!(hottest(0.0, &values).iter().zip(&values).all(|(point, value)| point.1 == value.1[2]));
    }
}
