//! What an answer leans on: the assumed constants, how far each may be off, and what that does to the answer.

use crate::page::{Block, Cell, Head, Row, Table};
use crate::words::number::{quantity, three, times};
use crate::words::reading::setting;
use crate::words::text::Words;
use slipsoak_engine::fleet::{ASSUMED, Spread, Uncertain, assumed_factor};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::{Confidence, parameter};
use slipsoak_engine::record::{Record, Run};

/// Parts whose life goes in inverse proportion to one assumed constant, and that constant.
const PROPORTIONAL: [(Part, &str); 3] =
    [(Part::Lining, "lining.wear"), (Part::Washer, "washer.wear_oiled"), (Part::CoverGap, "washer.wear_oiled")];

/// What leans on the assumed constants whose path begins so.
const LEANS: [(&str, &str); 8] = [
    ("motor.idle", "whether the clutch drags at idle"),
    ("oiling.leak", "oil fill and time to service: the loss while it is small goes in proportion"),
    ("oiling.", "how much of what is put on stays, and where the rest goes"),
    ("lining.wear", "life of the lining, in inverse proportion"),
    ("bushing.wear_dry", "life of a bushing that has run dry, in inverse proportion"),
    ("washer.wear", "life of washer and cover gap, in inverse proportion"),
    ("heat.", "temperatures, and through them wear and oil"),
    ("clutch.relaxation", "life of the spring"),
];

/// The factor by which a part's life may be off for the constant that it leans on; none where it does not go in proportion.
pub fn off(part: Part) -> Option<f64> {
    PROPORTIONAL.iter().find(|p| p.0 == part).and_then(|p| assumed_factor(p.1))
}

/// The last sentence of an answer: the constants that it depends on.
pub fn sentence(record: &Record, ended_by: &[Part]) -> Words {
    let mut parts: Vec<(Part, f64)> = ended_by.iter().filter_map(|p| Some((*p, off(*p)?))).collect();
    parts.sort_by_key(|part| part.0);
    parts.dedup();
    let mut words = Words::from("These numbers rest on ").strong("assumed").plain(" constants: ");
    if !parts.is_empty() {
        let each = |p: &(Part, f64)| format!("the {}'s wear rate (÷ or × {})", p.0, p.1);
        words = words.plain(format!("life on {}, ", parts.iter().map(each).collect::<Vec<_>>().join(" and ")));
    }
    let leak = record.runs.iter().filter_map(|run| setting(run, "oiling.leak")).fold(0.0, f64::max);
    words = words.plain(format!(
        "oil on the end leakage, {} per hour (never measured; 0.006 to 2 is possible).",
        three(leak * 3600.0)
    ));
    let same = ended_by.windows(2).all(|w| w[0] == w[1]);
    words.plain(match record.runs.len() {
        1 => "",
        _ if same => " The ranking is more certain, since all runs share them.",
        _ => " The ranking depends on them too, since different parts are worn out first.",
    })
}

/// What the constant of a path is leaned on for.
fn leans(path: &str) -> &'static str {
    LEANS.iter().find(|l| path.starts_with(l.0)).map_or("", |l| l.1)
}

/// A spread in words: how it is drawn.
fn drawn(path: &str, spread: Spread) -> String {
    let width = |w: f64| {
        let Some(p) = parameter(path) else { return three(w) };
        match quantity(w, p.dimension) {
            Cell::Words(words) if p.dimension.unit() != "K" => words.text(),
            _ => format!("{} {}", three(w), p.dimension.unit()),
        }
    };
    match spread {
        Spread::Normal(w) => format!("normal, standard deviation {}", width(w)),
        Spread::Factor(f) => format!("÷ or × {}", three(f)),
        Spread::Uniform(w) => format!("± {}, evenly", width(w)),
        Spread::Triangular(w) => format!("± {}, the middle likeliest", width(w)),
    }
}

/// What a setting means, and its path.
fn named(path: &str) -> [Cell; 2] {
    [Cell::Words(Words::scaled(parameter(path).map_or("", |p| p.meaning))), path.into()]
}

/// The assumed constants of the runs, and how much the longest life leans on them.
pub fn assumed(run: &Run, best: Option<(Part, f64)>) -> Vec<Block> {
    let row = |(path, spread): &(&str, Spread)| {
        let value = setting(run, path)?;
        let mut what = leans(path).to_owned();
        if let Some((part, hours)) = best
            && PROPORTIONAL.iter().any(|p| p.0 == part && p.1 == *path)
            && let Spread::Factor(f) = spread
        {
            what = format!("{what}: the best life becomes {}", times(hours / f, hours * f));
        }
        let value = parameter(path).map_or(Cell::Nothing, |p| quantity(value, p.dimension));
        let [meaning, name] = named(path);
        Some(Row { cells: vec![meaning, name, value, drawn(path, *spread).into(), what.into()], of: None })
    };
    let rows: Vec<Row> = ASSUMED.iter().filter_map(row).collect();
    let others =
        run.settings.iter().filter(|s| s.confidence == Confidence::Assumed).count().saturating_sub(rows.len() - 1);
    let heads = ["constant", "setting", "taken", "may lie", "what leans on it"].map(Head::words).to_vec();
    let table = Table::new("Assumed constants that decide the most, and how far each may be off", heads, rows).note(format!(
        "Nine in ten are thought to lie within ÷ or × the factor: a judgement, not a measurement. {others} further settings are assumed too; the last table marks them."
    ));
    vec![Block::Table(table)]
}

/// What was drawn for each clutch of a fleet.
pub fn spreads(uncertain: &[Uncertain]) -> Block {
    let row = |u: &Uncertain| {
        let [meaning, name] = named(&u.path);
        let with = if u.draw == u.path { String::new() } else { format!("; moves with “{}”", u.draw) };
        let pair = |(draw, r): (&String, &f64)| format!("; hangs together with {draw}, correlation {r:.2}");
        let how = drawn(&u.path, u.spread) + &with + &u.correlated.iter().map(pair).collect::<String>();
        Row { cells: vec![meaning, name, how.into(), leans(&u.path).into()], of: None }
    };
    let heads = ["constant", "setting", "drawn", "what leans on it"].map(Head::words).to_vec();
    Block::Table(Table::new(
        "What was drawn for each clutch, about its machine's own value",
        heads,
        uncertain.iter().map(row).collect(),
    ))
}
