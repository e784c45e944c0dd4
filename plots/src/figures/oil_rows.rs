//! Rows of dots: where the oil of each run ends, and what it costs the lining in grip.

use crate::figures::oil_drops::{ENDINGS, Oil, drop_mass, unit};
use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::say::percent;
use slipsoak_engine::record::{Run, Warned};

/// Distance of dots and their radius, px.
const PITCH: f64 = 7.4;
const DOT: f64 = 3.0;
/// Height of the columns' heads, and of narrow ones, of the numbers over the dots, and of the space below, px.
const HEADS: f64 = 44.0;
const NARROW_HEADS: f64 = 54.0;
const NUMBER: f64 = 20.0;
const SPACE: f64 = 8.0;
/// Least height of a row, its name in one line and two lines below it, and line spacing of a name, px.
const LEAST: f64 = 52.0;
const LINE: f64 = 16.0;
/// Least and greatest room for names, the space after one, and room for the grip, px.
const NAMES: (f64, f64) = (150.0, 250.0);
const BESIDE: f64 = 14.0;
const GRIP: f64 = 132.0;
/// Height of a narrow row's name and of the line on its grip, px.
const NARROW_NAME: f64 = 36.0;
const NARROW_GRIP: f64 = 18.0;

/// A row: the index of its run if it is one's alone, its name, its oil, and the mass of a drop, kg.
pub struct Row {
    of: Option<usize>,
    name: String,
    oil: Oil,
    drop: f64,
    /// whether its oil is one never to be used
    wrong: bool,
}

/// Whether a run's bushing held an oil of which some stays on the lining.
pub fn wrong_oil(run: &Run) -> bool {
    run.warned(Warned::Additive).is_some()
}

/// The mark of such a run.
const WRONG: &str = "+ wrong oil: never use";

impl Row {
    pub fn new(of: Option<usize>, name: String, run: &Run) -> Self {
        let oil = Oil::of(run);
        let drop = drop_mass(run, &oil).unwrap_or(f64::INFINITY);
        Self { of, name, oil, drop, wrong: wrong_oil(run) }
    }

    fn moved(&self) -> f64 {
        self.oil.moved() / self.drop
    }
}

/// The rows with what they have in common.
pub struct Rows {
    all: Vec<Row>,
    /// drops that a dot stands for
    pub each: f64,
    /// columns that some row has oil in
    columns: Vec<usize>,
    /// room for their names, px
    names: f64,
}

impl Rows {
    pub fn new(rows: Vec<Row>) -> Result<Self, DrawError> {
        let each = unit(rows.iter().map(Row::moved).fold(0.0, f64::max));
        let has = |k: &usize| {
            *k < ENDINGS.len() - 1 || rows.iter().any(|row| row.oil.gained[*k].abs() > 0.05 * each * row.drop)
        };
        let columns = (0..ENDINGS.len()).filter(has).collect();
        let widths = rows.iter().map(|row| width_of(&row.name, Type::LABEL)).collect::<Result<Vec<_>, _>>()?;
        let names = (widths.into_iter().fold(0.0, f64::max) + BESIDE).clamp(NAMES.0, NAMES.1);
        Ok(Self { all: rows, each, columns, names })
    }

    /// Left end of the first column and width of each on a sheet of this width, px.
    fn cells(&self, width: f64, narrow: bool) -> (f64, f64) {
        let [names, grip] = if narrow { [0.0, 0.0] } else { [self.names, GRIP] };
        (SIDE + names, (width - 2.0 * SIDE - names - grip) / self.columns.len() as f64)
    }

    /// Lines of a row's name.
    fn lines(&self, row: &Row) -> Vec<String> {
        wrapped(&row.name, Type::LABEL, self.names - BESIDE).unwrap_or_else(|_| vec![row.name.clone()])
    }

    const fn heads(narrow: bool) -> f64 {
        if narrow { NARROW_HEADS } else { HEADS }
    }

    /// Dots across a column of this width.
    fn across(wide: f64) -> usize {
        (((wide - 10.0) / PITCH) as usize).max(1)
    }

