//! The page that is passed on: one HTML file that needs no network and no script, for a screen, for paper and for a screen reader.
//!
//! A result of whatever kind is first put as a [`Page`]: a question, an answer in sentences, and sections of figures, tables,
//! sentences and scripts. Only [`Page::html`] knows how that looks. All text is escaped; drawings are taken as they are, since
//! this crate made them.

pub(crate) mod html;

pub(crate) mod picture;
pub(crate) mod table;

use crate::words::text::Words;

pub use picture::Picture;
pub use table::{Cell, Group, Head, Row, Table, Unit};

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

impl Section {
    /// A section of these blocks.
    pub fn new(heading: &str, blocks: Vec<Block>) -> Self {
        Self { heading: heading.to_owned(), blocks }
    }
}
