//! The hottest launch of each run, laid over one another: speeds, heat of slip, and rise of the lining's face.

use crate::figures::chosen::bold_means;
use crate::figures::close_up::{AFTER, BEFORE, LONGEST, points};
use crate::figures::hottest_launches::{Launch, kilojoules, launches};
use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::reading::name;
use crate::words::text::listed;
use slipsoak_engine::names::{Channel, distinct};
use slipsoak_engine::record::Record;
use slipsoak_engine::units::in_rpm;

/// Heights of the three charts, px, and room below each on a narrow sheet.
const CHARTS: [f64; 3] = [270.0, 230.0, 230.0];
const BELOW: f64 = 34.0;
/// Most room for labels, px, and line spacing of the names of locks.
const LABELS: f64 = 340.0;
const LINE: f64 = 15.0;
/// Largest number of launches of which each is named.
const NAMED: usize = 8;
/// Dashes of the drum's speed.
const DRUM: Dash = Some((5.0, 3.0));

/// The launches with the least and the most heat of slip.
fn extremes<'a, 'r>(all: &'a [Launch<'r>]) -> Option<[&'a Launch<'r>; 2]> {
    let by = |a: &&Launch<'_>, b: &&Launch<'_>| a.energy.total_cmp(&b.energy);
    Some([all.iter().min_by(by)?, all.iter().max_by(by)?])
}

/// What the launches show.
fn finding(record: &Record, all: &[Launch<'_>]) -> String {
    match extremes(all) {
        Some([least, most]) if all.len() > 1 && least.result() == most.result() => {
            format!("One launch: alike in all, heat of slip {}", least.result())
        }
        Some([least, most]) if all.len() > 1 => format!(
            "One launch: least heat of slip with “{}” ({}), most with “{}” ({})",
            name(record, least.run),
            least.result(),
            name(record, most.run),
            most.result()
        ),
        Some([only, _]) => format!("One launch: heat of slip {}", only.result()),
        None => "One launch: the vehicle never set off".to_owned(),
    }
}

/// Charts of the launches from top to bottom.
fn panels(record: &Record, all: &[Launch<'_>], narrow: bool) -> Result<[Panel; 3], DrawError> {
    // A launch that never locks is followed half as long again as the longest that does.
    let latest = all.iter().filter_map(|launch| launch.locks).reduce(f64::max);
    let span = (-BEFORE, latest.map_or(LONGEST, |at| (at + AFTER).max(1.5 * at)));
    // Those that the title names have their names in the charts.
    let titled = extremes(all).map(|ends| ends.map(|launch| launch.index));
    let labelled = |launch: &Launch<'_>| {
        launch.bold || all.len() <= NAMED || titled.is_some_and(|ends| ends.contains(&launch.index))
    };
    let curve = |launch: &Launch<'_>, label: String, dash: Dash, points: Vec<Place>| Curve {
        said: name(record, launch.run),
        bold: launch.bold,
        thin: !launch.bold,
        of: Some(launch.index),
        ..Curve::in_hue(label, Hue { dash, ..launch.hue }, points)
    };
    let label = |launch: &Launch<'_>, words: String| if labelled(launch) { words } else { String::new() };
    // A launch that stands for all runs has the name of none.
    let numbered = |launch: &Launch<'_>, number: &str| match launch.alike.len() + 1 {
        runs if runs > 1 && runs == record.runs.len() => number.to_owned(),
        _ => format!("{number}, {}", name(record, launch.run)),
    };
    let speeds = all.iter().flat_map(|launch| {
        let of = |channel| points(launch.close_up, channel, in_rpm);
        [
            curve(launch, label(launch, launch.name(record)), None, of(Channel::MotorSpeed)),
            Curve {
                said: format!("{}, drum", name(record, launch.run)),
                ..curve(launch, String::new(), DRUM, of(Channel::DrumSpeed))
            },
        ]
    });
    let heat = all.iter().map(|launch| {
        let kw = points(launch.close_up, Channel::SlipPower, |w| 1e-3 * w);
        curve(launch, label(launch, numbered(launch, &kilojoules(launch.energy))), launch.hue.dash, kw)
    });
    let rise = all.iter().map(|launch| {
        let points = launch.rise();
        let peak = points.iter().filter(|p| p.0 <= span.1).map(|p| p.1).fold(0.0, f64::max);
        curve(launch, label(launch, numbered(launch, &format!("+{peak:.0} K"))), launch.hue.dash, points)
    });
    let of = |heading: &str, up: &str, across: &str, curves: Vec<Curve>, from: f64| {
        let seen = curves.iter().flat_map(|curve| &curve.points).filter(|p| p.0 >= span.0 && p.0 <= span.1);
        let (low, high) = extent(seen.map(|p| p.1).chain([from, from + 1e-6]));
        Panel {
            heading: heading.to_owned(),
            across: across.to_owned(),
            up: up.to_owned(),
            x: span.into(),
            y: rounded_at_zero((low, high + 0.03 * (high - low)), 5.0),
            curves,
            stacked: narrow,
            at: Some(Box::new(|seconds| format!("{seconds:.1} s"))),
            ..Panel::default()
        }
    };
    let mut panels = [
        of("Speeds: motor solid, drum dashed", "speed, rpm", "", speeds.collect(), 0.0),
        of("Heat of the slipping lining; area: its energy", "heat, kW", "", heat.collect(), 0.0),
        of(
            "Lining's face above its temperature at the start",
            "rise, K",
            "seconds after setting off",
            rise.collect(),
            0.0,
        ),
    ];
    let widths = panels.iter().map(Panel::room_for_labels).collect::<Result<Vec<_>, _>>()?;
    let room = widths.into_iter().fold(0.0, f64::max).min(LABELS);
    for panel in &mut panels {
        panel.room = room;
    }
    Ok(panels)
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let all = launches(record, look);
    let narrow = look.narrow();
    let panels = panels(record, &all, narrow)?;
    let below = panels.iter().map(|panel| panel.below(look.width())).collect::<Vec<_>>();
    let high: f64 = CHARTS.iter().sum::<f64>() + below.iter().sum::<f64>() + if narrow { BELOW } else { 0.0 };
    let heavy = || all.iter().filter(|launch| launch.bold);
    let some = heavy().count() < all.len();
    let heavy = heavy().flat_map(|launch| std::iter::once(&launch.run).chain(&launch.alike)).copied();
    let heavy = if some { bold_means(record, heavy) } else { "" };
    let dashes = match hues::dashes_mean(record) {
        "" => "",
        _ => " Dashes in the lower charts: by duty.",
    };
    let stands_for = |launch: &Launch<'_>| {
        let others: Vec<String> = launch.alike.iter().map(|run| format!("“{}”", name(record, run))).collect();
        format!(" “{}” stands for {} too.", name(record, launch.run), listed(&others))
    };
    let few =
        all.iter().filter(|launch| (1..=3).contains(&launch.alike.len()) && launch.alike.len() + 1 < record.runs.len());
    let alike: String = few.map(stands_for).collect();
    let note = format!(
        "Each run's launch with the hottest lining, at the steps of the computation. Upright lines: the clutch locks.{heavy}{dashes}{alike}"
    );
    let describe = "Three charts over the same seconds after setting off, all runs in each: speeds of motor and drum, rpm; heat of slip, kW; rise of the lining's face, K. An upright line where each clutch locks.";
    sheet(look, HEAD + high + FOOT, [&finding(record, &all), &look.note(record, &note), describe], |sheet| {
        if all.is_empty() {
            let words = "The vehicle never set off, or the record does not hold the launch.";
            return sheet.text(words, (SIDE, HEAD + 30.0), Type::LABEL.ink(QUIET));
        }
        let mut top = HEAD;
        for ((panel, tall), below) in panels.iter().zip(CHARTS).zip(below) {
            let frame = Frame { left: 0.0, top, right: sheet.width, bottom: top + tall + below };
            panel.draw(sheet, frame)?;
            let first = top == HEAD;
            marks(sheet, record, panel.axes(frame), &all, first)?;
            top = frame.bottom;
        }
        Ok(())
    })
}

