//! Figures of a calibration.

use crate::figures::{evidence, forecast};
use crate::sheet::{
    drawing::{DrawError, Drawing},
    look::Look,
};
use slipsoak_engine::calibrate::Told;

/// A figure of a calibration.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LearnedFigure {
    /// measurements against the fit
    Evidence,
    /// lives of a fleet before and after the calibration
    Forecast,
}

impl LearnedFigure {
    /// Every figure of a calibration.
    pub const ALL: [Self; 2] = [Self::Evidence, Self::Forecast];

    /// Figures of a calibration; lives only if they were requested.
    pub fn of(told: &Told) -> Vec<Self> {
        let lives = told.forecast.iter().map(|_| Self::Forecast);
        std::iter::once(Self::Evidence).chain(lives).collect()
    }

    /// Stem of its file's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Evidence => "evidence",
            Self::Forecast => "forecast",
        }
    }

    /// Draws the figure.
    pub fn draw(self, told: &Told, look: &Look) -> Result<Drawing, DrawError> {
        look.laid_out(|look| match self {
            Self::Evidence => evidence::draw(told, look),
            Self::Forecast => forecast::draw(told, look),
        })
    }
}
