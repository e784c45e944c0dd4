//! The page of a season.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::question::{assumed, ending, parted};
use crate::words::number::{figures, number};
use crate::words::season::{policy, rate};
use crate::words::text::the;
use crate::words::{self, cautions};
use slipsoak_engine::season::{MapError, Outcome, SPARES, Season};

impl Page {
    /// The page of the answer on what the carts need in a season.
    pub(crate) fn of_season(season: &Season, drawn: Drawn) -> Self {
        let (answer, why) = parted(words::season::statement(season));
        let mut sections = vec![pictures(drawn), why];
        if season.may_ride() {
            sections.push(Section::new("Parts", vec![Block::Table(needs(season)), Block::Table(policies(season))]));
            sections.push(Section::new("Week by week", vec![Block::Table(weeks(season))]).only(Reach::Details));
            sections.push(
                Section::new("How well it was computed", vec![Block::Table(map(season))]).only(Reach::Details).folded(),
            );
            sections.push(assumed(words::season::assumed(season)));
        }
        sections.extend(ending(&season.head, &season.settings, &cautions::GAPS));
        Self {
            question: format!("What do the carts of {} need in a season?", the(&season.machine)),
            given: words::season::given(season),
            origin: match season.samples {
                0 => format!("computed by {}", season.head.program),
                samples => format!("{samples} sampled seasons, computed by {}", season.head.program),
            },
            answer,
            sections,
            ..Self::default()
        }
    }
}

fn count(value: u64) -> Cell {
    Cell::Number(value.to_string())
}

/// Numbers of parts by policy.
fn needs(season: &Season) -> Table {
    let heads = Head::row(
        "part | policy | mean [] | half of the seasons [] | 9 in 10 [] | 19 in 20 [] | common to all carts [%]",
    );
    let rows = SPARES.into_iter().enumerate().flat_map(|(k, part)| {
        season.policies.iter().map(move |outcome| {
            let need = &outcome.needs[k];
            let cells = [
                part.into(),
                policy(&outcome.policy).into(),
                Cell::Number(figures(need.mean, 2)),
                count(need.half),
                Cell::Number(format!("{} ({} to {})", need.nine_tenths, need.low, need.high)),
                count(need.most),
                Cell::Number(number(100.0 * need.common, 1.0)),
            ];
            Row::from(cells)
        })
    });
    let rows: Vec<Row> = rows.collect();
    Table::new("Parts needed in a season by all carts", heads, rows)
        .note("In brackets 90 % confidence limits of the number that is enough in 9 of 10 seasons. Springs are counted in sets.")
}

/// The policies side by side.
fn policies(season: &Season) -> Table {
    let priced = season.policies.iter().any(|one| one.cost.is_some());
    let mut heads = Head::row(
        "policy | cart-days lost [] | in one season of ten [] | service due [% of carts] | bushings grabbed [] | oil [mL]",
    );
    if priced {
        let cost = if words::season::has_its_price(season) { "cost" } else { "cost of what has a price" };
        heads.push(Head::of(cost, ""));
    }
    let one = |outcome: &Outcome| {
        let mut cells = vec![
            policy(&outcome.policy).into(),
            Cell::Number(figures(outcome.down.mean, 2)),
            Cell::Number(figures(outcome.down.nine_tenths, 2)),
            Cell::Number(number(100.0 * outcome.due / season.question.carts as f64, 1.0)),
            Cell::Number(figures(outcome.grabbed, 2)),
            Cell::Number(figures(outcome.oil * 1e6, 2)),
        ];
        if priced {
            cells.push(outcome.cost.map_or(Cell::Nothing, |cost| Cell::Number(figures(cost.mean, 3))));
        }
        Row::from(cells)
    };
    Table::new("Policies side by side, on the same seasons", heads, season.policies.iter().map(one))
}

/// Carts down and parts renewed, by week.
fn weeks(season: &Season) -> Table {
    let heads = Head::row("week from | carts down [] | in one season of ten [] | parts renewed []");
    let Some(advised) = season.policies.get(words::season::advised(season)) else { return Table::default() };
    let weeks = &advised.weeks;
    let column = |of: fn(&slipsoak_engine::season::Week) -> f64| Cell::numbers(weeks.iter().map(of), 2);
    let cells = column(|w| w.down).into_iter().zip(column(|w| w.worst)).zip(column(|w| w.renewed));
    let rows = weeks
        .iter()
        .zip(cells)
        .map(|(week, ((down, worst), renewed))| [week.start.to_string().into(), down, worst, renewed]);
    Table::new(format!("“{}” by weeks", words::season::policy(&advised.policy)), heads, rows)
}

/// Errors of the map.
fn map(season: &Season) -> Table {
    let heads = Head::row("rate | error, half of the clutches [%] | 19 in 20 [%] | too low in [%] | raised by [%]");
    let one = |error: &MapError| {
        [
            rate(error.rate).into(),
            Cell::Number(figures(100.0 * error.median, 2)),
            Cell::Number(figures(100.0 * error.most, 2)),
            Cell::Number(figures(100.0 * error.low, 2)),
            Cell::Number(figures(100.0 * error.raised, 2)),
        ]
    };
    Table::new("Rates of clutches held back, against the map", heads, season.map.errors.iter().map(one))
        .note("Of the rate itself, before it is raised to the safe side.")
}
