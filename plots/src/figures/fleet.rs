//! Figures of a fleet.

use crate::figures::{first, lives, parts, remaining};
use crate::sheet::canvas::{FOOT, HEAD, Sheet, sheet};
use crate::sheet::panel::{Curve, Frame, Panel};
use crate::sheet::{
    drawing::{DrawError, Drawing},
    font,
    look::{Look, Size},
};
use slipsoak_engine::fleet::{Fleet, Milestone, Report};
use slipsoak_engine::say::{time, times};
use slipsoak_engine::statistics::Bounds;

/// Largest number of panels.
const PANELS: usize = 8;

/// A figure of a fleet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FleetFigure {
    /// share of clutches with a worn-out part, over running hours
    LifeDistribution,
    /// part that wears out first
    FirstToFail,
    /// remaining life over running hours
    RemainingLife,
    /// remaining life of each part
    PartByPart,
}

impl FleetFigure {
    /// Every figure of a fleet.
    pub const ALL: [Self; 4] = [Self::LifeDistribution, Self::FirstToFail, Self::RemainingLife, Self::PartByPart];

    /// Stem of its file's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::LifeDistribution => "life-distribution",
            Self::FirstToFail => "first-to-fail",
            Self::RemainingLife => "remaining-life",
            Self::PartByPart => "part-by-part",
        }
    }

    /// Draws the figure.
    pub fn draw(self, report: &Report, look: &Look) -> Result<Drawing, DrawError> {
        if report.fleets.is_empty() || report.fleets.iter().any(|fleet| fleet.outcomes.is_empty()) {
            return Err(DrawError::Empty);
        }
        look.laid_out(|look| match self {
            Self::LifeDistribution => lives::draw(report, look),
            Self::FirstToFail => first::draw(report, look),
            Self::RemainingLife => remaining::draw(report, look),
            Self::PartByPart => parts::draw(report, look),
        })
    }
}

/// Name of a fleet among others: the machine, the duty, or both, whichever distinguishes them.
pub fn name(report: &Report, fleet: &Fleet) -> String {
    let same_duty = report.fleets.iter().all(|f| f.duty == fleet.duty);
    let same_variant = report.fleets.iter().all(|f| f.variant == fleet.variant);
    match (same_variant, same_duty) {
        (_, true) => fleet.variant.clone(),
        (true, false) => fleet.duty.clone(),
        (false, false) => format!("{}, {}", fleet.variant, fleet.duty),
    }
}

/// A milestone among others: B10, B50 or B90.
pub fn milestone(set: &[Milestone], name: &str) -> Bounds {
    set.iter().find(|m| m.name == name).map(|m| m.time).unwrap_or_default()
}

/// Share of a fleet's clutches with a part worn out within the horizon.
pub fn worn_share(fleet: &Fleet) -> f64 {
    1.0 - fleet.first.iter().find(|s| s.part.is_none()).map_or(0.0, |s| s.share)
}

/// Time covered by a fleet's simulation, s of running.
pub fn followed(fleet: &Fleet) -> f64 {
    fleet.horizon * fleet.running_share
}

/// Order of the fleets from the longest-lived: by B10 in running hours; beyond the horizon by the smaller share of
/// clutches with a worn-out part; ties in the order compared.
pub fn ranked(report: &Report) -> Vec<usize> {
    let b10 = |k: &usize| milestone(&report.fleets[*k].end_running, "B10").estimate.unwrap_or(f64::INFINITY);
    let worn = |k: &usize| worn_share(&report.fleets[*k]);
    let mut all: Vec<usize> = (0..report.fleets.len()).collect();
    all.sort_by(|a, b| b10(b).total_cmp(&b10(a)).then(worn(a).total_cmp(&worn(b))));
    all
}

/// Index of the fleet that others are compared with, and its description: the first fleet of the reference machine if
/// the script names one, else the first fleet.
pub fn reference(report: &Report) -> (usize, &'static str) {
    let named = report.reference.as_ref();
    let at = named.and_then(|named| report.fleets.iter().position(|fleet| fleet.variant == *named));
    at.map_or((0, "the first compared"), |at| (at, "the reference"))
}

/// Bounds of a time as text; none if there are too few clutches for any.
pub fn bounds(b: &Bounds) -> Option<String> {
    match (b.low, b.high) {
        (Some(low), Some(high)) => Some(times(low, high)),
        (Some(low), None) => Some(format!("{} or more", time(low))),
        (None, Some(high)) => Some(format!("at most {}", time(high))),
        (None, None) => None,
    }
}

