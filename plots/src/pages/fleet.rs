//! The page of a fleet study: many clutches of each machine, with the time and part of their first failure.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Section, Table};
use crate::pages::origin::closing;
use crate::sheet::hues;
use crate::sheet::tone::css;
use crate::words::assumed::spreads;
use crate::words::cautions::{Caution, of_descents};
use crate::words::clutches::{milestone, name, pairs, whole};
use crate::words::fleet::{answer, distribution, gain, leak_spread, shortest, sure};
use crate::words::number::figures;
use crate::words::reading::{among, asked, common};
use crate::words::text::Words;
use slipsoak_engine::fleet::{Fleet, Milestone, Paired, Report};
use slipsoak_engine::names::{Part, Quantile, distinct};
use slipsoak_engine::statistics::Bounds;
use slipsoak_engine::units::HOUR;

impl Page {
    /// The page of a fleet study's report.
    pub(crate) fn of_fleets(report: &Report, figures: Drawn) -> Self {
        let mut sections = vec![
            pictures(figures),
            Section::new("Results", results(report)).pinned(),
            Section::new("On the same sampled clutches", gains(report)),
            Section::new("Distributions", vec![Block::List(distributions(report))]).only(Reach::Details),
            Section::new("What was assumed", assumed(report)).only(Reach::Details),
        ];
        let descents = of_descents(report.fleets.iter().flat_map(|fleet| &fleet.outcomes).any(|one| one.descends));
        let cautions = [&[Caution::Creep, Caution::DryBushing], descents].concat();
        sections.extend(closing(&report.head, &cautions, vec![]));
        sections.retain(|s| !s.blocks.is_empty());
        let (n, clutches) = (report.fleets.len(), report.clutches);
        let each = format!("{clutches} clutches each, seed {}", report.head.seeds_listed());
        Self {
            question: asked(&report.head),
            given: common(pairs(report)).into_iter().chain([each]).collect::<Vec<_>>().join(", "),
            origin: format!("{}, {n} × {clutches} clutches, computed by {}", report.head.script, report.head.program),
            answer: answer(report),
            sure: vec![sure(report)],
            colours: hues::of_fleets(report).into_iter().map(|hue| css(hue.ink)).collect(),
            compared: report.fleets.iter().map(|f| name(report, f)).collect(),
            sections,
        }
    }
}

/// Comparison of each fleet with its reference, clutch by clutch: a table for each reference, and a sentence for each fleet.
fn gains(report: &Report) -> Vec<Block> {
    let named = |(variant, duty): (&str, &str)| among(pairs(report), (variant, duty));
    let told = |pair: &Paired| {
        let who =
            format!("{} against {}", named((&pair.variant, &pair.duty)), named((&pair.against.0, &pair.against.1)));
        Words::default().strong(who).plain(": ").and(gain(&pair.end)).plain(".")
    };
    if report.pairs.is_empty() {
        return vec![];
    }
    let tables = report.pairs.chunk_by(|a, b| a.against == b.against).map(|pairs| Block::Table(against(report, pairs)));
    let sentences = Block::List(report.pairs.iter().map(told).collect()).only(Reach::Details);
    let medians = if report.pairs.iter().any(|pair| pair.end.ratio.estimate.is_some()) {
        "Medians of the pairs; hours of running, oil set apart; – if the median lies beyond the horizon."
    } else {
        "The medians of the pairs are not known: too many clutches outlast the time followed with one of the two or with both."
    };
    let note = format!(
        "{medians} Gain: share of clutches that last longer. p: the probability that chance alone makes the counts at least this uneven, if neither fleet were better."
    );
    tables.chain([Block::Words(note.into()), sentences]).collect()
}

/// Comparison of fleets with the same reference.
fn against(report: &Report, compared: &[Paired]) -> Table {
    let names = compared.iter().map(|pair| among(pairs(report), (&pair.variant, &pair.duty)).into());
    let of = |pair: &Paired| report.fleets.iter().position(|f| f.variant == pair.variant && f.duty == pair.duty);
    let column = |name: &str, unit, spare, of: fn(&Paired) -> Bounds, show: fn(f64) -> String| {
        bounded(name, unit, spare, &compared.iter().map(of).collect::<Vec<_>>(), show)
    };
    let times = |v: f64| format!("{v:.2}");
    let mut columns = vec![(Head::words("fleet"), names.collect())];
    columns.extend(known(column("life", "times", 0, |p| p.end.ratio, times)));
    columns.extend(known(column("life", "h more", 1, |p| p.end.difference, |t| figures(t / HOUR, 2))));
    columns.extend(known(column("oil", "times", 2, |p| p.service.ratio, times)));
    let gaining = |p: &Paired| Cell::Number(format!("{:.0}", 100.0 * p.end.gaining.share));
    let chance = |p: &Paired| {
        Cell::Number(if p.end.chance < 0.001 { "< 0.001".to_owned() } else { format!("{:.3}", p.end.chance) })
    };
    columns.push((Head::of("gain", "%"), compared.iter().map(gaining).collect()));
    columns.push((Head::of("p (sign test)", ""), compared.iter().map(chance).collect()));
    let reference = compared.first().map_or_else(String::new, |p| among(pairs(report), (&p.against.0, &p.against.1)));
    let caption = format!("Against {reference}, on the same sampled clutches");
    Table::of_columns(caption, columns).of(compared.iter().map(of))
}

