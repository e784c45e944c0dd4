//! Oil fill of the pores over the duty, with where each drop ends below.

use crate::figures::chosen::shown;
use crate::figures::moment;
use crate::figures::oil_drops::Oil;
use crate::figures::oil_rows::{Row, Rows, wrong_oil};
use crate::figures::reading::{clock, curve, rows_that_fit};
use crate::sheet::prelude::*;
use crate::words::learned::open;
use crate::words::part_findings;
use crate::words::reading::{longest, name};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// Height of the chart, px.
const CHART: f64 = 300.0;
/// Height of a curve's name, px.
const LINE: f64 = 15.5;
/// Height of the heading over the rows of drops, and of a usual row, px.
const WAY: f64 = 34.0;
const ROW: f64 = 60.0;
/// Most room for labels, px, and largest number of runs with a row each.
const LABELS: f64 = 300.0;
const ROWS: usize = 6;
/// Difference of two amounts of oil that is not seen, mg.
const ALIKE: f64 = 0.05;

/// Range of a fill axis that contains every curve, and the limit if the oil comes near it; in a span of time the curves alone.
fn range(runs: &[Run], look: &Look, fill: usize, limit: Option<f64>) -> (f64, f64) {
    let spanned = runs.iter().filter_map(|run| Some((run, moment::span(run, look)?)));
    let within = spanned.flat_map(|(run, (from, to))| {
        let spans = run.windows.spans().zip(&run.windows.mean);
        spans.filter(move |((start, end), _)| *start < to && *end > from).map(|(_, row)| row[fill])
    });
    let (least, most) = extent(within);
    if least <= most {
        return rounded((least, most.max(least + 1e-3)), 6.0);
    }
    let fills = runs.iter().flat_map(|run| [run.overall.least[fill], run.overall.most[fill]]);
    let (least, most) = extent(fills.chain([0.95, 1.0]).chain(limit));
    (((least * 20.0 - 0.4).floor() / 20.0).max(0.0), ((most * 20.0 - 0.1).ceil() / 20.0).min(2.0))
}

