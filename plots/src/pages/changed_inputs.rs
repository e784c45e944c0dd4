//! What differs in what was asked of two results: machines, duties, settings, script, command.

use crate::page::Cell;
use crate::words::quantity::of_setting;
use crate::words::text::shell;
use slipsoak_engine::document::{Head as Origin, Saved};
use slipsoak_engine::names::distinct;
use slipsoak_engine::parts::parameter;
use slipsoak_engine::record::{Run, Setting};

/// A row: what differs, where, and both values.
pub(super) type Row = [Cell; 4];

/// Machines with their settings and what is chosen by name; of kinds that hold them.
fn machines(saved: &Saved) -> Vec<(String, &[Setting], String)> {
    match saved {
        Saved::Record(record) => {
            let of = |run: &'_ Run| format!("{}, {}", run.lining_kind, run.idle_kind);
            let mut all: Vec<(String, &[Setting], String)> = vec![];
            for run in &record.runs {
                if all.iter().all(|(name, ..)| *name != run.variant) {
                    all.push((run.variant.clone(), &run.settings, of(run)));
                }
            }
            all
        }
        Saved::Choice(choice) => vec![(choice.machine.clone(), &choice.settings, String::new())],
        Saved::Gaps(gaps) => vec![(gaps.machine.clone(), &gaps.settings, String::new())],
        Saved::Oiling(plan) => vec![(plan.machine.clone(), &plan.settings, String::new())],
        _ => vec![],
    }
}

/// Machines of two records that stand at the same place in both and are called otherwise, each name on one side alone: what each
/// is called, and what both are called together.
pub(super) fn renamed(results: [&Saved; 2]) -> Vec<([String; 2], String)> {
    let [first, second] = results.map(machines);
    let on = |all: &[(String, &[Setting], String)], name: &String| all.iter().any(|one| one.0 == *name);
    let pairs = first.iter().zip(&second).map(|(a, b)| [a.0.clone(), b.0.clone()]);
    let own = pairs.filter(|[a, b]| first.len() == second.len() && !on(&second, a) && !on(&first, b));
    own.map(|[a, b]| {
        let both = format!("{a} / {b}");
        ([a, b], both)
    })
    .collect()
}

/// Names of duties.
pub(super) fn duties(saved: &Saved) -> Vec<String> {
    let Saved::Record(record) = saved else { return vec![] };
    distinct(record.runs.iter().map(|run| run.duty.clone()))
}

/// The use of a question of the shop.
fn used(saved: &Saved) -> Vec<String> {
    let usage = match saved {
        Saved::Choice(choice) => &choice.usage,
        Saved::Gaps(gaps) => &gaps.usage,
        Saved::Oiling(plan) => &plan.usage,
        Saved::Season(season) => &season.usage,
        Saved::Measure(plan) => &plan.usage,
        _ => return vec![],
    };
    vec![usage.clone()]
}

/// What differs in what was asked.
pub(super) fn asked(results: [&Saved; 2]) -> Vec<Row> {
    let [first, second] = results.map(machines);
    let mut rows: Vec<Row> = vec![];
    rows.extend(lists("machine", [&first, &second].map(|all| all.iter().map(|m| m.0.clone()).collect())));
    rows.extend(lists("duty", results.map(duties)));
    rows.extend(lists("use", results.map(used)));
    let renamed = renamed(results);
    let twin = |name: &str| renamed.iter().find(|(names, _)| names[0] == name);
    let mut differing: Vec<(String, String, Cell, Cell)> = vec![];
    for (name, settings, chosen) in &first {
        let called = twin(name).map_or(name, |(names, _)| &names[1]);
        let Some((_, others, other)) = second.iter().find(|other| other.0 == *called) else { continue };
        let name = twin(name).map_or(name, |(_, both)| both);
        for setting in *settings {
            let value = others.iter().find(|s| s.path == setting.path).map(|s| s.value);
            if let Some(value) = value.filter(|value| *value != setting.value) {
                let cells = [setting.value, value].map(|value| of_setting(&setting.path, value));
                let [a, b] = cells;
                // What differs by rounding alone is the same.
                if a != b {
                    differing.push((named(&setting.path), name.clone(), a, b));
                }
            }
        }
        if chosen != other {
            differing.push(("lining, idle".to_owned(), name.clone(), chosen.as_str().into(), other.as_str().into()));
        }
    }
    // What differs alike in several machines stands once.
    while let Some((path, name, a, b)) = differing.first().cloned() {
        let alike = |d: &(String, String, Cell, Cell)| d.0 == path && d.2 == a && d.3 == b;
        let count = differing.iter().filter(|d| alike(d)).count();
        differing.retain(|d| !alike(d));
        let whose = if count > 1 { format!("{count} machines") } else { name };
        rows.push([path.into(), whose.into(), a, b]);
    }
    rows.extend(heads(results.map(Saved::head)));
    rows
}

/// A setting by its name and its path.
fn named(path: &str) -> String {
    parameter(path).map_or_else(|| path.to_owned(), |p| format!("{} ({path})", p.name))
}

/// Names that stand on one side alone.
fn lists(what: &str, [first, second]: [Vec<String>; 2]) -> Vec<Row> {
    let only = |own: &[String], other: &[String]| own.iter().filter(|name| !other.contains(name)).cloned().collect();
    let [gone, come]: [Vec<String>; 2] = [only(&first, &second), only(&second, &first)];
    let row = |k: usize| {
        let cell = |names: &[String]| names.get(k).map_or(Cell::Nothing, |name| name.as_str().into());
        [what.into(), Cell::Nothing, cell(&gone), cell(&come)]
    };
    (0..gone.len().max(come.len())).map(row).collect()
}

/// What differs in program, parameters, script and command.
fn heads([first, second]: [&Origin; 2]) -> Vec<Row> {
    let mut rows: Vec<Row> = vec![];
    let mut say = |what: &str, of: &str, a: Option<String>, b: Option<String>| {
        if a != b {
            let cell = |text: Option<String>| text.map_or(Cell::Nothing, Cell::from);
            rows.push([what.into(), of.into(), cell(a), cell(b)]);
        }
    };
    for name in distinct(first.parameters.keys().chain(second.parameters.keys())) {
        let value = |head: &Origin| head.parameters.get(name).map(f64::to_string);
        say("parameter", name, value(first), value(second));
    }
    if first.script_hash == second.script_hash {
        if first.script.is_empty() {
            let command = |head: &Origin| Some(shell(head.command.iter().map(String::as_str)));
            say("command", "", command(first), command(second));
        }
    } else {
        let only = |a: &Origin, b: &Origin| {
            let lines = a.script_text.lines().map(str::trim).filter(|l| !l.is_empty());
            lines
                .filter(|line| !b.script_text.lines().any(|l| l.trim() == *line))
                .map(str::to_owned)
                .collect::<Vec<_>>()
        };
        let (mut gone, mut come) = (only(first, second).into_iter(), only(second, first).into_iter());
        loop {
            let (a, b) = (gone.next(), come.next());
            if a.is_none() && b.is_none() {
                break;
            }
            say("line of the script", "", a, b);
        }
    }
    let seeds = |head: &Origin| Some(head.seeds_listed()).filter(|seeds| !seeds.is_empty());
    say("seed", "", seeds(first), seeds(second));
    say("program", "", Some(first.program.clone()), Some(second.program.clone()));
    rows
}
