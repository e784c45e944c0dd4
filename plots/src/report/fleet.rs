//! The page of a fleet study: many clutches of each machine, and when they fail of what.

use super::leaning::spreads;
use super::number::column;
use super::origin::{Origin, asked, closing};
use super::words::listed;
use super::{Block, Cell, Head, Page, Picture, Row, Section, Table, Words};
use crate::cautions::Caution;
use crate::{FleetFigure, Look};
use slipsoak_engine::fleet::{Fleet, Gain, Milestone, Paired, Report};
use slipsoak_engine::say;
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
            command: &report.command,
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

/// Bounds of a time.
fn bounds(b: &Bounds) -> String {
    match (b.low, b.high) {
        (Some(low), Some(high)) => say::times(low, high),
        (Some(low), None) => format!("{} or more", say::time(low)),
        (None, Some(high)) => format!("at most {}", say::time(high)),
        (None, None) => "too few clutches for bounds".to_owned(),
    }
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

/// Whether two percentiles may be the same for all their bounds say.
fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.low.unwrap_or(0.0) <= b.high.unwrap_or(f64::INFINITY) && b.low.unwrap_or(0.0) <= a.high.unwrap_or(f64::INFINITY)
}

/// Hundredths without decimals.
fn whole(share: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * share)
}

/// What is most often the first to fail; several parts where they are as frequent.
fn fails(fleet: &Fleet) -> Option<(Vec<&str>, f64)> {
    let failed = || fleet.first.iter().filter(|s| s.part != "none");
    let most = failed().max_by_key(|s| s.clutches)?;
    Some((failed().filter(|s| s.clutches == most.clutches).map(|s| s.part.as_str()).collect(), most.share))
}

/// Share of a fleet that failed within the horizon.
fn failed(fleet: &Fleet) -> f64 {
    1.0 - fleet.first.iter().find(|s| s.part == "none").map_or(0.0, |s| s.share)
}

/// Followed by a time with its bounds.
fn lasts(words: Words, b: &Bounds, horizon: f64) -> Words {
    match b.estimate {
        Some(t) => words.strong(say::time(t)).plain(format!(" ({})", bounds(b))),
        None => words.strong(format!("more than {}", say::time(horizon))),
    }
}

/// What a fleet study answers, the most important first.
pub fn answer(report: &Report) -> Vec<Words> {
    let Some(first) = report.fleets.first() else { return vec![] };
    let b10 = |fleet: &Fleet| milestone(&fleet.end, "B10").and_then(|b| b.estimate).unwrap_or(f64::INFINITY);
    let mut all: Vec<&Fleet> = report.fleets.iter().collect();
    // The longest B10 first, and where it lies beyond the horizon the fewest failures; of equals the first compared.
    all.sort_by(|a, b| b10(b).total_cmp(&b10(a)).then(failed(a).total_cmp(&failed(b))));
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let mut said = vec![if all.iter().all(|fleet| failed(fleet) == 0.0) {
        nothing_fails(report)
    } else if all.iter().any(|fleet| milestone(&fleet.end, "B10").is_none_or(|b| b.estimate.is_none())) {
        shares_failed(report, &all)
    } else {
        longest(report, &all)
    }];
    let best = all[0];
    let pair = report.pairs.iter().find(|p| p.variant == best.variant && p.duty == best.duty);
    if let Some(pair) = pair.filter(|p| p.end.shorter + p.end.longer > 0) {
        let against = called(first);
        let (but, count, way) = if pair.end.shorter > pair.end.longer {
            ("But compared on the same sampled clutches, ", pair.end.shorter, "less long")
        } else {
            ("Compared on the same sampled clutches, ", pair.end.longer, "longer")
        };
        said.push(
            Words::from(format!("{but}{count} of {} last {way} with ", compared(&pair.end)))
                .strong(called(best))
                .plain(" than with ")
                .strong(against)
                .plain(format!(" ({}).", pair.end.statement)),
        );
    }
    said.extend(causes_in_words(&all));
    said.extend(report.left_out().map(Words::from));
    said.push(
        Words::from("The oil counts here: a bushing whose oil is at its end is a service missed, not wear, and it is the end of that clutch. Studies of single runs give lives oil apart. Bounds hold at 90 % and assume no distribution, but the spreads are ")
            .strong("assumed")
            .plain(": above all that of the end leakage (0.006 to 2 per hour), which nobody has measured; comparisons depend on them less, since all fleets share the same samples."),
    );
    said
}

/// Clutches that stand in both fleets.
fn compared(gain: &Gain) -> u64 {
    gain.longer + gain.shorter + gain.alike + gain.unknown
}

