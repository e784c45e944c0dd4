//! The washer and the gap between drum and cover over their wear.

use crate::sheet::prelude::*;
use crate::words::gaps::washer_found;
use crate::words::learned::learned;
use crate::words::reading::brief;
use crate::words::say::time;
use slipsoak_engine::stack_up::{Course, Gaps, Point, When};
use slipsoak_engine::units::HOUR;

/// Thousandths of an inch in a millimetre.
const THOU: f64 = 1e-3 / slipsoak_engine::units::THOU;
/// Height of a panel, px.
const PANEL: f64 = 296.0;
/// Room below a narrow panel for its labels, px.
const LABELS: f64 = 54.0;
/// Room to the right of a panel for text, px.
const ROOM: f64 = 236.0;
/// Smallest remaining share of a size at which a text is connected to its curve.
const TIED: f64 = 0.1;

fn words(course: &Course, what: &str, when: &When) -> String {
    match (course.fails, when.time) {
        _ if course.beyond.is_some() => format!("{}, too hot for the model", course.name),
        (Some(fails), _) => format!("{}, {} after {}", course.name, brief(fails.part), time(fails.after)),
        (None, Some(at)) => format!("{}, {what} {}", course.name, time(at)),
        (None, None) => format!("{}, {what} never", course.name),
    }
}

/// The points that hold: until a part fails; none beyond the model.
fn holding(course: &Course) -> &[Point] {
    let until = match (course.beyond, course.fails) {
        (Some(_), _) => 0.0,
        (None, Some(fails)) => fails.after,
        (None, None) => f64::INFINITY,
    };
    &course.points[..course.points.partition_point(|p| p.time <= until)]
}

/// Remaining size, mm, over hours, until zero; with the band of 90 % of sampled assemblies.
fn curve(course: &Course, order: usize, of: fn(&Point) -> [f64; 3]) -> Curve {
    let at = |p: &Point| p.time / HOUR;
    let points = holding(course);
    let none = points.iter().position(|p| of(p)[1] <= 0.0).map_or(points.len(), |k| k + 1);
    Curve {
        band: points.iter().map(|p| (at(p), 1e3 * of(p)[0], 1e3 * of(p)[2])).collect(),
        bold: order == 0,
        said: course.name.to_string(),
        ..Curve::of(
            "",
            [hues::WASHER, hues::SHOES][order.min(1)],
            points[..none].iter().map(|p| (at(p), 1e3 * of(p)[1])).collect(),
        )
    }
}

/// Writes the text of a curve at the height of this remaining size, mm, connected to it: for the first curve to the
/// right of the chart, for the other to the left of the curve.
fn tie(sheet: &Sheet<'_>, panel: &Panel, frame: Frame, (k, words): (usize, &str), left: f64) -> Result<(), DrawError> {
    let (x, y) = panel.axes(frame);
    let curve = &panel.curves[k];
    let crossed = curve.points.windows(2).find(|p| p[0].1 >= left && p[1].1 < left);
    let on = |p: &[Place]| (p[0].0 + (p[0].1 - left) / (p[0].1 - p[1].1) * (p[1].0 - p[0].0), left);
    let Some((time, left)) = crossed.map(on).or(curve.points.last().copied()) else { return Ok(()) };
    let (at, height) = (x.within(time), y.within(left));
    let set = Type::LABEL.ink(curve.ink).bold(curve.bold);
    let ends = x.ends();
    let place = if k == 0 { ends.1 + 14.0 } else { ends.0 + 8.0 };
    let reach = if k == 0 { place - 3.0 } else { place };
    sheet.line(&[(at, height), (reach, height)], curve.ink.tint(0.6), 0.7, None)?;
    if k == 0 { sheet.text(words, (place, height), set) } else { sheet.on_paper(words, (place, height), set) }
}

