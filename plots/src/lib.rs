//! Figures drawn from a record: record in, SVG or PNG out.
//!
//! The crate knows the engine's record and nothing else of it. Every figure is drawn as SVG at ten times its size, so that
//! plotters' whole-number coordinates do not make curves wobble; PNG is that SVG rasterised with the embedded font.

mod axis;
mod canvas;
pub mod cautions;
mod choice;
mod close_up;
mod comparison;
mod cutaway;
mod drawing;
mod engagement;
mod events;
mod evidence;
mod figures;
mod first;
mod fleet;
mod flow;
mod font;
mod forecast;
mod gap;
mod gaps;
mod heat;
mod heat_map;
mod influence;
mod label;
mod launches;
mod learned;
mod legend;
mod life;
mod lives;
mod look;
mod oil;
mod oil_way;
mod oiling;
mod palette;
mod panel;
mod parts;
mod ramp;
pub mod reading;
mod remaining;
pub mod report;
mod rests;
mod scales;
mod section;
mod temperatures;
pub mod warned;

pub use drawing::{DrawError, Drawing};
pub use figures::{Draw, Drawn, drawn, figures, names};
pub use fleet::FleetFigure;
pub use heat_map::SweepFigure;
pub use influence::InfluenceFigure;
pub use launches::RetracedFigure;
pub use learned::LearnedFigure;
pub use look::{Look, Size};
pub use palette::{Theme, variables};

use slipsoak_engine::choice::Choice;
use slipsoak_engine::fit::Gaps;
use slipsoak_engine::oiling::OilPlan;
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
    /// where the heat of rubbing went
    Heat,
    /// oil fill over the duty, and where the oil went
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

/// Draws a figure from a record, on a light ground, with its own title and caption.
pub fn draw(figure: Figure, record: &Record, size: Size) -> Result<Drawing, DrawError> {
    draw_as(figure, record, &Look { size, ..Look::default() })
}

/// Draws a figure from a record with a look of one's own.
pub fn draw_as(figure: Figure, record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    reading::check(record)?;
    font::register()?;
    look.laid_out(|look| match figure {
        Figure::Comparison => comparison::draw(record, look),
        Figure::Cutaway => cutaway::draw(record, look),
        Figure::Temperatures => temperatures::draw(record, look),
        Figure::Launch => close_up::draw(record, look),
        Figure::Heat => heat::draw(record, look),
        Figure::Oil => oil::draw(record, look),
        Figure::Life => life::draw(record, look),
        Figure::Engagement => engagement::draw(record, look),
        Figure::Gap => gap::draw(record, look),
    })
}

/// Draws how every spring of a stock does on one machine.
pub fn choice(choice: &Choice, look: &Look) -> Result<Drawing, DrawError> {
    look.laid_out(|look| choice::draw(choice, look))
}

/// Draws washer and cover gap as they wear.
pub fn gaps(gaps: &Gaps, look: &Look) -> Result<Drawing, DrawError> {
    look.laid_out(|look| gaps::draw(gaps, look))
}

/// Draws a plan of oiling.
pub fn oiling(plan: &OilPlan, look: &Look) -> Result<Drawing, DrawError> {
    look.laid_out(|look| oiling::draw(plan, look))
}
