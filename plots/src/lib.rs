//! Presentation of the engine's documents: figures, pages and sentences.
//!
//! [`words`] contains numbers, findings, warnings and cautions as text; [`sheet`] is the drawing surface of figures;
//! `figures` has one file per figure; [`page`] is the medium-neutral page, and [`pages`] has one file per kind of
//! document. Every figure is drawn as SVG at ten times its size, so that rounding to whole-number coordinates is
//! invisible; PNG is that SVG rasterised with the embedded font.

mod figures;
pub mod page;
pub mod pages;
pub mod sheet;
pub mod words;

pub use crate::figures::measured::{Data, DataAndModel, data_and_model};
pub use crate::figures::{Draw, Drawn, Figure, draw, drawn, drawn_for_page, figures, names};
pub use crate::sheet::draw_error::DrawError;
pub use crate::sheet::drawing::Drawing;
pub use crate::sheet::look::{Look, Size};
pub use crate::sheet::tone::{Theme, variables};
pub use crate::sheet::when::{Anchor, When};