pub fn draw(gaps: &Gaps, look: &Look) -> Result<Drawing, DrawError> {
    if gaps.courses.iter().all(|c| holding(c).len() < 2) {
        return Err(DrawError::Empty);
    }
    let washer = gaps.layers.iter().find(|l| l.is_washer()).map_or((0.0, 0.0), |l| (l.size, l.tolerance));
    let ends =
        |of: fn(&[Point]) -> Option<&Point>| gaps.courses.iter().filter_map(move |c| Some(of(holding(c))?.time / HOUR));
    let (from, to) = (ends(<[Point]>::first).fold(0.0, f64::max), ends(<[Point]>::last).fold(0.0, f64::max));
    let panel = |heading: String, up: &str, y: f64, curves, limits| Panel {
        heading,
        across: format!("hours of riding, use: {}", gaps.usage),
        up: format!("{up}, mm (thou)"),
        x: Axis::logarithmic((from.max(1e-6), to.max(1e-6)), (0.0, 1.0)),
        y: (0.0, 1.1 * y),
        curves,
        limits,
        stacked: look.narrow(),
        room: ROOM,
        beside: Some(|mm| number(mm * THOU, 1.0)),
        at: Some(Box::new(|hours| time(HOUR * hours))),
        ..Panel::default()
    };
    let limit = |at: f64, what: &str| {
        vec![Limit { label: format!("{what} {:.2} mm ({:.0} thou)", 1e3 * at, 1e3 * at * THOU), at: 1e3 * at }]
    };
    let courses = || gaps.courses.iter().enumerate();
    let stack = &gaps.stack;
    let panels = [
        panel(
            "Washer left; once it is worn through, stop riding".to_owned(),
            "washer",
            1e3 * (washer.0 + washer.1),
            courses().map(|(k, c)| curve(c, k, |p| p.washer)).collect(),
            limit(gaps.washer_limit, "due at"),
        ),
        panel(
            "Gap between drum and cover if it were ridden on (0: they touch)".to_owned(),
            "gap",
            1e3 * (stack.nominal + stack.worst),
            courses().map(|(k, c)| curve(c, k, |p| p.gap)).collect(),
            limit(gaps.limit, "required"),
        ),
    ];
    let mut panels = panels;
    let high = if look.narrow() { PANEL + LABELS } else { PANEL };
    let height = HEAD + high * panels.len() as f64 + FOOT;
    // The first curve's text is between new and due, the other's below; neither is on the line of the limit.
    let lost = [0.5 * (washer.0 - gaps.washer_limit), washer.0 - 0.5 * gaps.washer_limit];
    let tied: [(f64, Vec<String>); 2] = [
        (washer.0, gaps.courses.iter().map(|c| words(c, "due", &c.washer_due)).collect()),
        (stack.nominal, gaps.courses.iter().map(|c| words(c, "touches", &c.touches)).collect()),
    ];
    if look.narrow() {
        for (panel, (_, words)) in panels.iter_mut().zip(&tied) {
            panel.curves.iter_mut().zip(words).for_each(|(curve, words)| curve.label.clone_from(words));
        }
    }
    let constants = learned(&gaps.learned).map_or_else(
        || "Those constants are assumed, a factor of 10 either way".to_owned(),
        |learned| format!("{learned}; others are assumed"),
    );
    let note = format!(
        "Shaded: 9 in 10 sampled assemblies, wear constants' uncertainty included. {constants}. Bronze on steel galls: hours after the washer is worn through are no guide."
    );
    let describe = "Two panels over hours of riding, by powers of ten: thickness left of the washer, gap between drum and cover; kept oiled and run dry.";
    let heading = washer_found(gaps);
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        let body = sheet.body();
        for ((panel, (new, words)), frame) in panels.iter().zip(&tied).zip(body.split(panels.len(), 1)) {
            panel.draw(sheet, frame)?;
            if look.narrow() {
                continue;
            }
            for (k, (words, lost)) in words.iter().zip(lost).enumerate() {
                tie(sheet, panel, frame, (k, words), 1e3 * (new - lost).max(TIED * new))?;
            }
        }
        Ok(())
    })
}
