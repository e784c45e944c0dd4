//! A finished drawing: SVG text, and a PNG made from it with the embedded font only.

use crate::sheet::draw_error::DrawError;
use crate::sheet::font;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

/// Pixels of the PNG per px of the SVG.
const SCALE: f32 = 2.0;

/// A figure as SVG.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// the whole SVG document, with temperatures in °C and °F
    pub svg: String,
    /// the same for a page, which may show one of them
    pub(crate) page: String,
}

impl Drawing {
    /// An SVG document as a drawing.
    pub fn of(svg: &str) -> Self {
        Self { svg: svg.to_owned(), page: svg.to_owned() }
    }

    /// The figure as PNG at twice its size.
    pub fn png(&self) -> Result<Vec<u8>, DrawError> {
        let options = Options { fontdb: font::database(), ..Options::default() };
        let tree = Tree::from_str(&plain(&self.svg), &options).map_err(|e| DrawError::Raster(e.to_string()))?;
        let (width, height) = (SCALE * tree.size().width(), SCALE * tree.size().height());
        let mut pixels = Pixmap::new(width.round() as u32, height.round() as u32)
            .ok_or_else(|| DrawError::Raster(format!("{width} × {height} px is not a usable size")))?;
        pixels.fill(Color::WHITE);
        resvg::render(&tree, Transform::from_scale(SCALE, SCALE), &mut pixels.as_mut());
        pixels.encode_png().map_err(|e| DrawError::Raster(e.to_string()))
    }
}

/// The drawing without its rules for pages, because the rasteriser does not know their variables.
fn plain(svg: &str) -> String {
    match (svg.find("<style>"), svg.find("</style>")) {
        (Some(from), Some(to)) if from < to => format!("{}{}", &svg[..from], &svg[to + "</style>".len()..]),
        _ => svg.to_owned(),
    }
}
