//! A result as it is read, in two media: one HTML file that needs no network and no script, for a screen, for paper and for a
//! screen reader; and the text of a terminal.
//!
//! A result of whatever kind is first put as a [`Page`]: a question, an answer in sentences, and sections of figures, tables,
//! sentences and scripts. Only [`Page::html`] and [`Page::text`] know how that looks; a part may be for one of them alone. All
//! text is escaped; drawings are taken as they are, since this crate made them.

mod grid;
pub(crate) mod html;
pub mod lines;
pub(crate) mod picture;
pub(crate) mod table;
mod text;

use crate::words::text::Words;

pub use picture::Picture;
pub use table::{Cell, Group, Head, Row, Table, Unit};

/// One result as a reader meets it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// what was asked, the heading of all
    pub question: String,
    /// what was given with the question, a few words
    pub given: String,
    /// what made the page and from what, one line
    pub origin: String,
    /// the answer, a few sentences with numbers
    pub answer: Vec<Words>,
    /// how sure the answer is and what it depends on: on the terminal with the details
    pub sure: Vec<Words>,
    /// what is compared; a reader may hide each by its box, and with it the rows and columns that are `of` its index
    pub compared: Vec<String>,
    /// everything else, in order
    pub sections: Vec<Section>,
}

/// Where a part of a page is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reach {
    /// on the page and on the terminal
    #[default]
    Everywhere,
    /// on the page, and on the terminal where details are asked for
    Details,
    /// on the page alone
    Page,
    /// on the terminal alone, where no details are asked for
    Brief,
    /// on the terminal alone, where details are asked for
    Full,
}

impl Reach {
    pub(crate) fn on_page(self) -> bool {
        !matches!(self, Self::Brief | Self::Full)
    }

    pub(crate) fn on_terminal(self, details: bool) -> bool {
        match self {
            Self::Everywhere => true,
            Self::Details | Self::Full => details,
            Self::Brief => !details,
            Self::Page => false,
        }
    }
}

/// A part of a page under a heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// its heading
    pub heading: String,
    /// where it is shown
    pub reach: Reach,
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
    /// signs and what each stands for
    Legend(Vec<(char, Words)>),
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
    /// a piece that is not shown everywhere
    Only(Reach, Box<Self>),
}

impl Block {
    /// The same, shown there alone.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self::Only(reach, Box::new(self))
    }

    /// What is shown of it where parts of a reach are.
    pub(crate) fn shown(&self, where_to: impl Fn(Reach) -> bool) -> Option<&Self> {
        match self {
            Self::Only(reach, block) => where_to(*reach).then_some(block),
            block => Some(block),
        }
    }
}

impl Section {
    /// A section of these blocks.
    pub fn new(heading: &str, blocks: Vec<Block>) -> Self {
        Self { heading: heading.to_owned(), reach: Reach::Everywhere, blocks }
    }

    /// The same, shown there alone.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self { reach, ..self }
    }
}
