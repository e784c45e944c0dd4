//! A column of a table-figure: values of all rows on one scale with its limits, and their words beside it.

use crate::sheet::prelude::*;
use crate::words::reading::fahrenheit;

/// Radius of a dot, px.
const DOT: f64 = 4.2;
/// Distance of the words from the scale, px.
pub const GAP: f64 = 10.0;
/// Colour of what is over a limit, and of all else.
const OVER: Ink = colour(0);
const ELSE: Ink = QUIET;
/// Difference of two limits that is not seen.
const ALIKE: f64 = 0.5;

/// A value of a row.
pub struct Cell {
    pub value: f64,
    /// range around it
    pub range: Option<(f64, f64)>,
    pub words: String,
    /// what its mark says to a reader who points at it
    pub said: String,
    /// limit of this row, from which a stem goes to its dot
    pub limit: Option<f64>,
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
    /// ends of its scale, logarithmic if they are above zero and many times apart
    pub scale: (f64, f64),
    /// name of the limit
    pub limit: &'static str,
    /// whether its values are temperatures, °C, shown in the reader's scale
    pub celsius: bool,
    pub cells: Vec<Cell>,
}

impl Column {
    /// Room that the words of all rows need beside the scale, at least so much that the heading has room above both, px.
    pub fn beside(&self, scale: f64) -> Result<f64, DrawError> {
        let words = self.cells.iter().map(|cell| width_of(&cell.words, cell.set()));
        let widest = words.collect::<Result<Vec<_>, _>>()?.into_iter().fold(0.0, f64::max);
        Ok((widest + GAP).max(width_of(&self.heading, Type::LABEL)? - scale))
    }

    /// The limit that all rows share; none if they differ in it.
    fn shared(&self) -> Option<f64> {
        let (low, high) = extent(self.cells.iter().filter_map(|cell| cell.limit));
        (high - low < ALIKE).then_some(low)
    }

    /// Whether rows have limits that differ.
    pub fn differs(&self) -> bool {
        self.shared().is_none() && self.cells.iter().any(|cell| cell.limit.is_some())
    }

    /// Its ticks, those of temperatures in the reader's scale.
    fn ticks(&self, x: &Axis) -> Result<ruler::Ticks, DrawError> {
        let label = |(value, words): (f64, String)| {
            let words = if self.celsius { scales::either(&words, &number(fahrenheit(value), 1.0)) } else { words };
            (value, words)
        };
        let mut ticks = apart(x, Type::TICK, 4)?;
        if ticks.len() < 2 {
            ticks = thinned(x, x.ticks(2), Type::TICK)?;
        }
        // One that has no room has no label.
        Ok(ticks.into_iter().map(|tick| if tick.1.is_empty() { tick } else { label(tick) }).collect())
    }

    /// Draws heading, scale and the limit that all rows share between a top and a floor. On a narrow sheet limits stand in each row,
    /// between its lines of text; so they do where they differ.
    pub fn frame(
        &self,
        sheet: &Sheet<'_>,
        ends: (f64, f64),
        (top, floor): (f64, f64),
        narrow: bool,
    ) -> Result<(), DrawError> {
        let x = Axis::over(self.scale, ends);
        sheet.text(&self.heading, (ends.0, top - 26.0), Type::LABEL)?;
        ruler::below(sheet, &x, &self.ticks(&x)?, floor, (!narrow).then_some(top), "")?;
        // Where they differ the name stands over that of the first row.
        let named = self.shared().or_else(|| self.cells.first()?.limit).filter(|at| x.holds(*at));
        let Some(at) = named.map(|at| x.at(at)) else { return Ok(()) };
        if !self.differs() {
            let low = if narrow { top + 2.0 } else { floor };
            sheet.line(&[(at, top - 2.0), (at, low)], TEXT, 1.0, LIMIT_DASH)?;
        }
        sheet.text(self.limit, (at, top - 9.0), Type::TICK.ink(QUIET).side(0))
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
        let (x, cell) = (Axis::over(self.scale, ends), &self.cells[row]);
        if !cell.value.is_finite() {
            return Ok(());
        }
        let (at, ink) = (x.within(cell.value), cell.ink());
        let own = cell.limit.filter(|limit| (sheet.narrow() || self.differs()) && x.holds(*limit));
        if let Some(limit) = own.map(|limit| x.at(limit)) {
            sheet.line(&[(limit, y - 9.0), (limit, y + 9.0)], TEXT, 1.0, LIMIT_DASH)?;
        }
        if let Some((low, high)) = cell.range {
            sheet.line(&[(x.within(low), y), (x.within(high), y)], ink.tint(0.7), 1.6, None)?;
            if !x.holds(high) {
                sheet.shape(&[(ends.1 + 7.0, y), (ends.1, y - 4.0), (ends.1, y + 4.0)], ink, 1.0)?;
            }
        }
        if let Some(from) = cell.limit {
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
