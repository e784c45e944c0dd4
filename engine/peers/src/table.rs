//! The table of costs at equal accuracy, in Markdown.

use crate::contest::{Class, Contestant, Score};
use slipsoak_engine::simulate::Tolerance;
use std::fmt::Write;

/// Every tolerance that was tried, as CSV: shares of the two classes that the errors take, and the processor time of all cases.
pub fn tried(curves: &[(&str, &[Score])]) -> String {
    let mut text =
        "integrator,tolerance of speeds,tolerance of rest,share of runs,share of lives,time [ms]\n".to_owned();
    for (name, scores) in curves {
        for score in *scores {
            let [runs, lives] = [Class::Runs, Class::Lives].map(|class| score.share(class));
            let Tolerance { speeds, rest, .. } = score.tolerance;
            let _ = writeln!(text, "\"{name}\",{speeds},{rest},{runs:.4},{lives:.4},{:.1}", score.time);
        }
    }
    text
}

/// Rows: contestants with their scores on the cases chosen and apart, and medians of their times on both, ms. The first is
/// the stepper as shipped, the second at its own cheapest tolerance.
pub fn of(class: Class, entries: &[(&Contestant, Score)], apart: &[Option<Score>], spent: &[Vec<f64>; 2]) -> String {
    let head = match class {
        Class::Runs => "Class of single runs: lining peak 0.5 K, other temperatures 0.1 K, wear 0.1 %, fill 1e-3",
        Class::Lives => "Class of lives: wear 0.3 %",
    };
    let mut text = format!(
        "{head}\n\n| integrator | tolerance: speeds, rest | chosen: share of class | ms | over the shipped stepper | \
         kept apart: share | ms | over |\n|---|---|---|---|---|---|---|---|\n"
    );
    for (k, (contestant, score)) in entries.iter().enumerate() {
        let shipped = if k == 0 { ", as shipped" } else { "" };
        let other = apart[k].map_or("fails".to_owned(), |score| format!("{:.2}", score.share(class)));
        let times = |set: usize| {
            let time = spent[set][k];
            if time.is_nan() { "– | –".to_owned() } else { format!("{time:.0} | {:.2}", time / spent[set][0]) }
        };
        let t = score.tolerance;
        let own = score.share(class);
        let _ = writeln!(
            text,
            "| {}{shipped} | {}, {} | {own:.2} | {} | {other} | {} |",
            contestant.name,
            t.speeds,
            t.rest,
            times(0),
            times(1)
        );
    }
    text.push('\n');
    text
}
