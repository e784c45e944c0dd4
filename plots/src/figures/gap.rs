//! The gap under the cover: the stack of parts to scale, and what wear leaves of the gap over the hours of running.

use crate::figures::chosen::named;
use crate::figures::gap_section::{self, MM, SECTION, Stack, THOU, wear};
use crate::sheet::prelude::*;
use crate::words::learned::of_record;
use crate::words::part_findings::{self, face_worn, until};
use crate::words::reading::name;
use crate::words::say;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// Height of the chart, px, and of a line of its labels.
const CHART: f64 = 300.0;
const LINE: f64 = 15.5;
/// Most room for labels, px.
const LABELS: f64 = 300.0;
/// Difference of two gaps that is not seen, mm.
const ALIKE: f64 = 0.05;
/// Largest number of curves that are all named.
const NAMED: usize = 6;
/// Largest number of curves with a band.
const BANDS: usize = 3;

/// Hours of running at the end of each window.
fn hours(run: &Run) -> impl Iterator<Item = f64> {
    run.windows.running.iter().map(|time| time / HOUR)
}

/// The gap of a run over its hours, mm, with a band as far as the tolerances of its parts and the wear constant leave it open.
fn curve(record: &Record, (k, run): (usize, &Run), stack: &Stack, banded: bool) -> Curve {
    let gap = |worn: f64| (stack.gap() - worn).max(0.0);
    let mut points: Vec<Place> = vec![(0.0, gap(0.0))];
    points.extend(hours(run).zip(wear(run).map(gap)));
    let last = points.last().copied().unwrap_or((0.0, gap(0.0)));
    let far = (until(run) / HOUR, MM * face_worn(run, until(run)));
    let worn = points.iter().map(|p| (p.0, stack.gap() - p.1)).chain((far.0 > last.0).then_some(far));
    let factor = run.life_factor(Part::Washer).unwrap_or(1.0);
    let off = stack.rss();
    let band = worn.map(|(h, worn)| (h, gap(factor * worn + off), gap(worn / factor - off)));
    Curve {
        beyond: if far.0 > last.0 { vec![last, (far.0, gap(far.1))] } else { vec![] },
        band: if banded { band.collect() } else { vec![] },
        of: Some(k),
        ..Curve::in_hue(name(record, run), hues::of_runs(record)[k], points)
    }
}

/// The runs with a line each: those asked for, or all; if all lines lie on that of the longest life, that one.
fn chosen<'a>(record: &'a Record, look: &Look) -> Vec<(usize, &'a Run)> {
    let every = || record.runs.iter().enumerate();
    if !look.of.is_empty() {
        return every().filter(|(_, run)| named(record, run, &look.of)).collect();
    }
    let sizes = |run: &Run| Stack::of(run).map_or([-1.0; 4], |stack| stack.sizes());
    let same = |run: &Run, longest: &Run| {
        let at = until(run);
        let apart = |(a, b): (f64, f64)| (a - b).abs() <= ALIKE;
        sizes(run).into_iter().zip(sizes(longest)).all(apart)
            && apart((MM * face_worn(run, at), MM * face_worn(longest, at)))
    };
    match every().max_by(|a, b| until(a.1).total_cmp(&until(b.1))) {
        Some(longest) if every().all(|(_, run)| same(run, longest.1)) => vec![longest],
        _ => every().collect(),
    }
}

