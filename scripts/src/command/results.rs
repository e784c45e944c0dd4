//! Runs as text for the terminal: the answer, a table with a sign for each warning, a line for each kind of warning,
//! and the basis of the numbers.

use crate::command::table::{NONE, beside, cautions, headed, in_brackets, names};
use crate::command::terminal::{Set, WIDTH, alarm, bar, set_in, table, wrapped};
use crate::read::units::{duration, short};
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::say;
use slipsoak_plots::words::answer::{answer, from, verdict};
use slipsoak_plots::words::cautions::{Caution, of_record};
use slipsoak_plots::words::compared::kind;
use slipsoak_plots::words::reading::end;
use slipsoak_plots::words::warnings::{doubt, lines, sentence, signs};
use unicode_width::UnicodeWidthStr;

/// Length of a bar, characters.
const BAR: usize = 5;
/// Smallest width of the runs' names, characters.
const NAMES: usize = 10;
/// Number of spaces between columns.
const BETWEEN: usize = 2;

/// A column: head, alignment, cells.
struct Column {
    head: &'static str,
    set: Set,
    cells: Vec<String>,
    /// priority for leaving the column out if names are long: the greatest first
    spare: u8,
}

/// The runs as text: the answer first, then the table, then warnings; with details, every warning of every run in full.
pub fn text(record: &Record, details: bool) -> String {
    let all: Vec<(&str, &str)> = record.runs.iter().map(|r| (r.variant.as_str(), r.duty.as_str())).collect();
    let (names, _, mut shared) = names(&all);
    let longest = record.runs.iter().map(|r| r.duration).fold(0.0, f64::max);
    let least = record.runs.iter().map(|r| r.duration).fold(f64::INFINITY, f64::min);
    let alike = least > 0.95 * longest;
    if alike {
        shared.push(duration(longest));
    }
    let sentences = if details { answer(record) } else { verdict(record) };
    let sentences: Vec<String> = sentences.iter().map(slipsoak_plots::words::text::Words::text).collect();
    let mut text = headed(&record.head.title, &shared) + wrapped(&sentences.join(" "), 0).as_str();
    text += &rows(record, &names, alike);
    for (sign, line) in lines(record) {
        text += &wrapped(&format!("{sign} {}", line.text()), 2);
    }
    for (run, name) in record.runs.iter().zip(&names).filter(|(run, _)| !run.supplies.is_empty()) {
        let whom = if names.len() > 1 { format!("{name}: ") } else { String::new() };
        text += &wrapped(&format!("{whom}{}", used(run)), 2);
    }
    if details {
        return text + in_full(record, &names).as_str() + beside(&of_record(record)).as_str() + cautions().as_str();
    }
    let all = of_record(record);
    // Fire outranks vapour, and vapour outranks smoke.
    let outdone = |c: &Caution| match c {
        Caution::Smoke => all.contains(&Caution::Vapour) || all.contains(&Caution::Fire),
        Caution::Vapour => all.contains(&Caution::Fire),
        _ => false,
    };
    let applies: Vec<&str> =
        all.iter().filter(|c| !outdone(c)).map(|c| c.brief()).filter(|words| !words.is_empty()).collect();
    let basis = format!(
        "{}Wear rates assumed. Caution: {}. More: --details.",
        record.runs.first().map_or_else(String::new, |run| from(record, run)),
        std::iter::once("motor off and cool first").chain(applies).collect::<Vec<_>>().join("; ")
    );
    text + wrapped(&basis, 0).replacen("Caution", &alarm("Caution"), 1).as_str()
}

/// Supplies used by services.
fn used(run: &Run) -> String {
    let each = run.supplies.iter().map(|(what, n)| match what.strip_prefix("oil, ") {
        Some(unit) => format!("{} {unit} of oil", short(*n)),
        None => format!("{} {what}", short(*n)),
    });
    format!("services used {} in {}", each.collect::<Vec<_>>().join(", "), say::time(run.duration))
}

/// Every warning of every run, one sentence each.
fn in_full(record: &Record, names: &[String]) -> String {
    let mut text = String::new();
    for (run, name) in record.runs.iter().zip(names).filter(|(run, _)| !run.warnings.is_empty()) {
        text += &wrapped(&format!("{name}:"), 0);
        for warning in &run.warnings {
            text += &set_in(&format!("{}.", sentence(run, warning).text()), 2, 4);
        }
        if let Some(doubt) = doubt(run) {
            text += &set_in(doubt, 2, 4);
        }
    }
    text
}

