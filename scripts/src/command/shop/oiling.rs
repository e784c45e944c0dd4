//! Oiling: a question from the command's options.

use crate::command::arguments::Oiling as Given;
use crate::command::machine::{machine, of_machine};
use crate::command::shop::options::{OptionError, options};
use crate::language::plan::ShopQuestion;
use crate::read::uses::usage;
use crate::study::question::{Question, question};

/// The question of the command line.
pub fn oiling(given: &Given) -> Result<Question, OptionError> {
    let machine = machine(&given.machine)?;
    let words = [
        ("use", Some(given.usage.clone())),
        ("riding", given.riding.clone()),
        ("rest", given.rest.clone()),
        ("drops", Some(given.drops.to_string())),
        ("found", given.found.clone()),
        ("grease", given.grease.clone()),
    ];
    let options = options(ShopQuestion::Oiling, &words)?;
    let usage = |machine: &_| usage(&given.usage, machine).map_err(OptionError::from);
    let question = question(ShopQuestion::Oiling, machine, &options, vec![], usage)?;
    Ok(question.of(of_machine("oiling", &given.machine, &words)))
}
