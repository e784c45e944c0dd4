//! Remaining life of each part over hours: as simulated, then carried on to the first part's end.

use crate::canvas::{FOOT, HEAD, Place, sheet};
use crate::palette::dash;
use crate::panel::{Curve, Frame, Panel};
use crate::reading::{PANELS, ended_by, hours, name, shown};
use crate::{DrawError, Drawing, Size};
use slipsoak_engine::record::{PartUse, Record, Run};

/// Longest axis, hours.
const MOST: f64 = 1e6;

/// Remaining life of a part over the run, by hours.
fn simulated(run: &Run, part: &PartUse) -> Vec<Place> {
    let windows = run.windows.end.iter().zip(&part.curve).map(|(end, used)| (end / 3600.0, 1.0 - used));
    std::iter::once((0.0, 1.0)).chain(windows).collect()
}

/// From the run's end on at the part's mean rate, up to a time, hours.
fn projected(part: &PartUse, from: Place, until: f64) -> Vec<Place> {
    match part.life.map(|life| life / 3600.0) {
        _ if from.0 >= until => vec![],
        Some(life) if life <= from.0 => vec![],
        Some(life) if life <= until => vec![from, (life, 0.0)],
        Some(life) => vec![from, (until, from.1 * (life - until) / (life - from.0))],
        None => vec![from, (until, from.1)],
    }
}

/// Curves of a run up to a time, hours; the part that ends first is bold.
fn curves(run: &Run, until: f64) -> Vec<Curve> {
    let first = ended_by(run).map(|end| end.0);
    let shown = run.parts.iter().filter(|part| part.part != "washer charring" || part.used > 0.0);
    let one = |(order, part): (usize, &PartUse)| {
        let points = simulated(run, part);
        let last = points.last().copied().unwrap_or((0.0, 1.0));
        let words = part.part.as_str();
        let life = part.life.filter(|life| life.is_finite());
        Curve {
            label: life.map_or_else(|| words.to_owned(), |life| format!("{words} {}", hours(life / 3600.0))),
            order,
            beyond: projected(part, last, until),
            points,
            band: vec![],
            dash: dash(order),
            bold: first == Some(part.part.as_str()),
        }
    };
    shown.enumerate().map(one).collect()
}

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let (runs, left_out) = shown(record, PANELS);
    let across = if runs.len() > 3 && size.width >= 900 { 2 } else { 1 };
    let rows = runs.len().div_ceil(across);
    let height = size.height.max((rows as f64 * 256.0 + HEAD + FOOT) as u32);
    let note = format!(
        "Thick: simulated; thin: carried on at its late rate. Leans on assumed wear constants: compare lives, do not count on them.{left_out}"
    );
    let describe = "One panel for each run; across: hours of this duty; upward: remaining life of each part, 1 − use.";
    sheet((size.width, height), &format!("Remaining life: {}", record.title), &note, describe, |sheet| {
        let body = Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: sheet.height - FOOT };
        for (run, frame) in runs.iter().zip(body.split(rows, across)) {
            let lasted = if run.duration.is_finite() { (run.duration / 3600.0).clamp(1e-3, MOST) } else { 1.0 };
            let first = ended_by(run);
            let until = first.map_or(lasted, |end| end.1).clamp(lasted, MOST);
            let panel = Panel {
                heading: name(record, run),
                verdict: first.map_or_else(
                    || "no part is being used up".to_owned(),
                    |(part, life)| format!("the {part} ends it after {}", hours(life)),
                ),
                across: "hours of this duty, rests included".to_owned(),
                up: "remaining life, %".to_owned(),
                second: None,
                x: (0.0, until),
                y: (0.0, 1.0),
                curves: curves(run, until),
                limits: vec![],
                room: if across == 1 { 200.0 } else { 178.0 },
                format_up: |y| Some(format!("{:.0}", 100.0 * y)),
            };
            panel.draw(sheet, frame)?;
        }
        Ok(())
    })
}
