//! The page of a sweep: settings crossed, and what each combination comes to.

use super::number::{column, three, time};
use super::origin::{Origin, asked, closing};
use super::{Block, Cell, Head, Page, Picture, Row, Section, Table, Words};
use crate::reading::celsius;
use crate::{Look, SweepFigure};
use slipsoak_engine::sweep::Sweep;

const HOUR: f64 = 3600.0;

impl Page {
    /// The page of a sweep.
    pub fn of_sweep(sweep: &Sweep) -> Self {
        let origin = Origin {
            program: &sweep.program,
            script: &sweep.script,
            text: &sweep.script_text,
            hash: &sweep.script_hash,
            parameters: &sweep.parameters,
            seeds: &[],
        };
        let mut sections =
            vec![Section::new("Figures", pictures(sweep)), Section::new("Results", vec![Block::Table(results(sweep))])];
        sections.extend(closing(&origin, &[]));
        Self {
            question: asked(&sweep.title, &sweep.script),
            origin: format!("{}, {} combinations of {}", sweep.script, sweep.rows.len(), sweep.program),
            answer: answer(sweep),
            compared: vec![],
            sections,
        }
    }
}

fn pictures(sweep: &Sweep) -> Vec<Block> {
    let block = |figure: SweepFigure| match figure.draw(sweep, &Look::default()) {
        Ok(drawing) => Block::Picture(Picture::new(drawing)),
        Err(why) => Block::Words(format!("No figure “{}”: {why}.", figure.name()).into()),
    };
    SweepFigure::ALL.into_iter().map(block).collect()
}

/// A combination in words.
fn called(sweep: &Sweep, place: &[usize]) -> String {
    let stop = |(axis, stop): (&slipsoak_engine::sweep::Axis, &usize)| format!("{} {}", axis.name, axis.labels[*stop]);
    sweep.axes.iter().zip(place).map(stop).collect::<Vec<_>>().join(", ")
}

fn answer(sweep: &Sweep) -> Vec<Words> {
    let hottest = sweep.rows.iter().max_by(|a, b| a.summary.lining_peak.total_cmp(&b.summary.lining_peak));
    let coolest = sweep.rows.iter().min_by(|a, b| a.summary.lining_peak.total_cmp(&b.summary.lining_peak));
    let longest = sweep.rows.iter().filter_map(|row| Some((row, row.summary.life?))).max_by(|a, b| a.1.total_cmp(&b.1));
    let mut said = vec![];
    if let (Some(hot), Some(cool)) = (hottest, coolest) {
        let peak = |row: &slipsoak_engine::sweep::Row| format!("{:.0}\u{a0}°C", celsius(row.summary.lining_peak));
        said.push(
            Words::from("The lining gets hottest at ")
                .strong(called(sweep, &hot.place))
                .plain(format!(" ({}) and stays coolest at ", peak(hot)))
                .strong(called(sweep, &cool.place))
                .plain(format!(" ({}).", peak(cool))),
        );
    }
    if let Some((row, life)) = longest {
        let by = row.summary.ended_by.as_deref().map_or_else(String::new, |part| format!(", where the {part} ends it"));
        said.push(
            Words::from("It lasts longest at ")
                .strong(called(sweep, &row.place))
                .plain(format!(": {} of this duty{by}.", time(life / HOUR))),
        );
    }
    said.push("Peaks of temperature lean on contacts that are assumed within a factor of two, lives on wear constants that are assumed within a factor of three and more: what differs from cell to cell is surer than any cell.".into());
    said
}

fn results(sweep: &Sweep) -> Table {
    let heads = sweep.axes.iter().map(|axis| Head::words(&axis.name)).chain([
        Head::temperature("lining, peak"),
        Head::temperature("bushing, peak"),
        Head::of("slip heat", "W"),
        Head::of("slip heat of a launch", "kJ"),
        Head::of("oil fill at the end", "%"),
        Head::of("life", "h"),
        Head::words("ended by"),
    ]);
    let numbers = |digits, of: &dyn Fn(&slipsoak_engine::sweep::Summary) -> Option<f64>| {
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
            s.life.map_or(Cell::Nothing, |life| Cell::Number(three(life / HOUR))),
            s.ended_by.clone().map_or(Cell::Nothing, Cell::from),
        ];
        Row { cells: stops.chain(found).collect(), of: None }
    };
    let rows = sweep.rows.iter().enumerate().map(row).collect();
    Table::new("Every combination", heads.collect(), rows)
        .note("Slip heat: mean while the motor runs. The oil is left out of “ended by”: it is service, not wear.")
}
