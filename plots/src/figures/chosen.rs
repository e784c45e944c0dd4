//! The runs that a figure of panels shows: not more than a reader can compare, none twice, and which they are.

use crate::sheet::prelude::*;
use crate::words::compared::{by_duty, life, longest_first};
use crate::words::fault::unfit;
use crate::words::reading::{end, name, reference};
use crate::words::text::listed;
use slipsoak_engine::names::distinct;
use slipsoak_engine::record::{Record, Run};

/// Largest number of runs under a duty that each have a panel unless their names are asked for.
const ALL: usize = 3;
/// Largest number of duties of one machine that are all drawn bold.
const FEW: usize = 8;

/// Most letters of a heading that names the runs with the same panel.
const LONG: usize = 44;

/// A panel: a run with its index, and the runs that it also stands for.
struct Place<'a> {
    index: usize,
    run: &'a Run,
    alike: Vec<&'a Run>,
}

/// The runs that a figure shows.
pub struct Shown<'a> {
    record: &'a Record,
    places: Vec<Place<'a>>,
    /// what distinguishes them; empty if they are all, or those named
    known_as: Vec<&'static str>,
    /// whether they are asked for by name
    asked: bool,
    /// number of runs that have no room
    left_out: usize,
}

impl<'a> Shown<'a> {
    /// Index and run of each panel.
    pub fn runs(&self) -> impl Iterator<Item = (usize, &'a Run)> {
        self.places.iter().map(|place| (place.index, place.run))
    }

    /// Number of panels.
    pub fn len(&self) -> usize {
        self.places.len()
    }

    /// Number of runs that the panels stand for.
    fn stands_for(&self) -> usize {
        self.places.iter().map(|place| 1 + place.alike.len()).sum()
    }

    /// Heading of a run's panel: its name, and those of the runs with the same panel.
    pub fn name(&self, index: usize) -> String {
        let Some(place) = self.places.iter().find(|place| place.index == index) else { return String::new() };
        let (own, all) = (name(self.record, place.run), self.record.runs.len());
        match place.alike.len() {
            0 => own,
            others if others + 1 == all => format!("the same for all {all}"),
            others => {
                let names: Vec<String> = place.alike.iter().map(|run| name(self.record, run)).collect();
                let whole = format!("{own}; the same for {}", listed(&names));
                if others <= 3 && whole.chars().count() <= LONG { whole } else { format!("{own}, {others} more alike") }
            }
        }
    }

    /// Which of how many runs are shown, after a comma; empty if it is all.
    pub fn part(&self) -> String {
        let (some, all) = (self.stands_for(), self.record.runs.len());
        if some == all { String::new() } else { format!(", {some} of {all} runs") }
    }

    /// The same, for a heading that states a finding on all runs.
    pub fn part_shown(&self) -> String {
        match self.part() {
            all if all.is_empty() => all,
            some => format!(" ({} shown)", some.trim_start_matches(", ")),
        }
    }

