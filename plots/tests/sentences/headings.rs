//! Headings of figures.

use super::rankings::rankings;
use super::said::{Said, clauses};
use super::sweeps::sweep;
use crate::made_up::{NAMES, documents, record};
use slipsoak_engine::document::Saved;
use slipsoak_engine::names::{Channel, Entry, Part};
use slipsoak_engine::record::{Ledger, Record, Warned, Warning};
use slipsoak_plots::words::text::Words;
use slipsoak_plots::{Figure, Look};

/// Headings of the figures of every document, which say what the figures show.
pub fn headings() -> Said {
    let title = |svg: &str| {
        let words = svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").to_owned();
        [("&lt;", "<"), ("&gt;", ">"), ("&apos;", "'"), ("&amp;", "&")]
            .iter()
            .fold(words, |all, (a, b)| all.replace(a, b))
    };
    let look = Look::default();
    // Of sweeps and rankings also those that find nothing.
    let more: [Saved; 2] = [sweep(&|over| 540.0 - 0.3 * over, true).into(), rankings().into()];
    let all = documents().into_iter().chain(more).flat_map(|saved| {
        let drawings = slipsoak_plots::drawn(&saved, &look);
        drawings.into_iter().map(|(_, drawing)| Words::from(title(&drawing.expect("it draws").svg))).collect::<Vec<_>>()
    });
    let mut all: Vec<Words> = all.collect();
    for record in bounds_of_headings() {
        let figures = [
            Figure::Cutaway,
            Figure::Temperatures,
            Figure::Heat,
            Figure::Oil,
            Figure::Life,
            Figure::Engagement,
            Figure::Gap,
        ];
        all.extend(figures.map(|figure| Words::from(title(&figure.draw(&record, &look).expect("it draws").svg))));
    }
    clauses("headings of figures", &all)
}

/// Records on which a heading has to stay true: one run, fifteen, several duties, ties, nothing that wears, no rest, no oil.
pub fn bounds_of_headings() -> Vec<Record> {
    let one = record(&NAMES[..1]);
    let mut hot = record(&["1900 rpm"; 15]);
    for (k, run) in hot.runs.iter_mut().enumerate() {
        run.variant = format!("{} rpm", 1600 + 100 * k);
        run.overall.most[Channel::LiningSurface as usize] = 500.0 + 5.0 * k as f64;
        run.windows.most.iter_mut().for_each(|row| row[Channel::WasherWear as usize] *= k as f64);
        run.parts[k % 2].part = if k % 2 == 0 { Part::Charring } else { Part::Lining };
    }
    let mut duties = record(&["cart"; 3]);
    for (run, duty) in duties.runs.iter_mut().zip(["flat", "hills", "town"]) {
        duty.clone_into(&mut run.duty);
        run.warnings = vec![Warning { kind: Warned::Beyond, value: 919.15, limit: 773.15 }];
    }
    let mut idle = record(&["a", "b"]);
    for run in &mut idle.runs {
        run.moments.clear();
        run.parts.iter_mut().for_each(|part| (part.life, part.running, part.used) = (None, None, 0.0));
        run.ledgers.oil.inward.insert(Entry::PutOn, 0.0);
        run.ledgers.clutch = Ledger::default();
        run.windows.most.iter_mut().for_each(|row| row[Channel::WasherWear as usize] = 0.0);
    }
    vec![one, hot, duties, idle]
}
