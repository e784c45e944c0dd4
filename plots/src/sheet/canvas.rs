//! The sheet that figures are drawn on: the only module that uses the drawing library.
//!
//! Positions and sizes are in px as shown, from the upper left corner. The library rounds to whole numbers, so it gets
//! tenths of a px.

use crate::sheet::draw_error::DrawError;
use crate::sheet::fewer::fewer;
use crate::sheet::font::FAMILY;
use crate::sheet::frame::{Frame, Place};
use crate::sheet::lettering::{Type, bare_width, plain};
use crate::sheet::mark::Mark;
use crate::sheet::pad::{Dashed, Pad};
use crate::sheet::palette::{Dash, Ink, PAPER};
use crate::sheet::short_names::{fit, fit_name};
use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::cell::RefCell;
use std::fmt::Display;

/// The library's units per px.
pub(super) const FINE: f64 = 10.0;
/// Height of the heading, px.
pub const HEAD: f64 = 44.0;
/// Height of the note's first two lines, px; a longer note makes the sheet taller.
pub const FOOT: f64 = 46.0;
/// Space at the left and right of a sheet, px.
pub const SIDE: f64 = 18.0;

/// A sheet that is being drawn on.
pub struct Sheet<'a> {
    area: DrawingArea<Pad<'a>, Shift>,
    marks: &'a RefCell<Vec<Mark>>,
    pub width: f64,
    pub height: f64,
    narrow: bool,
}

fn refused(error: impl Display) -> DrawError {
    DrawError::Drawing(error.to_string())
}

fn drawn(place: Place) -> (i32, i32) {
    ((place.0 * FINE).round() as i32, (place.1 * FINE).round() as i32)
}

fn pigment(ink: Ink) -> RGBAColor {
    let [red, green, blue] = ink.pigment();
    RGBColor(red, green, blue).mix(ink.cover())
}

impl<'a> Sheet<'a> {
    /// An empty one of this width and height, px, that keeps its marks here; below `height` there may be lines of a note.
    pub(super) fn on(marks: &'a RefCell<Vec<Mark>>, (width, height, whole): (u32, f64, u32), narrow: bool) -> Self {
        let fine = FINE as u32;
        let area = Pad { marks, size: (width * fine, whole * fine) }.into_drawing_area();
        Self { area, marks, width: f64::from(width), height, narrow }
    }
}