fn nothing_fails(report: &Report) -> Words {
    let computed = |fleet: &Fleet| fleet.first.iter().map(|s| s.clutches).sum::<u64>();
    let clutches = report.fleets.iter().map(computed).min().unwrap_or(0);
    let horizon = report.fleets.iter().map(|f| f.horizon).fold(f64::INFINITY, f64::min);
    let fleets = if report.fleets.len() > 1 { " of any fleet" } else { "" };
    Words::from("No clutch of ")
        .strong(clutches.to_string())
        .plain(format!("{fleets} wears a part out or runs out of oil within "))
        .strong(say::time(horizon))
        .plain(": repeat the duty for longer to see which lasts longest.")
}

/// How many failed with each, fewest first: where not every fleet has a B10 within the horizon.
fn shares_failed(report: &Report, all: &[&Fleet]) -> Words {
    let horizon = all[0].horizon;
    let mut words = Words::from(format!("Within {} fail: ", say::time(horizon)));
    for (k, fleet) in all.iter().enumerate() {
        let none = fleet.first.iter().find(|s| s.part == "none");
        let (low, high) = none.map_or((1.0, 1.0), |s| (1.0 - s.high, 1.0 - s.low));
        words = words
            .plain(if k > 0 { ", " } else { "" })
            .strong(whole(failed(fleet)))
            .plain(format!(" ({} to {}) of the clutches with ", whole(low.max(0.0)), whole(high)))
            .strong(format!("“{}”", name(report, fleet)));
    }
    words.plain(".")
}

/// The fleet with the longest B10 against the runner-up and the first compared.
fn longest(report: &Report, all: &[&Fleet]) -> Words {
    let b10 = |fleet: &'_ Fleet| {
        milestone(&fleet.end, "B10").copied().unwrap_or(Bounds { estimate: None, low: None, high: None })
    };
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let (best, first) = (all[0], &report.fleets[0]);
    if all.len() == 1 {
        let words = Words::from("The B10 life (a tenth of the clutches have failed by then) is ");
        return lasts(words, &b10(best), best.horizon).plain(".");
    }
    let words =
        Words::from("The B10 life (a tenth of the clutches have failed by then) is longest with ").strong(called(best));
    let mut words = lasts(words.plain(": "), &b10(best), best.horizon);
    let rival = all[1];
    words = lasts(words.plain(", against "), &b10(rival), rival.horizon).plain(" with ").strong(called(rival));
    if !std::ptr::eq(best, first) && !std::ptr::eq(rival, first) {
        words = lasts(words.plain(" and "), &b10(first), first.horizon)
            .plain(" with the first compared, ")
            .strong(called(first));
    }
    words.plain(if overlap(&b10(best), &b10(rival)) {
        format!("; the bounds overlap, so that {} clutches each do not tell them apart for sure.", report.clutches)
    } else {
        "; the bounds lie apart.".to_owned()
    })
}

/// The most frequent first failure, once where all fleets share it.
fn causes_in_words(all: &[&Fleet]) -> Option<Words> {
    let each: Vec<(Vec<&str>, f64)> = all.iter().filter_map(|fleet| fails(fleet)).collect();
    let (parts, _) = each.first()?;
    let called = |parts: &[&str]| {
        let named =
            |part: &&str| if *part == "oil" { "lack of oil".to_owned() } else { format!("the {part} worn out") };
        listed(&parts.iter().map(named).collect::<Vec<_>>())
    };
    let words = Words::from("The most frequent first failure is ").strong(called(parts));
    let same: Vec<f64> = each.iter().filter(|e| e.0 == *parts).map(|e| e.1).collect();
    let (low, high) = same.iter().fold((1.0_f64, 0.0_f64), |(l, h), s| (l.min(*s), h.max(*s)));
    let range = if whole(low) == whole(high) { whole(high) } else { format!("{:.0} to {}", 100.0 * low, whole(high)) };
    let fleets =
        if same.len() < all.len() { format!(" of {} of {} fleets", same.len(), all.len()) } else { String::new() };
    Some(words.plain(format!(", in {range} of the clutches{fleets}.")))
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
        for ((fleet, row), shown) in report.fleets.iter().zip(&mut cells).zip(column(&times, 2)) {
            row.push(Cell::Number(shown));
            let b = of(fleet).filter(|b| b.low.or(b.high).is_some());
            row.push(b.map_or(Cell::Nothing, |b| Cell::Number(in_hours(&b))));
        }
    }
    let rows = cells.into_iter().enumerate().map(|(k, cells)| Row { cells, of: Some(k) }).collect();
    let horizon = report.fleets.iter().map(|f| f.horizon).fold(0.0, f64::max) / HOUR;
    let note = format!(
        "Hours of the duty, rests included, by which a tenth, half and nine tenths have failed, the oil at its end among the failures; – lies beyond the horizon of {}, or for too few clutches.",
        say::time(horizon * HOUR)
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
