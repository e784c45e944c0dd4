//! The page of a fleet study: many clutches of each machine, with the time and part of their first failure.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::origin::{asked, closing};
use crate::words::assumed::spreads;
use crate::words::cautions::Caution;
use crate::words::clutches::{milestone, name};
use crate::words::fleet::{answer, distribution, gain, shortest, whole};
use crate::words::number::column;
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::fleet::{Fleet, Milestone, Paired, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::statistics::Bounds;
use slipsoak_engine::units::HOUR;

impl Page {
    /// The page of a fleet study's report.
    pub(crate) fn of_fleets(report: &Report, figures: Drawn) -> Self {
        let mut sections = vec![
            Section::new("Figures", pictures(figures)),
            Section::new("Results", results(report)),
            Section::new("Clutch for clutch", gains(report)),
            Section::new("Distributions", vec![Block::List(distributions(report))]),
            Section::new("What was assumed", assumed(report)),
        ];
        sections.extend(closing(&report.head, &[Caution::Creep, Caution::DryBushing]));
        sections.retain(|s| !s.blocks.is_empty());
        let (n, clutches) = (report.fleets.len(), report.clutches);
        Self {
            question: asked(&report.head),
            origin: format!("{}, {n} × {clutches} clutches of {}", report.head.script, report.head.program),
            answer: answer(report),
            compared: report.fleets.iter().map(|f| name(report, f)).collect(),
            sections,
            ..Self::default()
        }
    }
}

/// Comparison of each fleet with its reference, clutch by clutch.
fn gains(report: &Report) -> Vec<Block> {
    let one = |pair: &Paired| {
        let who = format!("{}, {} against {}, {}", pair.variant, pair.duty, pair.against.0, pair.against.1);
        Words::default().strong(who).plain(": ").and(gain(&pair.end)).plain(".")
    };
    if report.pairs.is_empty() { vec![] } else { vec![Block::List(report.pairs.iter().map(one).collect())] }
}

/// Bounds in hours, without their unit.
fn in_hours(b: &Bounds) -> String {
    let hours = |t: f64| say::figures(t / HOUR, 2);
    match (b.low, b.high) {
        (Some(low), Some(high)) => format!("{} to {}", hours(low), hours(high)),
        (Some(low), None) => format!("≥ {}", hours(low)),
        (None, Some(high)) => format!("≤ {}", hours(high)),
        (None, None) => "–".to_owned(),
    }
}

/// Milestones of a fleet.
type Set = fn(&Fleet) -> &[Milestone];

fn results(report: &Report) -> Vec<Block> {
    let mut heads = vec![Head::words("fleet")];
    let columns: [(&str, Set, &str); 6] = [
        ("B10", |f| &f.end_running, "B10"),
        ("B50", |f| &f.end_running, "B50"),
        ("B90", |f| &f.end_running, "B90"),
        ("B10 by the calendar", |f| &f.end, "B10"),
        ("oil due, B10", |f| &f.service_running, "B10"),
        ("oil due, B50", |f| &f.service_running, "B50"),
    ];
    let mut cells: Vec<Vec<Cell>> = report.fleets.iter().map(|f| vec![name(report, f).into()]).collect();
    for (head, set, which) in columns {
        let of = |f: &Fleet| milestone(set(f), which);
        heads.push(Head::of(head, "h"));
        heads.push(Head::of("90 % bounds", "h"));
        let times: Vec<f64> = report.fleets.iter().map(|f| of(f).estimate.map_or(f64::NAN, |t| t / HOUR)).collect();
        for ((fleet, row), shown) in report.fleets.iter().zip(&mut cells).zip(column(&times, 2)) {
            row.push(Cell::Number(shown));
            let b = of(fleet);
            row.push(if b.low.or(b.high).is_some() { Cell::Number(in_hours(&b)) } else { Cell::Nothing });
        }
    }
    let rows = cells.into_iter().enumerate().map(|(k, cells)| Row { cells, of: Some(k) }).collect();
    let note = format!(
        "Hours of running by which a tenth, half and nine tenths have a part worn out, the oil set apart; – lies beyond the {} that were followed, for the oil also beyond the first worn part.",
        shortest(report.fleets.iter())
    );
    let lives =
        Table::new(format!("When a part is worn out: {} clutches each", report.clutches), heads, rows).note(note);
    vec![Block::Table(lives), Block::Table(causes(report))]
}

/// Shares of the parts that wear out first.
fn causes(report: &Report) -> Table {
    let mut parts: Vec<Option<Part>> = vec![];
    for share in report.fleets.iter().flat_map(|f| &f.first) {
        if !parts.contains(&share.part) {
            parts.push(share.part);
        }
    }
    // Clutches that lasted are in the last column.
    parts.sort_by_key(Option::is_none);
    let head = |part: &Option<Part>| Head::words(part.map_or("lasted", Part::name));
    let heads = std::iter::once(Head::words("fleet")).chain(parts.iter().map(head)).collect();
    let row = |(k, fleet): (usize, &Fleet)| {
        let cell = |part: &Option<Part>| match fleet.first.iter().find(|s| s.part == *part) {
            Some(s) => format!("{} ({} to {})", whole(s.share), whole(s.low), whole(s.high)).into(),
            None => Cell::Nothing,
        };
        let cells = std::iter::once(name(report, fleet).into()).chain(parts.iter().map(cell)).collect();
        Row { cells, of: Some(k) }
    };
    Table::new(
        "What is worn out first, share of the clutches with 90 % bounds",
        heads,
        report.fleets.iter().enumerate().map(row).collect(),
    )
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
