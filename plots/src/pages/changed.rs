//! The page of two results of one kind beside each other: what differs in the answer, in what was asked, and in the numbers.

use crate::figures::{answer_values::measures, changed::draw, for_page};
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Section, Table, Unit};
use crate::pages::origin::CLOSING;
use crate::sheet::look::Look;
use crate::words::changed::{self as words, ORDER, Pair, answers, finding, lives, moved, same, undrawn};
use crate::words::quantity::of_setting;
use crate::words::text::shell;
use slipsoak_engine::document::{Head as Origin, Saved};
use slipsoak_engine::names::distinct;
use slipsoak_engine::record::{Run, Setting};

/// Sections that say what was asked, which is compared by itself, or how it was computed.
const ASKED: [&str; 6] =
    ["The machines", "The machine", "What was assumed", "How it was computed", "Ledgers", "Warnings"];
/// What a row's group is called.
const GROUP: &str = "listed under";

/// A row: what differs, where, and both values.
type Row = [Cell; 4];

impl Page {
    /// Two results of one kind beside each other, with the names of their files.
    pub fn of_two(names: [&str; 2], results: [&Saved; 2]) -> Self {
        let pages = results.map(|saved| Self::with(saved, vec![]));
        let (asked, found) = (asked(results), found(&pages));
        let [first, second] = &pages;
        let pairs = pairs(results);
        let (mut answer, mut figures) = (vec![], vec![]);
        if asked.is_empty() && found.is_empty() {
            answer.push(same());
        } else {
            answer.extend(answers([&first.answer, &second.answer]));
            // Of several runs what is advised comes first; the life that differs most may be that of one that does not fit.
            let at = if pairs.len() == 1 { 0 } else { answer.len() };
            answer.splice(at..at, lives(&pairs));
            let values = measures(results, &pairs);
            if values.is_empty() {
                answer.push(undrawn(!matches!(results[0], Saved::Sheet(_))));
            } else {
                let head = if pairs.is_empty() { moved(&values) } else { finding(&pairs) };
                let draw = |look: &Look| draw(&values, (&head, &changed(&asked)), look);
                figures.push(pictures(vec![("changed", for_page(&draw))]));
            }
        }
        let section = |heading: &str, caption: &str, rows: Vec<Row>| {
            let heads = ["what", "of", ORDER[0], ORDER[1]].map(Head::words);
            (!rows.is_empty()).then(|| Section::new(heading, vec![Block::Table(Table::new(caption, heads, rows))]))
        };
        let sections = [
            section("What differs in what was asked", "Machines, duties, settings and script", asked),
            section("What differs in the results", "Numbers that differ", found),
        ];
        let order = format!("{}: {}; {}: {}", ORDER[0], names[0], ORDER[1], names[1]);
        Self {
            question: "What differs between two results?".to_owned(),
            given: order,
            origin: first.origin.clone(),
            answer,
            sections: figures.into_iter().chain(sections.into_iter().flatten()).collect(),
            ..Self::default()
        }
    }
}

/// Runs of one machine and duty in two records; where each holds one run, those.
fn pairs<'a>(results: [&'a Saved; 2]) -> Vec<Pair<'a>> {
    let [Saved::Record(first), Saved::Record(second)] = results else { return vec![] };
    if let ([a], [b]) = (&first.runs[..], &second.runs[..]) {
        let name = if a.variant == b.variant { a.variant.clone() } else { format!("{} / {}", a.variant, b.variant) };
        return vec![Pair { name, first: a, second: b }];
    }
    let several = duties(results[0]).len() > 1;
    let twin = |a: &'a Run| {
        let second = second.runs.iter().find(|b| (&b.variant, &b.duty) == (&a.variant, &a.duty))?;
        let name = if several { format!("{}, {}", a.variant, a.duty) } else { a.variant.clone() };
        Some(Pair { name, first: a, second })
    };
    first.runs.iter().filter_map(twin).collect()
}

/// What differs in what was asked, in a line for a figure: settings and names, but not scripts and commands.
fn changed(rows: &[Row]) -> String {
    let line = |[what, whose, first, second]: &Row| {
        let [what, whose] = [what, whose].map(shown);
        let plain = !["line of the script", "command", "seed", "program"].contains(&what.as_str());
        let of = if what == "parameter" { whose } else { what };
        plain.then(|| (of, shown(first), shown(second)))
    };
    words::asked(&rows.iter().filter_map(line).collect::<Vec<_>>())
}

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

