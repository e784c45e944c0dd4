//! How two results differ, in sentences.

use crate::words::number::figures;
use crate::words::say;
use crate::words::text::Words;

/// What two results are called.
pub const ORDER: [&str; 2] = ["first", "second"];

/// Ratio of lives within which they are alike.
const ALIKE: f64 = 1.02;

/// Where nothing differs.
pub fn same() -> Words {
    "Nothing differs: machines, duties, settings, answer and numbers are the same.".into()
}

/// The two answers, or the one that both give.
pub fn answers([first, second]: [&[Words]; 2]) -> Vec<Words> {
    if first == second {
        return first
            .first()
            .map(|said| Words::from("Both give the same answer: ").and(said.clone()))
            .into_iter()
            .collect();
    }
    let told = |which: &str, answer: &[Words]| {
        let said = Words::joined(answer.iter().take(2).cloned().collect(), " ");
        Words::default().strong(format!("The {which} says")).plain(": ").and(said)
    };
    vec![told(ORDER[0], first), told(ORDER[1], second)]
}

/// How lives differ: of each item its name and both, s; those that differ by most first.
pub fn lives(mut all: Vec<(String, f64, f64)>) -> Option<Words> {
    let away = |life: &(String, f64, f64)| (life.2 / life.1).ln().abs();
    all.sort_by(|a, b| away(b).total_cmp(&away(a)));
    let (name, first, second) = all.first()?;
    let more = match all.len() {
        1 => String::new(),
        n => format!("; {} others differ too, by less", n - 1),
    };
    if away(&all[0]) < ALIKE.ln() {
        return Some(format!("Lives differ by less than 2 %{more}.").into());
    }
    let lasts = format!("“{name}” lasts {} times as long in the second", figures(second / first, 2));
    Some(Words::default().strong(lasts).plain(format!(
        ": {} of running against {} in the first{more}. With the same wear constants in both, the ratio is surer than the hours.",
        say::lasts(*second),
        say::lasts(*first)
    )))
}
