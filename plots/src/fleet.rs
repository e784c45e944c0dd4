//! Figures of a fleet.

use crate::canvas::{FOOT, HEAD, Sheet, sheet};
use crate::panel::{Curve, Frame, Panel};
use crate::report::asked;
use crate::{DrawError, Drawing, Look, Size, first, lives, parts, remaining};
use slipsoak_engine::fleet::{Fleet, Report};

/// Most panels in one figure.
const PANELS: usize = 8;

/// A figure of a fleet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FleetFigure {
    /// share of clutches that have ended, over hours
    LifeDistribution,
    /// which part is the first to fail
    FirstToFail,
    /// remaining life over hours
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
        let title = look.titled(|| asked(&report.title, &report.script));
        let titled = (title != report.title).then(|| Report { title, ..report.clone() });
        let report = titled.as_ref().unwrap_or(report);
        look.laid_out(|look| match self {
            Self::LifeDistribution => lives::draw(report, look),
            Self::FirstToFail => first::draw(report, look),
            Self::RemainingLife => remaining::draw(report, look),
            Self::PartByPart => parts::draw(report, look),
        })
    }
}

/// Name of a fleet among the others: the machine, the duty, or both, whichever tells them apart.
pub fn name(report: &Report, fleet: &Fleet) -> String {
    let same_duty = report.fleets.iter().all(|f| f.duty == fleet.duty);
    let same_variant = report.fleets.iter().all(|f| f.variant == fleet.variant);
    match (same_variant, same_duty) {
        (_, true) => fleet.variant.clone(),
        (true, false) => fleet.duty.clone(),
        (false, false) => format!("{}, {}", fleet.variant, fleet.duty),
    }
}

/// The fleets that a figure of panels shows, and a sentence on those it does not.
pub fn shown(report: &Report, most: usize) -> (&[Fleet], String) {
    let fleets = &report.fleets[..report.fleets.len().min(most)];
    match report.fleets.len() - fleets.len() {
        0 => (fleets, String::new()),
        1 => (fleets, " 1 more fleet is not shown.".to_owned()),
        left_out => (fleets, format!(" {left_out} more fleets are not shown.")),
    }
}

/// A sheet with one panel of a height for each fleet; heading, note and description are words of the sheet.
pub fn panels(
    report: &Report,
    look: &Look,
    high: f64,
    [heading, note, describe]: [&str; 3],
    panel: impl Fn(&Sheet<'_>, &[Fleet], usize, Frame) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    let (fleets, left_out) = shown(report, PANELS);
    let (rows, across) = grid(fleets.len(), look.size);
    let height = (HEAD + rows as f64 * high + FOOT) as u32;
    let size = (look.size.width, height.max(look.size.height.min(320)));
    let heading = format!("{heading}: {}", report.title);
    sheet(size, &heading, &look.under(&format!("{note}{left_out}")), describe, |sheet| {
        let body = Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: sheet.height - FOOT };
        let frames = body.split(rows, across).into_iter().take(fleets.len());
        frames.enumerate().try_for_each(|(k, frame)| sheet.of(Some(k), || panel(sheet, fleets, k, frame)))
    })
}

/// A chart of what is left, as a share, over the hours of the duty.
pub fn left_over_hours(heading: String, verdict: String, until: f64, up: &str, curves: Vec<Curve>) -> Panel {
    Panel {
        heading,
        verdict,
        across: "hours of the duty, rests included".to_owned(),
        up: up.to_owned(),
        x: (0.0, until),
        y: (0.0, 1.0),
        curves,
        room: 48.0,
        format_up: |y| Some(format!("{:.0}", 100.0 * y)),
        ..Panel::default()
    }
}

/// Panels side by side, and rows of them.
pub fn grid(count: usize, size: Size) -> (usize, usize) {
    let across = if count > 1 && size.width >= 900 { 2 } else { 1 };
    (count.div_ceil(across), across)
}
