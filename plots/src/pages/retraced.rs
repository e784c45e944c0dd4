//! The page of a recorded ride: its launches, the slip energy of each, and what cleaning changed in the recording.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Head, Page, Reach, Section, Table};
use crate::pages::origin::closing;
use crate::words::cautions::of_ground;
use crate::words::cleaning::lines;
use crate::words::number::{column, three};
use crate::words::retraced::{SURE, answer, kj, warnings};
use crate::words::text::{Words, the};
use slipsoak_engine::retraced::{Launch, Retraced};

impl Page {
    /// The page of a recorded ride.
    pub(crate) fn of_retraced(ridden: &Retraced, figures: Drawn) -> Self {
        let hash = Words::from(format!("SHA-256 of the recording: {}", ridden.file_hash));
        let mut results = vec![];
        if !ridden.launches.is_empty() {
            results.extend([Block::Table(launches(ridden)).only(Reach::Details), Block::Table(classes(ridden))]);
        }
        results.extend((!ridden.warnings.is_empty()).then(|| Block::List(warnings(ridden))));
        let mut sections = vec![pictures(figures)];
        if !results.is_empty() {
            sections.push(Section::new("Results", results));
        }
        sections.push(Section::new("What cleaning did", vec![list(&lines(&ridden.recording, &ridden.file))]));
        sections.extend(closing(&ridden.head, of_ground(ridden.grade), vec![hash]));
        Self {
            question: format!("What does {} cost the clutch of {}?", ridden.file, the(&ridden.machine)),
            origin: format!("{} on {}, by {}", ridden.file, the(&ridden.machine), ridden.head.program),
            answer: answer(ridden),
            sure: vec![SURE.into()],
            sections,
            ..Self::default()
        }
    }
}

fn list(sentences: &[String]) -> Block {
    Block::List(sentences.iter().map(|s| Words::from(s.trim())).collect())
}

fn launches(r: &Retraced) -> Table {
    let heads = Head::row("launch | sets off after [s] | slips for [s] | slip energy [kJ] | locks");
    let numbers = |digits, of: fn(&Launch) -> f64| Cell::numbers(r.launches.iter().map(of), digits);
    let energies = column(&r.launches.iter().map(|l| l.energy / 1e3).collect::<Vec<_>>(), 3);
    let most = r.launches.iter().map(|l| l.energy).fold(1e-9, f64::max);
    let cells = [
        (1..=r.launches.len()).map(|k| k.to_string().into()).collect(),
        numbers(4, |l| l.time),
        numbers(3, |l| l.slipped),
        energies.into_iter().zip(&r.launches).map(|(shown, l)| Cell::Bar(shown, l.energy / most)).collect(),
        r.launches.iter().map(|l| if l.locked { "yes" } else { "no" }.into()).collect(),
    ];
    Table::of_columns("Every launch from standstill", heads.into_iter().zip(cells))
        .note("Slip energy from the clutch's engagement until it locks, stops or lets go again.")
}

fn classes(r: &Retraced) -> Table {
    let heads = vec![Head::words("slip energy"), Head::of("launches", "")];
    let most = r.classes.iter().map(|c| c.2).max().unwrap_or(1).max(1) as f64;
    let row = |(from, to, count): &(f64, f64, u64)| {
        [format!("{} to {}", three(from / 1e3), kj(*to)).into(), Cell::Bar(count.to_string(), *count as f64 / most)]
    };
    Table::new("Launches by what they cost", heads, r.classes.iter().map(row))
}
