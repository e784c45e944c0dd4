//! Clutches still running of all, over time: a step line for each fleet, a row of the failed ones below it, and the spares
//! that they need.

use crate::figures::failures::Rows;
use crate::figures::fleet::shown;
use crate::figures::spares;
use crate::sheet::prelude::*;
use crate::words::clock::Clock;
use crate::words::clutches::{name, ranked, reference};
use crate::words::still_running::{finding, level, none_in, still, wrong_oil};
use slipsoak_engine::fleet::{CONFIDENCE, Fleet, Report};
use slipsoak_engine::statistics::share_of;

/// Largest number of fleets.
const LINES: usize = 8;
/// Height of the chart, and of the dimension above it, px.
const CHART: f64 = 264.0;
const ABOVE: f64 = 44.0;
/// Distance from the chart to the rows, and height of the axis below them, px.
const BETWEEN: f64 = 16.0;
const AXIS: f64 = 46.0;
/// Width of the names at the left and of the labels at the right, px; left end of the axis on a narrow sheet.
const NAMES: f64 = 196.0;
const LABELS: f64 = 206.0;
const LEFT: f64 = 102.0;

/// What a figure shows: its fleets, their clock, and where its axis ends.
struct Plan<'a> {
    report: &'a Report,
    fleets: Vec<(usize, &'a Fleet)>,
    hues: Vec<Hue>,
    clock: Clock,
    until: f64,
    /// indices of the two fleets that are compared: the longest-lived, and the reference or the next
    heavy: Vec<usize>,
}

impl<'a> Plan<'a> {
    fn of(report: &'a Report, fleets: Vec<(usize, &'a Fleet)>) -> Self {
        let clock = Clock::of(fleets.iter().map(|(_, fleet)| *fleet));
        let last = |fleet: &Fleet| {
            let ends = clock.ends(fleet);
            if ends.len() < fleet.outcomes.len() { clock.followed(fleet) } else { extent(ends).1 }
        };
        let until = 1.02 * fleets.iter().map(|(_, fleet)| last(fleet)).fold(1e-9, f64::max);
        let is_shown = |k: &usize| fleets.iter().any(|(one, _)| one == k);
        let order: Vec<usize> = ranked(report).into_iter().filter(is_shown).collect();
        let first = Some(reference(report).0).filter(|k| is_shown(k) && *k != order[0]);
        let heavy = order.first().copied().into_iter().chain(first.or_else(|| order.get(1).copied())).collect();
        Self { report, hues: hues::of_fleets(report), fleets, clock, until, heavy }
    }

    fn n(&self) -> usize {
        self.fleets.iter().map(|(_, fleet)| fleet.outcomes.len()).max().unwrap_or(0)
    }

    /// Clutches at which the vertical axis begins: none, or where few fail just below what is drawn, so that it can be seen.
    fn floor(&self) -> f64 {
        let left = |(k, fleet): &(usize, &Fleet)| {
            let (own, failed) = (fleet.outcomes.len(), self.clock.ends(fleet).len());
            let share = share_of(failed as u64, own as u64, CONFIDENCE);
            if self.heavy.contains(k) { own as f64 * (1.0 - share.high) } else { (own - failed) as f64 }
        };
        let n = self.n();
        let least = self.fleets.iter().map(left).fold((n - level(n).0.min(n)) as f64, f64::min);
        let step = (n as f64 / 10.0).ceil();
        if least > 0.5 * n as f64 { step * ((least - 0.2 * step) / step).floor() } else { 0.0 }
    }

    /// Whether no part is worn out in any of them.
    fn lasting(&self) -> bool {
        self.fleets.iter().all(|(_, fleet)| fleet.outcomes.iter().all(|o| o.ended_by.is_none()))
    }
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let narrow = look.narrow();
    let (fleets, left_out) = shown(report, LINES);
    let plan = Plan::of(report, fleets);
    let across = if narrow { (LEFT, look.width() - SIDE - 8.0) } else { (NAMES, look.width() - LABELS) };
    let x = Axis::linear((0.0, plan.until), across);
    let shown = Rows::of(&plan.fleets, &plan.clock, &x);
    let rows = shown.height(narrow) * plan.fleets.len() as f64;
    let chart = if plan.lasting() { 0.0 } else { ABOVE + CHART + BETWEEN };
    let counted: Vec<(usize, &Fleet)> = plan.fleets.iter().copied().filter(|(k, _)| plan.heavy.contains(k)).collect();
    let spares = spares::Strip::of(&counted, &plan.clock, &x, (plan.until, look))?;
    let height = HEAD + chart + rows + AXIS + spares.height() + FOOT;
    let hot = report.fleets.iter().any(|fleet| fleet.beyond.is_some());
    let marks = shown
        .meaning(|part| plan.fleets.iter().any(|(_, fleet)| fleet.outcomes.iter().any(|o| o.ended_by == Some(part))));
    let note = format!(
        "A clutch fails with its first part worn out, charred or seized, oil apart.{} Rows: failed clutches ({marks}); hollow: service due for the first time.{}{} Depends on the spreads of assumed constants.{left_out}",
        if chart > 0.0 { " Shade: 90 % bounds at each time (Wilson's score)." } else { "" },
        if spares.is_empty() {
            ""
        } else {
            " Spares: first failures alone, for as many clutches sampled anew; what fails again after a repair is not counted."
        },
        if hot { " Clutches beyond the model are left out." } else { "" }
    );
    let describe = "Time across, the same for all fleets. Above: how many clutches still run, a step line for each fleet. Below: a row for each fleet with a mark for each failed clutch, and the spares needed in each period.";
    let heading = finding(report, &plan.clock);
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        let top = HEAD + if chart > 0.0 { ABOVE } else { 0.0 };
        let first = HEAD + chart;
        let floor = first + rows;
        let ticks = thinned(&x, spares.ticks(plan.until), Type::TICK)?;
        let title = plan.clock.title(alike(&plan.fleets));
        ruler::below(sheet, &x, &ticks, floor + 4.0, Some(top), &title)?;
        if chart > 0.0 {
            lines(sheet, &plan, &x, (top, top + CHART))?;
        }
        let high = rows / plan.fleets.len() as f64;
        for (row, (k, fleet)) in plan.fleets.iter().enumerate() {
            let at = first + high * row as f64;
            sheet.of(Some(*k), || {
                words(sheet, &plan, (*k, fleet), &x, (at, high))?;
                shown.draw(sheet, (fleet, &plan.clock), &x, (at, high))
            })?;
        }
        spares.draw(sheet, &x, floor + AXIS, |k| (name(report, &report.fleets[k]), plan.hues[k].ink))
    })
}

