//! The page of a fleet study: many clutches of each machine, and when they fail of what.

use super::leaning::spreads;
use super::number::{column, three, time, times};
use super::origin::{Origin, asked, closing};
use super::words::listed;
use super::{Block, Cell, Head, Page, Picture, Row, Section, Table, Words};
use crate::cautions::Caution;
use crate::{FleetFigure, Look};
use slipsoak_engine::fleet::{Fleet, Milestone, Paired, Report};
use slipsoak_engine::statistics::Bounds;

const HOUR: f64 = 3600.0;

/// Name of a fleet among the others.
fn name(report: &Report, fleet: &Fleet) -> String {
    if report.fleets.iter().all(|f| f.duty == fleet.duty) {
        fleet.variant.clone()
    } else if report.fleets.iter().all(|f| f.variant == fleet.variant) {
        fleet.duty.clone()
    } else {
        format!("{}, {}", fleet.variant, fleet.duty)
    }
}

fn milestone<'a>(set: &'a [Milestone], name: &str) -> Option<&'a Bounds> {
    set.iter().find(|m| m.name == name).map(|m| &m.time)
}

impl Page {
    /// The page of a fleet study's report.
    pub fn of_fleets(report: &Report) -> Self {
        let seeds = [report.seed];
        let origin = Origin {
            program: &report.program,
            script: &report.script,
            text: &report.script_text,
            hash: &report.script_hash,
            parameters: &report.parameters,
            seeds: &seeds,
        };
        let mut sections = vec![
            Section::new("Figures", pictures(report)),
            Section::new("Results", results(report)),
            Section::new("Clutch for clutch", gains(report)),
            Section::new("Distributions", vec![Block::List(statements(report))]),
            Section::new("What was assumed", assumed(report)),
        ];
        sections.extend(closing(&origin, &[Caution::Creep, Caution::DryBushing]));
        sections.retain(|s| !s.blocks.is_empty());
        let (n, clutches) = (report.fleets.len(), report.clutches);
        Self {
            question: asked(&report.title, &report.script),
            origin: format!("{}, {n} × {clutches} clutches of {}", report.script, report.program),
            answer: answer(report),
            compared: report.fleets.iter().map(|f| name(report, f)).collect(),
            sections,
        }
    }
}

/// Figures of a fleet; one that cannot be drawn says why.
fn pictures(report: &Report) -> Vec<Block> {
    let block = |figure: FleetFigure| match figure.draw(report, &Look::default()) {
        Ok(drawing) => Block::Picture(Picture::new(drawing)),
        Err(why) => Block::Words(format!("No figure “{}”: {why}.", figure.name()).into()),
    };
    FleetFigure::ALL.into_iter().map(block).collect()
}

/// What each fleet gains over the first, clutch for clutch.
fn gains(report: &Report) -> Vec<Block> {
    let told = |pair: &Paired| {
        let who = format!("{}, {} against {}, {}", pair.variant, pair.duty, pair.against.0, pair.against.1);
        Words::default().strong(who).plain(format!(": {}.", pair.end.statement))
    };
    if report.pairs.is_empty() { vec![] } else { vec![Block::List(report.pairs.iter().map(told).collect())] }
}

/// Followed by when a share has failed: a time with its bounds, or that it lies beyond the horizon, s.
fn fails_after(words: Words, b: &Bounds, horizon: f64) -> Words {
    match b.estimate {
        Some(t) => words.plain("after ").strong(time(t / HOUR)).plain(format!(" ({})", bounds(b))),
        None => words.plain("beyond the horizon of ").strong(time(horizon / HOUR)),
    }
}

/// Bounds of a time.
fn bounds(b: &Bounds) -> String {
    match (b.low, b.high) {
        (Some(low), Some(high)) => times(low / HOUR, high / HOUR),
        (Some(low), None) => format!("{} or more", time(low / HOUR)),
        (None, Some(high)) => format!("at most {}", time(high / HOUR)),
        (None, None) => "too few clutches for bounds".to_owned(),
    }
}

/// Bounds in hours, without their unit.
fn in_hours(b: &Bounds) -> String {
    let hours = |t: f64| three(t / HOUR);
    match (b.low, b.high) {
        (Some(low), Some(high)) => format!("{} to {}", hours(low), hours(high)),
        (Some(low), None) => format!("≥ {}", hours(low)),
        (None, Some(high)) => format!("≤ {}", hours(high)),
        (None, None) => "–".to_owned(),
    }
}

/// Whether two percentiles may be the same for all their bounds say.
fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.low.unwrap_or(0.0) <= b.high.unwrap_or(f64::INFINITY) && b.low.unwrap_or(0.0) <= a.high.unwrap_or(f64::INFINITY)
}

/// Hundredths without decimals.
fn whole(share: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * share)
}

/// What is most often the first to fail, with its share; several parts where they are as frequent.
fn fails(fleet: &Fleet) -> String {
    let failed = || fleet.first.iter().filter(|s| s.part != "none");
    let Some(most) = failed().max_by_key(|s| s.clutches) else { return "nothing within the horizon".to_owned() };
    let parts: Vec<String> =
        failed().filter(|s| s.clutches == most.clutches).map(|s| format!("the {}", s.part)).collect();
    let each = if parts.len() > 1 { "each " } else { "" };
    format!(
        "{}, {each}in {} of the clutches ({} to {})",
        listed(&parts),
        whole(most.share),
        whole(most.low),
        whole(most.high)
    )
}

