//! Figures drawn from a record: record in, SVG or PNG out.
//!
//! The crate knows the engine's record and nothing else of it. Every figure is drawn as SVG at ten times its size, so that
//! plotters' whole-number coordinates do not make curves wobble; PNG is that SVG rasterised with the embedded font.

mod axis;
mod canvas;
mod comparison;
mod drawing;
mod evidence;
mod font;
mod label;
mod launches;
mod ledger;
mod life;
mod oil;
mod palette;
mod panel;
mod reading;
mod temperatures;

pub use drawing::{DrawError, Drawing};
pub use evidence::draw as draw_evidence;
pub use launches::{Launches, draw as draw_launches};

use slipsoak_engine::record::Record;

/// The figures that can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// temperatures over the duty, one panel a run
    Temperatures,
    /// oil fill over the duty, and where the oil went
    Oil,
    /// remaining life of each part over hours, one panel a run
    Life,
    /// all runs side by side
    Comparison,
}

impl Figure {
    /// Every figure.
    pub const fn all() -> &'static [Self] {
        &[Self::Comparison, Self::Temperatures, Self::Oil, Self::Life]
    }

    /// Stem of its file's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Temperatures => "temperatures",
            Self::Oil => "oil",
            Self::Life => "life",
            Self::Comparison => "comparison",
        }
    }
}

/// Size of a figure, px.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// width, px
    pub width: u32,
    /// least height, px; a figure is as tall as its panels and rows need
    pub height: u32,
}

impl Default for Size {
    fn default() -> Self {
        Self { width: 960, height: 600 }
    }
}

/// Draws a figure from a record.
pub fn draw(figure: Figure, record: &Record, size: Size) -> Result<Drawing, DrawError> {
    reading::check(record)?;
    match figure {
        Figure::Temperatures => temperatures::draw(record, size),
        Figure::Oil => oil::draw(record, size),
        Figure::Life => life::draw(record, size),
        Figure::Comparison => comparison::draw(record, size),
    }
}