/// An upright line where bold launches lock, one for all that show the same, a short one for the others; in the first chart with the
/// second.
fn marks(
    sheet: &Sheet<'_>,
    record: &Record,
    (x, y): (Axis, Axis),
    all: &[Launch<'_>],
    named: bool,
) -> Result<(), DrawError> {
    let (floor, ceiling) = y.ends();
    let seconds = |at: f64| format!("{} s", figures(at, 2));
    let locks = || all.iter().filter_map(|launch| Some((launch, launch.locks.filter(|at| x.holds(*at))?)));
    for (launch, at) in locks().filter(|(launch, _)| !launch.bold) {
        let said = format!("{} locks after {}", name(record, launch.run), seconds(at));
        let mark = || sheet.line(&[(x.at(at), floor), (x.at(at), floor - 10.0)], launch.hue.ink, 0.9, LIMIT_DASH);
        sheet.of(Some(launch.index), || sheet.says(&said, mark))?;
    }
    let mut bold: Vec<(&Launch<'_>, f64)> = locks().filter(|(launch, _)| launch.bold).collect();
    // The latest first: words stand right of their line, so that no later line strikes them out.
    bold.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut rows = distinct(bold.iter().map(|(_, at)| seconds(*at))).len();
    for alike in bold.chunk_by(|a, b| seconds(a.1) == seconds(b.1)) {
        let (launch, at) = alike[0];
        rows -= 1;
        let one = alike.len() == 1;
        let ink = if one { launch.hue.ink } else { TEXT };
        let names: Vec<String> = alike.iter().map(|(launch, _)| name(record, launch.run)).collect();
        let said = format!("{} {} after {}", listed(&names), if one { "locks" } else { "lock" }, seconds(at));
        let mark = || {
            sheet.line(&[(x.at(at), floor), (x.at(at), ceiling)], ink, 0.9, LIMIT_DASH)?;
            if named {
                let place = (x.at(at) + 4.0, floor - 10.0 - LINE * rows as f64);
                sheet.on_paper(&format!("locks {}", seconds(at)), place, Type::TICK.ink(ink))?;
            }
            Ok(())
        };
        sheet.of(Some(launch.index).filter(|_| one), || sheet.says(&said, mark))?;
    }
    Ok(())
}
