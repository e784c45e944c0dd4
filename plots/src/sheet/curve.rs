//! A curve of a chart, and its drawing.

use crate::sheet::axis::{Axis, pieces};
use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::frame::Place;
use crate::sheet::hues::Hue;
use crate::sheet::palette::{Dash, Ink, colour, dash};

/// A curve with its colour.
pub struct Curve {
    pub label: String,
    /// what it says to a reader who points at it, if that is not its label
    pub said: String,
    pub ink: Ink,
    pub points: Vec<Place>,
    /// least and greatest values around the curve, at the same places; may be empty
    pub band: Vec<(f64, f64, f64)>,
    /// extrapolation beyond the record, drawn thin; may be empty
    pub beyond: Vec<Place>,
    pub dash: Dash,
    pub bold: bool,
    /// whether it is drawn thin, behind those that matter more
    pub thin: bool,
    /// whether each point has a dot
    pub dots: bool,
    /// index of the compared item, if the curve belongs to one
    pub of: Option<usize>,
}

impl Curve {
    /// A curve through these points with the colour and dashes of a position in their order.
    pub fn of(label: impl Into<String>, order: usize, points: Vec<Place>) -> Self {
        Self::in_hue(label, Hue { ink: colour(order), dash: dash(order) }, points)
    }

    /// A curve through these points in a colour with its dashes.
    pub fn in_hue(label: impl Into<String>, Hue { ink, dash }: Hue, points: Vec<Place>) -> Self {
        let label = label.into();
        Self {
            label,
            said: String::new(),
            ink,
            points,
            band: vec![],
            beyond: vec![],
            dash,
            bold: false,
            thin: false,
            dots: false,
            of: None,
        }
    }

    /// What it is called.
    pub fn called(&self) -> &str {
        if self.said.is_empty() { &self.label } else { &self.said }
    }

    /// Its last position on the sheet within two scales, if it has any.
    pub fn end(&self, x: &Axis, y: &Axis) -> Option<Place> {
        let last = |points: &[Place]| pieces(points, x, y).last()?.last().copied();
        last(&self.beyond).or_else(|| last(&self.points))
    }

    /// Draws it within two scales.
    pub fn draw(&self, sheet: &Sheet<'_>, x: &Axis, y: &Axis) -> Result<(), DrawError> {
        let width = match (self.bold, self.thin) {
            (true, _) => 2.4,
            (false, true) => 0.9,
            (false, false) => 1.7,
        };
        let ink = self.ink;
        let (seen, beyond) = (pieces(&self.points, x, y), pieces(&self.beyond, x, y));
        let all = || {
            seen.iter().try_for_each(|piece| sheet.line(piece, ink, width, self.dash))?;
            beyond.iter().try_for_each(|piece| sheet.line(piece, ink, 0.6 * width, self.dash))?;
            let mut dots = self.points.iter().filter(|_| self.dots);
            dots.try_for_each(|p| sheet.dot((x.within(p.0), y.within(p.1)), 3.6, ink))
        };
        sheet.of(self.of, || sheet.says(self.called(), all))
    }

    /// Shades the band between least and greatest values, broken where either is not finite.
    pub fn shade(&self, sheet: &Sheet<'_>, x: &Axis, y: &Axis) -> Result<(), DrawError> {
        let finite = |b: &(f64, f64, f64)| b.0.is_finite() && b.1.is_finite() && b.2.is_finite();
        for run in self.band.split(|b| !finite(b)).filter(|run| run.len() > 1) {
            let over = run.iter().map(|b| (x.within(b.0), y.within(b.2)));
            let under = run.iter().rev().map(|b| (x.within(b.0), y.within(b.1)));
            let around = over.chain(under).collect::<Vec<_>>();
            sheet.says(self.called(), || sheet.shape(&around, self.ink, 0.15))?;
        }
        Ok(())
    }
}
