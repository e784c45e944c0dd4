//! Colours and dashes of parts and of compared items: the same in every figure and table.

use crate::sheet::palette::{COLOURS, Dash, Ink, QUIET, colour, dash, rank};
use slipsoak_engine::fleet::Report;
use slipsoak_engine::names::{Part, distinct};
use slipsoak_engine::parts::{PARAMETERS, Parameter};
use slipsoak_engine::record::{Record, Run};

/// A colour with its dashes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hue {
    pub ink: Ink,
    pub dash: Dash,
}

/// Colour of the lining.
pub const LINING: usize = 0;
/// Colour of the drum.
pub const DRUM: usize = 1;
/// Colour of the bushing.
pub const BUSHING: usize = 2;
/// Colour of the washer.
pub const WASHER: usize = 3;
/// Colour of the motor.
pub const MOTOR: usize = 4;
/// Colour of springs and shoes.
pub const SHOES: usize = 5;
/// Colour of oil.
pub const OIL: usize = 6;
/// Colour of what is outside of the clutch.
pub const OUTSIDE: usize = 7;

/// Colour and dashes of a part, whatever becomes of it.
pub fn of_part(part: Part) -> Hue {
    let order = match part {
        Part::Lining => LINING,
        Part::Washer | Part::Charring => WASHER,
        Part::Bushing | Part::Seized => BUSHING,
        Part::Spring => SHOES,
        Part::Oil => OIL,
        Part::CoverGap => DRUM,
    };
    Hue { ink: colour(order), dash: dash(order) }
}

/// Colour and dashes of a part, grey for none.
pub fn of_some(part: Option<Part>) -> Hue {
    part.map_or(Hue { ink: QUIET, dash: None }, of_part)
}

/// Colours and dashes of a record's runs: of the machine, or of the duty if there is one machine. Under several duties the
/// dashes are those of the duty. Machines that differ in one number have the colours of ranks in its order.
pub fn of_runs(record: &Record) -> Vec<Hue> {
    let pairs: Vec<(&str, &str)> = record.runs.iter().map(|run| (run.variant.as_str(), run.duty.as_str())).collect();
    of_pairs(&pairs, ordered(record).as_deref())
}

/// What the dashes of a record's runs mean: duties, where several machines are compared under several of them.
pub fn dashes_mean(record: &Record) -> &'static str {
    let several = |of: fn(&Run) -> &str| record.runs.iter().any(|run| of(run) != of(&record.runs[0]));
    if several(|run| &run.variant) && several(|run| &run.duty) { " Dashes: by duty." } else { "" }
}

/// Colours and dashes of a report's fleets. Machines named by a number and its unit have the colours of ranks in its order: a
/// report holds no settings.
pub fn of_fleets(report: &Report) -> Vec<Hue> {
    let pairs: Vec<(&str, &str)> =
        report.fleets.iter().map(|fleet| (fleet.variant.as_str(), fleet.duty.as_str())).collect();
    of_pairs(&pairs, numbered(&pairs).as_deref())
}

/// The machines in the order of the numbers by which they are named, with one unit for all; none if they are fewer than three or
/// named otherwise.
fn numbered<'a>(pairs: &[(&'a str, &str)]) -> Option<Vec<&'a str>> {
    let number = |name: &'a str| {
        let (number, unit) = name.split_once(' ')?;
        Some((number.parse::<f64>().ok().filter(|number| number.is_finite())?, unit, name))
    };
    let mut all: Vec<(f64, &str, &str)> =
        distinct(pairs.iter().map(|pair| pair.0)).into_iter().map(number).collect::<Option<_>>()?;
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let alike = all.iter().all(|one| one.1 == all[0].1);
    (all.len() > 2 && alike).then(|| all.into_iter().map(|one| one.2).collect())
}

