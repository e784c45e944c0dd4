//! A bar in the colours of amounts, along a scale.

use crate::sheet::axis::Axis;
use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::frame::Place;
use crate::sheet::palette::{QUIET, ramp};

/// Number of stripes.
const STRIPES: u32 = 64;

/// Draws the bar along a scale, lying or upright, between two edges, px. `share`: place of a value in the ramp.
pub fn draw(
    sheet: &Sheet<'_>,
    along: &Axis,
    (from, to): (f64, f64),
    upright: bool,
    share: impl Fn(f64) -> f64,
) -> Result<(), DrawError> {
    let (start, end) = along.ends();
    let corner = |at: f64, edge: f64| -> Place { if upright { (edge, at) } else { (at, edge) } };
    let at = |stripe: f64| start + (end - start) * stripe / f64::from(STRIPES);
    // Stripes overlap a little, so that no background shows between them.
    let lap = 0.3 * (end - start).signum();
    for k in (0..STRIPES).map(f64::from) {
        let ink = ramp(share(along.value(at(k + 0.5))));
        let next = if k + 1.0 < f64::from(STRIPES) { at(k + 1.0) + lap } else { end };
        sheet.bar(corner(at(k), from), corner(next, to), ink)?;
    }
    sheet.outline(&[corner(start, from), corner(end, from), corner(end, to), corner(start, to)], QUIET, 0.6)
}
