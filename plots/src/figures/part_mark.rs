//! Marks of the parts that end a life: a shape and a colour for each.

use crate::sheet::prelude::*;
use slipsoak_engine::names::Part;

/// Radius of a mark, px.
pub const MARK: f64 = 4.6;

/// Parts and what marks them, for those that end a life.
const MARKS: [(Part, &str); 7] = [
    (Part::Lining, "dot: lining"),
    (Part::Washer, "triangle: washer"),
    (Part::Bushing, "square: bushing"),
    (Part::Spring, "diamond: spring"),
    (Part::CoverGap, "dot: drum and cover touch"),
    (Part::Charring, "cross: washer chars"),
    (Part::Seized, "cross: bushing grabs"),
];

/// What the marks of these parts mean.
pub fn meaning(ends: impl Fn(Part) -> bool) -> String {
    let known: Vec<&str> = MARKS.iter().filter(|(part, _)| ends(*part)).map(|(_, words)| *words).collect();
    if known.is_empty() { "none".to_owned() } else { known.join(", ") }
}

/// Draws the mark of a part at a position.
pub fn draw(sheet: &Sheet<'_>, part: Part, (x, y): Place) -> Result<(), DrawError> {
    let ink = hues::of_part(part).ink;
    let corner =
        |degrees: f64| (x + MARK * 1.15 * degrees.to_radians().cos(), y - MARK * 1.15 * degrees.to_radians().sin());
    let shape = |corners: &[f64]| sheet.shape(&corners.iter().map(|at| corner(*at)).collect::<Vec<_>>(), ink, 1.0);
    match part {
        Part::Washer => shape(&[90.0, 210.0, 330.0]),
        Part::Bushing => shape(&[45.0, 135.0, 225.0, 315.0]),
        Part::Spring => shape(&[0.0, 90.0, 180.0, 270.0]),
        Part::Charring | Part::Seized => [[45.0, 225.0], [135.0, 315.0]]
            .iter()
            .try_for_each(|[a, b]| sheet.line(&[corner(*a), corner(*b)], ink, 2.0, None)),
        _ => sheet.dot((x, y), MARK, ink),
    }
}

/// Draws a hollow tick, for a service that is due, of this height about a position.
pub fn service(sheet: &Sheet<'_>, (x, y): Place, high: f64) -> Result<(), DrawError> {
    let half = 0.5 * high;
    sheet.bar((x - 1.8, y - half), (x + 1.8, y + half), PAPER)?;
    let corners = [(x - 1.8, y - half), (x + 1.8, y - half), (x + 1.8, y + half), (x - 1.8, y + half)];
    sheet.outline(&corners, hues::of_part(Part::Oil).ink, 0.9)
}
