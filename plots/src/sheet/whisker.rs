//! An estimate with its bounds: a dot with whiskers.

use crate::sheet::axis::Axis;
use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::palette::{Dash, Ink, LIMIT_DASH};

/// Draws a dot at an estimate, and whiskers to its bounds, at a height on a horizontal scale. A whisker to an unknown
/// bound is dotted and goes to the end of the scale; the other ones have this dash. Nothing is drawn if nothing is known.
pub fn draw(
    sheet: &Sheet<'_>,
    x: &Axis,
    height: f64,
    [low, estimate, high]: [Option<f64>; 3],
    (line, dot): (Ink, Ink),
    dash: Dash,
) -> Result<(), DrawError> {
    let Some(middle) = estimate.or(low).or(high).map(|value| x.within(value)) else { return Ok(()) };
    for (bound, end) in [(low, x.ends().0), (high, x.ends().1)] {
        let at = bound.map_or(end, |value| x.within(value));
        sheet.line(&[(middle, height), (at, height)], line, 1.6, if bound.is_some() { dash } else { LIMIT_DASH })?;
        if bound.is_some() {
            sheet.line(&[(at, height - 4.0), (at, height + 4.0)], line, 1.6, None)?;
        }
    }
    estimate.map_or(Ok(()), |_| sheet.dot((middle, height), 4.4, dot))
}
