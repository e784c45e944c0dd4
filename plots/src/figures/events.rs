//! Events of a run as strips above the time axis: driving, motor off, oiled.

use crate::figures::rests::Times;
use crate::sheet::hues;
use crate::sheet::palette::colour;
use crate::sheet::strip::Strip;
use slipsoak_engine::names::Happening;
use slipsoak_engine::record::Run;

/// Strips of a run over its times; none if blocks were skipped, because their events are not listed.
pub fn strips(run: &Run, times: &Times) -> Vec<Strip> {
    if run.horizon.is_some() || run.events.is_empty() {
        return vec![];
    }
    let strip = |name, order, spans: Vec<(f64, f64)>, moments| Strip { name, ink: colour(order), spans, moments };
    let all = [
        strip("moving", hues::OUTSIDE, spans(run, times, &[Happening::SetsOff], &[Happening::Stops]), vec![]),
        strip(
            "motor off",
            hues::MOTOR,
            spans(run, times, &[Happening::SwitchedOff, Happening::Stalls], &[Happening::MotorStarts]),
            vec![],
        ),
        strip("oiled", hues::OIL, vec![], moments(run, times, &[Happening::Oiled, Happening::Greased])),
    ];
    all.into_iter().filter(|strip| !strip.spans.is_empty() || !strip.moments.is_empty()).collect()
}

/// Whether there were too many launches to list. Then their strip is missing, and the others may end before the run.
pub fn cut(run: &Run) -> bool {
    run.events_left_out > 0 && !run.events.iter().any(|event| event.what == Happening::SetsOff)
}

fn moments(run: &Run, times: &Times, what: &[Happening]) -> Vec<f64> {
    run.events.iter().filter(|event| what.contains(&event.what)).map(|event| times.at(event.time)).collect()
}

/// Time spans from each event of one kind to the next of another, or to the last listed event or the end of the run.
fn spans(run: &Run, times: &Times, from: &[Happening], to: &[Happening]) -> Vec<(f64, f64)> {
    let (mut all, mut open) = (vec![], None);
    for event in &run.events {
        let what = event.what;
        if from.contains(&what) {
            open = open.or(Some(event.time));
        } else if to.contains(&what)
            && let Some(start) = open.take()
        {
            all.push((times.at(start), times.at(event.time)));
        }
    }
    let end = if cut(run) { run.events.last().map_or(0.0, |e| e.time) } else { run.duration };
    all.extend(open.map(|start| (times.at(start), times.at(end))));
    all
}
