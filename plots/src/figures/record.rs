//! The figures of a record.

use crate::sheet::{
    drawing::{DrawError, Drawing},
    look::{Look, Size},
};
use slipsoak_engine::record::Record;

/// The figures that can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// all runs side by side
    Comparison,
    /// the clutch cut open, its parts coloured by temperature, from the ride to half an hour after it
    Cutaway,
    /// temperatures over the duty, one panel a run, and one launch
    Temperatures,
    /// the hottest launch of each run
    Launch,
    /// destinations of the frictional heat
    Heat,
    /// oil fill over the duty, and destinations of the oil
    Oil,
    /// remaining life of each part over hours, one panel a run
    Life,
    /// torques of motor, clutch and vehicle over the motor's speed
    Engagement,
    /// the stack under the cover, and its gap
    Gap,
}

impl Figure {
    /// Every figure.
    pub const fn all() -> &'static [Self] {
        &[
            Self::Comparison,
            Self::Cutaway,
            Self::Temperatures,
            Self::Launch,
            Self::Heat,
            Self::Oil,
            Self::Life,
            Self::Engagement,
            Self::Gap,
        ]
    }

    /// Stem of its file's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Comparison => "comparison",
            Self::Cutaway => "cutaway",
            Self::Temperatures => "temperatures",
            Self::Launch => "launch",
            Self::Heat => "heat",
            Self::Oil => "oil",
            Self::Life => "life",
            Self::Engagement => "engagement",
            Self::Gap => "gap",
        }
    }
}

/// Draws a figure of a record on a light background, with its own title and caption.
pub fn draw(figure: Figure, record: &Record, size: Size) -> Result<Drawing, DrawError> {
    draw_as(figure, record, &Look { size, ..Look::default() })
}

/// Draws a figure of a record with a given look.
pub fn draw_as(figure: Figure, record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    crate::words::reading::check(record)?;
    crate::sheet::font::register()?;
    look.laid_out(|look| match figure {
        Figure::Comparison => crate::figures::comparison::draw(record, look),
        Figure::Cutaway => crate::figures::cutaway::draw(record, look),
        Figure::Temperatures => crate::figures::temperatures::draw(record, look),
        Figure::Launch => crate::figures::close_up::draw(record, look),
        Figure::Heat => crate::figures::heat::draw(record, look),
        Figure::Oil => crate::figures::oil::draw(record, look),
        Figure::Life => crate::figures::life::draw(record, look),
        Figure::Engagement => crate::figures::engagement::draw(record, look),
        Figure::Gap => crate::figures::gap::draw(record, look),
    })
}
