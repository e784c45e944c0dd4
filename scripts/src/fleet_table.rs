//! Tables of fleets for the terminal.

use crate::table::{BAR, NONE, cautions, headed, names, of_whom};
use crate::terminal::{Set, bar, table, wrapped};
use slipsoak_engine::fleet::{Fleet, Milestone, Paired, Report};
use slipsoak_engine::say::figures;
use slipsoak_engine::statistics::Bounds;

/// One row per fleet.
pub fn fleets(report: &Report) -> String {
    let pairs: Vec<(&str, &str)> = report.fleets.iter().map(|f| (f.variant.as_str(), f.duty.as_str())).collect();
    let (names, kind, mut shared) = names(&pairs);
    shared.push(format!("{} clutches each, seed {}", report.clutches, report.seed));
    let heads = [
        (kind, Set::Words),
        ("B10\nh", Set::Whole),
        ("B50\nh", Set::Whole),
        ("B90\nh", Set::Whole),
        ("oil due\nB10, h", Set::Whole),
        ("first to fail\n%", Set::Whole),
    ];
    let widest = report.fleets.iter().flat_map(|f| &f.first).map(|s| s.part.chars().count()).max().unwrap_or(0);
    let causes = |fleet: &Fleet| -> String {
        let line = |s: &slipsoak_engine::fleet::Share| {
            format!("{:<widest$} {:>3.0} {}", s.part, 100.0 * s.share, bar(s.share, BAR))
        };
        fleet.first.iter().map(line).collect::<Vec<_>>().join("\n")
    };
    let row = |(fleet, name): (&Fleet, &String)| {
        let times = [(&fleet.end, "B10"), (&fleet.end, "B50"), (&fleet.end, "B90"), (&fleet.service, "B10")];
        let times = times.map(|(set, which)| bounded(set, which));
        std::iter::once(name.clone()).chain(times).chain([causes(fleet)]).collect()
    };
    let rows = report.fleets.iter().zip(&names).map(row).collect();
    let mut text = headed(&report.title, &shared) + "\n";
    if let Some(words) = slipsoak_plots::report::answer_of_fleets(report).first() {
        text += &(wrapped(&words.text(), 0) + "\n");
    }
    if let Some(said) = report.left_out() {
        text += &(wrapped(&said, 0) + "\n");
    }
    text += &(table(&heads, rows) + "\n");
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for (fleet, name) in report.fleets.iter().zip(&names) {
        match said.iter_mut().find(|s| s.0 == fleet.statement) {
            Some(known) => known.1.push(name),
            None => said.push((&fleet.statement, vec![name])),
        }
    }
    for (statement, fleets) in said {
        text += &wrapped(&of_whom(&fleets, names.len(), "fleet", statement), 2);
    }
    text += &pairs_of(report);
    text += &wrapped(
        "B10, B50, B90: hours of the duty, rests included, by which 10, 50 and 90 % have failed; below each the 90 % bounds that assume no distribution; – lies beyond the horizon, or for too few clutches. The oil counts: at its end it is a service missed, not wear. The spread of the end leakage (0.006 to 2 per hour) is a guess that nobody has measured.",
        0,
    );
    text.push_str(&cautions());
    text
}

/// What each fleet gains over the first, clutch for clutch; nothing where there is but one.
fn pairs_of(report: &Report) -> String {
    let Some(first) = report.pairs.first() else { return String::new() };
    let (variant, duty) = &first.against;
    let all: Vec<(&str, &str)> = std::iter::once((variant.as_str(), duty.as_str()))
        .chain(report.pairs.iter().map(|p| (p.variant.as_str(), p.duty.as_str())))
        .collect();
    let (names, kind, _) = names(&all);
    let heads = [
        (kind, Set::Words),
        ("life,\ntimes", Set::Whole),
        ("life,\nh more", Set::Whole),
        ("oil due,\ntimes", Set::Whole),
        ("gain\n%", Set::Numbers),
        ("p (sign\ntest)", Set::Numbers),
    ];
    let row = |(pair, name): (&Paired, &String)| {
        let times = |bounds: &Bounds| spread(bounds, |v| format!("{v:.2}"));
        vec![
            name.clone(),
            times(&pair.end.ratio),
            spread(&pair.end.difference, |v| figures(v / 3600.0, 2)),
            times(&pair.service.ratio),
            format!("{:.0}", 100.0 * pair.end.gaining.share),
            if pair.end.chance < 0.001 { "< 0.001".to_owned() } else { format!("{:.3}", pair.end.chance) },
        ]
    };
    let rows = report.pairs.iter().zip(&names[1..]).map(row).collect();
    let mut text = wrapped(&format!("Against {}, compared on the same sampled clutches:", names[0]), 0);
    text += &table(&heads, rows);
    for (pair, name) in report.pairs.iter().zip(&names[1..]) {
        text += &wrapped(&format!("{name}: {}.", pair.end.statement), 2);
    }
    text += &wrapped(
        "Medians of the pairs, below each the 90 % bounds (order statistics), – where the horizon hides them; gain: clutches that last longer; p: how often as lopsided a count would come about if neither were better.",
        0,
    );
    text
}

/// An estimate, and below it its bounds.
fn spread(bounds: &Bounds, show: impl Fn(f64) -> String) -> String {
    let shown = |value: Option<f64>| value.map_or_else(|| NONE.to_owned(), &show);
    format!("{}\n{} to {}", shown(bounds.estimate), shown(bounds.low), shown(bounds.high))
}

/// A time in hours, and below it its bounds.
fn bounded(set: &[Milestone], name: &str) -> String {
    let hours = |seconds: f64| figures(seconds / 3600.0, 2);
    let Some(m) = set.iter().find(|m| m.name == name) else { return NONE.to_owned() };
    let bounds = match (m.time.low, m.time.high) {
        (Some(low), Some(high)) => format!("\n{} to {}", hours(low), hours(high)),
        (Some(low), None) => format!("\n≥ {}", hours(low)),
        (None, Some(high)) => format!("\n≤ {}", hours(high)),
        (None, None) => String::new(),
    };
    format!("{}{bounds}", m.time.estimate.map_or_else(|| NONE.to_owned(), hours))
}
