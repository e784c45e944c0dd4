//! Quantities of a record by name, in units for axes.

use crate::sheet::axis::number;
use crate::sheet::canvas::Place;
use crate::sheet::drawing::DrawError;
use crate::words::say;
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::units::HOUR;
pub use slipsoak_engine::units::{in_celsius as celsius, to_fahrenheit as fahrenheit};

/// Fails for an empty record, or if its rows lack channels.
pub fn check(record: &Record) -> Result<(), DrawError> {
    if record.runs.is_empty() || record.runs.iter().any(|run| run.windows.end.is_empty()) {
        return Err(DrawError::Empty);
    }
    let places = Channel::ALL.iter().zip(record.channels.iter().map(|c| Some(c.name)).chain(std::iter::repeat(None)));
    if let Some((channel, _)) = places.into_iter().find(|(channel, there)| Some(**channel) != *there) {
        return Err(DrawError::Channel(channel.name().to_owned()));
    }
    let whole = |run: &Run| {
        let (w, all) = (&run.windows, &run.overall);
        let rows = [&w.least, &w.mean, &w.most].into_iter().all(|rows| rows.len() == w.end.len());
        let wide = |row: &Vec<f64>| row.len() == Channel::COUNT;
        rows && w.least.iter().chain(&w.mean).chain(&w.most).chain([&all.least, &all.mean, &all.most]).all(wide)
    };
    if let Some(run) = record.runs.iter().find(|run| !whole(run)) {
        return Err(DrawError::Ragged(run.variant.clone()));
    }
    // The last window ends with the run, apart from rounding.
    let ordered = |run: &Run| {
        run.windows.spans().all(|(start, end)| end > start)
            && !run.windows.end.last().is_some_and(|last| *last > run.duration * (1.0 + 1e-9) + 1e-6)
    };
    match record.runs.iter().find(|run| !ordered(run)) {
        Some(run) => Err(DrawError::Disordered(run.variant.clone())),
        None => Ok(()),
    }
}

/// The runs that a figure of this number of panels shows, each with its index.
pub struct Shown<'a> {
    /// index and run
    pub runs: Vec<(usize, &'a Run)>,
    all: usize,
    /// reasons for their choice, beginning with the first compared
    known_as: Vec<String>,
}

impl Shown<'_> {
    /// Heading of a figure, with the number of runs shown if it is not all.
    pub fn heading(&self, figure: &str, title: &str) -> String {
        if self.runs.len() == self.all {
            return format!("{figure}: {title}");
        }
        format!("{figure}, {} of {} runs: {title}", self.runs.len(), self.all)
    }

    /// A sentence on which runs are shown, if it is not all.
    pub fn sentence(&self) -> String {
        if self.runs.len() == self.all {
            return String::new();
        }
        format!(" Shown: {}; the others are in the table.", self.known_as.join(", "))
    }
}

/// The runs that a figure of panels shows: all, or as many as fit of the first, the longest-lived, the shortest-lived,
/// the one with the hottest lining, the longest- and shortest-lived of each duty, and the others in order.
pub fn shown(record: &Record, most: usize) -> Shown<'_> {
    let all = record.runs.len();
    let life = |k: &usize| end(&record.runs[*k]).map_or(f64::INFINITY, |end| end.running);
    let longest = |of: Vec<usize>| of.into_iter().rev().max_by(|a, b| life(a).total_cmp(&life(b)));
    let shortest = |of: Vec<usize>| of.into_iter().min_by(|a, b| life(a).total_cmp(&life(b)));
    let peak = |k: &usize| Channel::LiningSurface.of(&record.runs[*k].overall.most);
    let hottest = (0..all).rev().max_by(|a, b| peak(a).total_cmp(&peak(b)));
    let mut wanted = vec![Some(0), longest((0..all).collect()), shortest((0..all).collect()), hottest];
    let mut duties: Vec<&str> = record.runs.iter().map(|run| run.duty.as_str()).collect();
    duties.dedup();
    for pick in [&longest as &dyn Fn(Vec<usize>) -> Option<usize>, &shortest] {
        wanted.extend(duties.iter().map(|duty| pick((0..all).filter(|k| record.runs[*k].duty == *duty).collect())));
    }
    wanted.extend((0..all).map(Some));
    let known = ["the first compared", "the longest-lived", "the shortest-lived", "the hottest"];
    let named: Vec<(usize, &str)> = wanted.iter().zip(known).filter_map(|(k, name)| Some(((*k)?, name))).collect();
    let mut chosen: Vec<usize> = vec![];
    for k in wanted.into_iter().flatten() {
        if chosen.len() < most.min(all) && !chosen.contains(&k) {
            chosen.push(k);
        }
    }
    let called = |k: &usize| {
        let mut names = named.iter().filter(|known| known.0 == *k).map(|known| known.1);
        let first = names.next()?;
        let more: Vec<&str> = names.collect();
        Some(if more.is_empty() { first.to_owned() } else { format!("{first} ({})", more.join(", ")) })
    };
    let mut known_as: Vec<String> = chosen.iter().filter_map(called).collect();
    if known_as.len() < chosen.len() {
        known_as.push("and what more fits".to_owned());
    }
    chosen.sort_unstable();
    Shown { runs: chosen.into_iter().map(|k| (k, &record.runs[k])).collect(), all, known_as }
}

