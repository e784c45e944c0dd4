//! The typeface. It is embedded in the program, so figures are the same on a machine without fonts.

use crate::sheet::drawing::DrawError;
use plotters::style::{FontStyle, register_font};
use resvg::usvg::fontdb::Database;
use std::sync::Arc;

/// Family named in the SVG; a browser substitutes its own sans-serif typeface.
pub const FAMILY: &str = "sans-serif";

/// The typeface that measures text and draws it in a PNG; its licence is in the crate that contains it.
const FACE: &[u8] = epaint_default_fonts::UBUNTU_LIGHT;

/// Stroke widths that thicken the light typeface in a PNG, as shares of the letter size: plain text and bold text.
const STROKES: [f64; 2] = [0.022, 0.062];

/// Registers the typeface with the drawing library, which measures text with it.
pub fn register() -> Result<(), DrawError> {
    for style in [FontStyle::Normal, FontStyle::Bold] {
        register_font(FAMILY, style, FACE)
            .map_err(|_| DrawError::Drawing("the embedded font is not usable".to_owned()))?;
    }
    Ok(())
}

/// A font database with only this typeface, for the rasteriser.
pub fn database() -> Arc<Database> {
    let mut fonts = Database::new();
    fonts.load_font_data(FACE.to_vec());
    let family = fonts.faces().next().and_then(|face| face.families.first().map(|family| family.0.clone()));
    fonts.set_sans_serif_family(family.unwrap_or_default());
    Arc::new(fonts)
}

/// The SVG with every text outlined in its own colour, so that the light typeface looks regular or bold.
pub fn weighted(svg: &str) -> String {
    let mut out = String::with_capacity(svg.len() + svg.len() / 4);
    let mut rest = svg;
    while let Some(at) = rest.find("<text ") {
        let (before, tag) = rest.split_at(at);
        out.push_str(before);
        let end = tag.find('>').unwrap_or(tag.len());
        let (head, tail) = tag.split_at(end);
        out.push_str(head);
        if let (Some(fill), Some(size)) = (attribute(head, "fill"), attribute(head, "font-size")) {
            let share = STROKES[usize::from(head.contains("font-weight=\"bold\""))];
            let stroke = share * size.parse::<f64>().unwrap_or(0.0);
            out.extend([" stroke=\"", fill, "\" stroke-width=\"", &format!("{stroke:.2}"), "\""]);
        }
        rest = tail;
    }
    out.push_str(rest);
    out
}

/// Value of an attribute of an opening tag.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
}