    fn height_of(&self, row: &Row, (width, narrow): (f64, bool)) -> f64 {
        let across = Self::across(self.cells(width, narrow).1);
        let gained = row.oil.dots(self.each * row.drop);
        let given = row.oil.gained.map(|kg| ((-kg).max(0.0) / (self.each * row.drop)).round() as usize);
        let lines = gained.iter().chain(&given).map(|n| n.div_ceil(across)).max().unwrap_or(0);
        let dots = NUMBER + PITCH * lines as f64 + SPACE;
        if narrow {
            NARROW_NAME + dots + NARROW_GRIP
        } else {
            let more = self.lines(row).len() - 1 + usize::from(row.wrong);
            dots.max(LEAST + LINE * more as f64)
        }
    }

    /// Height of all rows on a sheet of this width, px.
    pub fn height(&self, width: f64, narrow: bool) -> f64 {
        Self::heads(narrow) + self.all.iter().map(|row| self.height_of(row, (width, narrow))).sum::<f64>()
    }

    /// What a dot stands for.
    pub fn dot(&self) -> String {
        match self.each {
            each if each < 0.5 => "a tenth of a drop".to_owned(),
            each if each < 2.0 => "a drop".to_owned(),
            each => format!("{} drops", figures(each, 1)),
        }
    }

    /// Draws the rows below a height, px.
    pub fn draw(&self, sheet: &Sheet<'_>, top: f64) -> Result<(), DrawError> {
        let narrow = sheet.narrow();
        let (left, wide) = self.cells(sheet.width, narrow);
        let set = Type::LABEL;
        let part = if narrow { "Drops that ended in" } else { "Drops that ended in the" };
        sheet.text(
            part,
            (if narrow { SIDE } else { left - 10.0 }, top + 12.0),
            if narrow { set } else { set.side(1) },
        )?;
        for (k, column) in self.columns.iter().enumerate() {
            let at = (left + wide * k as f64, top + if narrow { 30.0 } else { 12.0 });
            sheet.fitted(ENDINGS[*column].name, at, set.bold(true), wide - 4.0)?;
        }
        if !narrow {
            let right = sheet.width - SIDE;
            sheet.text("grip lost to oil", (right, top + 4.0), set.side(1))?;
            sheet.text("at worst", (right, top + 20.0), set.side(1))?;
        }
        let mut over = top + Self::heads(narrow) - 10.0;
        for row in &self.all {
            sheet.line(&[(SIDE, over), (sheet.width - SIDE, over)], FAINT, 0.8, None)?;
            sheet.of(row.of, || self.row(sheet, row, over, (left, wide)))?;
            over += self.height_of(row, (sheet.width, narrow));
        }
        Ok(())
    }