/// Number of rows of this height, px, on a sheet before its letters are smaller than 6 pt in print on A4: the page's
/// text is 182 mm wide and a figure at most 215 mm high; 12.5 px of a sheet of 960 px are 6.7 pt at full width.
pub fn rows_that_fit(over: f64, row: f64) -> usize {
    ((TALLEST - over) / row).floor().max(1.0) as usize
}

/// Largest height of a sheet of 960 px, px, apart from some lines of notes.
const TALLEST: f64 = 1200.0;

/// A setting of a run's machine, SI.
pub fn setting(run: &Run, path: &str) -> Option<f64> {
    run.settings.iter().find(|s| s.path == path).map(|s| s.value)
}

/// Name of a machine under a duty among others: the machine, the duty, or both, whichever distinguishes them.
pub(crate) fn among<'a>(all: impl Iterator<Item = (&'a str, &'a str)>, (machine, duty): (&str, &str)) -> String {
    let alike = |same: (bool, bool), other: (&str, &str)| (same.0 && other.0 == machine, same.1 && other.1 == duty);
    match all.fold((true, true), alike) {
        (_, true) => machine.to_owned(),
        (true, false) => duty.to_owned(),
        (false, false) => format!("{machine}, {duty}"),
    }
}

/// What machines under duties have in common: the duty, or else the machine; none if neither.
pub(crate) fn common<'a>(mut all: impl Iterator<Item = (&'a str, &'a str)>) -> Option<String> {
    let (machine, duty) = all.next()?;
    let alike = |same: (bool, bool), other: (&str, &str)| (same.0 && other.0 == machine, same.1 && other.1 == duty);
    let (same_machine, same_duty) = all.fold((true, true), alike);
    if same_duty { Some(duty) } else { same_machine.then_some(machine) }.map(str::to_owned)
}

/// Machine and duty of each run.
pub(crate) fn pairs(record: &Record) -> impl Iterator<Item = (&str, &str)> {
    record.runs.iter().map(|run| (run.variant.as_str(), run.duty.as_str()))
}

/// Name of a run among the others of its record.
pub fn name(record: &Record, run: &Run) -> String {
    among(pairs(record), (&run.variant, &run.duty))
}

/// A channel's row of every window over time, at the middle of the window; `per`: seconds per unit of time.
pub fn curve(run: &Run, rows: &[Vec<f64>], column: usize, per: f64, unit: fn(f64) -> f64) -> Vec<Place> {
    run.windows.spans().zip(rows).map(|((start, end), row)| (0.5 * (start + end) / per, unit(row[column]))).collect()
}

/// Label in °F of a tick in °C.
pub fn in_fahrenheit(celsius: f64) -> String {
    number(fahrenheit(celsius), 1.0)
}

/// Unit of time for an axis of this many seconds: its seconds and its name.
pub fn clock(longest: f64) -> (f64, &'static str) {
    if longest <= 7200.0 {
        (60.0, "minutes")
    } else if longest <= 5.0 * 86400.0 {
        (HOUR, "hours")
    } else {
        (86400.0, "days")
    }
}

/// Duration of the longest run, s.
pub fn longest<'a>(runs: impl IntoIterator<Item = &'a Run>) -> f64 {
    runs.into_iter().map(|run| run.duration).filter(|d| d.is_finite()).fold(1.0, f64::max)
}

/// The end of a clutch's life.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// the part that wears out first
    pub part: Part,
    /// running time, s
    pub running: f64,
    /// calendar time, s
    pub calendar: f64,
}

impl End {
    /// Text of what happens to the part.
    pub fn what(&self) -> String {
        match self.part {
            Part::Charring => "the washer chars".to_owned(),
            Part::CoverGap => "drum and cover touch".to_owned(),
            Part::Spring => "the springs are too weak".to_owned(),
            part => format!("the {part} is worn out"),
        }
    }

    /// The part, or what becomes of it, in a word or two.
    pub fn brief(&self) -> &'static str {
        if self.part == Part::Charring { "washer chars" } else { self.part.name() }
    }

    /// The life in words, running hours first.
    pub fn life(&self) -> String {
        say::life(self.running, self.calendar)
    }
}

/// The part that wears out first. Oil is excluded: it is service, not wear. None if nothing wears, or if temperatures
/// are beyond the model, so that no life can be given.
pub fn end(run: &Run) -> Option<End> {
    if run.warned(Warned::Beyond).is_some() {
        return None;
    }
    let first = run.first_worn()?;
    let calendar = first.life?;
    Some(End { part: first.part, running: first.running.unwrap_or(calendar), calendar })
}
