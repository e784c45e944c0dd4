//! The page of a sweep: combinations of settings, with the result of each.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Section, Table};
use crate::pages::origin::closing;
use crate::words::cautions::of_descents;
use crate::words::fault::in_brief;
use crate::words::learned::{constants, of_sweep};
use crate::words::reading::asked;
use crate::words::say::{time, times};
use crate::words::sweep::{answer, sure};
use slipsoak_engine::names::distinct;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::record::Warned;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};

impl Page {
    /// The page of a sweep.
    pub(crate) fn of_sweep(sweep: &Sweep, figures: Drawn) -> Self {
        let mut sections = vec![
            pictures(figures),
            Section::new("Results", [Block::Table(results(sweep))].into_iter().chain(warned(sweep)).collect()),
        ];
        sections.extend(closing(&sweep.head, of_descents(sweep.rows.iter().any(|row| row.summary.descends)), vec![]));
        Self {
            question: asked(&sweep.head),
            given: format!("{} combinations", sweep.rows.len()),
            origin: format!("{}, computed by {}", sweep.head.script, sweep.head.program),
            answer: answer(sweep),
            sure: vec![sure(sweep).into()],
            sections,
            ..Self::default()
        }
    }
}

fn results(sweep: &Sweep) -> Table {
    let stops = |(k, axis): (usize, &Axis)| {
        let stop = |row: &Row| axis.labels[row.place[k]].clone().into();
        (Head::words(in_words(&axis.name)), sweep.rows.iter().map(stop).collect())
    };
    let cells = |of: fn(&Summary) -> Cell| -> Vec<Cell> { sweep.rows.iter().map(|row| of(&row.summary)).collect() };
    let numbers = |of: fn(&Summary) -> f64| Cell::numbers(sweep.rows.iter().map(|row| of(&row.summary)), 3);
    // Without breaks, so that a narrow table leaves out columns before it splits rows.
    let unfit = |s: &Summary| s.fault().map_or(Cell::Nothing, |fault| in_brief(fault).replace(' ', "\u{a0}").into());
    let life = |s: &Summary| s.running.or(s.life).map_or(Cell::Nothing, |life| Cell::Number(time(life)));
    let range = |s: &Summary| s.range.map_or(Cell::Nothing, |[low, high]| Cell::Number(times(low, high)));
    let found = [
        (Head::temperature("lining, peak"), cells(|s| Cell::Temperature(s.lining_peak))),
        (Head::temperature("bushing, peak").spare(11), cells(|s| Cell::Temperature(s.bushing_peak))),
        (Head::of("slip power", "W").brief("slip").spare(5), numbers(|s| s.slip_power)),
        (
            Head::of("slip energy of a launch", "kJ").brief("launch").spare(4),
            numbers(|s| s.slip_energy.map_or(f64::NAN, |e| e / 1e3)),
        ),
        (Head::of("oil fill at the end", "%").brief("oil").spare(3), numbers(|s| 100.0 * s.oil_fill)),
        (Head::of("life, running", ""), cells(life)),
        (Head::of("range", "").spare(12), cells(range)),
        (Head::words("worn out first").spare(2), cells(|s| s.ended_by.map_or(Cell::Nothing, Cell::from))),
        (Head::words("unfit").spare(1), cells(unfit)),
    ];
    Table::of_columns("Every combination", sweep.axes.iter().enumerate().map(stops).chain(found))
        .note(format!("Slip power: mean while the motor runs. Lives are of worn parts, on {} wear constants, oil apart: low oil is a service missed, not wear.", constants(&of_sweep(sweep))))
}

/// Kinds of warnings, with the number of combinations that give each.
fn warned(sweep: &Sweep) -> Option<Block> {
    let (given, all) = (|| sweep.rows.iter().flat_map(|row| &row.summary.warnings), sweep.rows.len());
    let said = |kind: &Warned| format!("{} ({} of {all})", kind.name(), given().filter(|other| *other == kind).count());
    let each: Vec<String> = distinct(given()).into_iter().map(said).collect();
    (!each.is_empty()).then(|| Block::Words(format!("Warnings: {}.", each.join(", ")).into()))
}
