//! Marks as pixels, and pixels as PNG.

use crate::sheet::draw_error::DrawError;
use crate::sheet::font::{self, Face};
use crate::sheet::mark::{Ground, Letters, Mark, Paint, Spot};
use crate::sheet::palette::PAPER;
use crate::sheet::scales;
use crate::sheet::tone::{Theme, resolved};
use tiny_skia::{Color, FillRule, LineJoin, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash, Transform};

/// Pixels of the PNG per px of the SVG.
const SCALE: f64 = 2.0;

/// The PNG of marks, at twice their size.
pub fn png(marks: &[Mark], ground: &Ground, theme: Theme) -> Result<Vec<u8>, DrawError> {
    let pixels = |length: u32| (SCALE * f64::from(length)).round() as u32;
    let (width, height) = (pixels(ground.shown.0), pixels(ground.shown.1));
    let unusable = || DrawError::Raster(format!("{width} × {height} px is not a usable size"));
    let pixels = Pixmap::new(width, height).ok_or_else(unusable)?;
    // As a viewer fits an SVG whose height as shown is a whole number of px: as large as possible, in the middle.
    let (wide, high) = (f64::from(ground.size.0), f64::from(ground.size.1));
    let scale = (f64::from(width) / wide).min(f64::from(height) / high);
    let corner = (0.5 * (f64::from(width) - scale * wide), 0.5 * (f64::from(height) - scale * high));
    let origin = (corner.0, corner.1 + scale * f64::from(ground.above));
    let mut brush = Brush { pixels, scale, origin, theme };
    let [red, green, blue] = resolved(PAPER.pigment(), theme);
    brush.pixels.fill(Color::from_rgba8(red, green, blue, 255));
    for mark in marks {
        brush.mark(mark)?;
    }
    encoded(&brush.pixels).map_err(|e| DrawError::Raster(e.to_string()))
}

/// Opaque pixels as PNG.
fn encoded(pixels: &Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let mut file = vec![];
    let mut head = png::Encoder::new(&mut file, pixels.width(), pixels.height());
    head.set_color(png::ColorType::Rgb);
    head.set_depth(png::BitDepth::Eight);
    // Of flat colours and thin lines this is the fastest and, for its time, the smallest: filters make it larger.
    head.set_deflate_compression(png::DeflateCompression::Level(1));
    head.set_filter(png::Filter::NoFilter);
    let mut colours = vec![0; pixels.data().len() / 4 * 3];
    // Arrays, and no slices of a length that only the run knows: these would be a call for each pixel where less is optimised.
    for (to, [red, green, blue, _]) in colours.as_chunks_mut().0.iter_mut().zip(pixels.data().as_chunks().0) {
        *to = [*red, *green, *blue];
    }
    let mut body = head.write_header()?;
    body.write_image_data(&colours)?;
    body.finish()?;
    Ok(file)
}

/// The pixels as far as they are painted.
struct Brush {
    pixels: Pixmap,
    /// pixels per tenth of a px
    scale: f64,
    /// pixel position of the origin
    origin: (f64, f64),
    theme: Theme,
}

impl Brush {
    /// The pixel position of a position in tenths of a px.
    fn at(&self, x: f64, y: f64) -> (f32, f32) {
        ((self.origin.0 + self.scale * x) as f32, (self.origin.1 + self.scale * y) as f32)
    }

    fn paint(&self, paint: Paint) -> tiny_skia::Paint<'static> {
        let [red, green, blue] = resolved(paint.pigment, self.theme);
        let mut colour = tiny_skia::Paint { anti_alias: true, ..tiny_skia::Paint::default() };
        colour.set_color_rgba8(red, green, blue, (255.0 * paint.opacity).round() as u8);
        colour
    }

    fn mark(&mut self, mark: &Mark) -> Result<(), DrawError> {
        match mark {
            Mark::Opens(_) | Mark::Says(_) | Mark::Places(_) | Mark::Closes => {}
            Mark::Line { places, width, dash, paint } => {
                let length = |tenths: u32| (self.scale * f64::from(tenths)) as f32;
                let dash = dash.and_then(|(on, off)| StrokeDash::new(vec![length(on), length(off)], 0.0));
                let stroke = Stroke { width: length(*width), line_join: LineJoin::Round, dash, ..Stroke::default() };
                if let Some(path) = self.path(places, false) {
                    let paint = self.paint(*paint);
                    self.pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
                }
            }
            Mark::Shape { places, paint } => self.fill(self.path(places, true).as_ref(), *paint),
            Mark::Bar { at, size, paint } => {
                let (left, top) = self.at(f64::from(at.0), f64::from(at.1));
                let (right, bottom) = self.at(f64::from(at.0 + size.0), f64::from(at.1 + size.1));
                if let Some(bar) = Rect::from_ltrb(left, top, right, bottom) {
                    let paint = self.paint(*paint);
                    self.pixels.fill_rect(bar, &paint, Transform::identity(), None);
                }
            }
            Mark::Dot { at, radius, paint } => {
                let (x, y) = self.at(f64::from(at.0), f64::from(at.1));
                let path = PathBuilder::from_circle(x, y, (self.scale * f64::from(*radius)) as f32);
                self.fill(path.as_ref(), *paint);
            }
            Mark::Text { words, at, letters, paint } => {
                let path = self.written(&scales::shown(words), *at, *letters)?;
                self.fill(path.as_ref(), *paint);
            }
        }
        Ok(())
    }

    fn path(&self, places: &[Spot], closed: bool) -> Option<Path> {
        let mut path = PathBuilder::with_capacity(places.len() + 1, places.len());
        for (k, (x, y)) in places.iter().enumerate() {
            let (x, y) = self.at(f64::from(*x), f64::from(*y));
            if k == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        if closed {
            path.close();
        }
        path.finish()
    }

    fn fill(&mut self, path: Option<&Path>, paint: Paint) {
        if let Some(path) = path {
            let paint = self.paint(paint);
            self.pixels.fill_path(path, &paint, FillRule::Winding, Transform::identity(), None);
        }
    }

    /// Outlines of a text.
    fn written(&self, words: &str, (x, y): Spot, letters: Letters) -> Result<Option<Path>, DrawError> {
        let face = Face::of(letters.bold)?;
        let before = 0.5 * f64::from(letters.side + 1) * face.width(words);
        let below = face.below();
        let place = |(along, up): (f64, f64)| {
            let (along, down) = (along - before, below - up);
            let (right, down) = if letters.upright { (down, -along) } else { (along, down) };
            self.at(f64::from(x) + letters.size * right, f64::from(y) + letters.size * down)
        };
        let mut pen = Outline { path: PathBuilder::new(), place };
        face.outline(words, &mut pen);
        Ok(pen.path.finish())
    }
}

/// A pen for the outlines of a text: makes them a path at their place.
struct Outline<P> {
    path: PathBuilder,
    place: P,
}

impl<P: Fn((f64, f64)) -> (f32, f32)> font::Pen for Outline<P> {
    fn start(&mut self, at: (f64, f64)) {
        let (x, y) = (self.place)(at);
        self.path.move_to(x, y);
    }

    fn line(&mut self, to: (f64, f64)) {
        let (x, y) = (self.place)(to);
        self.path.line_to(x, y);
    }

    fn bend(&mut self, by: (f64, f64), to: (f64, f64)) {
        let ((x1, y1), (x, y)) = ((self.place)(by), (self.place)(to));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve(&mut self, by: [(f64, f64); 2], to: (f64, f64)) {
        let ([(x1, y1), (x2, y2)], (x, y)) = (by.map(&self.place), (self.place)(to));
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}
