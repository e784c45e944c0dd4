//! Lines of equal margin over the idle across the cells of a sweep that crosses engagement and idle.

use crate::sheet::prelude::*;
use slipsoak_engine::parts::settings;
use slipsoak_engine::sweep::Axis as Varied;
use slipsoak_engine::units::RPM;

/// Margins over the idle, rpm, and their labels.
const MARGINS: [(f64, &str); 3] = [(0.0, "at idle"), (50.0, "+50"), (200.0, "+200 rpm")];
/// Width of a cell that has room for a label beside its number, px.
const ROOMY: f64 = 90.0;
/// Largest distance of a label from the end of its line, px.
const NEAR: f64 = 8.0;
/// Number of points of each line.
const STEPS: u32 = 64;

/// Which of two axes is the engagement, if the other one is the idle: the first or the second.
fn engagement(first: &Varied, second: &Varied) -> Option<usize> {
    let is = |axis: &Varied, path: &str| axis.name == path && axis.values.len() > 1;
    let [engages, idle] = [settings::clutch::engagement.path, settings::motor::idle.path];
    match () {
        () if is(first, engages) && is(second, idle) => Some(0),
        () if is(second, engages) && is(first, idle) => Some(1),
        () => None,
    }
}

/// Whether the axes cross engagement and idle.
pub fn crosses(first: &Varied, second: Option<&Varied>) -> bool {
    second.is_some_and(|second| engagement(first, second).is_some())
}

/// Place of a value between the middles of cells, in cells from the first middle; none beyond half a cell from the last.
fn place(axis: &Varied, value: f64) -> Option<f64> {
    let values = &axis.values;
    let k = values.partition_point(|v| *v < value).clamp(1, values.len() - 1);
    let at = (k - 1) as f64 + (value - values[k - 1]) / (values[k] - values[k - 1]);
    (-0.5..=values.len() as f64 - 0.5).contains(&at).then_some(at)
}

/// Draws the lines over the cells in a frame, with their labels where they leave it at its top or right; beside narrow cells upright.
pub fn draw(sheet: &Sheet<'_>, (first, second): (&Varied, &Varied), frame: Frame) -> Result<(), DrawError> {
    let Some(engages) = engagement(first, second) else { return Ok(()) };
    let (wide, high) =
        (frame.wide() / first.values.len() as f64, (frame.bottom - frame.top) / second.values.len() as f64);
    let idles = if engages == 0 { second } else { first };
    let half = 0.5 * (idles.values[1] - idles.values[0]);
    let (from, to) = (idles.values[0] - half, idles.values[idles.values.len() - 1] + half);
    let mut free = f64::NEG_INFINITY;
    let mut beside: Vec<(f64, f64)> = vec![];
    for (margin, words) in MARGINS {
        let point = |k: u32| {
            let idle = from + (to - from) * f64::from(k) / f64::from(STEPS);
            let (x, y) = if engages == 0 { (idle + margin * RPM, idle) } else { (idle, idle + margin * RPM) };
            Some((frame.left + wide * (place(first, x)? + 0.5), frame.bottom - high * (place(second, y)? + 0.5)))
        };
        let line: Vec<Place> = (0..=STEPS).filter_map(point).collect();
        let Some(last) = line.last().copied() else { continue };
        let (ink, dash) = if margin == 0.0 { (TEXT, None) } else { (TEXT, LIMIT_DASH) };
        sheet.line(&line, PAPER, 3.6, None)?;
        sheet.line(&line, ink, 1.4, dash)?;
        let set = Type::TICK.side(0);
        let long = width_of(words, set)?;
        // The first ends above its line, so that the next has room beside it.
        let start = if free.is_finite() { (last.0 - 0.5 * long).max(free) } else { last.0 + 4.0 - long };
        if last.1 < frame.top + 4.0 && start < last.0 + NEAR {
            sheet.text(words, (start, frame.top - 9.0), set.side(-1))?;
            free = start + long + 4.0;
        } else if last.0 > frame.right - 0.1 * wide && wide > ROOMY {
            sheet.on_paper(words, (last.0 - 4.0, last.1 - 9.0), set.side(1))?;
        } else if last.0 > frame.right - 0.1 * wide {
            let (high, low) = (last.1 - 0.5 * long, last.1 + 0.5 * long);
            if beside.iter().all(|taken| low < taken.0 || taken.1 < high) {
                sheet.text(words, (frame.right + 7.0, last.1), Type::TICK.upright())?;
                beside.push((high - 4.0, low + 4.0));
            }
        }
    }
    Ok(())
}
