//! The page of sensitivities.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::origin::closing;
use crate::words::cautions::of_descents;
use crate::words::failed::unranked;
use crate::words::influence::{SURE, measured, moving, note, told, unfit, verdict, wrong_oil};
use crate::words::number::three;
use crate::words::reading::asked;
use crate::words::text::Words;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Measure, Ranking};

/// Rows on a terminal without details; files and page hold all.
const SHOWN: usize = 12;
impl Page {
    /// The page of sensitivities.
    pub(crate) fn of_influences(influences: &Influences, figures: Drawn) -> Self {
        let tables = influences.rankings.iter().map(|r| Block::Table(table(r, influences.rows))).collect();
        let mut sections = vec![pictures(figures), Section::new("Results", tables)];
        let descents = of_descents(influences.rankings.iter().any(|ranking| ranking.nominal.descends));
        sections.extend(closing(&influences.head, descents, vec![]));
        let (all, several) = (&influences.rankings, influences.rankings.len() > 1);
        let mut answer: Vec<Words> = all.iter().filter_map(|ranking| wrong_oil(ranking, several)).collect();
        answer.extend(all.iter().flat_map(|ranking| unfit(ranking, several).into_iter().chain([verdict(ranking)])));
        answer.extend(unranked(influences));
        let sure = vec![SURE.into()];
        Self {
            question: asked(&influences.head),
            origin: format!("{}, what matters, computed by {}", influences.head.script, influences.head.program),
            answer,
            sure,
            sections,
            ..Self::default()
        }
    }
}

fn table(ranking: &Ranking, rows: u64) -> Table {
    let mut heads = vec![
        Head::words("setting"),
        Head::of("end at P10", ""),
        Head::of("end at P90", ""),
        Head::of("service due at P10", "").spare(3),
        Head::of("service due at P90", "").spare(3),
        Head::temperature("lining, peak at P10").brief("lining at P10").spare(2),
        Head::temperature("lining, peak at P90").brief("lining at P90").spare(2),
    ];
    if rows > 0 {
        heads.extend([Head::of("share alone", ""), Head::of("share with interactions", "")]);
    }
    heads.push(Head::words("what to measure").only(Reach::Page));
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
        cells.push(measured(i).map_or(Cell::Nothing, Cell::from));
        Row { cells, of: None }
    };
    let listed = all.into_iter().map(row);
    Table {
        most: Some(SHOWN),
        ..Table::new(format!("{}, {}", ranking.variant, ranking.duty), heads, listed).note(note(ranking, rows))
    }
}
