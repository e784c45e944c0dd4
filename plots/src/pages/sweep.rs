//! The page of a sweep: combinations of settings, with the result of each.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Row, Section, Table};
use crate::pages::origin::closing;
use crate::words::number::column;
use crate::words::reading::asked;
use crate::words::say::time;
use crate::words::sweep::{SURE, answer};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sweep::{Summary, Sweep};

impl Page {
    /// The page of a sweep.
    pub(crate) fn of_sweep(sweep: &Sweep, figures: Drawn) -> Self {
        let mut sections = vec![
            Section::new("Figures", pictures(figures)),
            Section::new("Results", [Block::Table(results(sweep))].into_iter().chain(warned(sweep)).collect()),
        ];
        sections.extend(closing(&sweep.head, &[]));
        Self {
            question: asked(&sweep.head),
            given: format!("{} combinations", sweep.rows.len()),
            origin: format!("{}, computed by {}", sweep.head.script, sweep.head.program),
            answer: answer(sweep),
            sure: vec![SURE.into()],
            sections,
            ..Self::default()
        }
    }
}

fn results(sweep: &Sweep) -> Table {
    let heads = sweep.axes.iter().map(|axis| Head::words(in_words(&axis.name))).chain([
        Head::temperature("lining, peak"),
        Head::temperature("bushing, peak").spare(11),
        Head::of("slip power", "W").brief("slip").spare(5),
        Head::of("slip energy of a launch", "kJ").brief("launch").spare(4),
        Head::of("oil fill at the end", "%").brief("oil").spare(3),
        Head::of("life, running", ""),
        Head::words("worn out first").spare(2),
    ]);
    let numbers = |digits, of: &dyn Fn(&Summary) -> Option<f64>| {
        column(&sweep.rows.iter().map(|r| of(&r.summary).unwrap_or(f64::NAN)).collect::<Vec<_>>(), digits)
    };
    let powers = numbers(3, &|s| Some(s.slip_power));
    let energies = numbers(3, &|s| s.slip_energy.map(|e| e / 1e3));
    let fills = numbers(3, &|s| Some(100.0 * s.oil_fill));
    let row = |(k, row): (usize, &slipsoak_engine::sweep::Row)| {
        let s = &row.summary;
        let stops = sweep.axes.iter().zip(&row.place).map(|(axis, stop)| axis.labels[*stop].clone().into());
        let found = [
            Cell::Temperature(s.lining_peak),
            Cell::Temperature(s.bushing_peak),
            Cell::Number(powers[k].clone()),
            s.slip_energy.map_or(Cell::Nothing, |_| Cell::Number(energies[k].clone())),
            Cell::Number(fills[k].clone()),
            s.running.or(s.life).map_or(Cell::Nothing, |life| Cell::Number(time(life))),
            s.ended_by.map_or(Cell::Nothing, Cell::from),
        ];
        Row::from(stops.chain(found))
    };
    let rows = sweep.rows.iter().enumerate().map(row);
    Table::new("Every combination", heads, rows)
        .note("Slip power: mean while the motor runs. Lives are of worn parts, on assumed wear constants, oil apart: low oil is a service missed, not wear.")
}

/// Kinds of warnings, with the number of combinations that give each.
fn warned(sweep: &Sweep) -> Option<Block> {
    let mut kinds: Vec<(&str, usize)> = vec![];
    for kind in sweep.rows.iter().flat_map(|row| &row.summary.warnings) {
        match kinds.iter_mut().find(|known| known.0 == kind) {
            Some(known) => known.1 += 1,
            None => kinds.push((kind, 1)),
        }
    }
    let all = sweep.rows.len();
    let each: Vec<String> = kinds.iter().map(|(kind, runs)| format!("{kind} ({runs} of {all})")).collect();
    (!each.is_empty()).then(|| Block::Words(format!("Warnings: {}.", each.join(", ")).into()))
}
