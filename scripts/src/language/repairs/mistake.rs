//! A mistake of a script with its surroundings, and a change that mends one.

use crate::language::code::{line, masked};
use crate::language::hints::{SEMICOLON, word_after};
use crate::language::script_error::Place;
use std::ops::Range;

/// A change of a script's text within a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// the bytes replaced
    pub at: Range<usize>,
    /// what to write instead
    pub write: String,
    /// what to write if something else is meant
    pub or: Option<String>,
}

/// A change with one meaning.
pub fn edit(at: Range<usize>, write: impl Into<String>) -> Edit {
    Edit { at, write: write.into(), or: None }
}

/// An insertion.
pub fn insert(at: usize, write: impl Into<String>) -> Edit {
    edit(at..at, write)
}

/// A mistake and its surroundings.
pub struct Mistake<'a> {
    pub title: &'a str,
    /// title and remedy
    pub message: String,
    pub text: &'a str,
    pub code: String,
    /// what the interpreter shows
    pub span: Range<usize>,
    /// end of the code before it
    pub end: usize,
    /// the bytes where the next word on that line begins
    pub next: usize,
}

impl<'a> Mistake<'a> {
    /// The mistake at a place; none if it has no place.
    pub fn at(place: &'a Place) -> Option<Self> {
        let span = place.span.clone()?;
        let (text, code) = (place.text.as_str(), masked(&place.text));
        let help = place.help.as_deref().unwrap_or_default();
        // This remedy is shown at the code before the mistake.
        let end = if help.starts_with(SEMICOLON) { span.end } else { code[..span.start].trim_end().len() };
        let next = end + text[end..].len() - text[end..].trim_start_matches([' ', '\t']).len();
        let message = format!("{} {}", place.title, help);
        Some(Self { title: &place.title, message, text, code, span, end, next })
    }

    /// Its line.
    pub fn line(&self) -> Range<usize> {
        line(self.text, self.span.start)
    }

    /// The word at its place.
    pub fn word(&self) -> &str {
        word_after(&self.text[self.next..])
    }
}
