//! The page of a study: every variant under every duty.

use crate::figures::Drawn;
use crate::page::picture::leading;
use crate::page::{Block, Cell, Group, Head, Page, Reach, Row, Section, Table};
use crate::pages::ledger::{BESIDE, in_brief, ledgers};
use crate::pages::matrix::noticed;
use crate::pages::origin::closing;
use crate::sheet::hues;
use crate::sheet::palette::css;
use crate::words::answer::{answer, brief, in_full, sure};
use crate::words::assumed::assumed;
use crate::words::cautions;
use crate::words::compared::{channel, fill, kind, peak};
use crate::words::learned::{constants, of_record};
use crate::words::number::{figures, number, three};
use crate::words::quantity::{of_setting, quantity};
use crate::words::reading::{End, asked, common, end, longest, name, pairs};
use crate::words::say;
use crate::words::text::Words;
use crate::words::warnings::{doubt, lines, sentence, signs, who};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{PARAMETERS, Parameter, parameter};
use slipsoak_engine::record::{Missed, PartUse, Record, Run, Setting};
use slipsoak_engine::units::HOUR;

impl Page {
    /// The page of a study's record.
    pub(crate) fn of_study(record: &Record, figures: Drawn) -> Self {
        let many = record.runs.len();
        let runs = if many == 1 { "1 run".to_owned() } else { format!("{many} runs") };
        let ends = record.runs.iter().filter_map(end).map(|end| (end.part, end.running / HOUR));
        let best = ends.max_by(|a, b| a.1.total_cmp(&b.1));
        let [first, further] = leading(figures);
        let assumed = record.runs.first().map_or_else(Vec::new, |run| assumed(run, best));
        let mut sections = vec![
            first,
            Section::new("Warnings", noticed(record, kind(record)[0])).only(Reach::Page),
            Section::new("Results", results(record)).pinned(),
            Section::new("Every warning", warned(record)).only(Reach::Full),
            further,
            Section::new("How it was computed", computed(record)).only(Reach::Details).folded(),
            Section::new("Ledgers", ledgers(record)).only(Reach::Page).folded(),
            Section::new("Ledgers", in_brief(record)).only(Reach::Full),
            Section::new("What was assumed", assumed).only(Reach::Details).folded(),
        ];
        // The short form names the cautions in a few words.
        let brief = |s: Section| if s.reach == Reach::Everywhere { s.only(Reach::Details) } else { s };
        sections.extend(closing(&record.head, &cautions::of_record(record), vec![]).into_iter().map(brief));
        sections.push(Section::new("The machines", settings(record)).only(Reach::Page).folded());
        sections.retain(|s| !s.blocks.is_empty());
        Self {
            question: asked(&record.head),
            given: shared(record).join(", "),
            origin: format!("{} · {runs} · computed by {}", record.head.script, record.head.program),
            answer: answer(record),
            sure: vec![sure(record)],
            colours: hues::of_runs(record).into_iter().map(|hue| css(hue.ink)).collect(),
            compared: record.runs.iter().map(|run| name(record, run)).collect(),
            sections,
        }
    }
}

/// A table with a row for each run: its name, then the columns.
fn by_run(record: &Record, one: &str, caption: &str, columns: impl IntoIterator<Item = (Head, Vec<Cell>)>) -> Table {
    let names = record.runs.iter().map(|run| name(record, run).into()).collect();
    let columns = std::iter::once((Head::words(one), names)).chain(columns);
    Table::of_columns(caption, columns).of((0..record.runs.len()).map(Some))
}

/// Values of one quantity for every run, to three digits; not-a-number for a run without one.
fn numbers(record: &Record, of: impl Fn(&Run) -> f64) -> Vec<Cell> {
    Cell::numbers(record.runs.iter().map(of), 3)
}

/// Counts for every run.
fn counts(record: &Record, of: impl Fn(&Run) -> Option<u64>) -> Vec<Cell> {
    record.runs.iter().map(|r| of(r).map_or(Cell::Nothing, |n| Cell::Number(number(n as f64, 1.0)))).collect()
}

fn temperatures(record: &Record, channel: Channel) -> Vec<Cell> {
    record.runs.iter().map(|r| peak(r, channel).map_or(Cell::Nothing, Cell::Temperature)).collect()
}

