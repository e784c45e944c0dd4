//! What a person reads or looks at: figures, pages and sentences of the engine's documents.
//!
//! [`words`] say numbers, findings, warnings and cautions; [`sheet`] is what figures are drawn on; [`mod@figures`] has one file for
//! each; [`page`] is a page whatever it holds, and [`pages`] has one file for each kind of document. Every figure is drawn as
//! SVG at ten times its size, so that whole-number coordinates do not make curves wobble; PNG is that SVG rasterised with the
//! embedded font.

mod figures;
pub mod page;
pub mod pages;
pub mod sheet;
pub mod words;

pub use crate::figures::fleet::FleetFigure;
pub use crate::figures::heat_map::SweepFigure;
pub use crate::figures::influence::InfluenceFigure;
pub use crate::figures::launches::RetracedFigure;
pub use crate::figures::learned::LearnedFigure;
pub use crate::figures::record::{Figure, draw, draw_as};
pub use crate::figures::{Draw, Drawn, drawn, figures, names};
pub use crate::sheet::drawing::{DrawError, Drawing};
pub use crate::sheet::look::{Look, Size};
pub use crate::sheet::palette::{Theme, variables};
