//! A column of a table-figure: values of all rows on one linear scale with its limits, and their words beside it.

use crate::sheet::prelude::*;

/// Radius of a dot, px.
const DOT: f64 = 4.2;
/// Distance of the words from the scale, px.
pub const GAP: f64 = 10.0;
/// Colour of what is over a limit, and of all else.
const OVER: Ink = colour(0);
const ELSE: Ink = QUIET;

/// A value of a row.
pub struct Cell {
    pub value: f64,
    /// range around it
    pub range: Option<(f64, f64)>,
    pub words: String,
    /// what its mark says to a reader who points at it
    pub said: String,
    /// whether it is over a limit
    pub over: bool,
}

impl Cell {
    const fn ink(&self) -> Ink {
        if self.over { OVER } else { ELSE }
    }

    /// Type of its words.
    pub const fn set(&self) -> Type {
        Type::LABEL.ink(if self.over { OVER } else { TEXT }).bold(self.over)
    }
}

/// A column.
pub struct Column {
    pub heading: String,
    /// ends of its scale
    pub scale: (f64, f64),
    /// limits with their names
    pub limits: Vec<(f64, String)>,
    /// value from which a stem goes to each dot; none where there is none, or where lengths are from the scale's start
    pub stem: Option<f64>,
    pub cells: Vec<Cell>,
}

impl Column {
    /// Room that the words of all rows need beside the scale, at least so much that the heading has room above both, px.
    pub fn beside(&self, scale: f64) -> Result<f64, DrawError> {
        let words = self.cells.iter().map(|cell| width_of(&cell.words, cell.set()));
        let widest = words.collect::<Result<Vec<_>, _>>()?.into_iter().fold(0.0, f64::max);
        Ok((widest + GAP).max(width_of(&self.heading, Type::LABEL)? - scale))
    }

    /// Draws heading, scale and limits between a top and a floor. On a narrow sheet headings are short, and limits stand in
    /// each row, between its lines of text.
    pub fn frame(
        &self,
        sheet: &Sheet<'_>,
        ends: (f64, f64),
        (top, floor): (f64, f64),
        narrow: bool,
    ) -> Result<(), DrawError> {
        let x = Axis::linear(self.scale, ends);
        let heading = if narrow { self.heading.split(';').next().unwrap_or_default() } else { &self.heading };
        sheet.text(heading, (ends.0, top - 26.0), Type::LABEL)?;
        ruler::below(sheet, &x, &apart(&x, Type::TICK, 4)?, floor, (!narrow).then_some(top), "")?;
        for (at, words) in self.limits.iter().filter(|limit| x.holds(limit.0)) {
            let low = if narrow { top + 2.0 } else { floor };
            sheet.line(&[(x.at(*at), top - 2.0), (x.at(*at), low)], TEXT, 1.0, LIMIT_DASH)?;
            let set = Type::TICK.ink(QUIET).side(0);
            sheet.text(words, (x.at(*at), top - 9.0), set)?;
        }
        Ok(())
    }

    /// Draws the value of a row, of this name, at a height.
    pub fn mark(
        &self,
        sheet: &Sheet<'_>,
        (row, name): (usize, &str),
        ends: (f64, f64),
        y: f64,
    ) -> Result<(), DrawError> {
        sheet.says(&format!("{name}: {}", self.cells[row].said), || self.value(sheet, row, ends, y))
    }

    fn value(&self, sheet: &Sheet<'_>, row: usize, ends: (f64, f64), y: f64) -> Result<(), DrawError> {
        let (x, cell) = (Axis::linear(self.scale, ends), &self.cells[row]);
        if !cell.value.is_finite() {
            return Ok(());
        }
        let (at, ink) = (x.within(cell.value), cell.ink());
        for (limit, _) in self.limits.iter().filter(|limit| sheet.narrow() && x.holds(limit.0)) {
            sheet.line(&[(x.at(*limit), y - 9.0), (x.at(*limit), y + 9.0)], TEXT, 1.0, LIMIT_DASH)?;
        }
        if let Some((low, high)) = cell.range {
            sheet.line(&[(x.within(low), y), (x.within(high), y)], ink.tint(0.7), 1.6, None)?;
            if !x.holds(high) {
                sheet.shape(&[(ends.1 + 7.0, y), (ends.1, y - 4.0), (ends.1, y + 4.0)], ink, 1.0)?;
            }
        }
        if let Some(from) = self.stem {
            sheet.line(&[(x.within(from), y), (at, y)], if cell.over { ink } else { FAINT }, 3.0, None)?;
        }
        sheet.dot((at, y), DOT, ink)
    }

    /// Writes the words of a row between two positions.
    pub fn words(&self, sheet: &Sheet<'_>, row: usize, (left, right): (f64, f64), y: f64) -> Result<(), DrawError> {
        let cell = &self.cells[row];
        sheet.fitted(&cell.words, (left, y), cell.set(), right - left)
    }
}
