//! The page of the gap between drum and cover and its wear.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::question::{assumed, ending, parted};
use crate::words::number::{figures, number, three};
use crate::words::say::times;
use crate::words::text::the;
use crate::words::use_of_machine::varies;
use crate::words::{self, cautions, granted};
use slipsoak_engine::stack_up::{Gaps, When};
use slipsoak_engine::units::{HOUR, THOU};

impl Page {
    /// The page of the answer on whether the cover clears the drum, and for how long.
    pub(crate) fn of_gaps(gaps: &Gaps, figures: Drawn) -> Self {
        let tables = [layers(gaps), stack(gaps), shares(gaps)].map(Block::Table).into();
        let (answer, why) = parted(words::gaps::statement(gaps));
        let mut sections = vec![
            pictures(figures),
            why,
            Section::new("The stack", tables),
            Section::new("As it wears", vec![Block::Table(courses(gaps))]).only(Reach::Details),
            assumed(granted::clauses(&gaps.assumed)),
        ];
        sections.extend(ending(&gaps.head, &gaps.settings, &cautions::GAPS));
        Self {
            question: format!("Does the cover clear the drum of {}, and for how long?", the(&gaps.machine)),
            given: format!("Use: {}; {} assemblies sampled{}", gaps.usage, gaps.assemblies, varies(gaps.wander)),
            origin: format!("computed by {}", gaps.head.program),
            answer,
            sections,
            ..Self::default()
        }
    }
}

fn mm(m: f64) -> Cell {
    Cell::Number(number(1e3 * m, 1e-3))
}

fn thou(m: f64) -> Cell {
    Cell::Number(number(m / THOU, 0.1))
}

fn layers(gaps: &Gaps) -> Table {
    let heads = Head::row("part | size [mm] | ± [mm] | size [thou] | ± [thou]");
    let row = |l: &slipsoak_engine::stack_up::Layer| {
        [l.name.as_str().into(), mm(l.size), mm(l.tolerance), thou(l.size), thou(l.tolerance)]
    };
    Table::new("The stack-up; thou: thousandths of an inch", heads, gaps.layers.iter().map(row))
}

fn stack(gaps: &Gaps) -> Table {
    let s = &gaps.stack;
    let rows = [
        ("nominal", s.nominal),
        ("least, every part at its worst", s.nominal - s.worst),
        ("most, every part at its worst", s.nominal + s.worst),
        ("least, by root sum square (RSS)", s.nominal - s.rss),
        ("most, by root sum square (RSS)", s.nominal + s.rss),
        ("sampled: 5 % are below", s.drawn.low),
        ("sampled: 5 % are above", s.drawn.high),
        ("required minimum", gaps.limit),
    ];
    let row = |(name, gap): (&str, f64)| [name.into(), mm(gap), thou(gap)];
    let heads = vec![Head::words("gap between drum and cover, new"), Head::of("", "mm"), Head::of("", "thou")];
    Table::new("The gap when new", heads, rows.map(row))
}

fn shares(gaps: &Gaps) -> Table {
    let s = &gaps.stack;
    let percent = |share: f64| number(100.0 * share, 1e-4);
    let row = |name: &str, value: String| [name.into(), Cell::Number(value)];
    let rows = vec![
        row("below the required gap, exact", percent(s.below_limit)),
        row(
            "below the required gap, sampled",
            format!("{} ± {}", percent(s.drawn.below_limit), percent(s.drawn.error)),
        ),
        row("no gap at all, exact", percent(s.below_zero)),
    ];
    Table::new("Shares of assemblies", vec![Head::words("assemblies"), Head::of("", "%")], rows)
        .note("Sizes evenly spread over their tolerance; ±: the standard error of the samples.")
}

fn courses(gaps: &Gaps) -> Table {
    let heads = vec![
        Head::words("bushing"),
        Head::temperature("washer, peak"),
        Head::of("washer due", "h"),
        Head::of("washer worn through: stop riding", "h"),
        Head::of("if ridden on, gap below required", "h"),
        Head::of("if ridden on, drum touches the cover", "h"),
    ];
    let when = |w: &When| match (w.time, w.early.zip(w.late)) {
        (None, _) => Cell::Nothing,
        (Some(t), None) => Cell::Number(three(t / HOUR)),
        (Some(t), Some((a, b))) => Cell::Number(format!("{} ({})", figures(t / HOUR, 2), times(a, b))),
    };
    let row = |c: &slipsoak_engine::stack_up::Course| {
        let worn = [&c.washer_due, &c.bronze_on_steel, &c.tight, &c.touches];
        let moments = worn.map(|w| if c.holds() { when(w) } else { Cell::Nothing });
        let cells = [c.name.name().into(), Cell::Temperature(c.washer)].into_iter().chain(moments).collect();
        Row { cells, of: None }
    };
    Table::new("Hours of riding from new", heads, gaps.courses.iter().map(row)).note(
        "In brackets the range that holds 90 % of sampled assemblies, whose wear constants are sampled too. The hours of riding on, bronze on steel, are too long by a factor of 5 to 250: no guide to riding on. –: does not happen, the washer chars or the bushing grabs first, or a part is too hot for the model.",
    )
}