/// Share of the time during which the motor runs, if all fleets have nearly the same.
fn alike(fleets: &[(usize, &Fleet)]) -> Option<f64> {
    let (low, high) = extent(fleets.iter().map(|(_, fleet)| fleet.running_share));
    (high <= 1.05 * low).then_some(high)
}

/// A step line from all clutches downward; `left`: clutches still running after so many failures.
fn stairs(ends: &[f64], until: f64, left: impl Fn(usize) -> f64) -> Vec<Place> {
    let steps = ends.iter().enumerate().flat_map(|(k, end)| [(*end, left(k)), (*end, left(k + 1))]);
    std::iter::once((0.0, left(0))).chain(steps).chain([(until, left(ends.len()))]).collect()
}

/// The chart: level, lines, their labels, and the dimension between the two that are compared.
fn lines(sheet: &Sheet<'_>, plan: &Plan<'_>, x: &Axis, (top, floor): (f64, f64)) -> Result<(), DrawError> {
    let n = plan.n();
    let (start, stop) = x.ends();
    let least = plan.floor();
    let y = Axis::linear((least, n as f64), (floor, top));
    let whole = |tick: &(f64, String)| tick.0.fract() == 0.0;
    let mut up: Vec<(f64, String)> = y.ticks(5).into_iter().filter(whole).collect();
    up.retain(|tick| (y.at(tick.0) - top).abs() > 14.0);
    up.push((n as f64, n.to_string()));
    let away = width_of(&n.to_string(), Type::TICK)? + 24.0;
    let title =
        format!("still running of {n}{}", if least > 0.0 { format!(", axis from {least}") } else { String::new() });
    ruler::beside(sheet, &y, &up, (start, stop), (&title, away))?;
    sheet.line(&[(start, floor), (stop, floor)], TEXT, 0.9, None)?;
    let (count, failed) = level(n);
    let at = y.at((n - count) as f64);
    sheet.line(&[(start, at), (stop, at)], QUIET, 1.0, LIMIT_DASH)?;
    let mut labels = vec![];
    for (k, fleet) in &plan.fleets {
        let ends = plan.clock.ends(fleet);
        let own = fleet.outcomes.len();
        let heavy = plan.heavy.contains(k);
        let until = if ends.len() < own { plan.clock.followed(fleet) } else { plan.until };
        let bound = |low: bool| {
            stairs(&ends, until, |failed| {
                let share = share_of(failed as u64, own as u64, CONFIDENCE);
                own as f64 * (1.0 - if low { share.high } else { share.low })
            })
        };
        let band = bound(true).into_iter().zip(bound(false)).map(|(low, high)| (low.0, low.1, high.1));
        let hue = Hue { dash: if heavy { None } else { plan.hues[*k].dash }, ..plan.hues[*k] };
        let curve = Curve {
            band: if heavy { band.collect() } else { vec![] },
            bold: heavy,
            of: Some(*k),
            said: format!("{}: {}", name(plan.report, fleet), still(fleet)),
            ..Curve::in_hue("", hue, stairs(&ends, until, |failed| (own - failed) as f64))
        };
        sheet.of(Some(*k), || curve.shade(sheet, x, &y))?;
        curve.draw(sheet, x, &y)?;
        let end = y.at((own - ends.len()) as f64);
        let label = Label::of(&name(plan.report, fleet), end, hue.ink);
        labels.push(Label { bold: heavy, dash: hue.dash, of: Some(*k), ..label });
    }
    sheet.on_paper(&failed, (stop - 4.0, at - 9.0), Type::TICK.ink(QUIET).side(1))?;
    if !sheet.narrow() {
        label::write(sheet, labels, (stop, LABELS - SIDE), (top, floor))?;
    }
    dimension(sheet, plan, x, (top, at))
}

