//! Tables for the terminal.

use crate::terminal::{Set, alarm, bar, set_in, strong, table, wrapped};
use crate::units::{celsius, duration, fahrenheit, rpm, short, show};
use comfy_table::presets::NOTHING;
use comfy_table::{CellAlignment, Table};
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_engine::record::{PartUse, Record, Run};
use slipsoak_plots::cautions::{ALWAYS, Caution};

/// Columns of a bar.
pub(crate) const BAR: usize = 5;
/// Nothing to say.
pub(crate) const NONE: &str = "–";

/// The cautions that always hold, as a paragraph.
pub fn cautions() -> String {
    let all: Vec<&str> = ALWAYS.iter().map(|caution| caution.text()).collect();
    wrapped(&format!("Caution: {}", all.join(" ")), 0).replacen("Caution", &alarm("Caution"), 1)
}

/// Cautions that apply to an answer, to stand beside it.
pub fn beside(applying: &[Caution]) -> String {
    applying.iter().map(|caution| set_in(&format!("! {}", caution.text()), 2, 4)).collect()
}

/// What tells the runs apart, one name each; and what they share, for above the table.
pub(crate) fn names(all: &[(&str, &str)]) -> (Vec<String>, &'static str, Vec<String>) {
    let Some(first) = all.first() else { return (vec![], "machine", vec![]) };
    match (all.iter().all(|n| n.0 == first.0), all.iter().all(|n| n.1 == first.1)) {
        (false, true) => (all.iter().map(|n| n.0.to_owned()).collect(), "machine", vec![first.1.to_owned()]),
        (true, false) => (all.iter().map(|n| n.1.to_owned()).collect(), "duty", vec![first.0.to_owned()]),
        (true, true) => (all.iter().map(|n| n.0.to_owned()).collect(), "machine", vec![first.1.to_owned()]),
        (false, false) => (all.iter().map(|n| format!("{}, {}", n.0, n.1)).collect(), "machine, duty", vec![]),
    }
}

/// One row per run.
pub fn results(record: &Record) -> String {
    let pairs: Vec<(&str, &str)> = record.runs.iter().map(|r| (r.variant.as_str(), r.duty.as_str())).collect();
    let (names, kind, mut shared) = names(&pairs);
    let longest = record.runs.iter().map(|r| r.duration).fold(0.0, f64::max);
    let least = record.runs.iter().map(|r| r.duration).fold(f64::INFINITY, f64::min);
    let alike = least > 0.95 * longest;
    if alike {
        shared.push(duration(longest));
    }
    let (per, unit) = if longest < 7200.0 { (60.0, "time\nmin") } else { (3600.0, "time\nh") };
    let lives: Vec<f64> = record.runs.iter().filter_map(|r| shortest(r)?.life).collect();
    let best = lives.iter().copied().fold(0.0, f64::max);
    let mut heads = vec![
        (kind, Set::Words),
        ("lining\npeak\n°C (°F)", Set::Numbers),
        ("bushing\npeak\n°C (°F)", Set::Numbers),
        ("slip\nheat\nkJ", Set::Numbers),
        ("oil\nfill\n%", Set::Numbers),
        ("\nlife\nh", Set::Numbers),
        ("", Set::Whole),
        ("ended\nby", Set::Words),
    ];
    if !alike {
        heads.insert(1, (unit, Set::Numbers));
    }
    let row = |(run, name): (&Run, &String)| {
        let at = |name: &str| record.channels.iter().position(|c| c.name == name);
        let of = |set: &[f64], name: &str| at(name).and_then(|i| set.get(i)).copied();
        let hot = |name| of(&run.overall.most, name).map_or_else(|| NONE.to_owned(), in_brackets);
        let heat = of(&run.overall.mean, "slip power").map_or(0.0, |p| p * run.duration);
        let last = run.windows.mean.last().map_or(&run.overall.mean, |row| row);
        let end = shortest(run).and_then(|p| Some((p.life?, &p.part)));
        let mut cells = vec![
            name.clone(),
            hot("lining surface"),
            hot("bushing"),
            format!("{:.1}", heat / 1e3),
            of(last, "oil fill").map_or_else(|| NONE.to_owned(), |fill| format!("{:.1}", fill * 100.0)),
            end.map_or_else(|| NONE.to_owned(), |(life, _)| format!("{:.0}", life / 3600.0)),
            end.filter(|_| names.len() > 1).map_or_else(String::new, |(life, _)| bar(life / best, BAR)),
            end.map_or_else(|| NONE.to_owned(), |(_, part)| part.clone()),
        ];
        if !alike {
            cells.insert(1, format!("{:.1}", run.duration / per));
        }
        cells
    };
    let rows = record.runs.iter().zip(&names).map(row).collect();
    let mut text = headed(&record.title, &shared) + table(&heads, rows).as_str() + "\n";
    for (run, name) in record.runs.iter().zip(&names).filter(|(run, _)| !run.supplies.is_empty()) {
        let each = run.supplies.iter().map(|(what, n)| format!("{what} {}", short(*n)));
        let used = format!("services used {} in {}", each.collect::<Vec<_>>().join("; "), duration(run.duration));
        text += &wrapped(&of_whom(&[name], names.len(), "run", &used), 2);
    }
    for (warning, runs) in warnings(record, &names) {
        text += &wrapped(&of_whom(&runs, names.len(), "run", warning), 2);
    }
    text.push_str(&cautions());
    text
}

