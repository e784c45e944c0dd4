//! The page that is passed on: one HTML file that needs no network and no script, for a screen, for paper and for a screen reader.
//!
//! A result of whatever kind is first put as a [`Page`]: a question, an answer in sentences, and sections of figures, tables,
//! sentences and scripts. Only [`Page::html`] knows how that looks. All text is escaped; drawings are taken as they are, since
//! this crate made them.

mod answer;
mod calibration;
mod choice;
mod compared;
mod fault;
mod fleet;
mod gaps;
mod habits;
mod influence;
mod leaning;
mod ledger;
mod markup;
mod matrix;
mod number;
mod oiling;
mod origin;
mod picture;
mod question;
mod ranking;
mod retraced;
mod study;
mod sweep;
mod table;
mod words;

use crate::{Drawn, Look, drawn};
use slipsoak_engine::document::Saved;

pub use answer::{answer, from, verdict};
pub use compared::kind;
pub use fleet::answer as answer_of_fleets;
pub(crate) use origin::asked;
pub use picture::Picture;
pub use sweep::{answer as answer_of_sweep, found as found_by_sweep};
pub use table::{Cell, Group, Head, Row, Table, Unit};
pub use words::Words;
pub(crate) use words::together;

/// One result as a reader meets it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// what was asked, the heading of all
    pub question: String,
    /// what made the page and from what, one line
    pub origin: String,
    /// the answer, a few sentences with numbers and how sure they are
    pub answer: Vec<Words>,
    /// what is compared; a reader may hide each by its box, and with it the rows and columns that are `of` its index
    pub compared: Vec<String>,
    /// everything else, in order
    pub sections: Vec<Section>,
}

/// A part of a page under a heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// its heading
    pub heading: String,
    /// what stands in it
    pub blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// a paragraph
    Words(Words),
    /// a list of sentences
    List(Vec<Words>),
    /// a figure with its caption
    Picture(Picture),
    /// a table; a ledger is one whose groups are its sides
    Table(Table),
    /// a script or a command, letter by letter
    Code {
        /// what it is
        caption: String,
        /// its text
        text: String,
    },
}

impl Page {
    /// The page of a result.
    pub fn of(saved: &Saved) -> Self {
        Self::with(saved, drawn(saved, &Look::default()))
    }

    /// The page of a result with its figures as they were drawn; empty for learned constants without their data.
    pub fn with(saved: &Saved, figures: Drawn) -> Self {
        match saved {
            Saved::Record(record) => Self::of_study(record, figures),
            Saved::Fleet(report) => Self::of_fleets(report, figures),
            Saved::Sweep(sweep) => Self::of_sweep(sweep, figures),
            Saved::Influence(influences) => Self::of_influences(influences, figures),
            Saved::Choice(choice) => Self::of_choice(choice, figures),
            Saved::Gaps(gaps) => Self::of_gaps(gaps, figures),
            Saved::Oiling(plan) => Self::of_oiling(plan, figures),
            Saved::Told(told) => Self::of_calibration(told, figures),
            Saved::Retraced(ridden) => Self::of_retraced(ridden, figures),
            Saved::Calibration(_) => Self::default(),
        }
    }
}

impl Section {
    /// A section of these blocks.
    pub fn new(heading: &str, blocks: Vec<Block>) -> Self {
        Self { heading: heading.to_owned(), blocks }
    }
}
