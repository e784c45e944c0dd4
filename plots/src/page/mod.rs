//! A result for reading, in two media: one HTML file without network or scripts, for screen, paper and screen readers;
//! and text for a terminal.
//!
//! A result of any kind is first converted to a [`Page`]: a question, an answer in sentences, and sections of figures,
//! tables, sentences and scripts. Only [`Page::html`] and [`Page::text`] know the media; a part may be for one of them
//! only. All text is escaped; drawings are inserted unchanged, because this crate made them.

mod cell;
mod data;
mod grid;
mod head;
pub(crate) mod html;
pub mod lines;
pub(crate) mod picture;
pub(crate) mod table;
mod text;

use crate::words::text::Words;

pub use cell::Cell;
pub use head::{Head, Unit};
pub use picture::Picture;
pub use table::{Group, Row, Table};

/// One result for a reader.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// question of the study, the main heading
    pub question: String,
    /// conditions of the question, a few words
    pub given: String,
    /// program and inputs of the page, one line
    pub origin: String,
    /// the answer, a few sentences with numbers
    pub answer: Vec<Words>,
    /// uncertainty of the answer and what it depends on; on the terminal only with details
    pub sure: Vec<Words>,
    /// compared items; a reader may hide each by its box, with the rows and columns whose `of` is its index
    pub compared: Vec<String>,
    /// their colours in figures, as in CSS; may be empty
    pub colours: Vec<String>,
    /// everything else, in order
    pub sections: Vec<Section>,
}

/// Media in which a part of a page is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reach {
    /// on the page and on the terminal
    #[default]
    Everywhere,
    /// on the page, and on the terminal with details
    Details,
    /// only on the page
    Page,
    /// on the terminal alone
    Terminal,
    /// on the terminal alone, where no details are asked for
    Brief,
    /// only on the terminal with details
    Full,
}

impl Reach {
    pub(crate) fn on_page(self) -> bool {
        !matches!(self, Self::Terminal | Self::Brief | Self::Full)
    }

    pub(crate) fn on_terminal(self, details: bool) -> bool {
        match self {
            Self::Everywhere | Self::Terminal => true,
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
    /// media in which it is shown
    pub reach: Reach,
    /// how it is shown on a page
    pub shown: Shown,
    /// contents
    pub blocks: Vec<Block>,
}

/// How a section is shown on a page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// as it is
    #[default]
    Open,
    /// as it is, and on the sheet of one printed page
    Pinned,
    /// under its heading, for a reader to open
    Folded,
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// a paragraph
    Words(Words),
    /// a list of sentences
    List(Vec<Words>),
    /// signs and their meanings
    Legend(Vec<(char, Words)>),
    /// a figure with its caption
    Picture(Picture),
    /// a table; a ledger is a table whose groups are its sides
    Table(Table),
    /// a script or a command, verbatim
    Code {
        /// caption
        caption: String,
        /// its text
        text: String,
    },
    /// a block that is not shown everywhere
    Only(Reach, Box<Self>),
}

impl Block {
    /// The block, shown only in these media.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self::Only(reach, Box::new(self))
    }

    /// The block, if it is shown in a medium for which `where_to` holds.
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
        Self { heading: heading.to_owned(), blocks, ..Self::default() }
    }

    /// The section, also on the sheet of one printed page.
    #[must_use]
    pub fn pinned(self) -> Self {
        Self { shown: Shown::Pinned, ..self }
    }

    /// The section, on a page for a reader to open.
    #[must_use]
    pub fn folded(self) -> Self {
        Self { shown: Shown::Folded, ..self }
    }

    /// The section, shown only in these media.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self { reach, ..self }
    }
}
