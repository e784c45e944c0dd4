//! A row of a fleet's failed clutches over time: a mark for each, or stacked bars if they are too many, and below it hollow
//! marks where oil was first due.

use crate::figures::part_mark::{self, MARK};
use crate::sheet::prelude::*;
use crate::words::clock::Clock;
use crate::words::reading::brief;
use slipsoak_engine::fleet::Fleet;
use slipsoak_engine::names::Part;

/// Height of one level of marks, largest number of levels, largest number of services of a row, and height of their ticks, px.
const LEVEL: f64 = 10.0;
const LEVELS: usize = 5;
const SERVICES: usize = 120;
const TICK: f64 = 9.0;
/// Width of a bar, and the greatest height of those of failures and of oil, px.
const BAR: f64 = 12.0;
const TALL: f64 = 40.0;
const LOW: f64 = 16.0;
/// Height of the words above a narrow row, px.
const WORDS: f64 = 34.0;

/// Failures of a fleet in the order of time.
fn failures(fleet: &Fleet, clock: &Clock) -> Vec<(f64, Part)> {
    let mut all: Vec<(f64, Part)> = fleet.outcomes.iter().filter_map(|o| Some((clock.end(o)?, o.ended_by?))).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// Level of each failure, so that marks at one level do not overlap; none if they need more levels than there are.
fn levels(fleet: &Fleet, clock: &Clock, x: &Axis) -> Option<Vec<usize>> {
    let mut free = [f64::NEG_INFINITY; LEVELS];
    let place = |(time, _): (f64, Part)| {
        let at = x.within(time);
        let level = free.iter().position(|end| at - end >= 2.0 * MARK)?;
        free[level] = at;
        Some(level)
    };
    failures(fleet, clock).into_iter().map(place).collect()
}

/// Times at which oil was first due.
fn due<'a>(fleet: &'a Fleet, clock: &'a Clock) -> impl Iterator<Item = f64> + 'a {
    fleet.outcomes.iter().filter_map(|o| clock.due(o))
}

/// Bars of an axis.
struct Bins {
    start: f64,
    wide: f64,
    count: usize,
}

impl Bins {
    fn of(x: &Axis) -> Self {
        let (start, stop) = x.ends();
        let count = ((stop - start) / BAR).floor().max(1.0) as usize;
        Self { start, wide: (stop - start) / count as f64, count }
    }

    /// How many of these times are in each.
    fn counts(&self, x: &Axis, times: impl Iterator<Item = f64>) -> Vec<f64> {
        let mut all = vec![0.0; self.count];
        times.for_each(|time| all[(((x.within(time) - self.start) / self.wide) as usize).min(self.count - 1)] += 1.0);
        all
    }

    fn ends(&self, k: usize) -> (f64, f64) {
        (self.start + self.wide * k as f64 + 1.0, self.start + self.wide * (k + 1) as f64 - 1.0)
    }
}

/// How the rows of some fleets show their failures, the same for all.
pub enum Rows {
    /// a mark each, at most at so many levels
    Marks(usize),
    /// bars, with the greatest number of failures and of services in one
    Bars(f64, f64),
}

impl Rows {
    /// Marks where no two would overlap, else bars.
    pub fn of(fleets: &[(usize, &Fleet)], clock: &Clock, x: &Axis) -> Self {
        let levels: Option<Vec<Vec<usize>>> = fleets.iter().map(|(_, fleet)| levels(fleet, clock, x)).collect();
        let few = fleets.iter().all(|(_, fleet)| due(fleet, clock).count() <= SERVICES);
        if let Some(levels) = levels.filter(|_| few) {
            return Self::Marks(levels.into_iter().flatten().max().unwrap_or(0) + 1);
        }
        let bins = Bins::of(x);
        let most = |times: &dyn Fn(&Fleet) -> Vec<f64>| {
            let counts = fleets.iter().flat_map(|(_, fleet)| bins.counts(x, times(fleet).into_iter()));
            counts.fold(1.0, f64::max)
        };
        Self::Bars(
            most(&|fleet| failures(fleet, clock).into_iter().map(|failure| failure.0).collect()),
            most(&|fleet| due(fleet, clock).collect()),
        )
    }

    /// Height of a row, px.
    pub fn height(&self, narrow: bool) -> f64 {
        let marks = match self {
            Self::Marks(levels) => LEVEL * *levels as f64 + TICK + 18.0,
            Self::Bars(..) => TALL + LOW + 26.0,
        };
        marks + if narrow { WORDS } else { 0.0 }
    }

    /// What stands for these parts.
    pub fn meaning(&self, ends: impl Fn(Part) -> bool) -> String {
        match self {
            Self::Marks(_) => part_mark::meaning(ends),
            Self::Bars(..) => part_mark::stacked(ends),
        }
    }

    /// Draws the row of a fleet between a top and a height.
    pub fn draw(
        &self,
        sheet: &Sheet<'_>,
        (fleet, clock): (&Fleet, &Clock),
        x: &Axis,
        (top, high): (f64, f64),
    ) -> Result<(), DrawError> {
        let below = if matches!(self, Self::Marks(_)) { TICK + 9.0 } else { LOW + 6.0 };
        let base = top + high - below;
        let (start, stop) = x.ends();
        sheet.line(&[(start, base), (stop, base)], FAINT, 0.8, None)?;
        if let Self::Bars(most, wet) = self {
            return bars(sheet, (fleet, clock), x, base, (*most, *wet));
        }
        for time in due(fleet, clock) {
            let at = (x.within(time), base + 0.5 * TICK + 1.0);
            sheet.says(&format!("service due, {}", clock.say(time)), || part_mark::service(sheet, at))?;
        }
        for ((time, part), level) in failures(fleet, clock).into_iter().zip(levels(fleet, clock, x).unwrap_or_default())
        {
            let at = (x.within(time), base - LEVEL * (level as f64 + 0.5) - 1.0);
            sheet.says(&format!("{}, {}", brief(part), clock.say(time)), || part_mark::draw(sheet, part, at))?;
        }
        Ok(())
    }
}

/// Stacked bars of the failures upward, and hollow ones of the oil downward, each to a scale that all rows share.
fn bars(
    sheet: &Sheet<'_>,
    (fleet, clock): (&Fleet, &Clock),
    x: &Axis,
    base: f64,
    (most, wet): (f64, f64),
) -> Result<(), DrawError> {
    let bins = Bins::of(x);
    let failures = failures(fleet, clock);
    let mut floors = vec![base; bins.count];
    for part in part_mark::ORDER {
        let own = failures.iter().filter(|failure| failure.1 == part).map(|failure| failure.0);
        for (k, count) in bins.counts(x, own).into_iter().enumerate().filter(|(_, count)| *count > 0.0) {
            let (left, right) = bins.ends(k);
            let over = floors[k] - TALL * count / most;
            let ink = hues::of_part(part).ink;
            sheet.says(&format!("{} {count}", brief(part)), || {
                sheet.bar((left, over), (right, floors[k]), ink)?;
                sheet.line(&[(left, over), (right, over)], PAPER, 0.8, None)
            })?;
            floors[k] = over;
        }
    }
    for (k, count) in bins.counts(x, due(fleet, clock)).into_iter().enumerate().filter(|(_, count)| *count > 0.0) {
        let ((left, right), low) = (bins.ends(k), base + LOW * count / wet);
        let corners = [(left, base), (right, base), (right, low), (left, low)];
        let ink = hues::of_part(Part::Oil).ink;
        sheet.says(&format!("service due {count}"), || sheet.outline(&corners, ink, 0.9))?;
    }
    let all = bins.counts(x, failures.iter().map(|failure| failure.0));
    let highest = all.iter().copied().fold(0.0, f64::max);
    let Some(peak) = all.iter().position(|count| *count == highest && highest > 0.0) else { return Ok(()) };
    let (left, right) = bins.ends(peak);
    let at = (f64::midpoint(left, right), floors[peak] - 8.0);
    sheet.text(&format!("{highest:.0}"), at, Type::TICK.ink(QUIET).side(0))
}
