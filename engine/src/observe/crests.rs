//! Crests: temperatures that are highest within a step.

use super::channels::values;
use crate::integrate::Step;
use crate::model::{Assembly, PARTS, state};
use crate::names::{Channel, Row};

/// Height of a maximum within a step over its ends from which it is looked for, K.
const CREST: f64 = 5e-3;
/// Number of times that the place of a maximum is bettered.
const CLIMBS: u32 = 2;

/// Values at a share of a step.
fn inside(assembly: &Assembly, step: &Step<'_>, share: f64) -> Row {
    let mut y = step.inside(share);
    for oil in &mut y[state::PORES..=state::SOAKED] {
        *oil = oil.max(0.0);
    }
    values(assembly, &y, &step.slow_inside(share))
}

/// Where the parabola through three points is highest between the outer two, and its height there.
fn vertex([(a, fa), (b, fb), (c, fc)]: [(f64, f64); 3]) -> Option<(f64, f64)> {
    let (left, right) = ((fb - fa) / (b - a), (fc - fb) / (c - b));
    let bend = (right - left) / (c - a);
    let at = 0.5 * (a + b) - 0.5 * left / bend;
    (bend < 0.0 && a < at && at < c && at != b).then_some((at, fa + (at - a) * (left + (at - b) * bend)))
}

/// Three points round the highest of these four.
fn closer([a, b, c]: [(f64, f64); 3], new: (f64, f64)) -> [(f64, f64); 3] {
    match (new.0 < b.0, new.1 > b.1) {
        (true, true) => [a, new, b],
        (true, false) => [new, b, c],
        (false, true) => [b, new, c],
        (false, false) => [a, b, new],
    }
}

/// Shares of a step at which temperatures are highest in between, and the values there, if they are higher than the greatest
/// so far.
pub(super) fn crests(
    assembly: &Assembly,
    step: &Step<'_>,
    [start, middle, end]: [&Row; 3],
    most: &Row,
) -> Vec<(f64, Row)> {
    let mut found: Vec<(f64, Row)> = vec![];
    for (part, channel) in PARTS {
        let k = channel as usize;
        let higher = |value: f64| value > most[k].max(start[k]).max(end[k]) + CREST;
        if channel != Channel::LiningSurface {
            if let Some((share, _)) = step.crest(part).filter(|crest| higher(crest.1)) {
                found.push((share, inside(assembly, step, share)));
            }
            continue;
        }
        // The rubbed face follows the friction as well as its cell.
        let mut known = [(0.0, start[k]), (0.5, middle[k]), (1.0, end[k])];
        for _ in 0..CLIMBS {
            let Some((share, _)) = vertex(known).filter(|crest| higher(crest.1)) else { break };
            let row = inside(assembly, step, share);
            known = closer(known, (share, row[k]));
            found.push((share, row));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found
}
