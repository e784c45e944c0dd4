//! Spares that fleets need in each period: how many sets in the middle, and how many suffice nine times in ten.

use crate::sheet::axis::round_step;
use crate::sheet::prelude::*;
use crate::words::clock::Clock;
use slipsoak_engine::fleet::{Fleet, Outcome};
use slipsoak_engine::names::Part;
use slipsoak_engine::statistics::count_at;

/// Kinds of spares, and the parts whose failure calls for one; oil services have none.
const KINDS: [(&str, &[Part]); 6] = [
    ("washers", &[Part::Washer, Part::Charring]),
    ("linings", &[Part::Lining]),
    ("bushings", &[Part::Bushing, Part::Seized]),
    ("springs", &[Part::Spring]),
    ("stacks to shim", &[Part::CoverGap]),
    ("oil services", &[]),
];
/// Probabilities of the two numbers in a cell: that of the middle, and the one that suffices nine times in ten.
const SHARES: [f64; 2] = [0.5, 0.9];
/// Line spacing, and height of the heading, px.
const LINE: f64 = 18.0;
const HEADING: f64 = 30.0;
/// Largest number of periods.
const MOST: f64 = 12.6;

/// A row: a kind of spares of one fleet, and the words for each period.
struct Row {
    fleet: usize,
    kind: &'static str,
    cells: Vec<String>,
}

/// The strip below an axis of time.
pub struct Strip {
    period: f64,
    heading: Vec<String>,
    rows: Vec<Row>,
}

impl Strip {
    /// The strip of these fleets up to a time, in the shortest periods whose numbers have room on the axis.
    pub fn of(
        fleets: &[(usize, &Fleet)],
        clock: &Clock,
        x: &Axis,
        (until, look): (f64, &Look),
    ) -> Result<Self, DrawError> {
        let (mut strip, mut called) = (Self { period: until, heading: vec![], rows: vec![] }, String::new());
        for (period, name) in periods(clock, until).into_iter().filter(|(period, _)| until / period <= MOST) {
            strip.rows = fleets.iter().flat_map(|fleet| rows(*fleet, clock, until, period)).collect();
            (strip.period, called) = (period, name);
            let room = (x.at(period) - x.at(0.0)) - 6.0;
            let widths = strip.rows.iter().flat_map(|row| &row.cells).map(|cell| width_of(cell, Type::TICK));
            if widths.collect::<Result<Vec<_>, _>>()?.into_iter().all(|wide| wide <= room) {
                break;
            }
        }
        let words = format!("Spares in each {called}: enough five times in ten (nine times in ten)");
        let left = if look.narrow() { SIDE } else { x.ends().0 };
        strip.heading = wrapped(&words, Type::HEADING, look.width() - SIDE - left)?;
        Ok(strip)
    }

    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    pub fn height(&self) -> f64 {
        let fleets = self.rows.chunk_by(|a, b| a.fleet == b.fleet).count();
        if self.is_empty() { 0.0 } else { self.over() + LINE * (self.rows.len() + fleets) as f64 + 10.0 }
    }

    /// Height of the heading, px.
    fn over(&self) -> f64 {
        HEADING + LINE * self.heading.len().saturating_sub(1) as f64
    }

    /// Ends of the periods, as ticks of the axis.
    pub fn ticks(&self, until: f64) -> Vec<(f64, String)> {
        let ends = (0..).map(|k| f64::from(k) * self.period).take_while(|end| *end <= until);
        ends.map(|end| (end, number(end, self.period.min(1.0)))).collect()
    }

