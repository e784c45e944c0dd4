//! One order of colours and dashes for every figure.
//!
//! Colours: the set that M. Okabe and K. Ito published for colour-blind readers (2008), from memory, in an order of our own that
//! alternates dark and light; dashes differ too, so that grey printing works.

use plotters::style::RGBColor;

/// Ink of text and axes.
pub const INK: RGBColor = RGBColor(34, 34, 34);
/// Ink of grids.
pub const FAINT: RGBColor = RGBColor(216, 216, 216);
/// Ink of limits.
pub const LIMIT: RGBColor = RGBColor(110, 110, 110);

const COLOURS: [RGBColor; 7] = [
    RGBColor(213, 94, 0),
    RGBColor(0, 114, 178),
    RGBColor(0, 158, 115),
    RGBColor(204, 121, 167),
    RGBColor(60, 60, 60),
    RGBColor(230, 159, 0),
    RGBColor(86, 180, 233),
];

/// Dash and gap, px; none is solid.
const DASHES: [Option<(u32, u32)>; 7] =
    [None, Some((9, 3)), Some((3, 3)), Some((14, 4)), Some((2, 6)), Some((6, 6)), Some((12, 8))];

/// Colour of the k-th curve.
pub fn colour(k: usize) -> RGBColor {
    COLOURS[k % COLOURS.len()]
}

/// Dash and gap of the k-th curve.
pub fn dash(k: usize) -> Option<(u32, u32)> {
    DASHES[k % DASHES.len()]
}

/// A name cut to so many characters.
pub fn short(name: &str, most: usize) -> String {
    if name.chars().count() <= most {
        name.to_owned()
    } else {
        name.chars().take(most.saturating_sub(1)).chain(['…']).collect()
    }
}