/// Of many runs those with a name: the longest-lived, and those that wear the gap fastest and slowest.
fn extremes(runs: &[(usize, &Run, Stack)]) -> [usize; 3] {
    let rate = |run: &Run| face_worn(run, until(run)) / until(run);
    let most = |of: &dyn Fn(&Run) -> f64| {
        runs.iter().max_by(|a, b| of(a.1).total_cmp(&of(b.1))).map_or(usize::MAX, |(k, ..)| *k)
    };
    [most(&until), most(&rate), most(&|run| -rate(run))]
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let runs = chosen(record, look);
    let one_for_all = runs.len() == 1 && record.runs.len() > 1 && look.of.is_empty();
    let stack = runs.iter().find_map(|(_, run)| Stack::of(run));
    let with: Vec<(usize, &Run, Stack)> =
        runs.iter().filter_map(|(k, run)| Some((*k, *run, Stack::of(run)?))).collect();
    let longest = with.iter().map(|(_, run, _)| until(run)).fold(1.0, f64::max);
    let every = with.len() <= BANDS;
    let mut curves: Vec<Curve> =
        with.iter().map(|(k, run, stack)| curve(record, (*k, run), stack, every || until(run) >= longest)).collect();
    if let Some(curve) = curves.first_mut().filter(|_| one_for_all) {
        (curve.label, curve.of) = (format!("the same for all {}", record.runs.len()), None);
        (curve.ink, curve.dash) = (TEXT, None);
        "gap".clone_into(&mut curve.said);
    }
    let named = extremes(&with);
    if with.len() > NAMED {
        let unnamed = curves.iter_mut().zip(&with).filter(|(_, (k, ..))| !named.contains(k));
        unnamed.for_each(|(curve, _)| curve.said = std::mem::take(&mut curve.label));
    }
    let values = curves.iter().flat_map(|c| c.points.iter().chain(&c.beyond)).map(|p| p.1);
    let bands = curves.iter().flat_map(|c| c.band.iter().flat_map(|b| [b.1, b.2]));
    let least = stack.as_ref().and_then(|stack| stack.least);
    let (low, high) = extent(values.chain(bands).chain(least).collect::<Vec<_>>());
    let longest = longest / HOUR;
    let minutes = longest < 2.0;
    let per = if minutes { 1.0 / 60.0 } else { 1.0 };
    for curve in &mut curves {
        curve.points.iter_mut().chain(&mut curve.beyond).for_each(|p| p.0 /= per);
        curve.band.iter_mut().for_each(|p| p.0 /= per);
    }
    let unit = if minutes { "minutes" } else { "hours" };
    let lines = LINE * curves.len() as f64 + 90.0;
    let mut panel = Panel {
        heading: "Gap left by wear".to_owned(),
        across: format!("time of running, {unit}"),
        up: "gap, mm (thou)".to_owned(),
        x: (0.0, longest / per).into(),
        y: if low > high { (0.0, 1.0) } else { rounded((0.9 * low, high.max(low + 1e-3)), 6.0) },
        limits: least
            .map(|at| Limit { label: format!("required {at:.2} mm ({:.0})", at * THOU), at })
            .into_iter()
            .collect(),
        stacked: look.narrow(),
        beside: Some(|mm| number(mm * THOU, 1.0)),
        at: Some(Box::new(move |time| say::time(HOUR * per * time))),
        curves,
        ..Panel::default()
    };
    panel.room = panel.room_for_labels()?.min(LABELS);
    let chart = if look.narrow() { CHART + panel.below(look.width()) } else { CHART.max(lines) };
    let height = HEAD + SECTION + 20.0 + chart + FOOT;
    let few = if with.len() > NAMED { " Named: the longest-lived, the fastest and the slowest worn." } else { "" };
    let known = Part::Washer.constant().is_some_and(|p| of_record(record).iter().any(|known| known.path == p.path));
    let note = format!(
        "Lengths along the shaft to scale. Thick whisker: root sum square (RSS); thin: every part at its worst. Thick line: simulated; thin: extrapolated at its late rate until the first part is worn out. Shade{}: as far as tolerances (RSS) and the {} wear constant leave it open.{}",
        match with.len() {
            1 => "",
            _ if every => ", one for each line",
            _ => ", of the longest-lived alone",
        },
        if known { "learned" } else { "assumed" },
        if one_for_all { "" } else { hues::dashes_mean(record) }
    );
    let describe = "Above: section of the stack under the cover along the shaft: sprocket's face, bushing proud of it, washer, cover, with the gap and its tolerances. Below: gap left by wear over the time of running, mm and thou, one line for each run, or one if they are alike.";
    let part = match (runs.len(), record.runs.len()) {
        (some, all) if some < all && !one_for_all => format!(" ({some} of {all} runs shown)"),
        _ => String::new(),
    };
    let note = look.note(record, &format!("{note}{few}"));
    sheet(look, height, [&format!("{}{part}", part_findings::gap(record)), &note, describe], |sheet| {
        let Some(stack) = &stack else {
            return sheet.text("the record lacks a size", (SIDE, HEAD + 20.0), Type::LABEL.ink(QUIET));
        };
        gap_section::draw(sheet, stack, HEAD)?;
        let top = HEAD + SECTION + 20.0;
        panel.draw(sheet, Frame { left: 0.0, top, right: sheet.width, bottom: top + chart })
    })
}
