//! What a drawing consists of, before it is written as SVG or painted as pixels.

/// A position, tenths of a px.
pub type Spot = (i32, i32);

/// Colour and opacity of a mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paint {
    /// colour, or its placeholder (see `palette`)
    pub pigment: [u8; 3],
    /// opacity, 0 to 1
    pub opacity: f64,
}

/// Type of a text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Letters {
    /// size of the typeface, tenths of a px
    pub size: f64,
    pub bold: bool,
    /// alignment: −1 starts at the position, 0 is centred on it, 1 ends there
    pub side: i8,
    /// rotated to read upwards
    pub upright: bool,
}

/// One mark of a drawing; lengths are tenths of a px.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// start of the group of the k-th compared item
    Opens(usize),
    /// start of a group that says this to a reader who points at one of its marks
    Says(String),
    /// end of a group
    Closes,
    /// a line, solid or with a dash and a gap
    Line { places: Vec<Spot>, width: u32, dash: Option<(u32, u32)>, paint: Paint },
    /// a filled polygon
    Shape { places: Vec<Spot>, paint: Paint },
    /// a filled rectangle: its upper left corner, width and height
    Bar { at: Spot, size: Spot, paint: Paint },
    /// a filled dot
    Dot { at: Spot, radius: u32, paint: Paint },
    /// places that say something to a reader who points at them; nothing of them is seen
    Places(Vec<(Spot, String)>),
    /// a text, centred vertically on its position
    Text { words: String, at: Spot, letters: Letters, paint: Paint },
}

/// The ground that marks are on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ground {
    /// width and height, tenths of a px
    pub size: (u32, u32),
    /// height above the origin, tenths of a px: part of the whole height; below zero if it begins lower
    pub above: i32,
    /// width and height as shown, px
    pub shown: (u32, u32),
}
