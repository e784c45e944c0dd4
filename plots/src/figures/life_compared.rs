//! Lives of all runs on one axis of running hours: what is left of the weakest part, and a row for each life with its range.

use crate::figures::chosen::bold_means;
use crate::figures::compared_columns::span_of_lives;
use crate::figures::part_mark;
use crate::sheet::prelude::*;
use crate::words::compared::{self, ALIKE, by_duty, longest_first};
use crate::words::fault::{in_brief, unfit};
use crate::words::findings;
use crate::words::learned::{alike, constants, of_record};
use crate::words::reading::{End, end, endless, name, reference};
use crate::words::say;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::units::HOUR;

/// Largest number of rows.
const ROWS: usize = 40;
/// Height of a row and of a duty's heading, px; a row of a narrow sheet has its words above the line.
const ROW: f64 = 23.0;
const TALL: f64 = 54.0;
/// Height of the chart of what is left, px.
const CHART: f64 = 210.0;
/// Distance from the heading to the chart, from the chart to the first row, and from the last row to the note, px.
const ABOVE: f64 = 22.0;
const BETWEEN: f64 = 16.0;
const BELOW: f64 = 48.0;
/// Width of the names, and least and greatest width of the words on a life, px.
const NAMES: f64 = 196.0;
const WORDS: (f64, f64) = (180.0, 360.0);
/// Left end of the axis on a narrow sheet, px.
const LEFT: f64 = 64.0;
/// Least distance of marks of services, px.
const APART: f64 = 8.0;
/// Pieces of a straight line on a logarithmic axis.
const BENDS: u32 = 60;
/// Length of the axis over the longest life.
const BEYOND: f64 = 1.3;

/// A run with its index and the life it lasts, running hours.
struct Row<'a> {
    index: usize,
    run: &'a Run,
    hours: Option<f64>,
    /// running hours after which a full bushing is due for oil
    oil: Option<f64>,
    words: String,
    bold: bool,
    hue: Hue,
}

/// The runs of a duty, the longest-lived first.
struct Group<'a> {
    duty: Option<&'a str>,
    rows: Vec<Row<'a>>,
}

/// Share of the weakest part that is left, over running hours; oil is service, not wear.
fn left(run: &Run, hours: Option<f64>) -> Vec<Place> {
    let parts = || run.parts.iter().filter(|part| part.part != Part::Oil);
    let least =
        |k: usize| parts().filter_map(|part| part.curve.get(k)).fold(1.0, |least, used| f64::min(least, 1.0 - used));
    let windows = run.windows.running.iter().enumerate().map(|(k, running)| (running / HOUR, least(k).max(0.0)));
    let until = hours.unwrap_or(f64::INFINITY);
    std::iter::once((0.0, 1.0)).chain(windows).take_while(|point| point.0 <= until).collect()
}

/// Running hours until oil is due, if the run's loss of oil reaches its limit.
fn oil_due(run: &Run) -> Option<f64> {
    let seen = run.horizon.as_ref().and_then(|horizon| horizon.service_running);
    let at_this_rate = || run.parts.iter().find(|part| part.part == Part::Oil)?.running;
    seen.or_else(at_this_rate).map(|due| due / HOUR).filter(|due| due.is_finite() && *due > 0.0)
}

/// Groups of rows, one for each duty of several machines, of at most so many rows in all.
fn groups(record: &Record) -> Vec<Group<'_>> {
    // Duties of one machine are compared with each other; those of several machines each in a group.
    let one = record.runs.iter().all(|run| run.variant == record.runs[0].variant);
    let duties = if one { vec![("", record.runs.iter().collect())] } else { by_duty(record) };
    let several = duties.len() > 1;
    let mut room = ROWS;
    let hues = hues::of_runs(record);
    let group = |(duty, runs): (_, Vec<_>)| {
        let sorted = longest_first(&runs);
        let lives = || sorted.iter().filter_map(|run| Some((end(run)?.running, *run)));
        let fits = lives().find(|(_, run)| unfit(record, run).is_none()).map(|(life, _)| life);
        // Duties are not ranked: a habit of service that spares work is not better by a percent of wear.
        let best = fits.filter(|_| !one && lives().nth(1).is_some());
        let rows: Vec<Row<'_>> = sorted.iter().take(room).map(|run| row(record, run, best, &hues)).collect();
        room -= rows.len();
        Group { duty: several.then_some(duty), rows }
    };
    duties.into_iter().map(group).collect()
}

