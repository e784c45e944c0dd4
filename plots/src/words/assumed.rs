//! Assumptions behind an answer: assumed constants, their uncertainty, and its effect on the answer.

use crate::page::{Block, Cell, Head, Reach, Row, Table};
use crate::words::learned::{alike, constants, open};
use crate::words::measure::measured_by;
use crate::words::number::{figures, three};
use crate::words::quantity::quantity;
use crate::words::say::times;
use crate::words::text::Words;
use slipsoak_engine::fleet::{Spread, Uncertain, assumed_of, assumed_range};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::settings::{bushing, clutch, motor, oiling, washer};
use slipsoak_engine::parts::{Confidence, Dimension, Group, Parameter, SPRINGS, parameter};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// Results that depend on an assumed constant, or else on those of its part; lives inversely proportional to one are added by
/// `depends`.
static DEPENDS: [(&Parameter, &str); 7] = [
    (&motor::idle_band, "how much a drag slows a governed motor"),
    (&motor::idle, "whether the clutch drags at idle"),
    (&oiling::leak, "oil fill and time to service: the loss while it is small goes in proportion"),
    (&bushing::wear_face, "wear of the bushing's face once the washer is gone"),
    (&washer::wear_dry, "life of a washer that has run dry, in inverse proportion"),
    (&washer::heat_life, "hours until the washer chars, in proportion"),
    (&clutch::relaxation, "life of the spring"),
];

/// Results that depend on the other assumed constants of a part.
fn depends_on_part(p: &Parameter) -> &'static str {
    match p.group {
        Group::Oiling => "how much of what is put on stays, and where the rest goes",
        Group::Bushing if p.dimension == Dimension::WearConstant => "life of the bushing's bore",
        Group::Bushing => "friction of the bushing, and when a dry one grabs",
        Group::Washer => "temperature and oil of the washer",
        Group::Heat => "temperatures, and through them wear and oil",
        Group::Springs => "which shoe touches first, and at what speed",
        _ => "",
    }
}

/// The range in which the end leakage is thought to lie: nobody has measured it.
pub fn leakage() -> String {
    let (least, most) = assumed_range(&oiling::leak).unwrap_or_default();
    format!("{} to {} per hour", figures(least * HOUR, 1), figures(most * HOUR, 1))
}

/// What holds of every comparison of kinds of lining.
const LININGS: &str = " The linings are of different kinds: their lives differ by no more than their wear constants are uncertain; \
                       grip, lock-up speed and heat limits are firmer.";

/// Whether the runs' machines have different kinds of lining.
fn several_linings(record: &Record) -> bool {
    record.runs.windows(2).any(|pair| pair[0].lining_kind != pair[1].lining_kind)
}

/// Last sentence of an answer: the constants that it depends on.
pub fn sentence(record: &Record, ended_by: &[Part]) -> Words {
    let mut parts = ended_by.to_vec();
    parts.sort();
    parts.dedup();
    let widest = |part: Part| {
        let constant = part.constant();
        let open_of = record.runs.iter().filter(|run| constant.is_none_or(|p| run.knows(p).is_none()));
        let assumed = open_of.filter_map(|run| run.life_factor(part)).reduce(f64::max);
        let assumed = assumed.map(|factor| format!("÷ or × {factor}"));
        if let Some(p) = constant { open(record, p, assumed) } else { assumed }
    };
    let parts: Vec<(Part, String)> = parts.into_iter().filter_map(|part| Some((part, widest(part)?))).collect();
    let known = record.runs.iter().flat_map(|run| &run.learned).cloned().collect::<Vec<_>>();
    let leak = record.runs.iter().filter_map(|run| run.setting(&oiling::leak)).fold(0.0, f64::max);
    let never = format!("never measured; {} is possible", leakage());
    let sure = open(record, &oiling::leak, Some(never)).unwrap_or_default();
    let leak = format!("{} per hour ({sure})", three(leak * HOUR));
    let mut words = Words::default();
    if parts.is_empty() {
        let source =
            if record.runs.iter().all(|run| run.knows(&oiling::leak).is_some()) { "learned" } else { "assumed" };
        words = words.plain("The oil numbers depend on the end leakage, which is ").strong(source);
        words = words.plain(format!(": {leak}."));
    } else {
        words = words.plain("These numbers rest on ").strong(constants(&known)).plain(" constants: ");
        let rate = |part: Part| match part {
            Part::Seized => "the friction work that scores the bushing".to_owned(),
            Part::Charring => "the washer's life in heat".to_owned(),
            part => format!("the {part}'s wear rate"),
        };
        let each = |p: &(Part, String)| format!("{} ({})", rate(p.0), p.1);
        words = words.plain(format!("life on {}, ", parts.iter().map(each).collect::<Vec<_>>().join(" and ")));
        words = words.plain(format!("the oil on the end leakage, {leak}."));
    }
    let same = ended_by.windows(2).all(|w| w[0] == w[1]);
    words.plain(match record.runs.len() {
        1 => "",
        _ if several_linings(record) => LININGS,
        _ if !alike(record) => " The ranking depends on them too, since they were not learned for all runs.",
        _ if same => " The ranking is more certain, since all runs share them.",
        _ => " The ranking depends on them too, since different parts are worn out first.",
    })
}

