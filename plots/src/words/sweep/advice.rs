//! What to choose by a sweep: what a machine is fitted with is chosen, what it meets is not, and has to be withstood.

use super::called;
use crate::words::fault::in_brief;
use crate::words::ground::{Ground, by_distance};
use crate::words::number::figures;
use crate::words::reading::ends;
use crate::words::say::{self, turns};
use crate::words::text::{Words, listed, together};
use crate::words::warming::cold;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::{distinct, distinct_by};
use slipsoak_engine::parts::{Group, in_words, settings};
use slipsoak_engine::record::Warned;
use slipsoak_engine::sweep::{Axis, Row, Sweep};
use slipsoak_engine::units::in_rpm;
use std::collections::BTreeMap;

/// Most groups of conditions that are named one by one.
const GROUPS: usize = 5;
/// Most conditions of several quantities that are named one by one.
const CONDITIONS: usize = 4;

/// Whether an axis is what a machine meets, not what it is fitted with.
fn is_met(axis: &Axis) -> bool {
    let of = |group: Group| axis.name.split('.').next() == Some(group.name());
    axis.name == "duty" || axis.name == settings::vehicle::mass.path || of(Group::Surroundings)
}

/// Axes of a sweep, parted by what can be chosen.
struct Parted<'a> {
    sweep: &'a Sweep,
    /// idle, of which the middle value counts: it is measured, and its variation is in the margin
    idle: Option<usize>,
    /// what the machine meets
    met: Vec<usize>,
    /// what it is fitted with
    chosen: Vec<usize>,
}

impl<'a> Parted<'a> {
    fn of(sweep: &'a Sweep) -> Self {
        let all = || sweep.axes.iter().enumerate().filter(|(_, axis)| axis.labels.len() > 1);
        let idle = all().find(|(_, axis)| axis.name == settings::motor::idle.path).map(|(k, _)| k);
        let rest = || all().filter(|(k, _)| Some(*k) != idle);
        let met = rest().filter(|(_, axis)| is_met(axis)).map(|(k, _)| k).collect();
        let chosen = rest().filter(|(_, axis)| !is_met(axis)).map(|(k, _)| k).collect();
        Self { sweep, idle, met, chosen }
    }

    /// Rows at the middle idle.
    fn rows(&self) -> impl Iterator<Item = &'a Row> {
        let middle = self.idle.map(|axis| (axis, self.sweep.axes[axis].values.len() / 2));
        self.sweep.rows.iter().filter(move |row| middle.is_none_or(|(axis, middle)| row.place[axis] == middle))
    }

    /// "at an idle of 1700 rpm", if idle or springs are varied.
    fn at_idle(&self) -> String {
        let springs = self.sweep.axes.iter().any(|axis| axis.name == settings::clutch::engagement.path);
        let said = match self.idle {
            Some(axis) => Some(self.sweep.axes[axis].labels[self.sweep.axes[axis].values.len() / 2].clone()),
            None if springs => self.sweep.rows.iter().find_map(|row| row.summary.idle).map(turns),
            None => None,
        };
        said.map_or_else(String::new, |idle| format!(" at an idle of {idle}"))
    }

    /// Each choice with its rows, in the order of the script.
    fn choices(&self) -> Vec<(Vec<usize>, Vec<&'a Row>)> {
        let of = |row: &Row| self.chosen.iter().map(|axis| row.place[*axis]).collect::<Vec<_>>();
        let all = distinct(self.rows().map(of));
        let rows = |choice: &Vec<usize>| self.rows().filter(|row| of(row) == *choice).collect();
        all.into_iter().map(|choice| (choice.clone(), rows(&choice))).collect()
    }

    /// Names of the varied quantities: "engagement speed and ratio".
    fn names(&self, axes: &[usize]) -> String {
        listed(&axes.iter().map(|axis| in_words(&self.sweep.axes[*axis].name).to_owned()).collect::<Vec<_>>())
    }

    /// What a row has on these axes: "engagement speed 2000 rpm".
    fn called(&self, row: &Row, axes: &[usize]) -> String {
        called(self.sweep, &row.place, |axis| axes.contains(&axis))
    }

    /// What rows meet: "vehicle mass 120 and 180 kg".
    fn under(&self, rows: &[&Row]) -> String {
        if let [axis] = self.met[..] {
            let of = &self.sweep.axes[axis];
            let labels: Vec<String> = rows.iter().map(|row| of.labels[row.place[axis]].clone()).collect();
            return format!("{} {}", in_words(&of.name), together(&labels).unwrap_or_else(|| listed(&labels)));
        }
        listed(&rows.iter().map(|row| self.called(row, &self.met)).collect::<Vec<_>>())
    }
}

