//! The table of costs at equal accuracy, in Markdown.

use crate::contest::{Class, Contestant, Score};
use std::fmt::Write;

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