/// The row of a run; `best`: the longest life of several that fit, s.
fn row<'a>(record: &'a Record, run: &'a Run, best: Option<f64>, hues: &[Hue]) -> Row<'a> {
    let index = record.runs.iter().position(|one| std::ptr::eq(one, run)).unwrap_or(0);
    let end = end(run);
    let share = end.zip(best).map(|(end, best)| end.running / best);
    let (of, longest) = match (unfit(record, run), share) {
        (Some(Fault::Beyond), _) if end.is_none() => (", unfit".to_owned(), false),
        // The part that ends the life says it.
        (Some(Fault::Grabs), _) => (" · unfit".to_owned(), false),
        (Some(fault), _) => (format!(" · unfit: {}", in_brief(fault)), false),
        (None, None) => (String::new(), false),
        (None, Some(1.0..)) => (" · longest that fits".to_owned(), true),
        (None, Some(share)) if share * ALIKE >= 1.0 => (" · alike".to_owned(), false),
        (None, Some(share)) => (format!(" · {}", compared::share(share)), false),
    };
    let lasts =
        end.map_or_else(|| endless(run).to_owned(), |end| format!("{}, {}", say::lasts(end.running), end.brief()));
    let bold = longest || reference(record, run);
    let hours = end.map(|end| end.running / HOUR);
    Row { index, run, hours, oil: oil_due(run), words: lasts + &of, bold, hue: hues[index] }
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let groups = groups(record);
    let narrow = look.narrow();
    let row = if narrow { TALL } else { ROW };
    let several = groups.iter().any(|group| group.duty.is_some());
    let count = groups.iter().map(|group| group.rows.len()).sum::<usize>();
    let high = row * count as f64 + if several { ROW * groups.len() as f64 } else { 0.0 };
    let height = HEAD + ABOVE + CHART + BETWEEN + high + BELOW + FOOT;
    let rows = || groups.iter().flat_map(|group| &group.rows);
    let ends = || rows().filter_map(|row| end(row.run));
    let lives = |end: End| (end.running / HOUR, end.range.map(|[low, high]| (low / HOUR, high / HOUR)));
    let lives: Vec<_> = ends().map(lives).collect();
    let lasted = record.runs.iter().map(|run| run.running_time / HOUR).fold(1e-3, f64::max);
    let span = if lives.iter().all(|life| life.0 <= 0.0) { (0.0, lasted) } else { span_of_lives(&lives, BEYOND) };
    let until = span.1;
    let marks = part_mark::meaning(|part| ends().any(|end| end.part == part));
    let part =
        if count < record.runs.len() { format!(", {count} of {} runs", record.runs.len()) } else { String::new() };
    let (soon, late) = extent(rows().filter_map(|row| row.oil));
    let oil = if soon <= late && soon < until {
        format!(
            " Hollow: service due, every {} of running; only once where that is often.",
            say::times(HOUR * soon, HOUR * late)
        )
    } else {
        String::new()
    };
    let hot = if rows().any(|row| row.run.warned(Warned::Beyond).is_some()) {
        " Cross above: beyond the model from there."
    } else {
        ""
    };
    let shares = if rows().any(|row| row.words.contains('%')) { " Per cent: of the longest that fits." } else { "" };
    let note = format!(
        "Mark: first part at its limit, oil apart ({marks}). Line: by the worst to the best {} wear constants{}. Above, thick: simulated; thin: extrapolated at the late rate.{hot}{shares}{}{oil}{}",
        constants(&of_record(record)),
        if alike(record) { ", the same for all of one lining" } else { "" },
        bold_means(record, rows().filter(|row| row.bold).map(|row| row.run)),
        if several { " Dashes: by duty." } else { "" }
    );
    let widths = rows().map(|row| width_of(&row.words, Type::LABEL.bold(row.bold)));
    let words = widths.collect::<Result<Vec<_>, _>>()?.into_iter().fold(0.0, f64::max) + SIDE + 20.0;
    let words = words.clamp(WORDS.0, WORDS.1);
    let describe = "Running hours across, the same for all runs. Above: what is left of the weakest part of each run. Below: one row for each run, with a mark at its life and a line for the life's range.";
    let heading = findings::longest(record) + &part;
    let title = if span.0 > 0.0 { "hours the motor runs (log scale)" } else { "hours the motor runs" };
    sheet(look, height, [&heading, &look.note(record, &note), describe], |sheet| {
        let (start, end_at) = if narrow { (LEFT, sheet.width - SIDE - 8.0) } else { (NAMES, sheet.width - words) };
        let top = HEAD + ABOVE;
        let zero = top + CHART;
        let floor = zero + BETWEEN + high;
        let x = Axis::over(span, (start, end_at));
        let y = Axis::linear((0.0, 1.0), (zero, top));
        let up = [0.0, 0.25, 0.5, 0.75, 1.0].map(|share| (share, format!("{:.0}", 100.0 * share))).to_vec();
        ruler::below(sheet, &x, &apart(&x, Type::TICK, 7)?, floor + 4.0, Some(top), title)?;
        ruler::beside(sheet, &y, &up, (start, end_at), ("left of the weakest part, %", 44.0))?;
        for row in rows() {
            let curve = Curve {
                said: name(record, row.run),
                beyond: beyond(row, span),
                bold: row.bold,
                of: Some(row.index),
                ..Curve::in_hue("", row.hue, left(row.run, row.hours))
            };
            curve.draw(sheet, &x, &y)?;
            if let Some(last) = left(row.run, row.hours).last().filter(|_| row.run.warned(Warned::Beyond).is_some()) {
                let place = (x.within(last.0), y.within(last.1));
                sheet.of(Some(row.index), || part_mark::cross(sheet, place, row.hue.ink))?;
            }
        }
        let mut at = zero + BETWEEN;
        // Before the rows' words, so that none is struck out.
        for group in &groups {
            at += if group.duty.is_some() { ROW } else { 0.0 };
            for one in &group.rows {
                at += row;
                let Some(hours) = one.hours else { continue };
                let place = x.within(hours);
                let guide = [(place, zero), (place, at - 0.5 * ROW)];
                sheet.of(Some(one.index), || sheet.line(&guide, one.hue.ink.tint(0.5), 0.6, LIMIT_DASH))?;
            }
        }
        at = zero + BETWEEN;
        for group in &groups {
            if let Some(duty) = group.duty {
                sheet.fitted(duty, (SIDE, at + 0.5 * ROW), Type::LABEL.ink(QUIET), sheet.width - 2.0 * SIDE)?;
                at += ROW;
            }
            for one in &group.rows {
                let name = if several { one.run.variant.clone() } else { name(record, one.run) };
                let said = format!("{name}: {}", one.words);
                let row_of = || draw_row(sheet, &name, one, &x, (at, row));
                sheet.of(Some(one.index), || sheet.says(&said, row_of))?;
                at += row;
            }
        }
        Ok(())
    })
}

