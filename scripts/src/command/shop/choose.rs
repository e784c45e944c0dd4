//! Choice of a spring: a question from the command's options.

use crate::command::arguments::Choose;
use crate::command::machine::{machine, of_machine};
use crate::command::shop::options::{OptionError, options};
use crate::language::plan::ShopQuestion;
use crate::read::file;
use crate::read::stock::{Stock, shipped};
use crate::read::uses::usage;
use crate::study::question::{Question, question};

/// The question of the command line.
pub fn choose(given: &Choose) -> Result<Question, OptionError> {
    let machine = machine(&given.machine)?;
    let words = [
        ("idle", given.idle.clone()),
        ("wander", given.wander.clone()),
        ("power", given.power.clone()),
        ("rated", given.rated.clone()),
        ("grade", given.grade.clone()),
        ("load", given.load.clone()),
        ("use", Some(given.usage.clone())),
        ("crawl", given.crawl.clone()),
        ("season", given.season.clone()),
        ("stock", given.stock.as_ref().map(|path| path.display().to_string())),
    ];
    let options = options(ShopQuestion::Choose, &words)?;
    let springs = match &given.stock {
        None => shipped()?,
        Some(path) => {
            let text = file::text(path, file::Kind::Stock)?;
            Stock::read(&path.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned()), &text)?
        }
    };
    let usage = |machine: &_| usage(&given.usage, machine).map_err(OptionError::from);
    let question = question(ShopQuestion::Choose, machine, &options, springs, usage)?;
    Ok(question.of(of_machine("choose", &given.machine, &words)))
}