/// One row per run.
fn rows(record: &Record, names: &[String], alike: bool) -> String {
    let longest = record.runs.iter().map(|r| r.duration).fold(0.0, f64::max);
    let best = record.runs.iter().filter_map(end).map(|end| end.running).fold(1e-9, f64::max);
    let heat = |run: &Run| Channel::SlipPower.of(&run.overall.mean) * run.duration;
    let (per, energy) = match record.runs.iter().map(heat).fold(0.0, f64::max) {
        most if most < 1e7 => (1e3, "slip\nkJ"),
        most if most < 1e10 => (1e6, "slip\nMJ"),
        _ => (1e9, "slip\nGJ"),
    };
    let (second, unit) = match longest {
        t if t < 7200.0 => (60.0, "time\nmin"),
        t if t < 1e6 => (3600.0, "time\nh"),
        _ => (86400.0, "time\ndays"),
    };
    let column = |head, set, spare, cell: &dyn Fn(&Run) -> Option<String>| {
        let cells = record.runs.iter().map(|run| cell(run).unwrap_or_else(|| NONE.to_owned())).collect();
        Column { head, set, cells, spare }
    };
    let hot = |run: &Run, channel: Channel| Some(in_brackets(channel.of(&run.overall.most)));
    let last = |run: &Run| Channel::OilFill.of(run.windows.mean.last().unwrap_or(&run.overall.mean));
    let first = |run: &Run| {
        end(run)
            .map(|end| if end.part == Part::Charring { "washer chars".to_owned() } else { end.part.name().to_owned() })
    };
    let mut columns = vec![
        column("lining\n°C (°F)", Set::Numbers, 0, &|run| hot(run, Channel::LiningSurface)),
        column("bushing\n°C (°F)", Set::Numbers, 4, &|run| hot(run, Channel::Bushing)),
        column(energy, Set::Numbers, 6, &|run| Some(say::figures(heat(run) / per, 3))),
        column("oil\n%", Set::Numbers, 3, &|run| Some(format!("{:.1}", 100.0 * last(run)))),
        column("life,\nrunning", Set::Numbers, 0, &|run| end(run).map(|end| say::time(end.running))),
    ];
    if !alike {
        columns.insert(0, column(unit, Set::Numbers, 5, &|run| Some(say::figures(run.duration / second, 3))));
    }
    if names.len() > 1 {
        columns.push(column("", Set::Whole, 7, &|run| {
            Some(end(run).map_or_else(String::new, |end| bar(end.running / best, BAR)))
        }));
    }
    columns.push(column("worn out\nfirst", Set::Whole, 2, &first));
    if record.runs.iter().any(|run| !run.warnings.is_empty()) {
        columns.push(column("warn-\nings", Set::Whole, 0, &|run| Some(signs(run))));
    }
    fit(&mut columns, names);
    let heads: Vec<(&str, Set)> = std::iter::once((kind(record)[0], Set::Words))
        .chain(columns.iter().map(|column| (column.head, column.set)))
        .collect();
    let row = |(k, name): (usize, &String)| {
        std::iter::once(name.clone()).chain(columns.iter().map(|column| column.cells[k].clone())).collect()
    };
    table(&heads, names.iter().enumerate().map(row).collect())
}

/// Leaves out columns until no word of a name has to be broken.
fn fit(columns: &mut Vec<Column>, names: &[String]) {
    let words = names.iter().flat_map(|name| name.split(' ')).map(UnicodeWidthStr::width).max().unwrap_or(0);
    let whole = names.iter().map(|name| name.width()).max().unwrap_or(0);
    let wanted = words.max(NAMES.min(whole));
    let wide = |column: &Column| {
        column
            .cells
            .iter()
            .map(String::as_str)
            .chain(column.head.lines())
            .map(UnicodeWidthStr::width)
            .max()
            .unwrap_or(0)
    };
    while columns.iter().map(|c| wide(c) + BETWEEN).sum::<usize>() + wanted > WIDTH {
        let most = columns.iter().enumerate().filter(|(_, c)| c.spare > 0).max_by_key(|(_, c)| c.spare);
        let Some(k) = most.map(|(k, _)| k) else { break };
        columns.remove(k);
    }
}
