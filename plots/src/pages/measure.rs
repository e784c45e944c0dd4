//! The page of what to measure.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Row, Section, Table};
use crate::pages::question::{ending, parted};
use crate::words::number::{figures, number};
use crate::words::text::{Words, the};
use crate::words::use_of_machine::varies;
use crate::words::{cautions, measuring, say};
use slipsoak_engine::measure_plan::{Candidate, MeasurePlan};
use slipsoak_engine::names::Decision;

impl Page {
    /// The page of the answer on what to measure.
    pub(crate) fn of_measure(plan: &MeasurePlan, figures: Drawn) -> Self {
        let (answer, why) = parted(measuring::statement(plan));
        let mut sections = vec![pictures(figures), why];
        if plan.may_ride() {
            sections.push(Section::new("The measurements", vec![Block::Table(all(plan))]));
            let how = |c: &Candidate| {
                Words::default().strong(format!("{}: ", measuring::act(c.method))).and(measuring::how(c.method))
            };
            sections.push(
                Section::new("How to measure", vec![Block::List(plan.candidates.iter().map(how).collect())])
                    .only(Reach::Details),
            );
            sections.extend(to_fill_in(plan));
        }
        sections.extend(ending(&plan.head, &plan.settings, &cautions::GAPS));
        let what = match plan.decision {
            Decision::Oiling => "how often to oil",
            Decision::Life => "how long the parts last",
            Decision::Spring => "which spring to fit",
            Decision::Season => "how many parts to have for a season",
        };
        Self {
            question: format!("What is worth measuring on {}, to know {what}?", the(&plan.machine)),
            given: format!(
                "Use: {}, outings of {}, {} of rest after each{}",
                plan.usage,
                say::time(plan.riding),
                say::time(plan.rest),
                varies(plan.wander)
            ),
            origin: format!("computed by {}", plan.head.program),
            answer,
            sure: measuring::sure(plan),
            sections,
            ..Self::default()
        }
    }
}

/// Every measurement, that with the largest gain first.
fn all(plan: &MeasurePlan) -> Table {
    let heads = Head::row(
        "measurement | riding between | work [min] | range, × or ÷ [] | advice changes [%] | gain [%] | information [bits]",
    );
    let gain = |gain: f64| if plan.perfect > 0.0 { 100.0 * gain / plan.perfect } else { 0.0 };
    let one = |(k, c): (usize, &Candidate)| {
        let mark = if plan.best == Some(k as u64) { " (best)" } else { "" };
        let wait = if c.wait > 0.0 { Cell::Number(say::time(c.wait)) } else { Cell::Nothing };
        Row::from([
            format!("{}{mark}", c.method).into(),
            wait,
            Cell::Number(number(c.minutes, 1.0)),
            Cell::Number(figures(measuring::factor(c.deviation), 2)),
            if c.is_sure() { Cell::Number(number(100.0 * c.change, 1.0)) } else { Cell::Nothing },
            if c.is_sure() {
                Cell::Number(format!("{} ± {}", number(gain(c.gain), 1.0), number(gain(c.error), 1.0)))
            } else {
                Cell::Nothing
            },
            Cell::Number(number(c.bits, 0.01)),
        ])
    };
    let caption = format!(
        "What each measurement tells of {}, today known to × or ÷ {}",
        measuring::subject(plan),
        figures(measuring::factor(plan.prior.deviation), 2)
    );
    Table::new(caption, heads, plan.candidates.iter().enumerate().map(one))
        .note(format!(
            "Gain: share of the loss that is saved by acting on the reading, of what full knowledge would save, ± 1 standard error; each eighth of the samples is judged by what the others show. {} Bits by slopes at the nominal machine.",
            measuring::untold(plan)
        ))
}

/// A sheet to fill in by hand.
fn to_fill_in(plan: &MeasurePlan) -> Option<Section> {
    let (heads, rows) = measuring::sheet(plan)?;
    let head = |text: &String| match text.split_once(" [") {
        Some((name, unit)) => Head::of(name, &unit.replacen(']', "", 1)),
        None => Head::words(text),
    };
    let cell = |text: String| if text.is_empty() { Cell::from("\u{a0}\u{a0}\u{a0}\u{a0}") } else { Cell::from(text) };
    let rows = rows.into_iter().map(|row| Row::from(row.into_iter().map(cell).collect::<Vec<_>>()));
    let table = Table::new("Readings", heads.iter().map(head), rows)
        .note("Hours are those of the hour meter since the first reading. The same table as a file is read by `slipsoak calibrate SCRIPT --inspections sheet-to-fill-in.csv`; leave blank what was not measured.");
    Some(Section::new("Sheet to fill in", vec![Block::Table(table)]).only(Reach::Page))
}
