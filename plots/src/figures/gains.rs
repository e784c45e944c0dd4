//! Life of each sampled clutch in one fleet against the same clutch in another: ratios in ascending order.

use crate::figures::fleet::shown;
use crate::figures::part_mark;
use crate::sheet::prelude::*;
use crate::words::clutches::pairs;
use crate::words::number::figures;
use crate::words::reading::{among, brief};
use crate::words::still_running::{gained, gains_found};
use slipsoak_engine::fleet::{Fleet, Outcome, Paired, Report};
use slipsoak_engine::names::Part;

/// Largest number of fleets.
const FLEETS: usize = 7;
/// Largest number of clutches of which each has a mark.
const FEW: usize = 60;
/// Height of a panel, px, and room for the label of its middle line.
const HIGH: f64 = 232.0;
const ROOM: f64 = 92.0;
/// Ratios beyond these are drawn at them.
const LEAST: f64 = 0.01;

/// What is known of a ratio of two lives.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Ratio {
    Known(f64),
    AtLeast(f64),
    AtMost(f64),
    Unknown,
}

impl Ratio {
    /// Ratio of the new life to the old one; a clutch that lasts is known to last for the time it was followed.
    fn of((old, old_fleet): (&Outcome, &Fleet), (new, new_fleet): (&Outcome, &Fleet)) -> Self {
        let followed = |o: &Outcome, fleet: &Fleet| fleet.horizon * o.running_share;
        match (old.running, new.running) {
            (Some(old), Some(new)) => Self::Known(new / old.max(1e-9)),
            (Some(old), None) => Self::AtLeast(followed(new, new_fleet) / old.max(1e-9)),
            (None, Some(new)) => Self::AtMost(new / followed(old, old_fleet).max(1e-9)),
            (None, None) => Self::Unknown,
        }
    }

    /// What its mark says, with the part that fails.
    fn said(self, part: Option<Part>) -> String {
        let part = part.map_or_else(String::new, |part| format!("{}, ", brief(part)));
        match self {
            Self::Known(ratio) => format!("{part}{} times as long", figures(ratio, 2)),
            Self::AtLeast(ratio) => format!("{part}at least {} times as long", figures(ratio, 2)),
            Self::AtMost(ratio) => format!("{part}at most {} times as long", figures(ratio, 2)),
            Self::Unknown => "both outlast the time followed".to_owned(),
        }
    }

    /// Its place on the axis.
    fn at(self) -> f64 {
        match self {
            Self::Known(ratio) | Self::AtLeast(ratio) | Self::AtMost(ratio) => ratio.clamp(LEAST, 1.0 / LEAST),
            Self::Unknown => 1.0,
        }
    }
}

/// Ratios of a pair of fleets in ascending order, each with the part that ends the new life.
fn ratios(old: &Fleet, new: &Fleet) -> Vec<(Ratio, Option<Part>)> {
    let of = |n: &Outcome| {
        let o = old.outcomes.iter().find(|o| o.clutch == n.clutch)?;
        Some((Ratio::of((o, old), (n, new)), n.ended_by))
    };
    let mut all: Vec<(Ratio, Option<Part>)> = new.outcomes.iter().filter_map(of).collect();
    all.sort_by(|a, b| a.0.at().total_cmp(&b.0.at()));
    all
}

/// A pair that is drawn: its fleets, and the index of the new one.
struct Shown<'a> {
    pair: &'a Paired,
    old: &'a Fleet,
    new: &'a Fleet,
    index: usize,
    ratios: Vec<(Ratio, Option<Part>)>,
}

fn compared(report: &Report) -> Vec<Shown<'_>> {
    let (fleets, _) = shown(report, FLEETS);
    let find = |variant: &str, duty: &str| {
        let fleet = fleets.iter().find(|(_, fleet)| fleet.variant == variant && fleet.duty == duty);
        fleet.filter(|(_, fleet)| fleet.beyond.is_none()).copied()
    };
    let mut all = vec![];
    for pair in &report.pairs {
        let (Some((_, old)), Some((index, new))) =
            (find(&pair.against.0, &pair.against.1), find(&pair.variant, &pair.duty))
        else {
            continue;
        };
        let ratios = ratios(old, new);
        if ratios.iter().any(|(ratio, _)| *ratio != Ratio::Unknown) {
            all.push(Shown { pair, old, new, index, ratios });
        }
    }
    all
}

