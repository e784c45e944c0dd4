//! One order of colours and dashes for every figure.
//!
//! Colours: the set that M. Okabe and K. Ito published for colour-blind readers (2008), darkened where thin lines and letters need
//! it, in an order of our own that alternates dark and light. Dashes differ too, so that a grey print still tells curves apart.

/// A colour: red, green, blue, 0..255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8, pub u8, pub u8);

/// Dash and gap, px.
pub type Dash = Option<(f64, f64)>;

/// Ground of every figure.
pub const PAPER: Ink = Ink(255, 255, 255);
/// Text and axes.
pub const TEXT: Ink = Ink(34, 34, 34);
/// Lesser text: notes, limits.
pub const QUIET: Ink = Ink(92, 92, 92);
/// Grids and guides.
pub const FAINT: Ink = Ink(222, 222, 222);

/// Dashes of limits.
pub const LIMIT_DASH: Dash = Some((2.0, 3.0));

const COLOURS: [Ink; 8] = [
    Ink(213, 94, 0),
    Ink(0, 114, 178),
    Ink(0, 145, 106),
    Ink(184, 98, 146),
    Ink(45, 45, 45),
    Ink(192, 128, 0),
    Ink(48, 148, 204),
    Ink(128, 118, 30),
];

const DASHES: [Dash; 8] = [
    None,
    Some((9.0, 3.0)),
    Some((4.0, 2.5)),
    Some((15.0, 3.0)),
    Some((2.0, 2.0)),
    Some((6.0, 5.0)),
    Some((11.0, 6.0)),
    Some((3.0, 5.0)),
];

/// Colour of the k-th curve.
pub fn colour(k: usize) -> Ink {
    COLOURS[k % COLOURS.len()]
}

/// Dash and gap of the k-th curve.
pub fn dash(k: usize) -> Dash {
    DASHES[k % DASHES.len()]
}

impl Ink {
    /// The colour thinned towards the paper: share 1 leaves it, 0 is paper.
    pub fn tint(self, share: f64) -> Self {
        let thin = |c: u8| (255.0 + (f64::from(c) - 255.0) * share).round().clamp(0.0, 255.0) as u8;
        Self(thin(self.0), thin(self.1), thin(self.2))
    }
}
