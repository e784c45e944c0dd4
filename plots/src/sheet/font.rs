//! The typeface. It is embedded in the program, so figures are the same on a machine without fonts.

use crate::sheet::draw_error::DrawError;
use std::collections::HashMap;
use std::sync::LazyLock;
use ttf_parser::cmap::Subtable;
use ttf_parser::{GlyphId, OutlineBuilder};
use unicode_width::UnicodeWidthChar;

/// Family named in the SVG; a browser substitutes its own sans-serif typeface.
pub const FAMILY: &str = "sans-serif";

/// The typeface, which measures text and draws it in a PNG.
pub struct Face {
    outlines: ttf_parser::Face<'static>,
    /// glyph of each letter, and the distance to the next one, in sizes
    letters: HashMap<char, (GlyphId, f64)>,
    /// the same of what stands for a letter that the typeface lacks
    missing: (GlyphId, f64),
}

/// The typeface, plain and bold, its digits all of one width; `OFL.txt` beside it is its licence.
static FACES: LazyLock<Option<[Face; 2]>> = LazyLock::new(|| {
    Some([Face::read(include_bytes!("typeface/regular.otf"))?, Face::read(include_bytes!("typeface/bold.otf"))?])
});

impl Face {
    fn read(file: &'static [u8]) -> Option<Self> {
        let outlines = ttf_parser::Face::parse(file, 0).ok()?;
        let em = f64::from(outlines.units_per_em());
        let glyph = |glyph| (glyph, f64::from(outlines.glyph_hor_advance(glyph).unwrap_or(0)) / em);
        let mut letters = HashMap::new();
        for table in outlines.tables().cmap?.subtables.into_iter().filter(Subtable::is_unicode) {
            table.codepoints(|code| {
                let found = char::from_u32(code).zip(table.glyph_index(code).filter(|id| id.0 > 0));
                letters.extend(found.map(|(c, id)| (c, glyph(id))));
            });
        }
        let missing = glyph(GlyphId::default());
        Some(Self { outlines, letters, missing })
    }

    /// The plain or the bold one.
    pub fn of(bold: bool) -> Result<&'static Self, DrawError> {
        let unusable = || DrawError::Drawing("the embedded font is not usable".to_owned());
        FACES.as_ref().map(|faces| &faces[usize::from(bold)]).ok_or_else(unusable)
    }

    /// Glyphs of a text, each with the distance to the next one, in sizes. A letter that the typeface lacks has a sign
    /// in its place; what has no width, such as a joiner, is left out.
    fn glyphs(&self, words: &str) -> impl Iterator<Item = (GlyphId, f64)> {
        words.chars().filter_map(|c| match self.letters.get(&c) {
            None if c.width() == Some(0) => None,
            known => Some(*known.unwrap_or(&self.missing)),
        })
    }

    /// Width of a text, in sizes.
    pub fn width(&self, words: &str) -> f64 {
        self.glyphs(words).map(|(_, wide)| wide).sum()
    }

    /// Distance of the base line below the middle of small letters, in sizes: the SVG's `0.5ex`.
    pub fn below(&self) -> f64 {
        let height =
            self.outlines.x_height().map_or(0.5, |height| f64::from(height) / f64::from(self.outlines.units_per_em()));
        0.5 * height
    }

    /// Passes a text's outlines to a pen that takes positions to the right of the text's start and above its base line,
    /// in sizes.
    pub fn outline(&self, words: &str, pen: &mut impl Pen) {
        let em = f64::from(self.outlines.units_per_em());
        let mut at = 0.0;
        for (glyph, wide) in self.glyphs(words) {
            self.outlines.outline_glyph(glyph, &mut Placed { pen, at, em });
            at += wide;
        }
    }
}

/// What draws outlines.
pub trait Pen {
    /// Starts an outline.
    fn start(&mut self, at: (f64, f64));
    /// A straight line.
    fn line(&mut self, to: (f64, f64));
    /// A quadratic curve.
    fn bend(&mut self, by: (f64, f64), to: (f64, f64));
    /// A cubic curve.
    fn curve(&mut self, by: [(f64, f64); 2], to: (f64, f64));
    /// Closes the outline.
    fn close(&mut self);
}

/// A pen for one glyph at a place.
struct Placed<'a, P: Pen> {
    pen: &'a mut P,
    at: f64,
    em: f64,
}

impl<P: Pen> Placed<'_, P> {
    fn place(&self, x: f32, y: f32) -> (f64, f64) {
        (self.at + f64::from(x) / self.em, f64::from(y) / self.em)
    }
}

impl<P: Pen> OutlineBuilder for Placed<'_, P> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.pen.start(self.place(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.pen.line(self.place(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.pen.bend(self.place(x1, y1), self.place(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.pen.curve([self.place(x1, y1), self.place(x2, y2)], self.place(x, y));
    }

    fn close(&mut self) {
        self.pen.close();
    }
}
