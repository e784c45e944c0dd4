//! How two results differ, in sentences.

use crate::words::number::figures;
use crate::words::reading::end;
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::record::Run;

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

/// One value of the answer, of whatever stands in both results.
pub struct Measure {
    /// its name and unit
    pub heading: String,
    /// a value in words
    pub words: fn(f64) -> String,
    /// whether its scale begins at zero
    pub from_zero: bool,
    /// its limit in the second result, and what that is called
    pub limit: Option<(f64, &'static str)>,
    /// of whom, and the value in the first and the second
    pub rows: Vec<(String, [Option<f64>; 2])>,
}

/// A run of the first result and its twin of the second.
pub struct Pair<'a> {
    /// what both are called
    pub name: String,
    /// the first
    pub first: &'a Run,
    /// the second
    pub second: &'a Run,
}

impl Pair<'_> {
    /// Both lives, running time, s, where both end.
    fn lives(&self) -> Option<[f64; 2]> {
        Some([end(self.first)?.running, end(self.second)?.running])
    }

    /// How far the lives are apart, as a logarithm.
    fn away(&self) -> f64 {
        self.lives().map_or(0.0, |[first, second]| (second / first).ln().abs())
    }
}

/// The pair whose lives differ by most, and how many others differ; none if no lives do.
fn farthest<'a, 'b>(pairs: &'a [Pair<'b>]) -> Option<(&'a Pair<'b>, [f64; 2], usize)> {
    let differing: Vec<&Pair<'_>> = pairs.iter().filter(|pair| pair.away() > 0.0).collect();
    let most = differing.iter().copied().reduce(|most, pair| if pair.away() > most.away() { pair } else { most })?;
    Some((most, most.lives()?, differing.len() - 1))
}

/// The finding that heads a figure of both.
pub fn finding(pairs: &[Pair<'_>]) -> String {
    match farthest(pairs) {
        Some((most, [first, second], _)) if most.away() >= ALIKE.ln() => lasts(most, first, second),
        _ => "Lives are alike in both".to_owned(),
    }
}

/// The finding where no lives of runs differ: the first value of the answer that does, of the first for which it does.
pub fn moved(measures: &[Measure]) -> String {
    let of = |measure: &Measure| {
        measure.rows.iter().find_map(|(name, values)| {
            let [first, second] = values.map(|value| value.map_or_else(|| "none".to_owned(), measure.words));
            let what = measure.heading.split(',').next().unwrap_or_default();
            (first != second).then(|| format!("“{name}”, {what}: {first} → {second}"))
        })
    };
    measures.iter().find_map(of).unwrap_or_else(|| "The values of the answer are alike in both".to_owned())
}

/// Why no figure shows what differs.
pub fn undrawn(holds_answer: bool) -> Words {
    let why = if holds_answer {
        "nothing of the answer stands under one name in both results"
    } else {
        "a machine's sheet holds numbers but no answer"
    };
    format!("There is no figure, since {why}; the tables tell the differences.").into()
}

fn lasts(pair: &Pair<'_>, first: f64, second: f64) -> String {
    format!("“{}” lasts {} times as long in the second", pair.name, figures(second / first, 2))
}

/// How lives differ: the pair that differs by most.
pub fn lives(pairs: &[Pair<'_>]) -> Option<Words> {
    let (most, [first, second], others) = farthest(pairs)?;
    let more = match others {
        0 => String::new(),
        1 => "; one other differs too, by less".to_owned(),
        n => format!("; {n} others differ too, by less"),
    };
    if most.away() < ALIKE.ln() {
        return Some("Lives differ by less than 2 %.".into());
    }
    Some(Words::default().strong(lasts(most, first, second)).plain(format!(
        ": {} of running against {} in the first{more}. With the same wear constants in both, the ratio is surer than the hours.",
        say::lasts(second),
        say::lasts(first)
    )))
}

/// What differs in what was asked, of each line its name and both values; at most three.
pub fn asked(lines: &[(String, String, String)]) -> String {
    let one = |(what, first, second): &(String, String, String)| format!("{what} {first} → {second}");
    match lines {
        [] => "Asked alike.".to_owned(),
        few if few.len() <= 3 => format!("Changed: {}.", few.iter().map(one).collect::<Vec<_>>().join("; ")),
        many => format!(
            "Changed: {}; and {} more in the table.",
            many[..2].iter().map(one).collect::<Vec<_>>().join("; "),
            many.len() - 2
        ),
    }
}
