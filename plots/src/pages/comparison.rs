//! The page of a machine as it is against its readings.

use crate::page::{Block, Cell, Head, Page, Section, Table};
use crate::words::misfit::{answer, by, name, off, size, when};
use crate::words::number::figures;
use slipsoak_engine::calibrate::Misfit;

impl Page {
    /// A page that compares a machine with readings, the quantity that is farthest off first.
    pub fn of_comparison(title: &str, machine: &str, misfits: &[Misfit]) -> Self {
        let heads = Head::row("read | under | readings [] | misfit | in standard deviations [] | farthest off");
        let row = |m: &Misfit| {
            let far = &m.farthest;
            let farthest =
                format!("{}, {}: {}, {}", far.clutch, when(far.when), off(m.of, far.off), by(far.deviations));
            [
                name(m.of).into(),
                m.under.clone().into(),
                Cell::Number(m.readings.to_string()),
                size(m.of, m.size).into(),
                Cell::Number(figures(m.deviations, 2)),
                farthest.into(),
            ]
        };
        let table = Table::new("The machine as it is against the readings", heads, misfits.iter().map(row)).note(
            "Offsets that the readings of a clutch or a thermocouple share are taken off first. Misfit: root of the mean square of measured less computed; about 1 standard deviation is what the gauges alone would give.",
        );
        Self {
            question: title.to_owned(),
            given: format!("Machine: {machine}, nothing fitted"),
            answer: answer(misfits),
            sections: vec![Section::new("Readings", vec![Block::Table(table)])],
            ..Self::default()
        }
    }
}