/// Whether all runs last about as long.
fn alike(record: &Record) -> bool {
    let least = record.runs.iter().map(|run| run.duration).fold(f64::INFINITY, f64::min);
    least > 0.95 * longest(&record.runs)
}

/// Common properties of all runs: the machine or the duty, and their duration.
fn shared(record: &Record) -> Vec<String> {
    let lasts = alike(record).then(|| say::time(longest(&record.runs)));
    common(pairs(record)).into_iter().chain(lasts).collect()
}

fn results(record: &Record) -> Vec<Block> {
    let [one, _] = kind(record);
    let legend = Block::Legend(lines(record)).only(Reach::Terminal);
    let used = record.runs.iter().filter(|run| !run.supplies.is_empty());
    let used = Block::List(used.map(|run| used_up(record, run)).collect()).only(Reach::Brief);
    let basis = Block::Words(brief(record)).only(Reach::Brief);
    vec![Block::Table(summary(record, one)), legend, used, basis]
}

/// Distances and times, parts used up, and how a repeated block was extrapolated.
fn computed(record: &Record) -> Vec<Block> {
    let [one, _] = kind(record);
    [Block::Table(way(record, one))].into_iter().chain(uses(record, one)).chain(skipping(record, one)).collect()
}

/// Supplies used by the services of a run.
fn used_up(record: &Record, run: &Run) -> Words {
    let each = run.supplies.iter().map(|(what, n)| format!("{} {what}", three(*n)));
    let whom = if record.runs.len() > 1 { format!("{}: ", name(record, run)) } else { String::new() };
    format!("{whom}services used {} in {}", each.collect::<Vec<_>>().join(", "), say::time(run.duration)).into()
}

/// Every warning of every run, a sentence each.
fn warned(record: &Record) -> Vec<Block> {
    let of = |run: &Run| {
        let sentences = run.warnings.iter().map(|warning| sentence(run, warning).plain("."));
        let sentences = sentences.chain(doubt(run).map(Words::from)).collect();
        [Block::Words(format!("{}:", name(record, run)).into()), Block::List(sentences)]
    };
    record.runs.iter().filter(|run| !run.warnings.is_empty()).flat_map(of).collect()
}

/// A row a run: how hot, how much slip, how much oil, how long it lasts.
fn summary(record: &Record, one: &str) -> Table {
    let ends: Vec<Option<End>> = record.runs.iter().map(end).collect();
    let longest_life = ends.iter().flatten().map(|end| end.running).fold(1e-9, f64::max);
    let of = |cell: &dyn Fn(&End) -> Cell| -> Vec<Cell> {
        ends.iter().map(|end| end.as_ref().map_or(Cell::Nothing, cell)).collect()
    };
    let slip = |r: &Run| channel(&r.overall.mean, Channel::SlipPower).unwrap_or(f64::NAN) * r.duration;
    let (joule, energy) = match record.runs.iter().map(slip).fold(0.0, f64::max) {
        most if most < 1e7 => (1e3, "kJ"),
        most if most < 1e10 => (1e6, "MJ"),
        _ => (1e9, "GJ"),
    };
    let mut columns = vec![
        (Head::temperature("lining, peak").brief("lining"), temperatures(record, Channel::LiningSurface)),
        (Head::temperature("bushing, peak").brief("bushing").spare(4), temperatures(record, Channel::Bushing)),
        (Head::temperature("washer, peak").brief("washer").spare(11), temperatures(record, Channel::Washer)),
        (Head::of("slip energy", energy).brief("slip").spare(6), numbers(record, |r| slip(r) / joule)),
        (
            Head::of("oil fill at the end", "%").brief("oil").spare(3),
            numbers(record, |r| 100.0 * fill(r).unwrap_or(f64::NAN)),
        ),
        (Head::of("life, running", ""), of(&|end| Cell::Bar(say::lasts(end.running), end.running / longest_life))),
        (
            Head::of("range", "").spare(12),
            of(&|end| end.range.map_or(Cell::Nothing, |[low, high]| Cell::Number(say::times(low, high)))),
        ),
        (Head::of("by the calendar", "").spare(13), of(&|end| Cell::Number(say::calendar(end.calendar)))),
        (Head::words("worn out first").spare(2), of(&|end| end.brief().into())),
    ];
    if !alike(record) {
        let (second, clock) = match longest(&record.runs) {
            t if t < 7200.0 => (60.0, "min"),
            t if t < 1e6 => (HOUR, "h"),
            _ => (86400.0, "days"),
        };
        let times = numbers(record, |r| r.duration / second);
        columns.insert(0, (Head::of("time", clock).spare(5).only(Reach::Terminal), times));
    }
    if record.runs.iter().any(|run| !run.warnings.is_empty()) {
        let all = record.runs.iter().map(|run| signs(run).into()).collect();
        columns.push((Head::words("signs").only(Reach::Terminal), all));
    }
    let known = of_record(record);
    let possible = if known.is_empty() { "thought possible" } else { "measurements left open or thought possible" };
    let note = format!(
        "Life: time that the motor runs until the first part, oil apart, is worn out; where that lies beyond the run, at its rate. Range: if all {} wear constants are as high or as low as {possible}. By the calendar: rests included.",
        constants(&known)
    );
    Table { noted: Reach::Details, ..by_run(record, one, "Summary", columns).note(note) }
}