    fn row(&self, sheet: &Sheet<'_>, row: &Row, top: f64, (left, wide): (f64, f64)) -> Result<(), DrawError> {
        let narrow = sheet.narrow();
        let oil = &row.oil;
        let in_drops = |kg: f64| kg / row.drop;
        let put_on = match (oil.drops, in_drops(oil.put_on)) {
            (1.0, _) => "1 drop put on".to_owned(),
            (drops, _) if drops > 0.0 && drops < 9.95 => format!("{} drops put on", figures(drops, 2)),
            (drops, _) if drops > 0.0 => format!("{} drops put on", number(drops, 1.0)),
            (_, put_on) if put_on > 0.0 => format!("oil of {} drops put on", figures(put_on, 2)),
            _ => "no oil put on".to_owned(),
        };
        let given = in_drops(oil.given_up());
        let given = if given >= 0.05 { format!("{} given up", said(given)) } else { String::new() };
        let quiet = Type::TICK.ink(QUIET);
        if narrow {
            sheet.named(&row.name, (SIDE, top + 12.0), Type::LABEL.bold(true), sheet.width - 2.0 * SIDE)?;
            let words = if given.is_empty() { put_on } else { format!("{put_on}, {given}") };
            let words = if row.wrong { format!("{WRONG}; {words}") } else { words };
            sheet.fitted(&words, (SIDE, top + 28.0), quiet, sheet.width - 2.0 * SIDE)?;
        } else {
            let name = self.lines(row);
            let mut below = top + LINE * name.len() as f64;
            sheet.lines(&name, (SIDE, top + 12.0), Type::LABEL, LINE)?;
            if row.wrong {
                sheet.text(WRONG, (SIDE, below + 12.0), Type::TICK.bold(true))?;
                below += LINE;
            }
            sheet.text(&put_on, (SIDE, below + 12.0), quiet)?;
            sheet.text(&given, (SIDE, below + 27.0), quiet)?;
        }
        let over = if narrow { top + NARROW_NAME } else { top };
        if oil.moved() <= 0.0 {
            return sheet.text("no oil moved", (left, over + 12.0), quiet);
        }
        let dots = oil.dots(self.each * row.drop);
        let across = Self::across(wide);
        for (place, column) in self.columns.iter().copied().enumerate() {
            let x = left + wide * place as f64;
            let (kg, ending) = (oil.gained[column], &ENDINGS[column]);
            let amount = in_drops(kg);
            let out = kg < 0.0 && amount <= -0.05;
            let words = if out { format!("−{}", said(-amount)) } else { said(amount.max(0.0)) };
            sheet.text(&words, (x, over + 12.0), Type::TICK)?;
            let count = if out { (-amount / self.each).round() as usize } else { dots[column] };
            let ink = colour(ending.hue);
            let told = format!("{}, {}: {words} drops, {}", row.name, ending.name, weight(1e6 * kg.abs()));
            let each = |k: usize| {
                let at = (
                    x + DOT + 0.6 + PITCH * (k % across) as f64,
                    over + NUMBER + DOT + 2.0 + PITCH * (k / across) as f64,
                );
                sheet.dot(at, DOT, ink)?;
                if out { sheet.dot(at, DOT - 1.2, PAPER) } else { Ok(()) }
            };
            if count > 0 {
                sheet.says(&told, || (0..count).try_for_each(each))?;
            }
        }
        let Some([worst, end]) = oil.grip_lost else { return Ok(()) };
        let words = match (percent(worst), percent(end)) {
            (worst, _) if end < 0.005 => worst,
            (worst, end) => format!("{worst}, {end} at the end"),
        };
        if narrow {
            let at = top + self.height_of(row, (sheet.width, true)) - 14.0;
            return sheet.text(&format!("grip lost to oil at worst: {words}"), (SIDE, at), Type::TICK);
        }
        let (right, y) = (sheet.width - SIDE, top + 30.0);
        let axis = Axis::linear((0.0, 1.0), (right - GRIP + 24.0, right));
        sheet.text(&words, (right, top + 12.0), Type::TICK.side(1))?;
        sheet.block(Frame::between((axis.at(0.0), y - 4.0), (right, y + 4.0)), FAINT, 0.7)?;
        let told = format!("{}: up to {} on the lining, grip lost {words}", row.name, weight(1e6 * oil.most_on_lining));
        if in_drops(oil.most_on_lining) >= 0.05 {
            let words = format!("from {} drops on it", said(in_drops(oil.most_on_lining)));
            sheet.text(&words, (right, y + 14.0), quiet.side(1))?;
        }
        let (a, b) = (axis.at(end), axis.at(worst).max(axis.at(end) + 1.0));
        sheet.says(&told, || {
            sheet.block(Frame::between((axis.at(0.0), y - 4.0), (a, y + 4.0)), colour(hues::LINING), 0.9)?;
            sheet.block(Frame::between((a, y - 4.0), (b, y + 4.0)), colour(hues::LINING), 0.4)
        })
    }
}

/// A number of drops, to a tenth where they are few: what is little is not nothing.
fn said(drops: f64) -> String {
    match drops {
        ..0.005 => "0".to_owned(),
        0.005..0.05 => "<0.1".to_owned(),
        0.05..9.95 => number(drops, 0.1),
        _ => number(drops, 1.0),
    }
}

/// A mass in mg, or in g if it is large.
fn weight(mg: f64) -> String {
    match mg {
        ..9.95 => format!("{} mg", number(mg, 0.1)),
        9.95..9999.5 => format!("{} mg", number(mg, 1.0)),
        _ => format!("{} g", number(mg / 1e3, 0.01)),
    }
}