    /// A sheet whose heading and note tell which runs are shown, followed by the caption.
    pub fn sheet(
        &self,
        look: &Look,
        height: f64,
        [heading, note, describe]: [&str; 3],
        paint: impl FnOnce(&Sheet<'_>) -> Result<(), DrawError>,
    ) -> Result<Drawing, DrawError> {
        let heading = format!("{heading}{}", self.part_shown());
        let note = look.note(self.record, &format!("{note}{}", self.sentence()));
        sheet(look, height, [&heading, &note, describe], paint)
    }

    /// Draws a panel for each run in this number of columns of a frame.
    pub fn panels(
        &self,
        sheet: &Sheet<'_>,
        frame: Frame,
        columns: usize,
        panel: impl Fn(usize, &Run, Frame) -> Result<(), DrawError>,
    ) -> Result<(), DrawError> {
        let cells = frame.split(self.rows(columns), columns);
        self.places.iter().zip(cells).try_for_each(|(place, cell)| {
            let of = place.alike.is_empty().then_some(place.index);
            sheet.of(of, || panel(place.index, place.run, cell))
        })
    }

    /// Number of rows in this number of columns.
    pub fn rows(&self, columns: usize) -> usize {
        self.places.len().div_ceil(columns)
    }

    /// A sentence on which runs are shown, if it is not all.
    pub fn sentence(&self) -> String {
        if self.part().is_empty() {
            return String::new();
        }
        let room = match self.left_out {
            0 => String::new(),
            1 => "; 1 more has no room".to_owned(),
            more => format!("; {more} more have no room"),
        };
        if self.asked {
            return format!(" Shown: those named{room}.");
        }
        let duties = by_duty(self.record).len() > 1
            && self.record.runs.iter().any(|run| run.variant != self.record.runs[0].variant);
        let each = if duties { " of each duty" } else { "" };
        format!(
            " Shown: {}{each}{room}; others by\u{a0}--of.",
            listed(&self.known_as.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>())
        )
    }
}

/// The runs that a figure shows, in order: those named by name, or all of at most three, or of each duty of several
/// machines the longest-lived that fits, the reference and the shortest-lived. `prints`: the numbers that a panel draws; runs
/// whose numbers differ by no more than `width` share a panel. `most`: number of panels with room.
pub fn shown<'a>(
    record: &'a Record,
    look: &Look,
    most: usize,
    prints: impl Fn(&Run) -> Vec<f64>,
    width: f64,
) -> Shown<'a> {
    let runs = &record.runs;
    let asked = !look.of.is_empty();
    let groups: Vec<Vec<&Run>> = if runs.iter().all(|run| run.variant == runs[0].variant) {
        vec![runs.iter().collect()]
    } else {
        by_duty(record).into_iter().map(|(_, runs)| runs).collect()
    };
    let mut chosen: Vec<(&Run, &'static str)> = if asked {
        runs.iter().filter(|run| named(record, run, &look.of)).map(|run| (run, "")).collect()
    } else {
        // First the longest-lived of every duty, so that none is left out if there is not room for all.
        let groups: Vec<_> = groups.iter().map(|group| of_group(record, group)).collect();
        let longest = groups.iter().map(Vec::len).max().unwrap_or(0);
        (0..longest).flat_map(|k| groups.iter().filter_map(move |group| group.get(k).copied())).collect()
    };
    let index = |run: &Run| runs.iter().position(|one| std::ptr::eq(one, run)).unwrap_or(0);
    let print: Vec<Vec<f64>> = runs.iter().map(&prints).collect();
    let same = |a: usize, b: usize| {
        let near = |(a, b): (&f64, &f64)| (a - b).abs() <= width || (a.is_nan() && b.is_nan());
        print[a].len() == print[b].len() && print[a].iter().zip(&print[b]).all(near)
    };
    // If no run differs from the first, its panel stands for all of them.
    if runs.len() > 1 && !asked && (1..runs.len()).all(|k| same(0, k)) {
        chosen = runs.iter().map(|run| (run, "all")).collect();
    }
    let (mut places, mut known_as): (Vec<Place<'_>>, _) = (vec![], vec![]);
    let mut left_out = vec![];
    for (run, what) in chosen {
        let k = index(run);
        let taken = places.len() >= most.max(1);
        match places.iter_mut().find(|place| same(place.index, k)) {
            Some(place) if place.index == k || place.alike.iter().any(|one| std::ptr::eq(*one, run)) => {}
            Some(place) => place.alike.push(run),
            None if taken => {
                left_out.push(k);
                continue;
            }
            None => places.push(Place { index: k, run, alike: vec![] }),
        }
        known_as.push(what);
    }
    places.sort_by_key(|place| place.index);
    Shown { record, places, known_as: distinct(known_as), asked, left_out: distinct(left_out).len() }
}

/// Whether a run is asked for: by its name among the others, its machine or its duty.
pub fn named(record: &Record, run: &Run, names: &[String]) -> bool {
    names.iter().any(|asked| [&run.variant, &run.duty, &name(record, run)].contains(&asked))
}

/// Runs drawn bold among all: the reference, and the longest-lived that fits under each duty; of one machine
/// under a few duties, none of which is better than another, all.
pub fn bold(record: &Record) -> impl Fn(&Run) -> bool + '_ {
    let one = record.runs.len() <= FEW && record.runs.iter().all(|run| run.variant == record.runs[0].variant);
    let longest = longest_that_fit(record);
    move |run| one || reference(record, run) || longest.iter().any(|one| std::ptr::eq(*one, run))
}

/// The longest-lived run that fits under each duty under which one does.
fn longest_that_fit(record: &Record) -> Vec<&Run> {
    let of =
        |runs: Vec<_>| longest_first(&runs).into_iter().find(|run| end(run).is_some() && unfit(record, run).is_none());
    by_duty(record).into_iter().filter_map(|(_, runs)| of(runs)).collect()
}

/// What these bold runs are, of which not all are bold.
pub fn bold_means<'a>(record: &Record, bold: impl Iterator<Item = &'a Run>) -> &'static str {
    let longest = longest_that_fit(record);
    let (mut first, mut fits) = (false, false);
    for run in bold {
        first |= reference(record, run);
        fits |= longest.iter().any(|one| std::ptr::eq(*one, run));
    }
    match (first, fits) {
        (true, true) => " Bold: the reference, and the longest-lived that fits.",
        (true, false) => " Bold: the reference.",
        (false, true) => " Bold: the longest-lived that fits.",
        (false, false) => "",
    }
}

/// All of a group of few runs, or its longest-lived that fits, its reference and its shortest-lived, each with what it is.
fn of_group<'a>(record: &Record, group: &[&'a Run]) -> Vec<(&'a Run, &'static str)> {
    if group.len() <= ALL {
        return group.iter().map(|run| (*run, "all")).collect();
    }
    let sorted = longest_first(group);
    let known = || sorted.iter().copied().filter(|run| end(run).is_some());
    let fits = known().find(|run| unfit(record, run).is_none());
    let first = group.iter().copied().find(|run| reference(record, run)).unwrap_or(group[0]);
    let shortest = group.iter().copied().min_by(|a, b| life(a).total_cmp(&life(b)));
    let longest = match fits {
        Some(run) => (run, "the longest-lived that fits"),
        None => (known().next().unwrap_or(sorted[0]), "the longest-lived"),
    };
    let first =
        (first, if record.runs.iter().any(|run| reference(record, run)) { "the reference" } else { "the first" });
    [Some(longest), Some(first), shortest.map(|run| (run, "the shortest-lived"))].into_iter().flatten().collect()
}
