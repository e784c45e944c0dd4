//! Reasons why a study gives no result.

use crate::error::{Ending, plain};
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use annotate_snippets::Group;
use slipsoak_engine::simulate::Failure;
use thiserror::Error;

/// Reason why a study gives no result.
#[derive(Clone, Debug, Error)]
#[allow(missing_docs)]
pub enum StudyError {
    /// the script
    #[error(transparent)]
    Script(#[from] ScriptError),
    /// an error of the engine
    #[error("{}", Refusal::from(.0.clone()))]
    Engine(#[from] Failure),
    /// data, an option, a duty or a journal that the study cannot use
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// too many items of a long study that could not be computed
    #[error("{why}. {}", too_many(*count, *of, items))]
    Failing { why: String, count: u64, of: u64, items: &'static str },
    /// an error in one item of a long study
    #[error("{item}: {error}")]
    Item { item: String, error: Box<StudyError> },
    /// threads cannot be started
    #[error("the threads cannot be started: {0}; try --threads 1")]
    Threads(String),
}

impl Ending for StudyError {
    fn exit_code(&self) -> u8 {
        match self {
            Self::Script(script) => script.exit_code(),
            Self::Item { error, .. } => error.exit_code(),
            Self::Refused(refusal) => refusal.exit_code(),
            _ => 1,
        }
    }

    fn message<'a>(&'a self, title: &'a str) -> Group<'a> {
        match self {
            Self::Script(script) => script.message(title),
            _ => plain(title),
        }
    }
}

impl StudyError {
    /// The error, attributed to one item of a long study.
    #[must_use]
    pub(crate) fn of(self, item: String) -> Self {
        Self::Item { item, error: Box::new(self) }
    }
}

/// Message of a study that ends because too many items failed.
fn too_many(count: u64, of: u64, items: &str) -> String {
    if of == 1 {
        return "Without this run there is nothing to compare the others with".to_owned();
    }
    format!(
        "{count} of {of} {items} or more could not be computed: a study leaves out a tenth at most; bring the settings that \
         are spread or varied closer to their defaults"
    )
}
