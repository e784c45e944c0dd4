//! Sensitivities, ranked: table for the terminal, and files.

use crate::command::table::cautions;
use crate::command::terminal::{Set, strong, table, wrapped};
use crate::read::units::{celsius, fahrenheit};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Measure, Ranking};
use slipsoak_plots::words::failed::unranked;
use slipsoak_plots::words::say;
use std::fmt::Write as _;

/// Number of rows on a terminal; the files contain all.
const SHOWN: usize = 12;
/// Number of design rows below which the shares of variance are unreliable.
const FEW: u64 = 128;
/// Changes of life and service time, s, and of the lining's peak, K, that count as zero.
const LEAST: [f64; 3] = [1.0, 1.0, 0.1];
/// Length of the longest bar, characters.
const BAR: f64 = 12.0;

/// A table for each machine and duty, the largest sensitivity first.
pub fn text(influences: &Influences) -> String {
    let mut text = strong(wrapped(&influences.head.title, 0).trim_end()) + "\n";
    if let Some(said) = unranked(influences) {
        text.push('\n');
        text += &wrapped(&said.text(), 0);
    }
    for ranking in &influences.rankings {
        let of = format!("{}, {}: all nominal, {}", ranking.variant, ranking.duty, nominal(ranking));
        let _ = writeln!(text, "\n{}\n{}", wrapped(&of, 0), rows(ranking, influences.rows > 0));
        text += &wrapped(&unmoved(ranking), 0);
        if ranking.beyond > 0 {
            let cut = "of the design's runs outlived the horizon and count as ending there: shares of variance are of the life cut so.";
            text += &wrapped(&format!("{} {cut}", ranking.beyond), 0);
        }
    }
    let mut note = String::from(
        "P10 to P90 (the values that 10 and 90 % lie below): one setting at a time, all else nominal; * spread by the script, else assumed. End: the first worn part, oil set apart; a bar shows how far it is moved. ",
    );
    if influences.rows > 0 {
        let _ = write!(
            note,
            "First: share of the life's variance that goes if this alone is known; total: that stays if this alone is not; ± one standard error, from {} rows. ",
            influences.rows
        );
        if influences.rows < FEW {
            let _ = write!(note, "Fewer than {FEW} rows: the shares mean little. ");
        }
    }
    let leakage = slipsoak_plots::words::assumed::leakage();
    let _ = write!(note, "Spreads of assumed constants are guesses, the end leakage's ({leakage}) most of all.");
    format!("{text}\n{}{}", wrapped(&note, 0), cautions())
}

/// The settings with at least a hundredth of the largest effect on any measure, sorted by their effect on the life,
/// then on the oil's service and the lining's peak.
fn moving(ranking: &Ranking) -> Vec<&Influence> {
    let swing = |i: &Influence| Measure::ALL.map(|measure| i.swing(measure, ranking.horizon));
    let most = ranking.influences.iter().map(swing).fold([0.0_f64; 3], |m, s| [0, 1, 2].map(|k| m[k].max(s[k])));
    let share = |i: &Influence| {
        let own = swing(i);
        [0, 1, 2].map(|k| if most[k] > LEAST[k] { own[k] / most[k] } else { 0.0 })
    };
    let mut all: Vec<&Influence> =
        ranking.influences.iter().filter(|i| share(i).iter().any(|part| *part > 0.01)).collect();
    all.sort_by(|a, b| {
        let (a, b) = (share(a), share(b));
        b[0].total_cmp(&a[0]).then((b[1] + b[2]).total_cmp(&(a[1] + a[2])))
    });
    all
}

/// Number of settings that are not in the table, and the reason.
fn unmoved(ranking: &Ranking) -> String {
    let moving = moving(ranking);
    let mut said = vec![];
    if moving.len() > SHOWN {
        said.push(format!("{} that move it less are in influence.csv.", moving.len() - SHOWN));
    }
    let still = ranking.influences.iter().filter(|i| i.swing(Measure::End, ranking.horizon) <= LEAST[0]).count();
    match ranking.horizon {
        Some(horizon) if still > 0 && ranking.nominal.end.is_none() => said.push(format!(
            "{still} settings do not move the end within {}: repeat the duty for longer.",
            say::time(horizon)
        )),
        _ if still > 0 => said.push(format!("{still} settings do not move the end.")),
        _ => {}
    }
    said.join(" ")
}

fn nominal(ranking: &Ranking) -> String {
    let end = time(Measure::End, &ranking.nominal, ranking.horizon);
    let by = ranking.nominal.ended_by.map_or_else(String::new, |part| format!(" ({part})"));
    format!("end {end}{by}, oil due {}", time(Measure::Service, &ranking.nominal, ranking.horizon))
}

/// A time of an answer in hours, marked if it lies beyond the horizon.
fn time(measure: Measure, answer: &Answer, horizon: Option<f64>) -> String {
    let seen = if measure == Measure::End { answer.end } else { answer.service_due };
    match (seen, measure.of(answer, horizon)) {
        (Some(time), _) => say::time(time),
        (None, Some(cut)) => format!("> {}", say::time(cut)),
        (None, None) => "–".to_owned(),
    }
}

fn rows(ranking: &Ranking, shares: bool) -> String {
    let mut heads = vec![
        ("setting", Set::Whole),
        ("end", Set::Whole),
        ("oil due", Set::Whole),
        ("lining peak\n°C (°F)", Set::Numbers),
    ];
    if shares {
        heads.extend([("first\ntotal", Set::Numbers)]);
    }
    let mut all = vec![];
    let swing = |i: &Influence| i.swing(Measure::End, ranking.horizon);
    let most = ranking.influences.iter().map(swing).fold(1e-9, f64::max);
    for influence in moving(ranking).into_iter().take(SHOWN) {
        let both = |of: &dyn Fn(&Answer) -> String| {
            let (low, high) = (of(&influence.low), of(&influence.high));
            if low == high { low } else { format!("{} to {high}", low.trim_end_matches("\u{a0}h")) }
        };
        let mut row = vec![
            name(influence),
            format!(
                "{}\n{}",
                both(&|answer| time(Measure::End, answer, ranking.horizon)),
                "█".repeat((BAR * swing(influence) / most).round() as usize)
            ),
            both(&|answer| time(Measure::Service, answer, ranking.horizon)),
            peaks(influence),
        ];
        if shares {
            let share = |value: Option<(f64, f64)>| {
                value.map_or_else(|| "–".to_owned(), |(share, error)| format!("{share:.2} ± {error:.2}"))
            };
            let first = share(influence.end.map(|i| (i.first, i.first_error)));
            row.push(format!("{first}\n{}", share(influence.end.map(|i| (i.total, i.total_error)))));
        }
        all.push(row);
    }
    table(&heads, all)
}

/// The lining's peaks at both ends, °C above °F.
fn peaks(influence: &Influence) -> String {
    let both = |of: fn(f64) -> f64| {
        let [low, high] = [&influence.low, &influence.high].map(|answer| format!("{:.0}", of(answer.lining_peak)));
        if low == high { low } else { format!("{low} to {high}") }
    };
    format!("{}\n({})", both(celsius), both(fahrenheit))
}

/// Name of a variable, marked if its spread is defined in the script.
fn name(influence: &Influence) -> String {
    format!("{}{}", in_words(&influence.draw), if influence.by_script { " *" } else { "" })
}
