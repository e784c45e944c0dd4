//! Distinguishing names for machines and duties to which a script gives the same name.

use crate::language::plan::{Duty, Pair, Plan, Variant};
use crate::read::units::show;
use slipsoak_engine::names::{distinct, distinct_by};
use slipsoak_engine::parts::{Confidence, Group, Machine, PARAMETERS, Parameter, settings};

/// The setting that names a clutch in a shop.
static SPRING: &Parameter = &settings::clutch::engagement;
/// Settings whose values alone are enough: with their names two of them are too long for a figure.
static PLAIN: [&Parameter; 2] = [SPRING, &settings::vehicle::mass];

/// Adds to each name shared by several machines the settings that differ between them, as few as possible, and a number
/// if nothing differs. Names of duties likewise.
pub fn tell_apart(plan: &mut Plan) {
    let Plan { pairs, reference, .. } = plan;
    let machines = distinct_by(pairs.iter().map(|pair| pair.variant.clone()), Variant::is);
    let duties = distinct_by(pairs.iter().map(|pair| pair.duty.clone()), same_duty);
    let names = names(&machines);
    let called: Vec<&str> = duties.iter().map(|d| d.name.as_str()).collect();
    let duty_names: Vec<String> = duties.iter().enumerate().map(|(k, d)| numbered(&called, k, &d.name)).collect();
    if let Some(reference) = reference
        && let Some(k) = machines.iter().position(|known| known.is(reference))
    {
        reference.name.clone_from(&names[k]);
    }
    for pair in pairs {
        if let Some(k) = machines.iter().position(|known| known.is(&pair.variant)) {
            pair.variant.name.clone_from(&names[k]);
        }
        if let Some(k) = duties.iter().position(|known| same_duty(known, &pair.duty)) {
            pair.duty.name.clone_from(&duty_names[k]);
        }
    }
}

/// Keeps one of equal runs, which would have one name and one result; a note on each left out.
pub fn once(plan: &mut Plan) -> Vec<String> {
    let mut notes = vec![];
    for pair in std::mem::take(&mut plan.pairs) {
        let Pair { variant, duty } = &pair;
        if plan.pairs.iter().any(|known| known.variant.is(variant) && same_duty(&known.duty, duty)) {
            let spring = show(variant.machine.clutch.engagement, SPRING.dimension);
            notes.push(format!(
                "note: `compare` is given {} with springs of {spring} under {} twice; it is run once",
                variant.name, duty.name
            ));
        } else {
            plan.pairs.push(pair);
        }
    }
    notes
}

fn same_duty(a: &Duty, b: &Duty) -> bool {
    let curried = |d: &Duty| format!("{:?}", d.function.curry());
    a.name == b.name && a.until == b.until && a.function.fn_name() == b.function.fn_name() && curried(a) == curried(b)
}

/// A name with a number appended if earlier ones are the same.
fn numbered(all: &[&str], k: usize, name: &str) -> String {
    let before = all[..k].iter().filter(|other| **other == name).count();
    if before == 0 { name.to_owned() } else { format!("{name} ({})", before + 1) }
}

/// Name of each machine, with what distinguishes it from others of that name. Where a single name is shared, the differences
/// alone are the names.
fn names(all: &[Variant]) -> Vec<String> {
    let mut names: Vec<String> = all.iter().map(|v| v.name.clone()).collect();
    let alike = |name: &str| -> Vec<usize> { (0..all.len()).filter(|j| all[*j].name == name).collect() };
    let called = distinct(all.iter().map(|v| v.name.as_str()));
    let shared: Vec<(&str, Vec<usize>)> =
        called.into_iter().map(|name| (name, alike(name))).filter(|(_, alike)| alike.len() > 1).collect();
    for (name, alike) in &shared {
        let differs = differences(&alike.iter().map(|j| &all[*j].machine).collect::<Vec<_>>());
        let alone = shared.len() == 1 && differs.iter().all(|d| !d.is_empty());
        for (j, differs) in alike.iter().zip(differs) {
            let own = (!alone).then(|| (*name).to_owned());
            names[*j] = own.into_iter().chain(differs).collect::<Vec<_>>().join(", ");
        }
    }
    let called: Vec<&str> = names.iter().map(String::as_str).collect();
    called.iter().enumerate().map(|(k, name)| numbered(&called, k, name)).collect()
}

/// Differences between machines, as texts for each: settings that separate machines which the settings before leave equal, and
/// what else is chosen for a machine and for most others otherwise.
fn differences(machines: &[&Machine]) -> Vec<Vec<String>> {
    let mut told: Vec<Vec<String>> = vec![vec![]; machines.len()];
    for words in features(machines) {
        let alone = |k: usize| told.iter().filter(|other| **other == told[k]).count() == 1;
        // Whether this distinguishes any of those that still have the same name.
        let helps = |k: usize| (0..told.len()).any(|j| told[j] == told[k] && words[j] != words[k]);
        let more: Vec<bool> = (0..told.len()).map(|k| !alone(k) && helps(k)).collect();
        for ((told, word), _) in told.iter_mut().zip(words).zip(more).filter(|(_, more)| *more) {
            told.push(word);
        }
    }
    for words in PARAMETERS.iter().filter(|p| beside_clutch(p)).map(|p| each(machines, p)) {
        let usual = words.iter().find(|word| 2 * words.iter().filter(|other| other == word).count() > words.len());
        for (told, word) in told.iter_mut().zip(&words) {
            if Some(word) != usual && !told.contains(word) {
                told.push(word.clone());
            }
        }
    }
    told
}

/// Whether a setting is chosen for motor, vehicle or surroundings: no lining, oil or form of the shoes changes it.
fn beside_clutch(p: &Parameter) -> bool {
    matches!(p.group, Group::Motor | Group::Vehicle | Group::Surroundings) && p.confidence == Confidence::Chosen
}

/// A setting as a text for every machine.
fn each(machines: &[&Machine], p: &Parameter) -> Vec<String> {
    let one = |m: &&Machine| {
        let value = show((p.of)(m), p.dimension);
        if PLAIN.contains(&p) { value } else { format!("{} {value}", p.name) }
    };
    machines.iter().map(one).collect()
}

/// Every feature that may differ, as a text for every machine: the spring first, then what is chosen by a word, which changes
/// several settings.
fn features(machines: &[&Machine]) -> impl Iterator<Item = Vec<String>> {
    let of_each = |of: fn(&Machine) -> String| machines.iter().map(|m| of(m)).collect::<Vec<_>>();
    let kinds = [
        each(machines, SPRING),
        of_each(|m| format!("{:?} shoes", m.form).to_lowercase()),
        of_each(|m| format!("lining {}", m.lining_kind)),
        of_each(|m| format!("idle {}", m.idle_kind)),
        of_each(|m| format!("oil {}", m.oil.name)),
    ];
    let rest = PARAMETERS.iter().filter(|p| *p != SPRING).map(|p| each(machines, p)).collect::<Vec<_>>();
    kinds.into_iter().chain(rest)
}