impl Sheet<'_> {
    /// Whether the sheet is as narrow as a printed column.
    pub fn narrow(&self) -> bool {
        self.narrow
    }

    /// A line of this width through positions.
    pub fn line(&self, places: &[Place], ink: Ink, width: f64, dash: Dash) -> Result<(), DrawError> {
        let style = ShapeStyle::from(&pigment(ink)).stroke_width((width * FINE).round() as u32);
        let path = fewer(places.iter().map(|p| drawn(*p)).collect());
        match dash {
            _ if path.len() < 2 => Ok(()),
            None => self.area.draw(&PathElement::new(path, style)).map_err(refused),
            Some((on, off)) => {
                let dash = ((on * FINE) as u32, (off * FINE) as u32);
                self.area.draw(&Dashed { places: path, dash, style }).map_err(refused)
            }
        }
    }

    /// A filled polygon.
    pub fn shape(&self, places: &[Place], ink: Ink, opacity: f64) -> Result<(), DrawError> {
        let path = fewer(places.iter().map(|p| drawn(*p)).collect());
        self.area.draw(&Polygon::new(path, pigment(ink).mix(opacity).filled())).map_err(refused)
    }

    /// The outline of a polygon.
    pub fn outline(&self, places: &[Place], ink: Ink, width: f64) -> Result<(), DrawError> {
        let closed: Vec<Place> = places.iter().chain(places.first()).copied().collect();
        self.line(&closed, ink, width, None)
    }

    /// A rectangle filled with a transparent colour.
    pub fn block(&self, frame: Frame, ink: Ink, opacity: f64) -> Result<(), DrawError> {
        self.shape(&frame.corners(), ink, opacity)
    }

    /// A filled rectangle between two opposite corners.
    pub fn bar(&self, from: Place, to: Place, ink: Ink) -> Result<(), DrawError> {
        self.area.draw(&Rectangle::new([drawn(from), drawn(to)], pigment(ink).filled())).map_err(refused)
    }

    /// A filled dot.
    pub fn dot(&self, at: Place, radius: f64, ink: Ink) -> Result<(), DrawError> {
        self.area.draw(&Circle::new(drawn(at), (radius * FINE) as i32, pigment(ink).filled())).map_err(refused)
    }

    /// Groups the drawing under the k-th compared item, if it belongs to only one; a page may hide that group.
    pub fn of(&self, k: Option<usize>, draw: impl FnOnce() -> Result<(), DrawError>) -> Result<(), DrawError> {
        let Some(k) = k else { return draw() };
        self.marks.borrow_mut().push(Mark::Opens(k));
        draw()?;
        self.marks.borrow_mut().push(Mark::Closes);
        Ok(())
    }

    /// Marks that say this to a reader who points at one of them; without words they say nothing.
    pub fn says(&self, words: &str, draw: impl FnOnce() -> Result<(), DrawError>) -> Result<(), DrawError> {
        if words.is_empty() {
            return draw();
        }
        self.marks.borrow_mut().push(Mark::Says(plain(words)));
        draw()?;
        self.marks.borrow_mut().push(Mark::Closes);
        Ok(())
    }

    /// Places that say something to a reader who points at them; nothing of them is seen.
    pub fn places(&self, all: &[(Place, String)]) {
        if !all.is_empty() {
            let places = all.iter().map(|(at, words)| (drawn(*at), plain(words))).collect();
            self.marks.borrow_mut().push(Mark::Places(places));
        }
    }

    /// A text, centred vertically on its position.
    pub fn text(&self, words: &str, at: Place, set: Type) -> Result<(), DrawError> {
        if words.is_empty() {
            return Ok(());
        }
        let across = match set.side {
            ..0 => HPos::Left,
            0 => HPos::Center,
            1.. => HPos::Right,
        };
        let ink = pigment(set.ink.of_words());
        let style = style(set).color(&ink).pos(Pos::new(across, VPos::Center));
        self.area.draw_text(&plain(words), &style, drawn(at)).map_err(refused)
    }

    /// A text, shortened with an ellipsis if it is wider than this, px.
    pub fn fitted(&self, words: &str, at: Place, set: Type, width: f64) -> Result<(), DrawError> {
        self.text(&fit(words, set, width)?, at, set)
    }

    /// A name, shortened in its middle if it is wider than this, px.
    pub fn named(&self, name: &str, at: Place, set: Type, width: f64) -> Result<(), DrawError> {
        self.text(&fit_name(name, set, width)?, at, set)
    }

    /// Lines of text one below the other at this distance, px, the first at a position.
    pub fn lines(&self, lines: &[String], at: Place, set: Type, apart: f64) -> Result<(), DrawError> {
        let mut lines = lines.iter().enumerate();
        lines.try_for_each(|(k, line)| self.text(line, (at.0, at.1 + apart * k as f64), set))
    }

    /// A text on a patch of the background colour, so that nothing behind crosses it.
    pub fn on_paper(&self, words: &str, at: Place, set: Type) -> Result<(), DrawError> {
        let wide = bare_width(words, set)?;
        let left = match set.side {
            ..0 => at.0,
            0 => at.0 - 0.5 * wide,
            1.. => at.0 - wide,
        };
        let (from, to) = ((left - 2.0, at.1 - 0.55 * set.size), (left + wide + 2.0, at.1 + 0.55 * set.size));
        self.block(Frame::between(from, to), PAPER, 0.8)?;
        self.text(words, at, set)
    }

    /// Area between the heading and the note.
    pub fn body(&self) -> Frame {
        Frame { left: 0.0, top: HEAD, right: self.width, bottom: self.height - FOOT }
    }
}

fn style<'a>(set: Type) -> TextStyle<'a> {
    let face = if set.bold { FontStyle::Bold } else { FontStyle::Normal };
    let font = FontDesc::from((FAMILY, set.size * FINE, face));
    TextStyle::from(if set.upright { font.transform(FontTransform::Rotate270) } else { font })
}
