//! The pad that the drawing library draws on: it keeps marks, of which SVG and PNG are made.

use crate::sheet::mark::{Letters, Mark, Paint, Spot};
use plotters::element::{Drawable, PointCollection};
use plotters::style::ShapeStyle;
use plotters::style::text_anchor::HPos;
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind, FontStyle,
    FontTransform, rasterizer,
};
use std::cell::RefCell;
use std::convert::Infallible;

/// Result of a call of the drawing library; keeping a mark cannot fail.
type Kept = Result<(), DrawingErrorKind<Infallible>>;

/// A pad of a size, tenths of a px.
pub struct Pad<'a> {
    pub marks: &'a RefCell<Vec<Mark>>,
    pub size: (u32, u32),
}

impl Pad<'_> {
    /// Keeps a mark, unless its colour is fully transparent.
    #[expect(clippy::unnecessary_wraps, reason = "what the drawing library calls returns a result")]
    fn keep(&self, color: BackendColor, mark: impl FnOnce(Paint) -> Mark) -> Kept {
        if color.alpha > 0.0 {
            let (red, green, blue) = color.rgb;
            let paint = Paint { pigment: [red, green, blue], opacity: color.alpha };
            self.marks.borrow_mut().push(mark(paint));
        }
        Ok(())
    }
}

impl DrawingBackend for Pad<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Kept {
        Ok(())
    }

    fn present(&mut self) -> Kept {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, color: BackendColor) -> Kept {
        self.keep(color, |paint| Mark::Bar { at, size: (1, 1), paint })
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Kept {
        self.draw_path([from, to], style)
    }

    fn draw_rect<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S, fill: bool) -> Kept {
        if !fill {
            return rasterizer::draw_rect(self, from, to, style, fill);
        }
        self.keep(style.color(), |paint| Mark::Bar { at: from, size: (to.0 - from.0, to.1 - from.1), paint })
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Kept {
        let (places, width) = (path.into_iter().collect(), style.stroke_width());
        self.keep(style.color(), |paint| Mark::Line { places, width, dash: None, paint })
    }

    fn draw_circle<S: BackendStyle>(&mut self, at: BackendCoord, radius: u32, style: &S, fill: bool) -> Kept {
        if !fill {
            return rasterizer::draw_circle(self, at, radius, style, fill);
        }
        self.keep(style.color(), |paint| Mark::Dot { at, radius, paint })
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Kept {
        let places = path.into_iter().collect();
        self.keep(style.color(), |paint| Mark::Shape { places, paint })
    }

    fn draw_text<S: BackendTextStyle>(&mut self, words: &str, style: &S, at: BackendCoord) -> Kept {
        let letters = Letters {
            size: style.size(),
            bold: matches!(style.style(), FontStyle::Bold),
            side: match style.anchor().h_pos {
                HPos::Left => -1,
                HPos::Center => 0,
                HPos::Right => 1,
            },
            upright: matches!(style.transform(), FontTransform::Rotate270),
        };
        self.keep(style.color(), |paint| Mark::Text { words: words.to_owned(), at, letters, paint })
    }
}

/// A dashed line. The drawing library's own is cut into one line for each dash.
pub struct Dashed {
    pub places: Vec<Spot>,
    /// dash and gap, tenths of a px
    pub dash: (u32, u32),
    pub style: ShapeStyle,
}

impl<'a> PointCollection<'a, BackendCoord> for &'a Dashed {
    type Point = &'a BackendCoord;
    type IntoIter = &'a [BackendCoord];

    fn point_iter(self) -> Self::IntoIter {
        &self.places
    }
}

impl Drawable<Pad<'_>> for Dashed {
    fn draw<I: Iterator<Item = BackendCoord>>(&self, places: I, pad: &mut Pad<'_>, _: (u32, u32)) -> Kept {
        let (places, width, dash) = (places.collect(), BackendStyle::stroke_width(&self.style), Some(self.dash));
        pad.keep(BackendStyle::color(&self.style), |paint| Mark::Line { places, width, dash, paint })
    }
}
