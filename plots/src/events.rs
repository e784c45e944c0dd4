//! Events of a run as strips above the time axis: on the move, motor off, oiled.

use crate::panel::Strip;
use slipsoak_engine::record::Run;

/// Strips of a run over time in units of so many seconds; none where blocks were skipped, for their events are not listed.
pub fn strips(run: &Run, per: f64) -> Vec<Strip> {
    if run.horizon.is_some() || run.events.is_empty() {
        return vec![];
    }
    let strip = |name, order, spans: Vec<(f64, f64)>, moments| Strip { name, order, spans, moments };
    let all = [
        strip("moving", 6, spans(run, per, &["sets off"], &["stops"]), vec![]),
        strip("motor off", 4, spans(run, per, &["switched off", "stalls"], &["motor starts"]), vec![]),
        strip("oiled", 1, vec![], moments(run, per, &["oiled", "greased"])),
    ];
    all.into_iter().filter(|strip| !strip.spans.is_empty() || !strip.moments.is_empty()).collect()
}

fn moments(run: &Run, per: f64, what: &[&str]) -> Vec<f64> {
    run.events.iter().filter(|event| what.contains(&event.what.as_str())).map(|event| event.time / per).collect()
}

/// From each event of one kind to the next of another, or to the last event that is listed or the end of the run.
fn spans(run: &Run, per: f64, from: &[&str], to: &[&str]) -> Vec<(f64, f64)> {
    let (mut all, mut open) = (vec![], None);
    for event in &run.events {
        let what = event.what.as_str();
        if from.contains(&what) {
            open = open.or(Some(event.time));
        } else if to.contains(&what)
            && let Some(start) = open.take()
        {
            all.push((start / per, event.time / per));
        }
    }
    let end = if run.events_left_out > 0 { run.events.last().map_or(0.0, |e| e.time) } else { run.duration };
    all.extend(open.map(|start| (start / per, end / per)));
    all
}