/// A column of estimates and one of their bounds, which is left out first where there is no room.
fn bounded(name: &str, unit: &str, spare: u8, all: &[Bounds], show: impl Fn(f64) -> String) -> [(Head, Vec<Cell>); 2] {
    let shown = |value: Option<f64>| value.map_or(Cell::Nothing, |v| Cell::Number(show(v)));
    let bounds = |b: &Bounds| match (b.low.map(&show), b.high.map(&show)) {
        (Some(low), Some(high)) => Cell::Number(format!("{low} to {high}")),
        (Some(low), None) => Cell::Number(format!("≥ {low}")),
        (None, Some(high)) => Cell::Number(format!("≤ {high}")),
        (None, None) => Cell::Nothing,
    };
    [
        (Head::of(name, unit).spare(spare), all.iter().map(|b| shown(b.estimate)).collect()),
        (Head::of("90 % bounds", unit).spare(spare + 4), all.iter().map(bounds).collect()),
    ]
}

/// The columns of estimates and of their bounds that say something: none without a value in some row, and no bounds
/// without their estimates.
fn known([estimates, bounds]: [(Head, Vec<Cell>); 2]) -> impl Iterator<Item = (Head, Vec<Cell>)> {
    let some = |cells: &[Cell]| cells.iter().any(|cell| *cell != Cell::Nothing);
    let bounded = some(&bounds.1);
    let estimated = bounded || some(&estimates.1);
    [estimated.then_some(estimates), bounded.then_some(bounds)].into_iter().flatten()
}

/// A table with a row for each fleet: its name, then the columns.
fn by_fleet(report: &Report, caption: &str, columns: impl IntoIterator<Item = (Head, Vec<Cell>)>) -> Table {
    let called = |fleet: &Fleet| name(report, fleet) + if fleet.wrong_oil() { " (+ wrong oil)" } else { "" };
    let names = report.fleets.iter().map(|fleet| called(fleet).into()).collect();
    let columns = std::iter::once((Head::words("fleet"), names)).chain(columns);
    Table::of_columns(caption, columns).of((0..report.fleets.len()).map(Some))
}

/// Milestones of a fleet.
type Set = fn(&Fleet) -> &[Milestone];

fn results(report: &Report) -> Vec<Block> {
    // Calendar hours are shown on a terminal only if they differ.
    let rests = report.fleets.iter().any(|fleet| fleet.running_share < 0.9);
    let columns: [(&str, Set, Quantile, u8); 6] = [
        ("B10", |f| &f.end_running, Quantile::B10, 0),
        ("B50", |f| &f.end_running, Quantile::B50, 1),
        ("B90", |f| &f.end_running, Quantile::B90, 11),
        ("B10 by the calendar", |f| &f.end, Quantile::B10, if rests { 4 } else { 12 }),
        ("oil, B10", |f| &f.service_running, Quantile::B10, 2),
        ("oil, B50", |f| &f.service_running, Quantile::B50, 3),
    ];
    let column = |(head, set, which, spare): (&str, Set, Quantile, u8)| {
        let all: Vec<Bounds> = report.fleets.iter().map(|f| milestone(set(f), which)).collect();
        bounded(head, "h", spare, &all, |t| figures(t / HOUR, 2))
    };
    let hot = report.fleets.iter().any(|fleet| fleet.beyond.is_some());
    let followed = shortest(report.fleets.iter());
    let beyond = if hot { " Clutches beyond the model have no life, and are left out." } else { "" };
    let columns: Vec<_> = columns.into_iter().flat_map(|of| known(column(of))).collect();
    let lives = if columns.is_empty() {
        let none = format!(
            "In no fleet has a tenth of the clutches a part worn out or its oil due within {followed}, as long as they were followed: there is no B10 to give.{beyond}"
        );
        Block::Words(none.into())
    } else {
        let note = format!(
            "Hours of running by which a tenth (B10), half (B50) and nine tenths (B90) have a part worn out, the oil set apart; – lies beyond the {followed} that were followed, for the oil also beyond the first worn part. What lies beyond in every fleet has no column.{beyond}"
        );
        let caption = format!("When a part is worn out: {} clutches each", report.clutches);
        Block::Table(by_fleet(report, &caption, columns).note(note))
    };
    let doubt = Words::from("Bounds hold at 90 % for any distribution; the spreads are ")
        .strong("assumed")
        .plain(format!("{}. More: --details.", leak_spread(report, false)));
    vec![lives, Block::Table(causes(report)), Block::Words(doubt).only(Reach::Brief)]
}

/// Shares of the parts that wear out first.
fn causes(report: &Report) -> Table {
    let mut parts = distinct(report.fleets.iter().flat_map(|f| &f.first).map(|share| share.part));
    // Clutches that lasted are in the last column.
    parts.sort_by_key(Option::is_none);
    let column = |part: Option<Part>| {
        let cell = |fleet: &Fleet| match fleet.first.iter().find(|s| s.part == part) {
            Some(s) => format!("{} ({:.0}\u{a0}to\u{a0}{:.0})", whole(s.share), 100.0 * s.low, 100.0 * s.high).into(),
            None => Cell::Nothing,
        };
        (Head::words(part.map_or("lasted", Part::name)), report.fleets.iter().map(cell).collect())
    };
    let caption = "What is worn out first, share of the clutches with 90 % bounds";
    by_fleet(report, caption, parts.into_iter().map(column))
}

fn distributions(report: &Report) -> Vec<Words> {
    let each = |f: &Fleet| Words::default().strong(name(report, f)).plain(": ").and(distribution(f)).plain(".");
    report.fleets.iter().map(each).collect()
}

/// Sampled settings, given once if all fleets have the same.
fn assumed(report: &Report) -> Vec<Block> {
    let Some(first) = report.fleets.first() else { return vec![] };
    if report.fleets.iter().all(|f| f.uncertain == first.uncertain) {
        return vec![spreads(&first.uncertain)];
    }
    report
        .fleets
        .iter()
        .flat_map(|f| [Block::Words(Words::default().strong(name(report, f))), spreads(&f.uncertain)])
        .collect()
}
