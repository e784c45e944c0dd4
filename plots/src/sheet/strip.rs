//! What a chart over time shows beside its curves: rows of spans and moments, and times left out.

use crate::sheet::axis::Axis;
use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::label::REACH;
use crate::sheet::lettering::Type;
use crate::sheet::palette::{FAINT, Ink, QUIET};

/// Height of a strip, px.
pub const HIGH: f64 = 14.0;

/// Spans and moments in a row above the time axis.
pub struct Strip {
    pub name: &'static str,
    pub ink: Ink,
    pub spans: Vec<(f64, f64)>,
    pub moments: Vec<f64>,
}

impl Strip {
    /// Draws it about a height, with its name at the right if there is room for it, px.
    pub(super) fn draw(&self, sheet: &Sheet<'_>, x: &Axis, middle: f64, room: Option<f64>) -> Result<(), DrawError> {
        let (start, end) = x.ends();
        let over = middle - 0.5 * HIGH;
        sheet.line(&[(start, over), (end, over)], FAINT, 0.6, None)?;
        let spans = || {
            let seen = |span: &&(f64, f64)| x.value(start) <= span.1 && x.value(end) >= span.0;
            for (from, to) in self.spans.iter().filter(seen) {
                let (from, to) = (x.within(*from), x.within(*to));
                sheet.bar((from, middle - 2.6), (to.max(from + 0.8), middle + 2.6), self.ink)?;
            }
            let mut moments = self.moments.iter().filter(|at| x.holds(**at));
            moments.try_for_each(|at| sheet.dot((x.at(*at), middle), 3.2, self.ink))
        };
        sheet.says(self.name, spans)?;
        let Some(room) = room else { return Ok(()) };
        sheet.fitted(self.name, (end + REACH, middle), Type::TICK.ink(QUIET), (room - REACH).max(40.0))
    }

    /// Whether anything of it is within a range of the axis.
    pub fn within(&self, (from, to): (f64, f64)) -> bool {
        self.spans.iter().any(|span| span.0 <= to && span.1 >= from)
            || self.moments.iter().any(|at| (from..=to).contains(at))
    }
}

/// A section of the horizontal axis that represents a longer time.
pub struct Fold {
    pub from: f64,
    pub to: f64,
    pub words: String,
}

impl Fold {
    /// Draws it between a top and a bottom, px.
    pub(super) fn draw(&self, sheet: &Sheet<'_>, x: &Axis, (top, bottom): (f64, f64)) -> Result<(), DrawError> {
        let (from, to) = (x.at(self.from), x.at(self.to));
        sheet.bar((from, top), (to, bottom), FAINT)?;
        let at = (0.5 * (from + to), 0.5 * (top + bottom));
        sheet.fitted(&self.words, at, Type::TICK.ink(QUIET).upright(), bottom - top)
    }
}