/// The time by which the longest-lived of the two compared fleets reaches the level later than the other.
fn dimension(sheet: &Sheet<'_>, plan: &Plan<'_>, x: &Axis, (top, level_at): (f64, f64)) -> Result<(), DrawError> {
    let (count, _) = level(plan.n());
    let [long, short] = plan.heavy[..] else { return Ok(()) };
    let reached = |k: usize| plan.clock.ends(&plan.report.fleets[k]).get(count - 1).copied();
    let Some(from) = reached(short) else { return Ok(()) };
    let to = reached(long);
    let by = to.unwrap_or_else(|| plan.clock.followed(&plan.report.fleets[long])) - from;
    let (left, right) = (x.within(from), to.map_or(x.within(plan.until), |to| x.within(to)));
    if by <= 0.0 || right - left < 3.0 {
        return Ok(());
    }
    let high = top - 12.0;
    for at in [Some(left), to.map(|_| right)].into_iter().flatten() {
        sheet.line(&[(at, level_at), (at, high - 5.0)], TEXT, 0.7, None)?;
    }
    sheet.line(&[(left, high), (right, high)], TEXT, 1.0, None)?;
    for (at, way) in [(left, 1.0), (right, -1.0)] {
        sheet.shape(&[(at, high), (at + 7.0 * way, high - 3.0), (at + 7.0 * way, high + 3.0)], TEXT, 1.0)?;
    }
    let words = format!("{}+{}", if to.is_none() { "more than " } else { "" }, plan.clock.say(by));
    let set = Type::LABEL.bold(true).side(0);
    let half = 0.5 * width_of(&words, set)?;
    let (start, stop) = x.ends();
    let middle = f64::midpoint(left, right).clamp(start + half, (stop - half).max(start + half));
    sheet.text(&words, (middle, high - 13.0), set)
}

/// Name of a row, and how many still run; where none failed, how many may.
fn words(
    sheet: &Sheet<'_>,
    plan: &Plan<'_>,
    (k, fleet): (usize, &Fleet),
    x: &Axis,
    (top, high): (f64, f64),
) -> Result<(), DrawError> {
    let (start, stop) = x.ends();
    let set = Type::LABEL.ink(plan.hues[k].ink).bold(plan.heavy.contains(&k));
    let name = name(plan.report, fleet);
    let mut state = if fleet.outcomes.iter().all(|o| o.ended_by.is_none()) {
        none_in(fleet, &plan.clock)
    } else {
        vec![still(fleet)]
    };
    if let Some(wrong) = wrong_oil(fleet) {
        // Two lines have room in a row.
        let first = state[0].trim_end_matches(';').to_owned();
        state = vec![first, wrong];
    }
    let quiet = Type::LABEL;
    if sheet.narrow() {
        let room = sheet.width - 2.0 * SIDE;
        sheet.named(&name, (SIDE, top + 9.0), set, room)?;
        return sheet.fitted(&state.join(", "), (SIDE, top + 25.0), quiet, room);
    }
    let middle = top + 0.5 * high;
    let lines = wrapped(&name, set.side(1), start - SIDE - 14.0)?;
    let lines: Vec<String> = lines.into_iter().take(2).collect();
    let over = middle - 7.5 * (lines.len() - 1) as f64;
    for (line, words) in lines.iter().enumerate() {
        sheet.fitted(words, (start - 14.0, over + 15.0 * line as f64), set.side(1), start - SIDE - 14.0)?;
    }
    let over = middle - 7.5 * (state.len() - 1) as f64;
    sheet.lines(&state, (stop + 14.0, over), quiet, 15.0)
}
