//! A finished drawing: SVG text, and PNG made from it with the embedded font alone.

use resvg::{tiny_skia, usvg};
use std::sync::Arc;
use thiserror::Error;

/// Why a figure cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DrawError {
    /// nothing to draw
    #[error("the record holds no run with any window: there is nothing to draw")]
    Empty,
    /// the record lacks a channel
    #[error("the record has no channel `{0}`; it was written by another version or is damaged")]
    Channel(String),
    /// the drawing library refuses
    #[error("the figure cannot be drawn: {0}")]
    Drawing(String),
    /// the drawing cannot be rasterised
    #[error("the figure cannot be turned into a PNG: {0}")]
    Raster(String),
}

/// A figure as SVG.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// the whole SVG document
    pub svg: String,
}

impl Drawing {
    /// The figure as PNG at twice its size.
    pub fn png(&self) -> Result<Vec<u8>, DrawError> {
        let mut fonts = usvg::fontdb::Database::new();
        fonts.load_font_data(epaint_default_fonts::UBUNTU_LIGHT.to_vec());
        let family = fonts.faces().next().map(|f| f.families[0].0.clone());
        fonts.set_sans_serif_family(family.unwrap_or_default());
        let options = usvg::Options { fontdb: Arc::new(fonts), ..usvg::Options::default() };
        let tree = usvg::Tree::from_str(&self.svg, &options).map_err(|e| DrawError::Raster(e.to_string()))?;
        let (width, height) = (2.0 * tree.size().width(), 2.0 * tree.size().height());
        let mut pixels = tiny_skia::Pixmap::new(width as u32, height as u32)
            .ok_or_else(|| DrawError::Raster(format!("{width} × {height} px is not a usable size")))?;
        pixels.fill(tiny_skia::Color::WHITE);
        resvg::render(&tree, tiny_skia::Transform::from_scale(2.0, 2.0), &mut pixels.as_mut());
        pixels.encode_png().map_err(|e| DrawError::Raster(e.to_string()))
    }
}