/// Running time that a row lasts, s; none if it does not fit.
fn lasts(row: &Row) -> Option<f64> {
    let life = row.summary.running.or(row.summary.life).unwrap_or(f64::INFINITY);
    row.summary.fault().is_none().then_some(life)
}

/// Why rows do not fit: "lining too hot in 7, too near idle in 4".
fn faults(rows: &[&Row]) -> String {
    let mut count: BTreeMap<&str, (Fault, usize)> = BTreeMap::new();
    for fault in rows.iter().filter_map(|row| row.summary.fault()) {
        count.entry(in_brief(fault)).or_insert((fault, 0)).1 += 1;
    }
    let mut all: Vec<_> = count.into_iter().collect();
    all.sort_by_key(|(_, (fault, times))| (std::cmp::Reverse(*times), *fault));
    match &all[..] {
        [(what, _)] => (*what).to_owned(),
        all => all.iter().map(|(what, (_, times))| format!("{what} in {times}")).collect::<Vec<_>>().join(", "),
    }
}

/// "280 to 600 h of running"; nothing if no part wears.
fn lives(rows: &[&Row]) -> Option<String> {
    let all: Vec<f64> = rows.iter().filter_map(|row| lasts(row)).filter(|life| life.is_finite()).collect();
    let [low, high] = [all.iter().copied().reduce(f64::min)?, all.iter().copied().reduce(f64::max)?];
    let same = say::lasts(low) == say::lasts(high);
    Some(format!("{} of running", if same { say::lasts(low) } else { say::times(low, high) }))
}

/// "470 h of running, until the lining is worn out, oil apart"; none if no part wears measurably.
fn until(row: &Row) -> Option<String> {
    let by = row.summary.ended_by.map_or_else(String::new, |part| format!(", until {}", ends(part)));
    Some(format!("{}{by}, oil apart", super::lasts(&row.summary)?))
}

