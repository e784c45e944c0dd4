//! The sheet that a figure is drawn on, and the finishing of its SVG.

use crate::look::INK;
use crate::{DrawError, Drawing};
use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::register_font;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::fmt::Display;

/// Times that everything is drawn larger than it is shown.
pub const FINE: u32 = 10;

/// A part of the sheet.
pub type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// Any failure of the drawing library.
pub fn refused(error: impl Display) -> DrawError {
    DrawError::Drawing(error.to_string())
}

/// px shown → units drawn.
pub const fn px(shown: u32) -> i32 {
    (shown * FINE) as i32
}

/// Text of a size, px, anchored at its left (−1), middle (0) or right (1), and middle of its height.
pub fn text(
    area: &Area<'_>,
    words: &str,
    at: (i32, i32),
    size: u32,
    side: i32,
    ink: RGBColor,
) -> Result<(), DrawError> {
    let anchor = Pos::new(
        if side < 0 {
            HPos::Left
        } else if side > 0 {
            HPos::Right
        } else {
            HPos::Center
        },
        VPos::Center,
    );
    let style = TextStyle::from(("sans-serif", f64::from(size * FINE)).into_font()).color(&ink).pos(anchor);
    area.draw_text(words, &style, at).map_err(refused)
}

/// Draws on a sheet of a size, px, under a heading and over a note; gives the finished drawing.
pub fn sheet(
    width: u32,
    height: u32,
    heading: &str,
    note: &str,
    paint: impl FnOnce(&Area<'_>) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    register_font("sans-serif", FontStyle::Normal, epaint_default_fonts::UBUNTU_LIGHT)
        .map_err(|_| DrawError::Drawing("the embedded font is not usable".to_owned()))?;
    let mut svg = String::new();
    {
        let root = SVGBackend::with_string(&mut svg, (width * FINE, height * FINE)).into_drawing_area();
        root.fill(&WHITE).map_err(refused)?;
        let (head, rest) = root.split_vertically(px(40));
        let (body, foot) = rest.split_vertically(px(height - 40 - 26));
        text(&head, heading, (px(16), px(22)), 18, -1, INK)?;
        text(&foot, note, (px(16), px(11)), 11, -1, INK)?;
        paint(&body)?;
        root.present().map_err(refused)?;
    }
    Ok(Drawing { svg: finish(&svg, width, height, heading, note) })
}

fn escape(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// Shows the drawing at its size and says what it is.
fn finish(svg: &str, width: u32, height: u32, heading: &str, note: &str) -> String {
    let drawn = format!("<svg width=\"{}\" height=\"{}\"", width * FINE, height * FINE);
    let shown = format!("<svg role=\"img\" width=\"{width}\" height=\"{height}\"");
    let svg = svg.replacen(&drawn, &shown, 1);
    match svg.find("<svg").and_then(|at| svg[at..].find('>').map(|end| at + end + 1)) {
        Some(open) => format!(
            "{}\n<title>{}</title>\n<desc>{}</desc>{}",
            &svg[..open],
            escape(heading),
            escape(note),
            &svg[open..]
        ),
        None => svg,
    }
}
