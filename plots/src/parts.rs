//! Remaining life of each part over a fleet: when the middle clutch has so much left of it, and the band of eighty of a hundred.

use crate::axis::Axis;
use crate::canvas::{LETTERS, Place, Sheet, Type, wrapped};
use crate::fleet::{followed, left_over_hours, lived, name, panels};
use crate::palette::{QUIET, colour, dash};
use crate::panel::Curve;
use crate::{DrawError, Drawing, Look};
use slipsoak_engine::fleet::{Fleet, LEVELS, Report, Wearing};
use slipsoak_engine::names::Part;

const HIGH: f64 = 282.0;
/// Places of the band's edges.
const STEPS: usize = 96;

/// The line of a share of all clutches, with how many hours of running a second is: (hours, what is left), from new to where it is last known.
fn line((part, scale): (&Wearing, f64), share: usize) -> Vec<Place> {
    let known = LEVELS.iter().zip(&part.times).map_while(|(left, times)| Some((times[share]? * scale, *left)));
    std::iter::once((0.0, 1.0)).chain(known).collect()
}

/// What a line has left after so many hours; beyond its last point what it had there.
fn left(line: &[Place], hours: f64) -> f64 {
    let after = line.iter().position(|p| p.0 >= hours);
    match after {
        Some(0) => 1.0,
        Some(k) => {
            let ((a, from), (b, to)) = (line[k - 1], line[k]);
            from + (hours - a) / (b - a).max(1e-9) * (to - from)
        }
        None => line.last().map_or(1.0, |p| p.1),
    }
}

/// Parts of which the middle clutch uses up a quarter at least, with their place in the order of colours.
fn worn(fleet: &Fleet) -> impl Iterator<Item = (usize, &Wearing)> {
    fleet.wearing.iter().enumerate().filter(|(_, part)| part.times[0][1].is_some())
}

/// Hours of running of a second of the duty.
fn scale(fleet: &Fleet) -> f64 {
    fleet.running_share / 3600.0
}

/// Hours of running that the figure covers: as far as anything is known of a middle clutch, or else all that were followed.
fn until(fleets: &[(usize, &Fleet)]) -> f64 {
    let last = |fleet: &Fleet| {
        let lasts = worn(fleet).map(|(_, part)| line((part, scale(fleet)), 1).last().map_or(0.0, |p| p.0));
        lasts.fold(0.0, f64::max)
    };
    let known = fleets.iter().map(|(_, fleet)| last(fleet)).fold(0.0, f64::max) * 1.04;
    if known > 0.0 { known } else { fleets.iter().map(|(_, f)| followed(f) / 3600.0).fold(1e-3, f64::max) }
}

fn curve(order: usize, part: (&Wearing, f64), until: f64) -> Curve {
    let [soon, middle, late] = [0, 1, 2].map(|share| line(part, share));
    // The band ends where the ways of too many do.
    let seen = until.min(late.last().map_or(0.0, |p| p.0));
    let places = (0..=STEPS).map(|k| seen * k as f64 / STEPS as f64);
    Curve {
        label: String::new(),
        order,
        band: places.map(|hours| (hours, left(&soon, hours), left(&late, hours))).collect(),
        points: middle,
        beyond: soon,
        dash: dash(order),
        bold: true,
        of: None,
    }
}

/// Words at the curves, each at another height of its own curve.
fn labels(sheet: &Sheet<'_>, fleet: &Fleet, (x, y): (&Axis, &Axis), right: f64) -> Result<(), DrawError> {
    let mut taken: Vec<(f64, f64, f64)> = vec![];
    for (k, (order, part)) in worn(fleet).enumerate() {
        let middle = line((part, scale(fleet)), 1);
        let share = fleet.first.iter().find(|share| share.part == Some(part.part));
        let words = match share {
            Some(share) => format!("{}: first in {} of {}", part.part, share.clutches, fleet.outcomes.len()),
            None if part.part == Part::Oil => "oil, set apart".to_owned(),
            None => part.part.name().to_owned(),
        };
        let least = middle.last().map_or(1.0, |p| p.1);
        let level = (0.88 - 0.16 * k as f64).max(least);
        let hours = (1..middle.len()).find(|&i| middle[i].1 <= level).map_or(0.0, |i| {
            let ((a, from), (b, to)) = (middle[i - 1], middle[i]);
            a + (from - level) / (from - to).max(1e-9) * (b - a)
        });
        let set = Type::of(LETTERS[3]).ink(colour(order)).bold(true);
        let wide = sheet.width_of(&words, set)?;
        // Above the curve, which falls away from the words; below it where other words stand.
        let at = (x.at(hours) + 14.0).min(right - wide);
        let beneath = |place: f64| y.at(left(&middle, (place - x.at(0.0)) / (x.at(1.0) - x.at(0.0))));
        let free = |height: &f64| taken.iter().all(|t| (t.2 - height).abs() > 14.0 || t.1 < at || t.0 > at + wide);
        let (over, under) = (beneath(at) - 10.0, beneath(at + wide) + 12.0);
        let height = [over, under, under + 15.0, under + 30.0].into_iter().find(free).unwrap_or(over);
        taken.push((at, at + wide, height));
        sheet.text(&words, (at, height), set)?;
    }
    Ok(())
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "Bold: when half of {} clutches have so much left of the part; thin: when a tenth have; shade: from there to when nine tenths have, as far as that is known. A clutch counts as later for the parts that outlast its first worn one. Oil set apart: at 0 it is at its limit, and the clutch goes on. Straight between quarters.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of running; upward: what is left of each part, the middle clutch and the band from P10 to P90.";
    panels(report, look, HIGH, ["Part by part", &note, describe], |sheet, fleets, (_, fleet), frame| {
        let until = until(fleets);
        let curves = worn(fleet).map(|(order, part)| curve(order, (part, scale(fleet)), until)).collect();
        let panel = left_over_hours(name(report, fleet), lived(fleet), until, "left of the part, %", curves);
        panel.draw(sheet, frame)?;
        let (x, y) = panel.axes(frame);
        if worn(fleet).next().is_none() {
            let words = "up to the end the middle clutch has more than three quarters left of every part";
            let set = Type::of(LETTERS[2]).ink(QUIET).side(0);
            let (left, right) = (x.at(0.0), x.at(until));
            let lines = wrapped(words, set, right - left - 40.0)?;
            for (k, line) in lines.iter().enumerate() {
                let down = 18.0 * (k as f64 - 0.5 * (lines.len() - 1) as f64);
                sheet.text(line, (0.5 * (left + right), y.at(0.5) + down), set)?;
            }
            return Ok(());
        }
        labels(sheet, fleet, (&x, &y), frame.right - 30.0)
    })
}
