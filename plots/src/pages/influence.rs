//! The page of sensitivities.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::origin::{asked, closing};
use crate::words::failed::unranked;
use crate::words::number::three;
use crate::words::say::time;
use crate::words::text::Words;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Measure, Ranking};

impl Page {
    /// The page of sensitivities.
    pub(crate) fn of_influences(influences: &Influences, figures: Drawn) -> Self {
        let tables = influences.rankings.iter().map(|r| Block::Table(table(r, influences.rows))).collect();
        let mut sections = vec![Section::new("Figures", pictures(figures)), Section::new("Results", tables)];
        sections.extend(closing(&influences.head, &[]));
        let mut answer: Vec<Words> = influences.rankings.iter().map(verdict).collect();
        answer.extend(unranked(influences));
        answer.push(
            "Each is moved from its P10 to its P90 with all else at its nominal value; the spreads of assumed constants are guesses themselves."
                .into(),
        );
        Self {
            question: asked(&influences.head),
            origin: format!("{}, what matters, by {}", influences.head.script, influences.head.program),
            answer,
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
    let Some(first) = ranking.influences.first() else {
        return words.plain(format!(": a part is worn out (oil set apart) after {nominal}."));
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

fn table(ranking: &Ranking, rows: u64) -> Table {
    let mut heads = vec![
        Head::words("setting"),
        Head::words("spread by"),
        Head::words("end at P10"),
        Head::words("end at P90"),
        Head::words("oil due at P10"),
        Head::words("oil due at P90"),
        Head::temperature("lining, peak at P10"),
        Head::temperature("lining, peak at P90"),
    ];
    if rows > 0 {
        heads.extend([Head::words("first share"), Head::words("total share")]);
    }
    let row = |i: &Influence| {
        let at = |measure, answer: &Answer| Cell::from(told(measure, answer, ranking.horizon));
        let mut cells = vec![
            in_words(&i.draw).into(),
            if i.by_script { "the script" } else { "assumption" }.to_owned().into(),
            at(Measure::End, &i.low),
            at(Measure::End, &i.high),
            at(Measure::Service, &i.low),
            at(Measure::Service, &i.high),
            Cell::Temperature(i.low.lining_peak),
            Cell::Temperature(i.high.lining_peak),
        ];
        if rows > 0 {
            let share = |value: Option<(f64, f64)>| {
                value.map_or(Cell::Nothing, |(s, e)| format!("{} ± {}", three(s), three(e)).into())
            };
            cells.push(share(i.end.map(|x| (x.first, x.first_error))));
            cells.push(share(i.end.map(|x| (x.total, x.total_error))));
        }
        Row { cells, of: None }
    };
    let moves = |i: &&Influence| {
        let least = [(Measure::End, 1.0), (Measure::Service, 1.0), (Measure::LiningPeak, 0.1)];
        least.into_iter().any(|(measure, least)| i.swing(measure, ranking.horizon) > least)
    };
    let listed: Vec<&Influence> = ranking.influences.iter().filter(moves).collect();
    let still = ranking.influences.len() - listed.len();
    let rows = listed.into_iter().map(row).collect();
    let left =
        if still > 0 { format!(" {still} settings that move none of these are not listed.") } else { String::new() };
    Table::new(format!("{}, {}", ranking.variant, ranking.duty), heads, rows).note(format!(
        "Shares of the variance of the end: first, what goes if this alone is known; total, what stays if this alone is not; ± one standard error.{left}",
    ))
}