/// What to choose, the first sentence of the answer.
pub(super) fn advice(sweep: &Sweep) -> Vec<Words> {
    let parted = Parted::of(sweep);
    let (at, rows): (String, Vec<&Row>) = (parted.at_idle(), parted.rows().collect());
    if rows.iter().all(|row| row.summary.fault().is_some()) {
        let words = Words::default().strong("No combination fits").plain(format!("{at} ({})", faults(&rows)));
        return vec![words.plain(": none can be recommended.")];
    }
    let fitting = rows.iter().filter(|row| row.summary.fault().is_none());
    let cold = cold(fitting.map(|row| (row.summary.duration, row.summary.to_come)));
    let choices = parted.choices();
    // What could not be computed somewhere is not said to fit there.
    let conditions = choices.iter().map(|(_, rows)| rows.len()).max();
    let fits = |rows: &[&Row]| Some(rows.len()) == conditions && rows.iter().all(|row| lasts(row).is_some());
    // Each choice that fits at its worst, from the longest-lived.
    let worst = |rows: &[&'_ Row]| rows.iter().filter_map(|row| lasts(row)).fold(f64::INFINITY, f64::min);
    let mut fit: Vec<_> = choices.iter().rev().map(|(_, rows)| rows).filter(|rows| fits(rows)).collect();
    fit.sort_by(|a, b| worst(b).total_cmp(&worst(a)));
    let fit: Vec<(&Row, &Vec<&Row>)> = fit
        .into_iter()
        .filter_map(|rows| Some((*rows.iter().find(|row| lasts(row) == Some(worst(rows)))?, rows)))
        .collect();
    let Some((row, rows)) = fit.first() else {
        return cold.into_iter().chain([by_conditions(&parted, &at)]).collect();
    };
    let what = match parted.called(row, &parted.chosen) {
        none if none.is_empty() => Words::default().strong("The machine fits").plain(at),
        choice => Words::from("Choose ").strong(choice).plain(format!(":{at} it")),
    };
    let (alone, met) = (choices.len() == 1, &parted.met[..]);
    let (under, every) = (parted.called(row, met), parted.names(met));
    let alike = if every.is_empty() { String::new() } else { format!(" at every {every}") };
    let said = what.plain(match until(row) {
        None => format!("{}{alike}; no part wears measurably.", if alone { "" } else { " fits" }),
        Some(until) => match (met.is_empty(), alone) {
            (true, true) => format!(", and lasts {until}."),
            (true, false) => format!(" lasts longest of those that fit: {until}."),
            (false, true) => format!("{alike}, and at its worst, {under}, lasts {until}."),
            (false, false) => {
                format!(" fits{alike} and, of those that do, lasts longest at its worst, {under}: {until}.")
            }
        },
    });
    let ground = |row: &Row| Ground {
        name: parted.called(row, &parted.chosen),
        hourly: row.summary.hourly,
        lasts: lasts(row).unwrap_or(0.0),
    };
    let far = by_distance(&fit.iter().map(|(row, _)| ground(row)).collect::<Vec<_>>());
    cold.into_iter().chain([said.plain(warned(rows))]).chain(far.map(Words::from)).collect()
}

/// What is warned of in the rows of a choice; empty if nothing is.
fn warned(rows: &[&Row]) -> String {
    let given = || rows.iter().flat_map(|row| &row.summary.warnings);
    let of = |kind: Warned| given().filter(|other| **other == kind).count();
    let each = distinct(given().copied()).into_iter().map(|kind| match rows.len() {
        1 => kind.name().to_owned(),
        all => format!("{} in {} of {all}", kind.name(), of(kind)),
    });
    let each: Vec<String> = each.collect();
    if each.is_empty() { String::new() } else { format!(" It fits with warnings: {}.", each.join(", ")) }
}

/// What to choose where nothing fits under all conditions: for each group of conditions what lasts longest of that which fits there.
fn by_conditions(parted: &Parted<'_>, at: &str) -> Words {
    let all: Vec<&Row> = parted.rows().collect();
    let of = |row: &Row| parted.met.iter().map(|axis| row.place[*axis]).collect::<Vec<_>>();
    // For each condition its best row, or all its rows if none fits.
    let mut groups: Vec<(Option<String>, Vec<&Row>)> = vec![];
    for place in distinct(all.iter().map(|row| of(row))) {
        let here: Vec<&Row> = all.iter().copied().filter(|row| of(row) == place).collect();
        let best = here.iter().copied().filter(|row| lasts(row).is_some());
        let best = best.max_by(|a, b| lasts(a).unwrap_or(0.0).total_cmp(&lasts(b).unwrap_or(0.0)));
        let name = best.map(|row| parted.called(row, &parted.chosen));
        let rows = best.map_or(here, |row| vec![row]);
        match groups.iter_mut().find(|group| group.0 == name) {
            Some(group) => group.1.extend(rows),
            None => groups.push((name, rows)),
        }
    }
    let (what, met) = (parted.names(&parted.chosen), parted.names(&parted.met));
    let what = if what.is_empty() { "The machine does not fit".to_owned() } else { format!("No {what} fits") };
    let words = Words::default().strong(format!("{what} at every {met}")).plain(format!("{at}: "));
    if groups.len() > GROUPS || parted.met.len() > 1 && distinct(all.iter().map(|row| of(row))).len() > CONDITIONS {
        let fit: Vec<&Row> = all.iter().copied().filter(|row| lasts(row).is_some()).collect();
        let lives = lives(&fit).map_or_else(String::new, |lives| format!(" ({lives})"));
        let rest = format!(
            "{} of {} combinations fit{lives}, the others do not ({}): see the table",
            fit.len(),
            all.len(),
            faults(&all)
        );
        return words.plain(rest).plain(".");
    }
    let said = |(name, rows): &(Option<String>, Vec<&Row>)| {
        let met = distinct_by(rows.iter().copied(), |a, b| of(a) == of(b));
        let under = Words::from(format!("at {} ", parted.under(&met)));
        let lives = lives(rows).map_or_else(String::new, |lives| format!(" ({lives})"));
        match name.as_deref() {
            None if parted.chosen.is_empty() => under.plain(format!("it does not ({})", faults(rows))),
            None => under.plain(format!("none fits ({})", faults(rows))),
            Some("") => under.plain(format!("it does{lives}")),
            Some(choice) => under.plain("choose ").strong(choice).plain(lives),
        }
    };
    words.and(Words::joined(groups.iter().map(said).collect(), "; ")).plain(".")
}

/// The margin over the idle that springs need, where springs or idle are varied.
pub(super) fn margin(sweep: &Sweep) -> Option<Words> {
    let varied = [&settings::motor::idle, &settings::clutch::engagement];
    sweep.axes.iter().find(|axis| varied.iter().any(|p| p.path == axis.name) && !axis.values.is_empty())?;
    let needed = || sweep.rows.iter().filter_map(|row| row.summary.needed);
    let [low, high] = [needed().fold(f64::INFINITY, f64::min), needed().fold(0.0, f64::max)];
    let [least, most] = [low, high].map(|margin| figures(in_rpm(margin), 2));
    let of_each = if least == most { "" } else { " (the faster it engages, the more)" };
    let range = if least == most { most } else { format!("{least} to {most}") };
    Some(Words::from("Fit no spring that engages less than ").strong(format!("about {range}\u{a0}rpm")).plain(format!(
        " above the idle{of_each} once it is hot and relaxed (300 h at its hottest here): the idle's variation and the tolerances of springs and tachometer need that much (assumed). A spring that engages nearer may drag, however cool the lining is here."
    )))
}
