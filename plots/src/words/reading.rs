//! Quantities of a record by name, in units for axes.

use crate::words::say;
use slipsoak_engine::document::Head;
use slipsoak_engine::finding::Spent;
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned};
pub use slipsoak_engine::units::{in_celsius as celsius, to_fahrenheit as fahrenheit};

/// Title of the study; for a script without a title, its name.
pub fn asked(head: &Head) -> String {
    let said = [&head.title, &head.script].into_iter().find(|text| !text.trim().is_empty());
    said.map_or("A study without a name", String::as_str).to_owned()
}

/// Whether all have this machine, and whether all have this duty.
fn same<'a>(all: impl Iterator<Item = (&'a str, &'a str)>, (machine, duty): (&str, &str)) -> (bool, bool) {
    all.fold((true, true), |same, other| (same.0 && other.0 == machine, same.1 && other.1 == duty))
}

/// Name of a machine under a duty among others: the machine, the duty, or both, whichever distinguishes them.
pub(crate) fn among<'a>(all: impl Iterator<Item = (&'a str, &'a str)>, (machine, duty): (&str, &str)) -> String {
    match same(all, (machine, duty)) {
        (_, true) => machine.to_owned(),
        (true, false) => duty.to_owned(),
        (false, false) => format!("{machine}, {duty}"),
    }
}

/// What machines under duties have in common: the duty, or else the machine; none if neither.
pub(crate) fn common<'a>(mut all: impl Iterator<Item = (&'a str, &'a str)>) -> Option<String> {
    let (machine, duty) = all.next()?;
    let (same_machine, same_duty) = same(all, (machine, duty));
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

/// Whether a run's machine is the one that other machines are compared with.
pub fn reference(record: &Record, run: &Run) -> bool {
    let first = record.runs.first().map(|run| &run.variant);
    let several = record.runs.iter().any(|other| Some(&other.variant) != first);
    several && record.reference.as_ref().or(first) == Some(&run.variant)
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
    /// running time with every part's constant, learned or assumed, at its worst and at its best, s; none if none changes it
    pub range: Option<[f64; 2]>,
}

impl End {
    /// Text of what happens to the part.
    pub fn what(&self) -> String {
        ends(self.part)
    }

    /// The part, or what becomes of it, in a word or two.
    pub fn brief(&self) -> &'static str {
        brief(self.part)
    }

    /// The life in words, running hours first.
    pub fn life(&self) -> String {
        say::life(self.running, self.calendar)
    }
}

/// What happens when a part reaches its limit.
pub fn ends(part: Part) -> String {
    match part {
        Part::Charring => "the washer chars".to_owned(),
        Part::CoverGap => "drum and cover touch".to_owned(),
        Part::Spring => "the springs are too weak".to_owned(),
        Part::Seized => "the bushing grabs its shaft".to_owned(),
        part => format!("the {part} is worn out"),
    }
}

/// The oil fill at which the oil counts as used up, below the one at which service is due: “50 % fill”; none if the runs differ in it.
pub fn oil_gone(record: &Record) -> Option<String> {
    let mut ends = record.runs.iter().map(|run| run.setting(&settings::limits::oil_end));
    let first = ends.next()??;
    ends.all(|end| end == Some(first)).then(|| format!("{} fill", say::percent(first)))
}

/// A part at its limit, or what becomes of it, in a word or two.
pub fn brief(part: Part) -> &'static str {
    match part {
        Part::Charring => "washer chars",
        Part::Seized => "bushing grabs",
        part => part.name(),
    }
}

/// The part that is found at its limit.
pub fn found(part: Part) -> String {
    match part {
        Part::Charring => "the charred washer".to_owned(),
        Part::Seized => "the seized bushing".to_owned(),
        part => format!("the {part}"),
    }
}

/// Why a run gives no life: its temperatures are beyond the model, or its motor stalls by itself.
fn no_life(run: &Run) -> Option<&'static str> {
    let why = [(run.warned(Warned::Beyond).is_some(), "beyond the model"), (run.stalls_by_itself(), "does not idle")];
    why.into_iter().find(|(so, _)| *so).map(|(_, why)| why)
}

/// What stands in place of the part that wears out first.
pub fn endless(run: &Run) -> &'static str {
    no_life(run).unwrap_or("no part worn")
}

/// The part that wears out first. Oil is excluded: it is service, not wear. None if nothing wears, or if no life can be given.
pub fn end(run: &Run) -> Option<End> {
    if no_life(run).is_some() {
        return None;
    }
    let first = run.first_worn()?;
    let calendar = first.life?;
    Some(End { part: first.part, running: first.running.unwrap_or(calendar), calendar, range: run.life_range() })
}

/// That a part is worn out before it is ridden: "a new washer, since that of 0.20 mm is not over the 0.25 mm at which …".
pub(crate) fn new_part(spent: &Spent) -> String {
    let part = spent.part.name();
    format!(
        "a new {part}, since that of {:.2}\u{a0}mm is not over the {:.2}\u{a0}mm at which a worn one is replaced",
        1e3 * spent.thickness,
        1e3 * spent.limit
    )
}