/// A sentence with whom it concerns, where there is more than one of a kind.
pub(crate) fn of_whom(names: &[&str], all: usize, kind: &str, sentence: &str) -> String {
    match names.len() {
        _ if all == 1 => sentence.to_owned(),
        n if n == all => format!("every {kind}: {sentence}"),
        _ => format!("{}: {sentence}", names.join("; ")),
    }
}

/// A title, and below it what all rows share.
pub(crate) fn headed(title: &str, shared: &[String]) -> String {
    let title = wrapped(title, 0);
    let below = if shared.is_empty() { String::new() } else { wrapped(&shared.join(", "), 0) };
    format!("{}\n{below}\n", strong(title.trim_end()))
}

/// Each warning once, with the runs it concerns: limits passed first, what was assumed last.
fn warnings<'a>(record: &'a Record, names: &'a [String]) -> Vec<(&'a str, Vec<&'a str>)> {
    let mut all: Vec<(bool, &str, Vec<&str>)> = Vec::new();
    for (run, name) in record.runs.iter().zip(names) {
        for warning in &run.warnings {
            match all.iter_mut().find(|w| w.1 == warning.text) {
                Some(known) => known.2.push(name),
                None => all.push((warning.kind == "assumed", &warning.text, vec![name])),
            }
        }
    }
    all.sort_by_key(|w| w.0);
    all.into_iter().map(|(_, text, runs)| (text, runs)).collect()
}

/// A temperature in °C, and in brackets in °F.
pub(crate) fn in_brackets(kelvin: f64) -> String {
    format!("{:.0} ({:.0})", celsius(kelvin), fahrenheit(kelvin))
}

/// A temperature in both scales.
pub fn both(kelvin: f64) -> String {
    format!("{:.0} °C / {:.0} °F", celsius(kelvin), fahrenheit(kelvin))
}

/// A speed of rotation.
pub fn turns(speed: f64) -> String {
    format!("{:.0} rpm", rpm(speed))
}

/// The part that ends first.
pub fn shortest(run: &Run) -> Option<&PartUse> {
    // Oil is service, not wear: its fill has a column of its own.
    let worn = run.parts.iter().filter(|p| p.part != "oil");
    let lives = worn.filter_map(|p| Some((p.life?, p)));
    lives.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, part)| part)
}

/// Every setting of a machine: a line of numbers, and below it what it means.
pub fn settings() -> String {
    let line =
        |name: &str, default: &str, range: &str, sure: &str| format!("{name:<27} {default:<15} {range:<26} {sure}");
    let mut text = format!("{}\n", strong(&line("setting", "default", "from, to", "how sure")));
    for p in PARAMETERS {
        let [least, most] = [p.least, p.most].map(|v| show(v, p.dimension));
        // The unit once, where it is the same.
        let unit = |value: &str| value.split_once(' ').map(|(_, unit)| unit.to_owned());
        let from = if unit(&least) == unit(&most) { least.split(' ').next().unwrap_or_default() } else { &least };
        let sure = format!("{:?}", p.confidence).to_lowercase();
        text += &line(p.path, &show(p.default, p.dimension), &format!("{from} to {most}"), &sure);
        text.push('\n');
        text += &set_in(p.meaning, 4, 4);
    }
    text
}

/// Two columns without a head; the second to the right.
pub fn pairs(rows: &[(String, String)]) -> String {
    let mut all = Table::new();
    all.load_style(NOTHING);
    for (name, value) in rows {
        all.add_row(vec![name, value]);
    }
    if let Some(column) = all.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    format!("{all}\n")
}