/// One curve per run, from the start of the span asked for.
fn curves(record: &Record, look: &Look, fill: usize, per: f64) -> Vec<Curve> {
    let runs = &record.runs;
    let one = |((k, run), hue): ((usize, &Run), Hue)| {
        let zero = moment::span(run, look).map_or(0.0, |span| span.0 / per);
        let points = curve(run, &run.windows.mean, fill, per, |share| share).into_iter().map(|p| (p.0 - zero, p.1));
        let mark = if wrong_oil(run) { " +" } else { "" };
        Curve { of: Some(k), ..Curve::in_hue(name(record, run) + mark, hue, points.collect()) }
    };
    runs.iter().enumerate().zip(hues::of_runs(record)).map(one).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let runs = &record.runs;
    let fill = Channel::OilFill as usize;
    moment::check_span(record, look)?;
    let spans: Vec<(f64, f64)> = runs.iter().filter_map(|run| moment::span(run, look)).collect();
    let lasts =
        if spans.is_empty() { longest(runs) } else { spans.iter().fold(0.0, |most, s| f64::max(most, s.1 - s.0)) };
    let (per, unit) = clock(lasts);
    // Every curve is drawn, and each needs a line for its name.
    let lines =
        if look.narrow() { CHART + LINE * runs.len().div_ceil(2) as f64 } else { LINE * runs.len() as f64 + 90.0 };
    let chart = CHART.max(lines);
    let (rows, part, rest) = rows(record, look, ROWS.min(rows_that_fit(HEAD + chart + WAY + FOOT, ROW)))?;
    let since = if runs.iter().any(|run| run.oil_since.is_some()) { " from the first oiling on" } else { "" };
    let words = format!("Where each drop ended{since} (a dot: {}){part}", rows.dot());
    let words = wrapped(&words, Type::HEADING, look.width() - 2.0 * SIDE)?;
    let way = WAY + LINE * (words.len() - 1) as f64;
    let below = way + rows.height(look.width(), look.narrow());
    let height = HEAD + chart + below + FOOT;
    let p = &settings::oiling::leak;
    let open = open(record, p, Some("nobody has measured it".to_owned())).unwrap_or_default();
    let leak = runs[0].setting(p).map_or_else(
        || "Losses depend on the end leakage of the bushing, which is assumed: nobody has measured it.".to_owned(),
        |leak| {
            let rate = leak * HOUR;
            let hot = scales::pair("80 °C", "176 °F");
            let sure = if runs[0].knows(p).is_some() { "" } else { "assumed " };
            format!(
                "Losses depend on the end leakage of the bushing, {sure}{rate:.3} per hour at {hot} and 2500 rpm; {open}."
            )
        },
    );
    let describe = format!(
        "Above: oil fill of the bushing's pores over {unit} of the duty, one curve for each run. Below: a row of dots for each run, each {}: where the oil put on, and what bushing and washer gave up, ended; and the grip that the lining lost to oil.",
        rows.dot()
    );
    let service = runs[0].setting(&settings::limits::oil_service);
    let due = if look.narrow() { "due" } else { "service due" };
    let since = moment::since(look);
    let mut panel = Panel {
        heading: "Oil in the pores, share of a full bushing by mass".to_owned(),
        across: match moment::since(look) {
            start if start.is_empty() => format!("time, {unit}"),
            start => format!("{unit} from “{start}”"),
        },
        up: "oil fill, %".to_owned(),
        x: (0.0, lasts / per).into(),
        y: range(runs, look, fill, service),
        curves: curves(record, look, fill, per),
        limits: service.into_iter().map(|at| Limit { label: format!("{due} at {:.0} %", 100.0 * at), at }).collect(),
        stacked: look.narrow(),
        upward: Upward::Share,
        at: Some(Box::new(move |time| match moment::clock(per * time) {
            clock if since.is_empty() => clock,
            clock => format!("{clock} from “{since}”"),
        })),
        ..Panel::default()
    };
    panel.room = panel.room_for_labels()?.min(LABELS);
    panel.stacked = look.narrow() && panel.room > LEGEND;
    let kept: Vec<(usize, f64)> =
        runs.iter().enumerate().filter_map(|(k, run)| Some((k, Oil::of(run).kept()?))).collect();
    let heading = part_findings::drops(record, &kept);
    // A narrow one says the grip in words.
    let bars = if look.narrow() { "" } else { "at worst in the run (pale) and at its end (full); " };
    let grip = format!(
        "Film: in the clearance and on the faces, the first to be lost. Ground: thrown off, leaked, run off. Air: evaporated, burnt off the lining. Hollow: given up. Grip: {bars}by assumed films of oil."
    );
    let wrong = if runs.iter().any(wrong_oil) {
        " + wrong oil: PTFE, silicone or a friction modifier stays on the lining; never use it, however much is kept."
    } else {
        ""
    };
    let note = look.note(record, &format!("{grip}{wrong} {leak}{rest}{}", hues::dashes_mean(record)));
    sheet(look, height, [&heading, &note, &describe], |sheet| {
        let foot = sheet.height - FOOT;
        panel.draw(sheet, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: foot - below })?;
        sheet.lines(&words, (SIDE, foot - below + 16.0), Type::HEADING, LINE)?;
        rows.draw(sheet, foot - below + way)
    })
}

/// The rows of drops, which of how many runs they are, and a sentence on them: all if there is room, one for all if they are alike.
fn rows(record: &Record, look: &Look, most: usize) -> Result<(Rows, String, String), DrawError> {
    let prints = |run: &Run| {
        let oil = Oil::of(run);
        oil.gained.iter().chain([&oil.put_on, &oil.most_on_lining]).map(|kg| 1e6 * kg).collect::<Vec<_>>()
    };
    let chosen = shown(record, look, most, prints, ALIKE);
    let runs = &record.runs;
    if look.of.is_empty() && runs.len() <= most && chosen.len() > 1 {
        let row = |(k, run)| Row::new(Some(k), name(record, run), run);
        return Ok((Rows::new(runs.iter().enumerate().map(row).collect())?, String::new(), String::new()));
    }
    let row = |(k, run): (usize, &Run)| Row::new(Some(k).filter(|_| chosen.len() > 1), chosen.name(k), run);
    let rest = match chosen.sentence() {
        nothing if nothing.is_empty() => nothing,
        which => format!(" Every run has a curve; {} rows of dots below.{which}", chosen.len()),
    };
    Ok((Rows::new(chosen.runs().map(row).collect())?, chosen.part_shown(), rest))
}
