//! The washer and the gap between drum and cover as they wear.

use crate::axis::number;
use crate::canvas::{FOOT, HEAD, sheet};
use crate::palette::dash;
use crate::panel::{Curve, Frame, Limit, Panel};
use crate::reading::hours;
use crate::{DrawError, Drawing, Look};
use slipsoak_engine::fit::{Course, Gaps, Point, When};

/// Thousandths of an inch in a millimetre.
const THOU: f64 = 1.0 / 0.0254;
const HOUR: f64 = 3600.0;
/// What counts as nothing left, m.
const NONE: f64 = 1e-9;
/// Height of a panel, px.
const PANEL: f64 = 296.0;

fn words(name: &str, what: &str, when: &When) -> String {
    let time = when.time.map_or_else(|| "never".to_owned(), |t| hours(t / HOUR));
    format!("{name}, {what} {time}")
}

/// What is left of a size as it wears, mm over hours, with its tolerance as a band.
fn curve(course: &Course, order: usize, label: String, of: fn(&Point) -> [f64; 3]) -> Curve {
    // A little beyond where nothing is left, so that the line comes down to the axis.
    let none = course.points.iter().position(|p| of(p)[1] <= NONE).map_or(course.points.len(), |k| k + 1);
    let shown = &course.points[..none];
    Curve {
        label,
        order,
        points: shown.iter().map(|p| (p.time / HOUR, 1e3 * of(p)[1])).collect(),
        band: shown.iter().map(|p| (p.time / HOUR, 1e3 * of(p)[0], 1e3 * of(p)[2])).collect(),
        beyond: vec![],
        dash: dash(order),
        bold: order == 0,
        of: None,
    }
}

pub fn draw(gaps: &Gaps, look: &Look) -> Result<Drawing, DrawError> {
    if gaps.courses.iter().all(|c| c.points.len() < 2) {
        return Err(DrawError::Empty);
    }
    let washer = gaps.layers.iter().find(|l| l.name == "washer").map_or((0.0, 0.0), |l| (l.size, l.tolerance));
    let longest = |of: &dyn Fn(&Course) -> Option<f64>| gaps.courses.iter().filter_map(of).fold(1.0, f64::max) / HOUR;
    let panel = |heading: String, up: &str, x: f64, y: f64, curves, limits| Panel {
        heading,
        across: format!("hours of riding, use: {}", gaps.usage),
        up: format!("{up}, mm (thousandths of an inch)"),
        x: (0.0, 1.05 * x),
        y: (0.0, 1.1 * y),
        curves,
        limits,
        room: 236.0,
        beside: Some(|mm| number(mm * THOU, 1.0)),
        ..Panel::default()
    };
    let limit = |at: f64, what: &str| {
        vec![Limit { label: format!("{what} {:.2} mm ({:.0} thou)", 1e3 * at, 1e3 * at * THOU), at: 1e3 * at }]
    };
    let courses = || gaps.courses.iter().enumerate();
    let washers = courses().map(|(k, c)| curve(c, k, words(&c.name, "due", &c.washer_due), |p| p.washer)).collect();
    let stack = &gaps.stack;
    let rubs = courses().map(|(k, c)| curve(c, k, words(&c.name, "touches", &c.touches), |p| p.gap)).collect();
    let panels = [
        panel(
            "Washer left; once it is worn through, stop riding".to_owned(),
            "washer",
            longest(&|c| c.bronze_on_steel.time),
            1e3 * (washer.0 + washer.1),
            washers,
            limit(gaps.washer_limit, "due at"),
        ),
        panel(
            "Gap between drum and cover if it were ridden on (0: they touch)".to_owned(),
            "gap",
            longest(&|c| c.touches.time),
            1e3 * (stack.nominal + stack.worst),
            rubs,
            limit(gaps.limit, "required"),
        ),
    ];
    let height = (HEAD + PANEL * panels.len() as f64 + FOOT) as u32;
    let note = "Shaded: tolerances alone. The wear constants are assumed, a factor of 10 either way, which is much wider: read hours as an order of magnitude. Bronze on steel galls: hours after the washer is worn through are no guide.";
    let describe = "Two panels over hours of riding: thickness left of the washer, gap between drum and cover; kept oiled and run dry.";
    let heading = look.titled(|| format!("Washer and cover of the {} as they wear", gaps.machine));
    sheet((look.size.width, height), &heading, &look.under(note), describe, |sheet| {
        let body = Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: sheet.height - FOOT };
        for (panel, frame) in panels.iter().zip(body.split(panels.len(), 1)) {
            panel.draw(sheet, frame)?;
        }
        Ok(())
    })
}
