//! The page of an oiling plan.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::question::{assumed, ending, parted};
use crate::words::number::{number, three};
use crate::words::text::the;
use crate::words::use_of_machine::varies;
use crate::words::{self, cautions, granted, say};
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

impl Page {
    /// The page of the answer on when and how to oil.
    pub(crate) fn of_oiling(plan: &OilPlan, figures: Drawn) -> Self {
        let (answer, why) = parted(words::oiling::statement(plan));
        let mut sections = vec![
            pictures(figures),
            why,
            Section::new("How long an oiling lasts", vec![Block::Table(lasts(plan))]),
            Section::new("How to oil", [habits(plan), doses(plan)].map(Block::Table).into()),
            Section::new("With which oil", vec![Block::Table(oils(plan))]),
            assumed(granted::clauses(&plan.assumed)),
        ];
        sections.extend(ending(&plan.head, &plan.settings, &cautions::OILING));
        Self {
            question: format!("When and how should the bushing of {} be oiled?", the(&plan.machine)),
            given: format!(
                "Use: {}, outings of {}, {} of rest after each; {}{}",
                plan.usage,
                say::time(plan.riding),
                say::time(plan.rest),
                plan.oil,
                varies(plan.wander)
            ),
            origin: format!("computed by {}", plan.head.program),
            answer,
            sections,
            ..Self::default()
        }
    }
}

fn percent(share: f64) -> Cell {
    Cell::Number(number(100.0 * share, 1.0))
}

fn lasts(plan: &OilPlan) -> Table {
    let heads = Head::row(
        "case | end leakage [per hour] | oil life in heat [h] | grease in the grooves [mL of oil] | riding until service is due []",
    );
    let leaks = Cell::numbers(plan.lasts.iter().map(|l| l.leak * HOUR), 4);
    let named = |l: &Lasts| match l.name {
        LeakCase::AsSet => "as set",
        LeakCase::Least => "at best",
        LeakCase::Most => "at worst",
        LeakCase::Greased => "as set, with grease",
    };
    let one = |(l, leak): (&Lasts, Cell)| {
        let due = l.due.map_or(Cell::Nothing, |due| Cell::Number(say::time(due)));
        [named(l).into(), leak, Cell::Number(three(l.oil_life / HOUR)), Cell::Number(three(1e6 * l.grease)), due]
    };
    let caption = format!(
        "Riding until a full bushing of {} drops is down to {} %",
        number(plan.full_drops, 1.0),
        number(100.0 * plan.due_at, 1.0)
    );
    Table::new(caption, heads, plan.lasts.iter().zip(leaks).map(one))
        .note(format!("The end leakage at 80 °C (176 °F) and 2500 rpm is {}; the life of the oil in heat, at 100 °C (212 °F), is assumed. – is more than ten years of such outings; worn linings and washers are renewed on the way.", words::oiling::leakage(plan)))
}

fn habits(plan: &OilPlan) -> Table {
    let heads = std::iter::once(Head::words("wait before riding"));
    let heads =
        heads.chain(plan.habits.iter().map(|h| Head::of(if h.warm { "put on warm" } else { "put on cold" }, "%")));
    let waits = plan.habits.first().map_or(&[][..], |h| &h.kept);
    let one = |(k, wait): (usize, &(f64, f64))| {
        let kept = plan.habits.iter().map(|h| h.kept.get(k).map_or(Cell::Nothing, |p| percent(p.1)));
        Row::from(std::iter::once(Cell::from(say::time(wait.0))).chain(kept))
    };
    let caption = format!(
        "Oil kept in the bushing of {} drops put on a bushing at {} %",
        three(plan.drops),
        three(100.0 * plan.found)
    );
    Table::new(caption, heads, waits.iter().enumerate().map(one))
}

fn doses(plan: &OilPlan) -> Table {
    let heads =
        Head::row("drops [] | oil kept in the bushing [%] | most on the lining [mg] | lowest friction, of dry [%]");
    let on = Cell::numbers(plan.doses.iter().map(|d| 1e6 * d.on_lining), 3);
    let one = |(d, on): (&slipsoak_engine::oil_plan::Dose, Cell)| {
        [Cell::Number(three(d.drops)), percent(d.kept), on, percent(d.grip)]
    };
    Table::new("Oiled 30 s before the ride: effect of the number of drops", heads, plan.doses.iter().zip(on).map(one))
}

fn oils(plan: &OilPlan) -> Table {
    let heads = Head::row("oil | lowest friction [%] | after 20 min [%]");
    let one = |o: &slipsoak_engine::oil_plan::Grip| [o.oil.as_str().into(), percent(o.least), percent(o.after)];
    Table::new("Friction of the lining, of its dry value, oiled 30 s before the ride", heads, plan.oils.iter().map(one))
}