fn answer(report: &Report) -> Vec<Words> {
    let mut all: Vec<(&Fleet, &Bounds)> =
        report.fleets.iter().filter_map(|f| Some((f, milestone(&f.end, "B10")?))).collect();
    all.sort_by(|a, b| a.1.estimate.unwrap_or(f64::INFINITY).total_cmp(&b.1.estimate.unwrap_or(f64::INFINITY)));
    let (Some(worst), Some(best)) = (all.first(), all.last()) else { return vec![] };
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let verdict = if all.len() == 1 {
        fails_after("A tenth of the clutches fails ".into(), best.1, best.0.horizon)
    } else {
        let words = Words::from("A tenth of the clutches fails latest with ").strong(called(best.0)).plain(", ");
        let words = fails_after(words, best.1, best.0.horizon).plain(", and earliest with ").strong(called(worst.0));
        fails_after(words.plain(", "), worst.1, worst.0.horizon).plain(if overlap(best.1, worst.1) {
            format!("; the bounds overlap, so that {} clutches each do not tell them apart for sure", report.clutches)
        } else {
            "; the bounds lie apart".to_owned()
        })
    };
    let mut second = Words::from("What fails first most often is ").plain(fails(best.0));
    if all.len() > 1 {
        second = second.plain(", with ").strong(called(best.0)).plain(", and ").plain(fails(worst.0));
        second = second.plain(", with ").strong(called(worst.0));
    }
    let third = Words::from("Bounds hold at 90 % and assume no distribution, but they stand on spreads that are ")
        .strong("assumed");
    vec![
        verdict.plain("."),
        second.plain("."),
        third.plain(": above all that of the end leak λ (0.006 to 2 per hour), which nobody has measured; comparisons lean on them less, since clutch for clutch all share the same draws."),
    ]
}

fn results(report: &Report) -> Vec<Block> {
    let mut heads = vec![Head::words("fleet")];
    let columns = [("B10", "B10", false), ("B50", "B50", false), ("B90", "B90", false), ("oil due, B10", "B10", true)];
    let mut cells: Vec<Vec<Cell>> = report.fleets.iter().map(|f| vec![name(report, f).into()]).collect();
    for (head, which, oil) in columns {
        let of = |f: &Fleet| milestone(if oil { &f.service } else { &f.end }, which).copied();
        heads.push(Head::of(head, "h"));
        heads.push(Head::of("90 % bounds", "h"));
        let times: Vec<f64> =
            report.fleets.iter().map(|f| of(f).and_then(|b| b.estimate).map_or(f64::NAN, |t| t / HOUR)).collect();
        for ((fleet, row), shown) in report.fleets.iter().zip(&mut cells).zip(column(&times, 3)) {
            row.push(Cell::Number(shown));
            let b = of(fleet).filter(|b| b.low.or(b.high).is_some());
            row.push(b.map_or(Cell::Nothing, |b| Cell::Number(in_hours(&b))));
        }
    }
    let rows = cells.into_iter().enumerate().map(|(k, cells)| Row { cells, of: Some(k) }).collect();
    let horizon = report.fleets.iter().map(|f| f.horizon).fold(0.0, f64::max) / HOUR;
    let note = format!(
        "Hours of the duty, rests included, by which a tenth, half and nine tenths have failed; – lies beyond the horizon of {}, or for too few clutches.",
        time(horizon)
    );
    let lives = Table::new(format!("When they fail: {} clutches each", report.clutches), heads, rows).note(note);
    vec![Block::Table(lives), Block::Table(causes(report))]
}

/// Shares of the parts that fail first.
fn causes(report: &Report) -> Table {
    let mut parts: Vec<&str> = Vec::new();
    for share in report.fleets.iter().flat_map(|f| &f.first) {
        if !parts.contains(&share.part.as_str()) {
            parts.push(&share.part);
        }
    }
    // Those that failed of nothing come last.
    parts.sort_by_key(|p| *p == "none");
    let head = |part: &&str| Head::words(if *part == "none" { "lasted" } else { part });
    let heads = std::iter::once(Head::words("fleet")).chain(parts.iter().map(head)).collect();
    let row = |(k, fleet): (usize, &Fleet)| {
        let cell = |part: &&str| match fleet.first.iter().find(|s| s.part == *part) {
            Some(s) => format!("{} ({} to {})", whole(s.share), whole(s.low), whole(s.high)).into(),
            None => Cell::Nothing,
        };
        let cells = std::iter::once(name(report, fleet).into()).chain(parts.iter().map(cell)).collect();
        Row { cells, of: Some(k) }
    };
    Table::new(
        "What fails first, share of the clutches with 90 % bounds",
        heads,
        report.fleets.iter().enumerate().map(row).collect(),
    )
}

fn statements(report: &Report) -> Vec<Words> {
    let each = |f: &Fleet| Words::default().strong(name(report, f)).plain(format!(": {}", f.statement));
    report.fleets.iter().map(each).collect()
}

/// What was drawn, once where all fleets share it.
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