    /// Draws it below this height; `named`: name and colour of a fleet.
    pub fn draw(
        &self,
        sheet: &Sheet<'_>,
        x: &Axis,
        top: f64,
        named: impl Fn(usize) -> (String, Ink),
    ) -> Result<(), DrawError> {
        if self.is_empty() {
            return Ok(());
        }
        let left = if sheet.narrow() { SIDE } else { x.ends().0 };
        sheet.lines(&self.heading, (left, top + 12.0), Type::HEADING, LINE)?;
        let mut at = top + self.over();
        for rows in self.rows.chunk_by(|a, b| a.fleet == b.fleet) {
            let (name, ink) = named(rows[0].fleet);
            sheet.of(Some(rows[0].fleet), || {
                let set = Type::LABEL.ink(ink).bold(true);
                sheet.fitted(&name, (left, at + 0.5 * LINE), set, sheet.width - SIDE - left)?;
                for (k, row) in rows.iter().enumerate() {
                    self.row(sheet, row, x, at + LINE * (k as f64 + 1.5))?;
                }
                Ok(())
            })?;
            at += LINE * (rows.len() + 1) as f64;
        }
        Ok(())
    }

    fn row(&self, sheet: &Sheet<'_>, row: &Row, x: &Axis, at: f64) -> Result<(), DrawError> {
        let (start, stop) = x.ends();
        let set = Type::TICK.ink(QUIET);
        sheet.line(&[(start, at + 0.5 * LINE), (stop, at + 0.5 * LINE)], FAINT, 0.6, None)?;
        if sheet.narrow() {
            sheet.fitted(row.kind, (SIDE, at), set, start - SIDE)?;
        } else {
            sheet.text(row.kind, (start - 14.0, at), set.side(1))?;
        }
        for (k, words) in row.cells.iter().enumerate() {
            let (from, to) = (self.period * k as f64, self.period * (k + 1) as f64);
            sheet.text(words, (f64::midpoint(x.at(from), x.within(to)), at), Type::TICK.side(0))?;
        }
        Ok(())
    }
}

/// Lengths of periods to count in, the shortest first, and what each is called.
fn periods(clock: &Clock, until: f64) -> Vec<(f64, String)> {
    if clock.weekly() {
        let known = [(13.0, "quarter"), (26.0, "half-year"), (52.0, "year"), (104.0, "two years")];
        // Within half a year quarters are too few.
        let short = [(1.0, "week"), (2.0, "two weeks"), (4.0, "four weeks")];
        let known = short.into_iter().filter(|_| until < 26.0).chain(known);
        let more = std::iter::successors(Some(260.0), |weeks| Some(2.0 * weeks)).take(8);
        let named = |weeks: f64| (weeks, format!("{:.0} years", weeks / 52.0));
        return known.map(|(weeks, name)| (weeks, name.to_owned())).chain(more.map(named)).collect();
    }
    let mut steps: Vec<f64> = (1..=12).rev().map(|parts| round_step(until / f64::from(parts))).collect();
    steps.dedup();
    steps.into_iter().map(|step| (step, format!("{}\u{a0}{}", number(step, step.min(1.0)), clock.unit))).collect()
}

/// Rows of a fleet, without kinds that it never needs.
fn rows((fleet, clutches): (usize, &Fleet), clock: &Clock, until: f64, period: f64) -> Vec<Row> {
    let all = clutches.outcomes.len() as u64;
    // A rest of a period has no room for a number.
    let periods = (0..(until / period).ceil() as u32).map(f64::from).filter(|k| until - k * period > 0.6 * period);
    let ends: Vec<f64> = periods.collect();
    let row = |(kind, parts): &(&'static str, &[Part])| {
        let when = |o: &Outcome| match (parts.is_empty(), o.ended_by) {
            (true, _) => clock.due(o),
            (false, Some(part)) if parts.contains(&part) => clock.end(o),
            _ => None,
        };
        let times: Vec<f64> = clutches.outcomes.iter().filter_map(when).collect();
        let cell = |k: &f64| {
            let (from, to) = (k * period, (k + 1.0) * period);
            let count = times.iter().filter(|time| **time >= from && **time < to).count() as u64;
            match SHARES.map(|share| count_at(count, all, share)) {
                [0, 0] => "0".to_owned(),
                [middle, enough] => format!("{middle} ({enough})"),
            }
        };
        (!times.is_empty()).then(|| Row { fleet, kind, cells: ends.iter().map(cell).collect() })
    };
    KINDS.iter().filter_map(row).collect()
}