/// The extrapolation of what is left, from the end of the simulated part to the life or the end of the axis; none of a clutch that grew
/// hotter than the model reaches. On a logarithmic axis, which begins above zero, a straight line bends.
fn beyond(row: &Row<'_>, (begins, until): (f64, f64)) -> Vec<Place> {
    if row.run.warned(Warned::Beyond).is_some() {
        return vec![];
    }
    let Some(last) = left(row.run, row.hours).last().copied() else { return vec![] };
    let end = match row.hours {
        Some(hours) if last.0 < hours => (hours, 0.0),
        Some(_) => return vec![],
        None => (until, last.1),
    };
    if begins <= 0.0 {
        return vec![last, end];
    }
    let from = last.0.max(begins);
    let at = |k: u32| from * (end.0 / from).powf(f64::from(k) / f64::from(BENDS));
    let left = |hours: f64| last.1 + (end.1 - last.1) * (hours - last.0) / (end.0 - last.0);
    (0..=BENDS).map(at).map(|hours| (hours, left(hours))).collect()
}

/// One life: its name, its range, its mark, and its words.
fn draw_row(sheet: &Sheet<'_>, name: &str, row: &Row<'_>, x: &Axis, (top, high): (f64, f64)) -> Result<(), DrawError> {
    let (start, stop) = x.ends();
    let ink = row.hue.ink;
    let set = Type::LABEL.ink(ink).bold(row.bold);
    let at = top + high - 0.5 * ROW;
    if sheet.narrow() {
        let room = sheet.width - SIDE - start;
        for (line, words) in [fit_name(name, set, room)?, fit(&row.words, set, room)?].into_iter().enumerate() {
            sheet.on_paper(&words, (start + 2.0, top + 9.0 + 16.0 * line as f64), set)?;
        }
    } else {
        sheet.named(name, (start - 14.0, at), set.side(1), start - SIDE - 14.0)?;
        sheet.fitted(&row.words, (stop + 16.0, at), set, sheet.width - SIDE - stop - 16.0)?;
    }
    let (Some(hours), Some(end)) = (row.hours, end(row.run)) else { return Ok(()) };
    let place = x.within(hours);
    if let Some([low, high]) = end.range.map(|range| range.map(|time| time / HOUR)) {
        let (from, to) = (x.within(low), x.within(high));
        sheet.line(&[(from, at), (to, at)], ink.tint(0.7), 1.6, None)?;
        // It goes on past the axis.
        if !x.holds(high) {
            sheet.shape(&[(stop + 7.0, at), (stop, at - 4.0), (stop, at + 4.0)], ink, 1.0)?;
        }
    }
    if let Some(due) = row.oil {
        let often = x.at(hours) - x.at((hours - due).max(due)) < APART;
        let times = (1..).map(|k| due * f64::from(k)).take_while(|time| *time < hours && x.holds(*time));
        let mut times = times.take(if often { 1 } else { usize::MAX });
        times.try_for_each(|time| part_mark::service(sheet, (x.at(time), at)))?;
    }
    part_mark::draw_in(sheet, end.part, (place, at), ink)
}
