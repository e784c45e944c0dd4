//! Order of colours and dashes for every figure.
//!
//! Colours: the set that M. Okabe and K. Ito published for colour-blind readers (2008), darkened for thin lines and
//! letters where needed, in an order of our own that alternates dark and light. Dashes differ too, so that curves can
//! be distinguished in a grey print.

/// A colour before it is resolved for a background.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// row of the table of tones, and its opacity over the background, per cent
    Tone(u8, u8),
    /// red, green, blue, 0..255, the same on every background
    Exact(u8, u8, u8),
    /// step of the ramp of amounts, 0 to [`STEPS`], reversed on a dark background
    Amount(u8),
    /// letters on that step
    OnAmount(u8),
}

/// Dash and gap, px.
pub type Dash = Option<(f64, f64)>;

/// Background of every figure.
pub const PAPER: Ink = Ink::Tone(0, 100);
/// Text and axes.
pub const TEXT: Ink = Ink::Tone(1, 100);
/// Secondary text: notes, limits.
pub const QUIET: Ink = Ink::Tone(2, 100);
/// Grids and guides.
pub const FAINT: Ink = Ink::Tone(3, 100);
/// First row of the curves' colours.
pub(super) const CURVES: usize = 4;

/// Dashes of limits.
pub const LIMIT_DASH: Dash = Some((2.0, 3.0));

/// Number of curve colours.
pub const COLOURS: usize = 8;

const DASHES: [Dash; COLOURS] = [
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
pub const fn colour(k: usize) -> Ink {
    Ink::Tone((CURVES + k % COLOURS) as u8, 100)
}

/// Colour of the k-th of several in the order of a number: from dark blue over green to gold, paler on a dark background.
pub fn rank(k: usize, of: usize) -> Ink {
    let share = k as f64 / of.saturating_sub(1).max(1) as f64;
    Ink::Tone(FIRST_RANK + (share.clamp(0.0, 1.0) * f64::from(RANKS)).round() as u8, 100)
}

/// Dash and gap of the k-th curve.
pub fn dash(k: usize) -> Dash {
    // From the ninth curve on colours repeat, each with another dash.
    DASHES[(k + k / COLOURS) % DASHES.len()]
}

impl Ink {
    /// The colour blended with the background: 1 is the colour, 0 the background.
    pub fn tint(self, share: f64) -> Self {
        match self {
            Self::Tone(tone, cover) => Self::Tone(tone, (f64::from(cover) * share).round().clamp(0.0, 100.0) as u8),
            other => other,
        }
    }

    /// The tone of the same hue for letters; the curve colours are too faint for text.
    pub const fn of_words(self) -> Self {
        match self {
            Self::Tone(tone, cover) if tone as usize >= CURVES && (tone as usize) < CURVES + COLOURS => {
                Self::Tone(tone + COLOURS as u8, cover)
            }
            Self::Tone(tone, cover) if tone >= FIRST_RANK && tone <= FIRST_RANK + RANKS => {
                Self::Tone(tone + RANKS + 1, cover)
            }
            other => other,
        }
    }

    /// Opacity over the background, 0 to 1.
    pub fn cover(self) -> f64 {
        if let Self::Tone(_, cover) = self { f64::from(cover) / 100.0 } else { 1.0 }
    }

    /// Placeholder colour for the drawing library, which only knows RGB: encodes the row of a tone in the table of tones as a
    /// colour that no exact colour uses.
    pub const fn pigment(self) -> [u8; 3] {
        let row = match self {
            Self::Exact(PIGMENT, green, blue) => return [PIGMENT - 1, green, blue],
            Self::Exact(red, green, blue) => return [red, green, blue],
            Self::Tone(tone, _) => tone,
            Self::Amount(step) => AMOUNTS + step,
            Self::OnAmount(step) => AMOUNTS + STEPS + 1 + step,
        };
        [PIGMENT, 1, row]
    }
}

/// Steps of the ramp of amounts.
pub const STEPS: u8 = 48;

/// Steps of the ramp of ranks.
pub const RANKS: u8 = 29;

/// First row of the ramp of amounts in the table of tones; the letters on it follow.
const AMOUNTS: u8 = (CURVES + 2 * COLOURS) as u8;

/// First row of the ramp of ranks in the table of tones; its letters follow.
const FIRST_RANK: u8 = AMOUNTS + 2 * (STEPS + 1);

/// Colour of an amount between 0 and 1.
pub fn ramp(share: f64) -> Ink {
    Ink::Amount(step(share))
}

/// Colour of letters on an amount's colour: black or white, whichever has more contrast.
pub fn letters(share: f64) -> Ink {
    Ink::OnAmount(step(share))
}

/// The nearest step to an amount; not-a-number gives the lowest.
fn step(share: f64) -> u8 {
    (share.clamp(0.0, 1.0) * f64::from(STEPS)).round() as u8
}

/// Red component of every placeholder.
pub(super) const PIGMENT: u8 = 254;

/// Class of the k-th compared item's group, by which a page hides it.
pub fn class_of(k: usize) -> String {
    format!("of-{k}")
}
