//! The page of a fleet study: many clutches of each machine, with the time and part of their first failure.

use crate::figures::Drawn;
use crate::figures::fleet::{bounds, followed, milestone, name, ranked, reference, worn_share};
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::origin::{asked, closing};
use crate::words::assumed::spreads;
use crate::words::cautions::Caution;
use crate::words::number::column;
use crate::words::text::Words;
use crate::words::text::listed;
use slipsoak_engine::fleet::{Fleet, Gain, Milestone, Paired, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::say;
use slipsoak_engine::statistics::Bounds;
use slipsoak_engine::units::HOUR;

/// Largest number of fleets that are all listed with the time at which oil is due.
const FEW: usize = 4;

impl Page {
    /// The page of a fleet study's report.
    pub(crate) fn of_fleets(report: &Report, figures: Drawn) -> Self {
        let mut sections = vec![
            Section::new("Figures", pictures(figures)),
            Section::new("Results", results(report)),
            Section::new("Clutch for clutch", gains(report)),
            Section::new("Distributions", vec![Block::List(statements(report))]),
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
    let told = |pair: &Paired| {
        let who = format!("{}, {} against {}, {}", pair.variant, pair.duty, pair.against.0, pair.against.1);
        Words::default().strong(who).plain(format!(": {}.", pair.end.statement))
    };
    if report.pairs.is_empty() { vec![] } else { vec![Block::List(report.pairs.iter().map(told).collect())] }
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

/// Whether two percentiles may be equal within their bounds.
fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.low.unwrap_or(0.0) <= b.high.unwrap_or(f64::INFINITY) && b.low.unwrap_or(0.0) <= a.high.unwrap_or(f64::INFINITY)
}

/// A share in whole per cent.
fn whole(share: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * share)
}

/// The part that most often wears out first; several if equally frequent.
fn wears(fleet: &Fleet) -> Option<(Vec<Part>, f64)> {
    let worn = || fleet.first.iter().filter(|s| s.part.is_some());
    let most = worn().max_by_key(|s| s.clutches)?;
    Some((worn().filter(|s| s.clutches == most.clutches).filter_map(|s| s.part).collect(), most.share))
}

/// B10 in running hours.
fn b10(fleet: &Fleet) -> Bounds {
    milestone(&fleet.end_running, "B10")
}

/// The words followed by a running time with its bounds, and the calendar time.
fn lasts(words: Words, fleet: &Fleet) -> Words {
    let b = b10(fleet);
    let Some(running) = b.estimate else {
        return words.strong(format!("more than {} of running", say::time(followed(fleet))));
    };
    let calendar = milestone(&fleet.end, "B10").estimate.filter(|calendar| *calendar > 1.1 * running);
    let calendar = calendar.map(|calendar| format!("{} by the calendar", say::time(calendar)));
    let spread = bounds(&b).unwrap_or_else(|| "too few clutches for bounds".to_owned());
    let spread = std::iter::once(spread).chain(calendar).collect::<Vec<_>>().join("; ");
    words.strong(format!("{} of running", say::time(running))).plain(format!(" ({spread})"))
}

/// Answer of a fleet study, the most important first.
pub fn answer(report: &Report) -> Vec<Words> {
    if report.fleets.is_empty() {
        return vec![];
    }
    if report.fleets.iter().any(|fleet| fleet.outcomes.is_empty()) {
        return vec!["A fleet has no clutches: nothing is known of when its parts are worn out.".into()];
    }
    let all: Vec<&Fleet> = ranked(report).into_iter().map(|k| &report.fleets[k]).collect();
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let mut said = vec![if all.iter().all(|fleet| worn_share(fleet) == 0.0) {
        nothing_wears_out(report)
    } else if all.iter().any(|fleet| b10(fleet).estimate.is_none()) {
        shares_worn(report, &all)
    } else {
        longest(report, &all)
    }];
    said.push(oil(report, &all));
    let best = all[0];
    let pair = report.pairs.iter().find(|p| p.variant == best.variant && p.duty == best.duty);
    if let Some(pair) = pair.filter(|p| p.end.shorter + p.end.longer > 0) {
        let held = report.fleets.iter().find(|f| (&f.variant, &f.duty) == (&pair.against.0, &pair.against.1));
        let against = held.map_or_else(|| format!("“{}”", pair.against.0), called);
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
        Words::from("The oil is set apart, as in single runs: at its limit it is due for service, and the clutch goes on; a bushing that is not oiled then wears faster. Bounds hold at 90 % and assume no distribution, but the spreads are ")
            .strong("assumed")
            .plain(format!(": above all that of the end leakage ({}), which nobody has measured; comparisons depend on them less, since all fleets share the same samples.", crate::words::assumed::leakage())),
    );
    said
}

/// Times at which oil is due: for each of a few fleets, else for the longest-lived, the next and the reference.
fn oil(report: &Report, all: &[&Fleet]) -> Words {
    let first = &report.fleets[reference(report).0];
    let named: Vec<&Fleet> = match all {
        [best, rival, ..] if all.len() > FEW => {
            let mut named = vec![*best, *rival];
            if !named.iter().any(|fleet| std::ptr::eq(*fleet, first)) {
                named.push(first);
            }
            named
        }
        _ => all.to_vec(),
    };
    if all.iter().all(|fleet| fleet.outcomes.iter().all(|o| o.service_due.is_none())) {
        return Words::from("The oil is due for service in none of them by then.");
    }
    let mut words = Words::from("The oil is due for service in a tenth of the clutches, and in half of them,");
    for (k, fleet) in named.iter().enumerate() {
        words = words.plain(if k > 0 { "; " } else { " " });
        if report.fleets.len() > 1 {
            words = words.plain("with ").strong(format!("“{}”", name(report, fleet))).plain(" ");
        }
        let [tenth, half] = ["B10", "B50"].map(|name| milestone(&fleet.service_running, name));
        words = if let Some(t) = tenth.estimate {
            let spread = bounds(&tenth).map_or_else(String::new, |b| format!(" ({b})"));
            let half = half.estimate.map_or_else(|| "not by the end".to_owned(), say::time);
            words.plain("after ").strong(format!("{} of running", say::time(t))).plain(format!("{spread}, and {half}"))
        } else {
            let due = fleet.outcomes.iter().filter(|o| o.service_due.is_some()).count();
            words.plain(format!("not by the end ({due} of {})", fleet.outcomes.len()))
        };
    }
    words.plain(".")
}

/// Number of clutches in both fleets.
fn compared(gain: &Gain) -> u64 {
    gain.longer + gain.shorter + gain.alike + gain.unknown
}

fn nothing_wears_out(report: &Report) -> Words {
    let clutches = report.fleets.iter().map(|fleet| fleet.outcomes.len()).min().unwrap_or(0);
    let fleets = if report.fleets.len() > 1 { " of each fleet" } else { "" };
    Words::from("None of the ")
        .strong(clutches.to_string())
        .plain(format!(" clutches{fleets} wears a part out within "))
        .strong(shortest(report.fleets.iter()))
        .plain(", oil set apart: repeat the duty for longer to see which lasts longest.")
}

/// Simulated time of the fleet with the shortest one: running time and calendar time.
fn shortest<'a>(fleets: impl Iterator<Item = &'a Fleet>) -> String {
    let least = fleets.min_by(|a, b| followed(a).total_cmp(&followed(b)));
    least.map_or_else(String::new, |fleet| say::life(followed(fleet), fleet.horizon))
}

/// Numbers of clutches with a worn-out part, fewest first, if not every fleet has a B10 within the horizon.
fn shares_worn(report: &Report, all: &[&Fleet]) -> Words {
    let mut words =
        Words::from("Within ").strong(shortest(all.iter().copied())).plain(" a part is worn out, oil set apart, in ");
    for (k, fleet) in all.iter().enumerate() {
        let none = fleet.first.iter().find(|s| s.part.is_none());
        let (low, high) = none.map_or((1.0, 1.0), |s| (1.0 - s.high, 1.0 - s.low));
        words = words.plain(if k > 0 { ", " } else { "" }).strong(whole(worn_share(fleet))).plain(format!(
            " ({} to {}) of the clutches",
            whole(low.max(0.0)),
            whole(high)
        ));
        if report.fleets.len() > 1 {
            words = words.plain(" with ").strong(format!("“{}”", name(report, fleet)));
        }
        if b10(fleet).estimate.is_some() {
            words = lasts(words.plain(", in a tenth of them after "), fleet);
        }
    }
    words.plain(if all.len() == 1 { ": fewer than 1 in 10." } else { "." })
}

/// The fleet with the longest B10, compared with the runner-up and the reference.
fn longest(report: &Report, all: &[&Fleet]) -> Words {
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let (at, role) = reference(report);
    let (best, first) = (all[0], &report.fleets[at]);
    let b10_life = "The B10 life (a tenth of the clutches have a part worn out by then, oil set apart) is ";
    if all.len() == 1 {
        return lasts(Words::from(b10_life), best).plain(".");
    }
    let words = Words::from(format!("{b10_life}longest with ")).strong(called(best));
    let mut words = lasts(words.plain(": "), best);
    let rival = all[1];
    words = lasts(words.plain(", against "), rival).plain(" with ").strong(called(rival));
    if !std::ptr::eq(best, first) && !std::ptr::eq(rival, first) {
        words = lasts(words.plain(" and "), first).plain(format!(" with {role}, ")).strong(called(first));
    }
    words.plain(if overlap(&b10(best), &b10(rival)) {
        format!("; the bounds overlap, so that {} clutches each do not tell them apart for sure.", report.clutches)
    } else {
        "; the bounds lie apart.".to_owned()
    })
}

/// The most frequent first worn part, given once if all fleets have the same.
fn causes_in_words(all: &[&Fleet]) -> Option<Words> {
    let each: Vec<(Vec<Part>, f64)> = all.iter().filter_map(|fleet| wears(fleet)).collect();
    let (parts, _) = each.first()?;
    let called = |parts: &[Part]| {
        let named = |part: &Part| {
            if *part == Part::Charring { "the charred washer".to_owned() } else { format!("the {part}") }
        };
        listed(&parts.iter().map(named).collect::<Vec<_>>())
    };
    let words = Words::from("The most frequent first worn part is ").strong(called(parts));
    let same: Vec<f64> = each.iter().filter(|e| e.0 == *parts).map(|e| e.1).collect();
    let (low, high) = same.iter().fold((1.0_f64, 0.0_f64), |(l, h), s| (l.min(*s), h.max(*s)));
    let range = if whole(low) == whole(high) { whole(high) } else { format!("{:.0} to {}", 100.0 * low, whole(high)) };
    let fleets =
        if same.len() < all.len() { format!(" of {} of {} fleets", same.len(), all.len()) } else { String::new() };
    Some(words.plain(format!(", in {range} of the clutches{fleets}.")))
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

fn statements(report: &Report) -> Vec<Words> {
    let each = |f: &Fleet| Words::default().strong(name(report, f)).plain(format!(": {}", f.statement));
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