/// Names of duties.
fn duties(saved: &Saved) -> Vec<String> {
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
fn asked(results: [&Saved; 2]) -> Vec<Row> {
    let [first, second] = results.map(machines);
    let mut rows: Vec<Row> = vec![];
    rows.extend(lists("machine", [&first, &second].map(|all| all.iter().map(|m| m.0.clone()).collect())));
    rows.extend(lists("duty", results.map(duties)));
    rows.extend(lists("use", results.map(used)));
    let alone = first.len() == 1 && second.len() == 1;
    let mut differing: Vec<(String, String, Cell, Cell)> = vec![];
    for (name, settings, chosen) in &first {
        let Some((_, others, other)) = second.iter().find(|other| alone || other.0 == *name) else { continue };
        for setting in *settings {
            let value = others.iter().find(|s| s.path == setting.path).map(|s| s.value);
            if let Some(value) = value.filter(|value| *value != setting.value) {
                let cells = [setting.value, value].map(|value| of_setting(&setting.path, value));
                let [a, b] = cells;
                // What differs by rounding alone is the same.
                if a != b {
                    differing.push((setting.path.clone(), name.clone(), a, b));
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

/// A table's cells: row name, head, content.
fn cells(page: &Page) -> Vec<(String, String, String)> {
    let skipped = |section: &&Section| !ASKED.iter().chain(&CLOSING).any(|heading| section.heading == **heading);
    let blocks = page.sections.iter().filter(skipped).flat_map(|section| &section.blocks);
    let tables = blocks.filter_map(|block| match block {
        Block::Table(table) => Some(table),
        Block::Only(_, block) => {
            if let Block::Table(table) = &**block {
                Some(table)
            } else {
                None
            }
        }
        _ => None,
    });
    let mut all = vec![];
    for table in tables {
        let rows =
            || table.groups.iter().flat_map(|group| group.rows.iter().map(move |row| (group.name.as_str(), row)));
        let named = |row: &crate::page::Row| row.cells.first().map_or(String::new(), shown);
        let mut names: Vec<String> = rows().map(|(_, row)| named(row)).collect();
        names.sort();
        // A name that stands in several groups is told apart by them; else its group is something that may differ.
        let several = names.windows(2).any(|pair| pair[0] == pair[1]);
        for (group, row) in rows() {
            let name = if several && !group.is_empty() { format!("{group}: {}", named(row)) } else { named(row) };
            if !several && !group.is_empty() {
                all.push((name.clone(), GROUP.to_owned(), group.to_owned()));
            }
            for (head, cell) in table.heads.iter().zip(&row.cells).skip(1) {
                let unit = match &head.unit {
                    Unit::Of(unit) => format!(", {unit}"),
                    Unit::Temperature => ", °C (°F)".to_owned(),
                    Unit::Words | Unit::One => String::new(),
                };
                all.push((name.clone(), head.name.clone() + &unit, shown(cell)));
            }
        }
    }
    all
}

fn shown(cell: &Cell) -> String {
    if let Cell::Words(words) = cell { words.text() } else { cell.text() }
}

/// Numbers of tables that differ, and rows that stand on one side alone.
fn found(pages: &[Page; 2]) -> Vec<Row> {
    let [first, second] = [&pages[0], &pages[1]].map(cells);
    let mut rows: Vec<Row> = vec![];
    let mut seen: Vec<(&str, &str)> = vec![];
    for (name, head, _) in first.iter().chain(&second) {
        let key = (name.as_str(), head.as_str());
        if seen.contains(&key) {
            continue;
        }
        seen.push(key);
        // A number that stands in several tables is told once.
        let of = |all: &[(String, String, String)]| {
            all.iter().find(|c| (c.0.as_str(), c.1.as_str()) == key).map(|c| c.2.clone()).unwrap_or_default()
        };
        let (a, b) = (of(&first), of(&second));
        if a != b {
            let cell = |text: String| if text.is_empty() { Cell::Nothing } else { text.into() };
            rows.push([head.as_str().into(), name.as_str().into(), cell(a), cell(b)]);
        }
    }
    rows
}
