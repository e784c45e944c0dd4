//! The page of sensitivities.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::origin::closing;
use crate::words::failed::unranked;
use crate::words::number::three;
use crate::words::reading::asked;
use crate::words::say::time;
use crate::words::text::Words;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Measure, Ranking};

/// Rows on a terminal without details; files and page hold all.
const SHOWN: usize = 12;
/// Rows of a design below which its shares of variance mean little.
const FEW: u64 = 128;
/// Changes of end and service, s, and of the lining's peak, K, that count as none.
const LEAST: [f64; 3] = [1.0, 1.0, 0.1];

impl Page {
    /// The page of sensitivities.
    pub(crate) fn of_influences(influences: &Influences, figures: Drawn) -> Self {
        let tables = influences.rankings.iter().map(|r| Block::Table(table(r, influences.rows))).collect();
        let mut sections = vec![Section::new("Figures", pictures(figures)), Section::new("Results", tables)];
        sections.extend(closing(&influences.head, &[]));
        let mut answer: Vec<Words> = influences.rankings.iter().map(verdict).collect();
        answer.extend(unranked(influences));
        let sure = vec![
            "Each is moved from its P10 to its P90 with all else at its nominal value; the spreads of assumed constants are guesses themselves, that of the end leakage most of all."
                .into(),
        ];
        Self {
            question: asked(&influences.head),
            origin: format!("{}, what matters, by {}", influences.head.script, influences.head.program),
            answer,
            sure,
            sections,
            ..Self::default()
        }
    }
}

/// A time of an answer as text.
fn told(measure: Measure, answer: &Answer, horizon: Option<f64>) -> String {
    let seen = if measure == Measure::End { answer.end } else { answer.service_due };
    match (seen, measure.of(answer, horizon)) {
        (Some(t), _) => time(t),
        (None, Some(cut)) => format!("more than {}", time(cut)),
        (None, None) => "–".to_owned(),
    }
}

fn verdict(ranking: &Ranking) -> Words {
    let words = Words::default().strong(format!("{}, {}", ranking.variant, ranking.duty));
    let nominal = told(Measure::End, &ranking.nominal, ranking.horizon);
    let by = ranking.nominal.ended_by.map_or_else(String::new, |part| format!(" ({part})"));
    let due = told(Measure::Service, &ranking.nominal, ranking.horizon);
    let oil = if due == "–" { "its oil is not due before".to_owned() } else { format!("its oil is due after {due}") };
    let nominal = format!("{nominal}{by}, and {oil},");
    let Some(first) = ranking.influences.first() else {
        return words.plain(format!(": a part is worn out (oil set apart) after {}.", nominal.trim_end_matches(',')));
    };
    if first.swing(Measure::End, ranking.horizon) <= 1.0 {
        let [within, n] = [
            ranking.horizon.map_or_else(String::new, |h| format!(" within {}", time(h))),
            ranking.influences.len().to_string(),
        ];
        return words.plain(format!(": a part is worn out (oil set apart) after {nominal} with everything nominal; none of {n} settings moves that{within}: repeat the duty for longer."));
    }
    let [low, high] = [&first.low, &first.high].map(|a| told(Measure::End, a, ranking.horizon));
    words
        .plain(format!(
            ": a part is worn out (oil set apart) after {nominal} with everything nominal; what moves that most is "
        ))
        .strong(in_words(&first.draw))
        .plain(format!(" ({low} at its P10, {high} at its P90)."))
}

/// Settings that move something, in the order of how far they move the end, then the oil's service and the lining's peak.
fn moving(ranking: &Ranking) -> Vec<&Influence> {
    let swing = |i: &Influence| Measure::ALL.map(|measure| i.swing(measure, ranking.horizon));
    let most = ranking.influences.iter().map(swing).fold([0.0_f64; 3], |m, s| [0, 1, 2].map(|k| m[k].max(s[k])));
    let share = |i: &Influence| {
        let own = swing(i);
        [0, 1, 2].map(|k| if most[k] > LEAST[k] { own[k] / most[k] } else { 0.0 })
    };
    let moves = |i: &&Influence| swing(i).into_iter().zip(LEAST).any(|(own, least)| own > least);
    let mut all: Vec<&Influence> = ranking.influences.iter().filter(moves).collect();
    all.sort_by(|a, b| {
        let (a, b) = (share(a), share(b));
        b[0].total_cmp(&a[0]).then((b[1] + b[2]).total_cmp(&(a[1] + a[2])))
    });
    all
}

fn table(ranking: &Ranking, rows: u64) -> Table {
    let mut heads = vec![
        Head::words("setting"),
        Head::of("end at P10", ""),
        Head::of("end at P90", ""),
        Head::of("oil due at P10", "").spare(3),
        Head::of("oil due at P90", "").spare(3),
        Head::temperature("lining, peak at P10").brief("lining at P10").spare(2),
        Head::temperature("lining, peak at P90").brief("lining at P90").spare(2),
    ];
    if rows > 0 {
        heads.extend([Head::of("first share", ""), Head::of("total share", "")]);
    }
    let all = moving(ranking);
    let most = all.first().map_or(0.0, |i| i.swing(Measure::End, ranking.horizon)).max(1e-9);
    let row = |i: &Influence| {
        let at = |measure, answer: &Answer| told(measure, answer, ranking.horizon);
        let mut cells = vec![
            format!("{}{}", in_words(&i.draw), if i.by_script { "\u{a0}*" } else { "" }).into(),
            Cell::Number(at(Measure::End, &i.low)),
            Cell::Bar(at(Measure::End, &i.high), i.swing(Measure::End, ranking.horizon) / most),
            Cell::Number(at(Measure::Service, &i.low)),
            Cell::Number(at(Measure::Service, &i.high)),
            Cell::Temperature(i.low.lining_peak),
            Cell::Temperature(i.high.lining_peak),
        ];
        if rows > 0 {
            let share = |value: Option<(f64, f64)>| {
                value.map_or(Cell::Nothing, |(s, e)| Cell::Number(format!("{} ± {}", three(s), three(e))))
            };
            cells.push(share(i.end.map(|x| (x.first, x.first_error))));
            cells.push(share(i.end.map(|x| (x.total, x.total_error))));
        }
        Row { cells, of: None }
    };
    let listed = all.into_iter().map(row).collect();
    Table {
        most: Some(SHOWN),
        ..Table::new(format!("{}, {}", ranking.variant, ranking.duty), heads, listed).note(note(ranking, rows))
    }
}

/// How the table is read.
fn note(ranking: &Ranking, rows: u64) -> String {
    let mut said = vec![
        "P10 and P90: the values that 10 and 90 % lie below; one setting at a time, all else nominal. * is spread by the script, the others are assumed. End: the first worn part, oil set apart; a bar shows how far it is moved.".to_owned(),
    ];
    if rows > 0 {
        said.push(format!(
            "Shares of the variance of the end, from {rows} rows: first, what goes if this alone is known; total, what stays if this alone is not; ± one standard error."
        ));
    }
    if rows > 0 && rows < FEW {
        said.push(format!("Fewer than {FEW} rows: the shares mean little."));
    }
    if ranking.beyond > 0 {
        said.push(format!(
            "{} of the design's runs outlived the horizon and count as ending there: the shares are of lives cut so.",
            ranking.beyond
        ));
    }
    let still = ranking.influences.len() - moving(ranking).len();
    if still > 0 {
        said.push(format!("{still} settings that move none of these are not listed."));
    }
    said.join(" ")
}
