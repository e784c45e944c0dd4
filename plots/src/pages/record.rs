//! The page of a study: every variant under every duty.

use crate::figures::Drawn;
use crate::page::picture::leading;
use crate::page::{Block, Cell, Head, Page, Reach, Section, Table};
use crate::pages::by_run::{by_run, numbers};
use crate::pages::computed::computed;
use crate::pages::ledger::{in_brief, ledgers};
use crate::pages::matrix::noticed;
use crate::pages::origin::closing;
use crate::pages::settings::settings;
use crate::sheet::hues;
use crate::sheet::tone::css;
use crate::words::answer::{answer, brief, sure};
use crate::words::assumed::assumed;
use crate::words::cautions;
use crate::words::compared::{channel, fill, kind, peak};
use crate::words::learned::{constants, of_record};
use crate::words::number::three;
use crate::words::reading::{End, asked, common, end, longest, name, pairs};
use crate::words::say;
use crate::words::text::Words;
use crate::words::warnings::{doubt, lines, sentence, signs};
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::{Record, Run};
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
