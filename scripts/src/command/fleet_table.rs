//! Tables of fleets for the terminal.

use crate::command::table::{BAR, NONE, cautions, headed, names, of_whom};
use crate::command::terminal::{Set, bar, table, wrapped};
use slipsoak_engine::fleet::{Fleet, Milestone, Paired, Report};
use slipsoak_engine::statistics::Bounds;
use slipsoak_plots::words::fleet as words;
use slipsoak_plots::words::say::figures;

/// One row per fleet.
pub fn fleets(report: &Report) -> String {
    let pairs: Vec<(&str, &str)> = report.fleets.iter().map(|f| (f.variant.as_str(), f.duty.as_str())).collect();
    let (names, kind, mut shared) = names(&pairs);
    shared.push(format!("{} clutches each, seed {}", report.clutches, report.head.seeds_listed()));
    // Calendar hours are shown beside running hours only if they differ.
    let rests = report.fleets.iter().any(|fleet| fleet.running_share < 0.9);
    let mut heads = vec![(kind, Set::Words), ("worn out\nB10, h", Set::Whole), ("B50, h", Set::Whole)];
    heads.extend(rests.then_some(("B10 by the\ncalendar", Set::Whole)));
    heads.extend([("oil due\nB10, h", Set::Whole), ("B50, h", Set::Whole), ("first worn\nout, %", Set::Whole)]);
    let widest = report.fleets.iter().flat_map(|f| &f.first).map(|s| s.name().chars().count()).max().unwrap_or(0);
    let causes = |fleet: &Fleet| -> String {
        let line = |s: &slipsoak_engine::fleet::Share| {
            format!("{:<widest$} {:>3.0} {}", s.name(), 100.0 * s.share, bar(s.share, BAR))
        };
        fleet.first.iter().map(line).collect::<Vec<_>>().join("\n")
    };
    let row = |(fleet, name): (&Fleet, &String)| {
        let followed = fleet.horizon * fleet.running_share;
        let worn = |which| bounded(&fleet.end_running, which, Some(followed));
        let calendar = bounded(&fleet.end, "B10", Some(fleet.horizon));
        let calendar = calendar.lines().next().unwrap_or(NONE).to_owned();
        let due = |which| bounded(&fleet.service_running, which, None);
        let mut row = vec![name.clone(), worn("B10"), worn("B50")];
        row.extend(rests.then_some(calendar));
        row.extend([due("B10"), due("B50"), causes(fleet)]);
        row
    };
    let rows = report.fleets.iter().zip(&names).map(row).collect();
    let mut text = headed(&report.head.title, &shared) + "\n";
    // Sentences on the first worn part and on when oil is due.
    for words in words::answer(report).iter().take(2) {
        text += &wrapped(&words.text(), 0);
    }
    text.push('\n');
    if let Some(said) = words::missing(report) {
        text += &(wrapped(&said.text(), 0) + "\n");
    }
    text += &(table(&heads, rows) + "\n");
    let mut said: Vec<(String, Vec<&str>)> = Vec::new();
    for (fleet, name) in report.fleets.iter().zip(&names) {
        let distribution = words::distribution(fleet).text();
        match said.iter_mut().find(|s| s.0 == distribution) {
            Some(known) => known.1.push(name),
            None => said.push((distribution, vec![name])),
        }
    }
    for (statement, fleets) in said {
        text += &wrapped(&of_whom(&fleets, names.len(), "fleet", &statement), 2);
    }
    text += &pairs_of(report);
    text += &wrapped(
        &format!(
            "B10, B50: hours of running by which 10 and 50 % have a part worn out, oil set apart, and by which their oil is due for service; below each the 90 % bounds that assume no distribution. – is not reached: for the oil before a part is worn out or the end. The spread of the end leakage ({}) is a guess that nobody has measured.",
            slipsoak_plots::words::assumed::leakage()
        ),
        0,
    );
    text.push_str(&cautions());
    text
}

/// Comparison of each fleet with its reference, clutch by clutch; empty for a single fleet.
fn pairs_of(report: &Report) -> String {
    let mut text = String::new();
    let mut rest = report.pairs.as_slice();
    while let Some(first) = rest.first() {
        let same = rest.iter().take_while(|pair| pair.against == first.against).count();
        let (these, others) = rest.split_at(same);
        text += &against_one(these, &first.against);
        rest = others;
    }
    if !text.is_empty() {
        text += &wrapped(
            "Medians of the pairs in hours of running, oil set apart, below each the 90 % bounds (order statistics), – where the horizon hides them; gain: clutches that last longer; p: how often as lopsided a count would come about if neither were better.",
            0,
        );
    }
    text
}

/// Comparison of fleets that all have the same reference.
fn against_one(pairs: &[Paired], (variant, duty): &(String, String)) -> String {
    let all: Vec<(&str, &str)> = std::iter::once((variant.as_str(), duty.as_str()))
        .chain(pairs.iter().map(|p| (p.variant.as_str(), p.duty.as_str())))
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
    let rows = pairs.iter().zip(&names[1..]).map(row).collect();
    let mut text = wrapped(&format!("Against {}, compared on the same sampled clutches:", names[0]), 0);
    text += &table(&heads, rows);
    for (pair, name) in pairs.iter().zip(&names[1..]) {
        text += &wrapped(&format!("{name}: {}.", words::gain(&pair.end).text()), 2);
    }
    text
}

/// An estimate with its bounds below.
fn spread(bounds: &Bounds, show: impl Fn(f64) -> String) -> String {
    let estimate = bounds.estimate.map_or_else(|| NONE.to_owned(), &show);
    match (bounds.low.map(&show), bounds.high.map(&show)) {
        (Some(low), Some(high)) => format!("{estimate}\n{low} to {high}"),
        (Some(low), None) => format!("{estimate}\n≥ {low}"),
        (None, Some(high)) => format!("{estimate}\n≤ {high}"),
        (None, None) => estimate,
    }
}

/// A time in hours with its bounds below; if it is not reached, its lower limit, if known.
fn bounded(set: &[Milestone], name: &str, more_than: Option<f64>) -> String {
    let hours = |seconds: f64| figures(seconds / 3600.0, 2);
    let Some(m) = set.iter().find(|m| m.name == name) else { return NONE.to_owned() };
    let Some(estimate) = m.time.estimate else {
        return more_than.map_or_else(|| NONE.to_owned(), |least| format!("> {}", hours(least)));
    };
    spread(&Bounds { estimate: Some(estimate), ..m.time }, hours)
}