/// Table of the runs' duties.
fn way(record: &Record, one: &str) -> Table {
    let (per, unit) = if longest(&record.runs) < 2.0 * HOUR { (60.0, "min") } else { (HOUR, "h") };
    let used = |r: &Run| {
        let all: Vec<String> = r.supplies.iter().map(|(what, n)| format!("{} {what}", three(*n))).collect();
        if all.is_empty() { Cell::Nothing } else { all.join("; ").into() }
    };
    let heads = Head::row(&format!(
        "time [{unit}] | motor ran [{unit}] | clutch slipped [min] | launches [] | distance [km] | oil and parts used"
    ));
    let cells = [
        numbers(record, |r| r.duration / per),
        numbers(record, |r| r.running_time / per),
        numbers(record, |r| r.sliding_time / 60.0),
        counts(record, |r| Some(r.launches)),
        numbers(record, |r| r.distance / 1e3),
        record.runs.iter().map(used).collect(),
    ];
    by_run(record, one, "The duty", heads.into_iter().zip(cells))
}

/// Use and life of every part.
fn uses(record: &Record, one: &str) -> Vec<Block> {
    let Some(first) = record.runs.first() else { return vec![] };
    let used = |(k, p): (usize, &PartUse)| {
        (Head::of(p.part.name(), "%"), numbers(record, |r| r.parts.get(k).map_or(f64::NAN, |p| 100.0 * p.used)))
    };
    let caption = "How far each part is used up at the end: 0 new, 100 at its limit";
    let used = by_run(record, one, caption, first.parts.iter().enumerate().map(used));
    let lasts = |(k, p): (usize, &PartUse)| {
        let life = |r: &Run| r.parts.get(k).and_then(|p| p.running.or(p.life));
        let hours = |r: &Run| life(r).map_or(Cell::Nothing, |life| Cell::Number(figures(life / HOUR, 2)));
        (Head::of(p.part.name(), "h"), record.runs.iter().map(hours).collect())
    };
    let caption = "When each part is at its limit, hours of running";
    let life = by_run(record, one, caption, first.parts.iter().enumerate().map(lasts));
    let weak: Vec<&Run> = record.runs.iter().filter(|run| run.springs_below_limit()).collect();
    let mut note = "– is not used up by this duty, or the oil is topped up.".to_owned();
    if !weak.is_empty() {
        let whose = if record.runs.len() > 1 { format!(" of {}", who(record, &weak)) } else { String::new() };
        let verb = if weak.len() > 1 { "were given" } else { "was given" };
        note = format!(
            "{note} The weakest spring{whose} {verb} below the least margin over the idle: it is at its limit from the start, and no life of it is given."
        );
    }
    vec![Block::Table(used), Block::Table(life.note(note))]
}