/// Results that depend on a constant.
fn depends(p: &Parameter) -> String {
    let lives = Part::ALL.into_iter().filter(|part| part.constant() == Some(p)).map(Part::name);
    let lives = lives.collect::<Vec<_>>().join(" and ");
    if lives.is_empty() {
        DEPENDS.iter().find(|one| one.0 == p).map_or_else(|| depends_on_part(p), |one| one.1).to_owned()
    } else {
        format!("life of {lives}, in inverse proportion")
    }
}

/// Text of how a spread is sampled.
fn drawn(p: &Parameter, spread: Spread) -> String {
    let width = |w: f64| match quantity(w, p.dimension) {
        Cell::Words(words) if p.dimension != Dimension::Temperature => words.text(),
        _ => format!("{} {}", three(w), p.dimension.unit()),
    };
    match spread {
        Spread::Normal(w) => format!("normal, standard deviation {}", width(w)),
        Spread::Factor(f) => format!("÷ or × {}", three(f)),
        Spread::Uniform(w) => format!("± {}, uniform", width(w)),
        Spread::Triangular(w) => format!("± {}, most likely in the middle", width(w)),
    }
}

/// Meaning of a setting, and its path.
fn named(p: &Parameter) -> [Cell; 2] {
    [Cell::Words(Words::scaled(p.meaning)), p.path.into()]
}

/// The assumed constants of the runs, and the effect of each on the longest life.
pub fn assumed(run: &Run, best: Option<(Part, f64)>) -> Vec<Block> {
    let row = |(p, spread): &(&Parameter, Spread)| {
        let value = run.setting(p)?;
        let known = run.knows(p);
        let spread = known.map_or(*spread, Spread::Factor);
        let mut what = depends(p);
        if let Some((part, hours)) = best
            && part.constant() == Some(*p)
            && let Spread::Factor(f) = spread
        {
            what = format!("{what}: the best life becomes {}", times(HOUR * hours / f, HOUR * hours * f));
        }
        let [meaning, name] = named(p);
        let measured = measured_by(p).unwrap_or_default();
        let value = quantity(value, p.dimension);
        let learned = if known.is_some() { ", learned" } else { "" };
        Some([meaning, name, value, (drawn(p, spread) + learned).into(), what.into(), measured.into()].into())
    };
    // The first spring stands for all.
    let rows: Vec<Row> =
        assumed_of(run.lining_kind).filter(|(p, _)| !SPRINGS[1..].contains(p)).filter_map(row).collect();
    let others =
        run.settings.iter().filter(|s| s.confidence == Confidence::Assumed).count().saturating_sub(rows.len() - 1);
    let mut heads = ["constant", "setting", "value used", "possible range"].map(Head::words).to_vec();
    heads.extend(["what depends on it", "what to measure"].map(|head| Head::words(head).only(Reach::Page)));
    let caption =
        Words::from(format!("{} constants that decide the most, and how far each may be off", constants(&run.learned)));
    let table = Table::new(caption.capital().text(), heads, rows).note(format!(
        "Nine in ten are thought to lie within ÷ or × the factor: a judgement, not a measurement. {others} further settings are assumed too; the last table marks them."
    ));
    vec![Block::Table(table)]
}

/// Settings sampled for each clutch of a fleet.
pub fn spreads(uncertain: &[Uncertain]) -> Block {
    let row = |u: &Uncertain| {
        let p = parameter(&u.path)?;
        let [meaning, name] = named(p);
        let with = if u.draw == u.path { String::new() } else { format!("; moves with “{}”", u.draw) };
        let pair = |(draw, r): (&String, &f64)| format!("; correlated with {draw}, correlation {r:.2}");
        let how = drawn(p, u.spread) + &with + &u.correlated.iter().map(pair).collect::<String>();
        let measured = measured_by(p).map_or(Cell::Nothing, Cell::from);
        Some([meaning, name, how.into(), depends(p).into(), measured])
    };
    let mut heads = ["constant", "setting", "sampled"].map(Head::words).to_vec();
    heads.extend(["what depends on it", "what to measure"].map(|head| Head::words(head).only(Reach::Page)));
    Block::Table(Table::new(
        "What was sampled for each clutch, about its machine's own value",
        heads,
        uncertain.iter().filter_map(row),
    ))
}