/// Text with B10 and median of the running time to the first worn part, or that it was not reached.
pub fn lived(fleet: &Fleet) -> String {
    let said = |name: &str| {
        let b = milestone(&fleet.end_running, name);
        let spread = bounds(&b).map_or_else(String::new, |b| format!(" ({b})"));
        b.estimate.map(|t| format!("{}{spread}", time(t)))
    };
    let within = time(followed(fleet));
    match (said("B10"), said("B50")) {
        (None, _) if worn_share(fleet) == 0.0 => format!("none worn out within {within} of running"),
        (None, _) => format!("fewer than 1 in 10 worn out within {within} of running"),
        (Some(b10), None) => format!("running: B10 {b10}; fewer than half worn out within {within}"),
        (Some(b10), Some(b50)) => format!("running: B10 {b10}; median {b50}"),
    }
}

/// Text with the running time at which the oil is due.
pub fn oil_due(fleet: &Fleet) -> String {
    let said = |name: &str| milestone(&fleet.service_running, name).estimate.map(time);
    match (said("B10"), said("B50")) {
        (None, _) if fleet.outcomes.iter().all(|o| o.service_due.is_none()) => "oil due in none".to_owned(),
        (None, _) => "oil due in fewer than 1 in 10".to_owned(),
        (Some(b10), None) => format!("oil due: B10 {b10} of running; in fewer than half"),
        (Some(b10), Some(b50)) => format!("oil due: B10 {b10} of running; median {b50}"),
    }
}

/// The fleets that a figure shows, each with its index, and a sentence on those it leaves out. If there are more than
/// `most`: the reference, the longest-lived and the shortest-lived.
pub fn shown(report: &Report, most: usize) -> (Vec<(usize, &Fleet)>, String) {
    let all = report.fleets.len();
    let mut places: Vec<usize> = (0..all).collect();
    let mut note = String::new();
    if all > most {
        let (own, called) = reference(report);
        let others: Vec<usize> = ranked(report).into_iter().filter(|k| *k != own).collect();
        let long = most / 2;
        let short = most - 1 - long;
        places =
            std::iter::once(own).chain(others[..long].iter().chain(&others[others.len() - short..]).copied()).collect();
        places.sort_unstable();
        note = format!(" Of {all} fleets {called}, the {long} longest-lived and the {short} shortest-lived are shown.");
    }
    (places.into_iter().map(|k| (k, &report.fleets[k])).collect(), note)
}

/// A sheet with one panel for each fleet shown, all as high as the highest; heading, note and description are texts of
/// the sheet.
pub fn panels(
    report: &Report,
    look: &Look,
    high: impl Fn(&[(usize, &Fleet)], (usize, &Fleet), f64) -> f64,
    [heading, note, describe]: [&str; 3],
    panel: impl Fn(&Sheet<'_>, &[(usize, &Fleet)], (usize, &Fleet), Frame) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    font::register()?;
    let (fleets, left_out) = shown(report, PANELS);
    let (rows, across) = grid(fleets.len(), look.size);
    let wide = f64::from(look.size.width) / across as f64;
    let high = fleets.iter().map(|shown| high(&fleets, *shown, wide)).fold(0.0, f64::max).ceil();
    let height = (HEAD + rows as f64 * high + FOOT) as u32;
    let size = (look.size.width, height.max(look.size.height.min(320)));
    let heading = format!("{heading}: {}", look.asked(&report.head));
    sheet(size, &heading, &look.under(&format!("{note}{left_out}")), describe, |sheet| {
        let body = Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: sheet.height - FOOT };
        let frames = body.split(rows, across).into_iter().zip(&fleets);
        frames
            .into_iter()
            .try_for_each(|(frame, shown)| sheet.of(Some(shown.0), || panel(sheet, &fleets, *shown, frame)))
    })
}

/// A chart of the remaining share over running hours, with the curves' names below.
pub fn left_over_hours(heading: String, verdict: String, until: f64, up: &str, curves: Vec<Curve>) -> Panel {
    Panel {
        heading,
        verdict,
        stacked: true,
        across: "hours of running".to_owned(),
        up: up.to_owned(),
        x: (0.0, until),
        y: (0.0, 1.0),
        curves,
        format_up: |y| Some(format!("{:.0}", 100.0 * y)),
        ..Panel::default()
    }
}

/// Numbers of columns and rows of a grid of panels.
pub fn grid(count: usize, size: Size) -> (usize, usize) {
    let across = if count > 1 && size.width >= 900 { 2 } else { 1 };
    (count.div_ceil(across), across)
}