/// Whether any pair of fleets has a clutch whose lives can be compared.
pub fn known(report: &Report) -> bool {
    !compared(report).is_empty()
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let compared = compared(report);
    if compared.is_empty() {
        return Err(DrawError::Empty);
    }
    // Three are below one another, so that no place is empty.
    let across = look.columns(compared.len() > 1 && compared.len() != 3);
    let (low, high) = extent(compared.iter().flat_map(|one| &one.ratios).map(|(ratio, _)| ratio.at()).chain([1.0]));
    let ticks = steps((low / 1.15, high * 1.15));
    let y = (ticks[0].0, ticks[ticks.len() - 1].0);
    let charts: Vec<Panel> = compared.iter().map(|one| chart(report, one, y, &ticks)).collect();
    let wide = look.width() / across as f64;
    let rows = compared.len().div_ceil(across);
    let tall = HIGH + charts.iter().map(|chart| chart.more(wide)).fold(0.0, f64::max).ceil();
    let height = HEAD + rows as f64 * tall + FOOT;
    let marks =
        part_mark::meaning(|part| compared.iter().any(|one| one.ratios.iter().any(|(_, ended)| *ended == Some(part))));
    let note = format!(
        "Every clutch was sampled once and run in both fleets, so that differences between clutches cancel. Mark: the part that fails ({marks}). Arrow: one of the two outlasts the time followed, and the ratio is at least or at most so much; ring: both do. Running hours, oil apart."
    );
    let describe = "A panel for each fleet; across: the sampled clutches in the order of their gain; upward: how many times as long each lasts, by powers of ten.";
    let heading = gains_found(report);
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        for ((one, chart), frame) in compared.iter().zip(&charts).zip(sheet.body().split(rows, across)) {
            sheet.of(Some(one.index), || {
                chart.draw(sheet, frame)?;
                let (x, y) = chart.axes(frame);
                one.ratios.iter().enumerate().try_for_each(|(k, (ratio, part))| {
                    let at = (x.at(k as f64 + 1.0), &y);
                    let few = one.ratios.len() <= FEW;
                    sheet.says(&ratio.said(*part), || mark(sheet, (*ratio, *part), at, few))
                })
            })?;
        }
        Ok(())
    })
}

/// Round ratios around a range, by their powers of ten, with their words.
fn steps((low, high): (f64, f64)) -> Vec<(f64, String)> {
    let all: Vec<f64> = (-3..=3).flat_map(|power| [1.0, 2.0, 5.0].map(|m| m * 10f64.powi(power))).collect();
    let from = all.iter().rposition(|step| *step <= low).unwrap_or(0);
    let to = all.iter().position(|step| *step >= high).unwrap_or(all.len() - 1);
    all[from..=to.max(from + 1)].iter().map(|step| (step.log10(), figures(*step, 1))).collect()
}

fn chart(report: &Report, one: &Shown<'_>, y: (f64, f64), ticks: &[(f64, String)]) -> Panel {
    let named = |fleet: &Fleet| {
        let oil = if fleet.wrong_oil() { " (+ wrong oil)" } else { "" };
        among(pairs(report), (&fleet.variant, &fleet.duty)) + oil
    };
    let n = one.ratios.len() as f64;
    Panel {
        heading: format!("{} against {}", named(one.new), named(one.old)),
        verdict: gained(&one.pair.end),
        across: "sampled clutches, in the order of their gain".to_owned(),
        up: "times as long".to_owned(),
        x: (0.0, n + 1.0).into(),
        y,
        ticks: Some(vec![]),
        ticks_up: Some(ticks.to_vec()),
        limits: vec![Limit { label: "as long".to_owned(), at: 0.0 }],
        room: ROOM,
        ..Panel::default()
    }
}

/// The mark of one clutch, with a stem from the line of no gain.
fn mark(
    sheet: &Sheet<'_>,
    (ratio, part): (Ratio, Option<Part>),
    (at, y): (f64, &Axis),
    few: bool,
) -> Result<(), DrawError> {
    let (zero, height) = (y.at(0.0), y.within(ratio.at().log10()));
    let ink = hues::of_some(part).ink;
    if few {
        sheet.line(&[(at, zero), (at, height)], ink.tint(0.5), 1.0, None)?;
    }
    let arrow = |way: f64| {
        let (wide, tip) = (if few { 4.5 } else { 1.8 }, (at, height - 2.0 * way));
        let [left, right] = [-wide, wide].map(|aside| (at + aside, height + (wide - 2.0) * way));
        sheet.line(&[left, tip, right], ink, if few { 1.8 } else { 0.9 }, None)
    };
    match (ratio, part) {
        (Ratio::AtLeast(_), _) => arrow(1.0),
        (Ratio::AtMost(_), _) => arrow(-1.0),
        (Ratio::Known(_), Some(part)) if few => part_mark::draw(sheet, part, (at, height)),
        (Ratio::Known(_), _) => sheet.dot((at, height), if few { part_mark::MARK } else { 1.8 }, ink),
        (Ratio::Unknown, _) => {
            let radius = if few { part_mark::MARK } else { 1.8 };
            sheet.dot((at, height), radius, QUIET)?;
            sheet.dot((at, height), radius - 1.0, PAPER)
        }
    }
}
