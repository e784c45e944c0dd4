//! Marks of the parts that end a life: a shape and a colour for each.

use crate::sheet::prelude::*;
use crate::words::reading::brief;
use slipsoak_engine::names::Part;

/// Radius of a mark, and of the ring of a service, px.
pub const MARK: f64 = 4.6;
const RING: f64 = 3.8;

/// Parts and what marks them, for those that end a life.
const MARKS: [(Part, &str, &str); 7] = [
    (Part::Lining, "dot", "lining"),
    (Part::Washer, "triangle", "washer"),
    (Part::Bushing, "square", "bushing"),
    (Part::Spring, "diamond", "spring"),
    (Part::CoverGap, "dot", "drum and cover touch"),
    (Part::Charring, "cross", "washer chars"),
    (Part::Seized, "cross", "bushing grabs"),
];

/// What the marks of these parts mean.
pub fn meaning(ends: impl Fn(Part) -> bool) -> String {
    let mut known: Vec<(&str, Vec<&str>)> = vec![];
    for (_, shape, words) in MARKS.iter().filter(|(part, ..)| ends(*part)) {
        match known.iter_mut().find(|(own, _)| own == shape) {
            Some((_, all)) => all.push(words),
            None => known.push((shape, vec![words])),
        }
    }
    let said = known.into_iter().map(|(shape, words)| format!("{shape}: {}", words.join(" or ")));
    if said.len() == 0 { "none".to_owned() } else { said.collect::<Vec<_>>().join(", ") }
}

/// Parts in the order of stacked bars, from below.
pub const ORDER: [Part; 7] =
    [Part::Lining, Part::Washer, Part::Charring, Part::Bushing, Part::Seized, Part::Spring, Part::CoverGap];

/// The order of these parts in stacked bars, from below; what becomes of a part has its colour.
pub fn stacked(ends: impl Fn(Part) -> bool) -> String {
    let known: Vec<&str> = ORDER.into_iter().filter(|part| ends(*part)).map(brief).collect();
    if known.is_empty() { "none".to_owned() } else { format!("bars, from below: {}", known.join(", ")) }
}

/// Corners of a part's mark at a position; none for a dot or a cross.
fn corners(part: Part, (x, y): Place) -> Option<Vec<Place>> {
    let degrees: &[f64] = match part {
        Part::Washer => &[90.0, 210.0, 330.0],
        Part::Bushing => &[45.0, 135.0, 225.0, 315.0],
        Part::Spring => &[0.0, 90.0, 180.0, 270.0],
        _ => return None,
    };
    let corner = |degrees: &f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        (x + 1.15 * MARK * cos, y - 1.15 * MARK * sin)
    };
    Some(degrees.iter().map(corner).collect())
}

/// Draws the mark of a part at a position, in its colour.
pub fn draw(sheet: &Sheet<'_>, part: Part, at: Place) -> Result<(), DrawError> {
    draw_in(sheet, part, at, hues::of_part(part).ink)
}

/// Draws the mark of a part at a position, in the colour of a run.
pub fn draw_in(sheet: &Sheet<'_>, part: Part, at: Place, ink: Ink) -> Result<(), DrawError> {
    if let Some(corners) = corners(part, at) {
        return sheet.shape(&corners, ink, 1.0);
    }
    if !matches!(part, Part::Charring | Part::Seized) {
        return sheet.dot(at, MARK, ink);
    }
    cross(sheet, at, ink)
}

/// Draws a cross at a position.
pub fn cross(sheet: &Sheet<'_>, at: Place, ink: Ink) -> Result<(), DrawError> {
    let half = 1.15 * MARK * std::f64::consts::FRAC_1_SQRT_2;
    let line = |up: f64| sheet.line(&[(at.0 - half, at.1 - up), (at.0 + half, at.1 + up)], ink, 2.0, None);
    line(half)?;
    line(-half)
}

/// Draws the mark of a part hollow, for one that is renewed before its limit.
pub fn hollow(sheet: &Sheet<'_>, part: Part, at: Place) -> Result<(), DrawError> {
    let ink = hues::of_part(part).ink;
    let Some(corners) = corners(part, at) else {
        sheet.dot(at, MARK, ink)?;
        return sheet.dot(at, MARK - 1.6, PAPER);
    };
    sheet.shape(&corners, PAPER, 1.0)?;
    sheet.outline(&corners, ink, 1.6)
}

/// Draws a ring at a position, for a service that is due.
pub fn service(sheet: &Sheet<'_>, at: Place) -> Result<(), DrawError> {
    sheet.dot(at, RING, hues::of_part(Part::Oil).ink)?;
    sheet.dot(at, RING - 1.3, PAPER)
}