/// The machines of a record in the order of the one setting in which they differ; none if they are fewer than three or
/// differ in kind.
fn ordered(record: &Record) -> Option<Vec<&str>> {
    let mut machines: Vec<&str> = distinct(record.runs.iter().map(|run| run.variant.as_str()));
    let first = record.runs.first()?;
    let differs = |p: &&Parameter| record.runs.iter().any(|run| run.setting(p) != first.setting(p));
    let mut by = PARAMETERS.iter().filter(differs);
    let (Some(by), None) = (by.next(), by.next()) else { return None };
    let value = |machine: &str| {
        record.runs.iter().find(|run| run.variant == machine).and_then(|run| run.setting(by)).unwrap_or(0.0)
    };
    machines.sort_by(|a, b| value(a).total_cmp(&value(b)));
    (machines.len() > 2).then_some(machines)
}

/// Colours and dashes of machines under duties, by the ranks of the machines if they have an order.
fn of_pairs(pairs: &[(&str, &str)], ranks: Option<&[&str]>) -> Vec<Hue> {
    let (machines, duties) = (distinct(pairs.iter().map(|pair| pair.0)), distinct(pairs.iter().map(|pair| pair.1)));
    let one = machines.len() == 1;
    let (items, others) = if one { (&duties, 1) } else { (&machines, duties.len()) };
    let at = |all: &[&str], name: &str| all.iter().position(|one| *one == name).unwrap_or(0);
    let hue = |(machine, duty): &(&str, &str)| {
        let (name, other) = if one { (*duty, 0) } else { (*machine, at(&duties, duty)) };
        let k = at(items, name);
        let by_other = if others > 1 { dash(other) } else { None };
        match ranks.filter(|_| !one) {
            Some(ranks) => Hue { ink: rank(at(ranks, name), ranks.len()), dash: by_other },
            None if items.len() <= COLOURS && others > 1 => Hue { ink: colour(k), dash: by_other },
            // Colours that repeat have other dashes.
            None if items.len() <= COLOURS * COLOURS && others == 1 => Hue { ink: colour(k), dash: dash(k) },
            None => Hue { ink: rank(k, items.len()), dash: if others > 1 { by_other } else { dash(k) } },
        }
    };
    pairs.iter().map(hue).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn machines_named_by_a_number_are_in_its_order_and_others_in_none() {
        let of = |names: &[&'static str]| numbered(&names.iter().map(|name| (*name, "day")).collect::<Vec<_>>());
        assert_eq!(of(&["900 rpm", "2000 rpm", "1750 rpm"]), Some(vec!["900 rpm", "1750 rpm", "2000 rpm"]));
        assert_eq!(of(&["900 rpm", "2000 kg", "1750 rpm"]), None);
        assert_eq!(of(&["never", "2 drops", "4 drops"]), None);
        assert_eq!(of(&["900 rpm", "2000 rpm"]), None);
    }

    #[test]
    fn no_two_of_a_study_share_both_colour_and_dashes() {
        let names: Vec<String> = (0..30).map(|k| format!("spring {k}")).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        for many in 2..=30 {
            for duties in 1..=3 {
                let pairs: Vec<(&str, &str)> = ["flat", "hills", "town"][..duties]
                    .iter()
                    .flat_map(|duty| names[..many].iter().map(move |name| (*name, *duty)))
                    .collect();
                for ranks in [None, Some(&names[..many])] {
                    let hues = of_pairs(&pairs, ranks);
                    for (k, hue) in hues.iter().enumerate() {
                        assert!(!hues[..k].contains(hue), "{many} under {duties}, {ranks:?}: {k}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_machine_keeps_its_colour_under_every_duty() {
        let pairs = [("a", "flat"), ("b", "flat"), ("a", "hills"), ("b", "hills")];
        let hues = of_pairs(&pairs, None);
        assert!(hues[0].ink == hues[2].ink && hues[1].ink == hues[3].ink && hues[0].ink != hues[1].ink);
        assert_ne!(hues[0].dash, hues[2].dash);
    }

    #[test]
    fn every_part_has_a_colour_of_its_own_and_what_becomes_of_it_has_the_same() {
        let all = [Part::Lining, Part::Washer, Part::Bushing, Part::Spring, Part::Oil, Part::CoverGap];
        for (k, part) in all.iter().enumerate() {
            assert!(all[..k].iter().all(|other| of_part(*other).ink != of_part(*part).ink), "{part:?}");
        }
        assert_eq!((of_part(Part::Charring), of_part(Part::Seized)), (of_part(Part::Washer), of_part(Part::Bushing)));
    }
}
