//! The error that ends a command, and what every such error says of itself.

use annotate_snippets::{Annotation, Group, Level, Renderer, Snippet};
use std::fmt::{self, Display, Formatter};

/// An error that may end a command.
pub trait Ending: std::error::Error + Send + Sync + 'static {
    /// 2 if the command line is wrong, 1 if a script or a value is wrong or the system reports an error.
    fn exit_code(&self) -> u8 {
        1
    }

    /// The message with its title, and with the line of the script, if any.
    fn message<'a>(&'a self, title: &'a str) -> Group<'a> {
        plain(title)
    }
}

/// The error that ends a command.
#[derive(Debug)]
pub struct Error(Box<dyn Ending>);

impl<E: Ending> From<E> for Error {
    fn from(error: E) -> Self {
        Self(Box::new(error))
    }
}

impl Display for Error {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Error {
    /// 2 if the command line is wrong, 1 if a script or a value is wrong or the system reports an error.
    pub fn exit_code(&self) -> u8 {
        self.0.exit_code()
    }

    /// The whole message, with the line of the script, if any.
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        renderer.render(&[self.0.message(&shortened(&self.to_string()))])
    }
}

const NOTHING: [Snippet<'static, Annotation<'static>>; 0] = [];

/// A message that consists of a title only.
pub(crate) fn plain(title: &str) -> Group<'_> {
    Level::ERROR.primary_title(title).elements(NOTHING)
}

/// Largest length of a message, characters, including quotations.
const MESSAGE: usize = 3_000;

/// A message shortened in the middle if it is too long to be read.
pub(crate) fn shortened(text: &str) -> String {
    let count = text.chars().count();
    if count <= MESSAGE {
        return text.to_owned();
    }
    let (head, tail) = (MESSAGE / 2, count - MESSAGE / 2);
    let (first, last): (String, String) = (text.chars().take(head).collect(), text.chars().skip(tail).collect());
    format!("{first} … [{} characters left out] … {last}", count - MESSAGE)
}
