//! Remaining life of each part over hours: as simulated, then extrapolated to the end of the first part.

use crate::figures::chosen::shown;
use crate::figures::reading::rows_that_fit;
use crate::sheet::prelude::*;
use crate::words::learned::{constants, of_record};
use crate::words::part_findings;
use crate::words::reading::{End, brief, end, endless, oil_gone};
use crate::words::say;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{PartUse, Record, Run};
use slipsoak_engine::units::HOUR;

/// Height of a panel, px.
const PANEL: f64 = 256.0;
/// Room below a narrow panel for its labels, px.
const LABELS: f64 = 54.0;
/// Longest axis, hours.
const MOST: f64 = 1e6;
/// Times by which a life may be shorter than the longest on one axis.
const SHORT: f64 = 12.0;
/// Times by which hours with rests have to exceed those of running to be told apart from them.
const RESTS: f64 = 1.1;

/// Remaining life of a part over the run, against hours.
fn simulated(run: &Run, part: &PartUse) -> Vec<Place> {
    let windows = run.windows.end.iter().zip(&part.curve).map(|(end, used)| (end / HOUR, 1.0 - used));
    std::iter::once((0.0, 1.0)).chain(windows).collect()
}

/// Extrapolation from the run's end at the part's mean rate, up to a time, hours.
fn projected(part: &PartUse, from: Place, until: f64) -> Vec<Place> {
    match part.life.map(|life| life / HOUR) {
        _ if from.0 >= until => vec![],
        Some(life) if life <= from.0 => vec![],
        Some(life) if life <= until => vec![from, (life, 0.0)],
        Some(life) => vec![from, (until, from.1 * (life - until) / (life - from.0))],
        None => vec![from, (until, from.1)],
    }
}

/// Label of a curve's end.
fn label(part: &PartUse, life: Option<f64>) -> String {
    match life {
        Some(life) => format!("{} {}", brief(part.part), say::lasts(part.running.unwrap_or(life))),
        None if part.part == Part::Oil && part.used > 0.0 => "oil, no steady rate yet".to_owned(),
        None => brief(part.part).to_owned(),
    }
}

/// Curves of a run up to a time, hours; the part that wears out first is bold.
fn curves(run: &Run, until: f64) -> Vec<Curve> {
    let first = end(run).map(|end| end.part);
    // Springs that were given below their limit have nothing left that could be shown.
    let has_life = |part: &PartUse| match part.part {
        Part::Charring | Part::Seized => part.used > 0.01,
        Part::Spring => !run.springs_below_limit(),
        _ => true,
    };
    // Each part keeps its colour in every panel.
    let shown = run.parts.iter().filter(|part| has_life(part));
    let one = |part: &PartUse| {
        let points = simulated(run, part);
        let last = points.last().copied().unwrap_or((0.0, 1.0));
        let life = part.life.filter(|life| life.is_finite());
        Curve {
            beyond: if part.part == Part::Oil && life.is_none() { vec![] } else { projected(part, last, until) },
            bold: first == Some(part.part),
            said: brief(part.part).to_owned(),
            ..Curve::in_hue(label(part, life), hues::of_part(part.part), points)
        }
    };
    shown.map(one).collect()
}

/// Lives of a run's parts, so that lives that differ by 2 % differ by 1; −1 for a part without one.
fn prints(run: &Run) -> Vec<f64> {
    run.parts.iter().map(|part| part.life.map_or(-1.0, |life| 50.0 * life.max(1.0).ln())).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let high = if look.narrow() { PANEL + LABELS } else { PANEL };
    let most = look.columns(true) * rows_that_fit(HEAD + FOOT, high);
    let chosen = shown(record, look, most, prints, 1.0);
    let across = look.columns(chosen.len() > 3);
    let height = look.height().max(chosen.rows(across) as f64 * high + HEAD + FOOT);
    let gone = oil_gone(record).map_or_else(String::new, |gone| format!(" Oil: 0 at {gone}."));
    let lasted = |run: &Run| if run.duration.is_finite() { (run.duration / HOUR).clamp(1e-3, MOST) } else { 1.0 };
    let until = |run: &Run| end(run).map_or(lasted(run), |end| end.calendar / HOUR).clamp(lasted(run), MOST);
    // What is compared has one axis, unless a life would be hard to see on it.
    let longest = chosen.runs().map(|(_, run)| until(run)).fold(0.0, f64::max);
    let alone = |run: &Run| SHORT * until(run) < longest;
    let axes = match chosen.runs().filter(|(_, run)| alone(run)).count() {
        0 => "",
        _ => " Panels of far shorter lives have an axis of their own.",
    };
    let rests = |end: End| end.calendar > RESTS * end.running;
    let apart = chosen.runs().filter_map(|(_, run)| end(run)).any(rests);
    let beside = if apart { " Beside names: hours the motor runs." } else { "" };
    let note = format!(
        "Thick: simulated. Thin: extrapolated at its late rate (oil only where that is steady).{gone}{beside} Depends on {} wear constants: compare lives, do not count on them.{axes}",
        constants(&of_record(record))
    );
    let describe = "A panel for each run that is shown; across: time of this duty, rests included; upward: remaining life of each part, 1 − use.";
    chosen.sheet(look, height, [&part_findings::first_worn(record), &note, describe], |sheet| {
        chosen.panels(sheet, sheet.body(), across, |k, run, frame| {
            let first = end(run);
            let own = until(run);
            let until = if alone(run) { own } else { longest };
            let (per, unit) =
                if until < say::YEARS * say::YEAR / HOUR { (1.0, "hours") } else { (say::YEAR / HOUR, "years") };
            let in_unit = |points: &mut Vec<Place>| points.iter_mut().for_each(|point| point.0 /= per);
            let mut curves = curves(run, own);
            for curve in &mut curves {
                in_unit(&mut curve.points);
                in_unit(&mut curve.beyond);
            }
            let panel = Panel {
                heading: chosen.name(k),
                verdict: first
                    .map_or_else(|| endless(run).to_owned(), |end| format!("{} after {}", end.what(), end.life())),
                across: format!("{unit} of this duty, rests included"),
                up: "remaining life, %".to_owned(),
                x: (0.0, until / per).into(),
                y: (0.0, 1.0),
                curves,
                stacked: look.narrow(),
                room: if across == 1 { 200.0 } else { 178.0 },
                upward: Upward::Share,
                at: Some(Box::new(move |time| say::calendar(HOUR * per * time))),
                ..Panel::default()
            };
            panel.draw(sheet, frame)
        })
    })
}
