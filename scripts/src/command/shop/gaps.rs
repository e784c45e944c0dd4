//! Gap under the cover: a question from the command's options.

use crate::command::arguments::Gaps as Given;
use crate::command::machine::{machine, of_machine};
use crate::command::shop::options::{OptionError, toleranced, within};
use crate::language::plan::ShopQuestion;
use crate::language::shop_options::{COVER, COVER_TOLERANCE, Options};
use crate::read::uses::usage;
use crate::study::question::{Question, question};

/// The question of the command line.
pub fn gaps(given: &Given) -> Result<Question, OptionError> {
    let mut machine = machine(&given.machine)?;
    if let Some((size, tolerance)) = toleranced("proud", given.proud.as_ref(), machine.cover.proud_tolerance)? {
        (machine.cover.proud, machine.cover.proud_tolerance) = (size, tolerance);
    }
    if let Some((size, tolerance)) = toleranced("washer", given.washer.as_ref(), machine.cover.washer_tolerance)? {
        (machine.washer.thickness, machine.cover.washer_tolerance) = (size, tolerance);
    }
    let mut options = Options::new();
    if let Some((size, tolerance)) = toleranced("cover", given.cover.as_ref(), 0.0)? {
        options.insert(COVER.name, within(COVER.name, &COVER, size)?);
        options.insert(COVER_TOLERANCE.name, tolerance);
    }
    let usage = |machine: &_| usage(&given.usage, machine).map_err(OptionError::from);
    let mut question = question(ShopQuestion::Gaps, machine, &options, vec![], usage)?;
    // Seeds beyond what a number of a script can hold.
    if let Question::Gaps(wish) = &mut question {
        (wish.seed, wish.assemblies) = (given.seed, given.assemblies);
    }
    let words = [
        ("proud", given.proud.clone()),
        ("washer", given.washer.clone()),
        ("cover", given.cover.clone()),
        ("use", Some(given.usage.clone())),
        ("seed", Some(given.seed.to_string())),
        ("assemblies", Some(given.assemblies.to_string())),
    ];
    Ok(question.of(of_machine("gaps", &given.machine, &words)))
}
