//! A curved ribbon of constant width, with an arrowhead if it goes on.

use crate::sheet::prelude::*;

/// Number of steps along a ribbon.
const STEPS: u32 = 24;
/// Where a ribbon begins or ends, and its direction there.
pub type End = (Place, Place);

/// A ribbon of constant width from one end to the other, with an arrowhead if it goes on.
pub fn ribbon(
    sheet: &Sheet<'_>,
    ((from, out), (to, along)): (End, End),
    wide: f64,
    (ink, strong): (Ink, f64),
    goes_on: bool,
) -> Result<(), DrawError> {
    let reach = |along: Place| 0.62 * (along.0 * (to.0 - from.0) + along.1 * (to.1 - from.1)).abs();
    let (first, second) = (reach(out), reach(along));
    let bends = [
        from,
        (from.0 + first * out.0, from.1 + first * out.1),
        (to.0 - second * along.0, to.1 - second * along.1),
        to,
    ];
    let half = 0.5 * wide.max(1.0);
    let edge = |k: u32, side: f64| {
        let s = f64::from(k) / f64::from(STEPS);
        let [a, b, c, d] = bends;
        let r = 1.0 - s;
        let on =
            |a: f64, b: f64, c: f64, d: f64| r * r * r * a + 3.0 * r * r * s * b + 3.0 * r * s * s * c + s * s * s * d;
        let slope = |a: f64, b: f64, c: f64, d: f64| r * r * (b - a) + 2.0 * r * s * (c - b) + s * s * (d - c);
        let (x, y) = (on(a.0, b.0, c.0, d.0), on(a.1, b.1, c.1, d.1));
        let (dx, dy) = (slope(a.0, b.0, c.0, d.0), slope(a.1, b.1, c.1, d.1));
        let long = dx.hypot(dy).max(1e-9);
        (x - side * half * dy / long, y + side * half * dx / long)
    };
    let (head, flare) = (0.35 * half + 9.0, half + 6.0);
    let tip = if goes_on {
        let aside = |side: f64| (to.0 - side * flare * along.1, to.1 + side * flare * along.0);
        vec![aside(1.0), (to.0 + head * along.0, to.1 + head * along.1), aside(-1.0)]
    } else {
        vec![]
    };
    let sides = (0..=STEPS).map(|k| edge(k, 1.0)).chain(tip).chain((0..=STEPS).rev().map(|k| edge(k, -1.0)));
    let outline: Vec<Place> = sides.collect();
    sheet.shape(&outline, PAPER, 1.0)?;
    sheet.shape(&outline, ink, strong)?;
    sheet.outline(&outline, PAPER, 1.2)
}