/// Table of skipping in repeated blocks, and its estimated errors.
fn skipping(record: &Record, one: &str) -> Vec<Block> {
    if record.runs.iter().all(|r| r.horizon.is_none()) {
        return vec![];
    }
    let due = |r: &Run| r.horizon.as_ref().and_then(|h| h.service_due).map_or(f64::NAN, |t| t / HOUR);
    let heads = Head::row("blocks run [] | skipped [] | jumps taken back [] | service due [h]");
    let cells = [
        counts(record, |r| r.horizon.as_ref().map(|h| h.blocks_run)),
        counts(record, |r| r.horizon.as_ref().map(|h| h.blocks_skipped)),
        counts(record, |r| r.horizon.as_ref().map(|h| h.jumps_taken_back)),
        numbers(record, due),
    ];
    let missed = |(k, run): (usize, &Run)| {
        let row = |m: &Missed| Row {
            cells: vec![m.quantity.as_str().into(), Cell::Number(three(m.value)), Cell::Number(three(m.error))],
            of: Some(k),
        };
        let rows = run.horizon.iter().flat_map(|h| &h.errors).map(row).collect();
        Group { name: name(record, run), rows }
    };
    let groups: Vec<Group> = record.runs.iter().enumerate().map(missed).filter(|g| !g.rows.is_empty()).collect();
    let heads_of_missed = Head::row("quantity | at the end [SI] | may be off by [SI]");
    let errors = Table::grouped("What skipping may have missed", heads_of_missed, groups);
    let table = by_run(record, one, "How the repeated block was extrapolated", heads.into_iter().zip(cells));
    let why = in_full(record);
    let mut blocks = vec![Block::Table(if why.is_empty() { table } else { table.note(why.trim_end().to_owned()) })];
    let inside = |(k, run): (usize, &Run)| {
        let row = |piece: &slipsoak_engine::record::Inside| Row {
            cells: vec![
                say::time(piece.lasts).into(),
                Cell::Number(number(piece.run as f64, 1.0)),
                Cell::Number(number(piece.skipped as f64, 1.0)),
            ],
            of: Some(k),
        };
        let rows = run.horizon.iter().flat_map(|h| &h.inside).map(row).collect();
        Group { name: name(record, run), rows }
    };
    let inside: Vec<Group> = record.runs.iter().enumerate().map(inside).filter(|g| !g.rows.is_empty()).collect();
    if !inside.is_empty() {
        let heads = Head::row("it lasts | run [] | skipped []");
        let note = "A block counts as run if anything in it was simulated. What comes after a service counts apart. \
            What recurs inside a longer piece is counted in those that were simulated.";
        blocks.push(Block::Table(Table::grouped("What recurs inside the block", heads, inside).note(note)));
    }
    if !errors.groups.is_empty() {
        blocks.push(Block::Table(errors));
    }
    blocks
}

/// Differences between the machines, and every setting of the first.
fn settings(record: &Record) -> Vec<Block> {
    let Some(first) = record.runs.first() else { return vec![] };
    let differs = |p: &&Parameter| record.runs.iter().any(|r| r.setting(p) != first.setting(p));
    let different: Vec<&Parameter> = PARAMETERS.iter().filter(differs).collect();
    let mut blocks = Vec::new();
    for start in (0..record.runs.len()).step_by(BESIDE) {
        let runs = &record.runs[start..record.runs.len().min(start + BESIDE)];
        let heads = runs.iter().enumerate().map(|(k, r)| Head { of: Some(start + k), ..Head::words(&name(record, r)) });
        let row = |p: &&Parameter| {
            let cells = runs.iter().map(|r| r.setting(p).map_or(Cell::Nothing, |v| quantity(v, p.dimension)));
            Row::from(std::iter::once(p.path.into()).chain(cells))
        };
        if !different.is_empty() {
            let heads = std::iter::once(Head::words("setting")).chain(heads);
            blocks.push(Block::Table(Table::new("What differs between them", heads, different.iter().map(row))));
        }
    }
    let caption = if different.is_empty() {
        "Every setting".to_owned()
    } else {
        format!("Every setting of “{}”", name(record, first))
    };
    blocks.push(every_setting(&first.settings, caption));
    blocks
}

/// Every setting of a machine.
pub fn every_setting(settings: &[Setting], caption: String) -> Block {
    let row = |s: &Setting| {
        let meaning = parameter(&s.path).map_or("", |p| p.meaning);
        let sure = format!("{:?}", s.confidence).to_lowercase();
        [s.path.as_str().into(), of_setting(&s.path, s.value), sure.into(), Cell::Words(Words::scaled(meaning))]
    };
    let heads = ["setting", "value", "how sure", "meaning"].map(Head::words).to_vec();
    Block::Table(Table::new(caption, heads, settings.iter().map(row)))
}
