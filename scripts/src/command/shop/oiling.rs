//! Oiling: a question from the command's options.

use crate::command::arguments::Oiling as Given;
use crate::command::machine::{machine, of_machine};
use crate::command::shop::options::{OptionError, quantity, within};
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::oiling::Wish;
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::DAY;

/// The question of the command line.
pub fn oiling(given: &Given) -> Result<Question, OptionError> {
    let machine = machine(&given.machine)?;
    let usage = usage(&given.usage, &machine)?;
    let mut wish = Wish::new(machine, usage);
    if let Some(riding) = quantity("--riding", given.riding.as_ref(), (300.0, DAY), D::Time)? {
        wish.riding = riding;
        wish.rest = (DAY - riding).max(0.0);
    }
    if let Some(rest) = quantity("--rest", given.rest.as_ref(), (0.0, 366.0 * DAY), D::Time)? {
        wish.rest = rest;
    }
    if let Some(found) = quantity("--found", given.found.as_ref(), (0.3, 1.0), D::Ratio)? {
        wish.found = found;
    }
    if let Some(grease) = quantity("--grease", given.grease.as_ref(), (1e-9, 1e-5), D::Volume)? {
        wish.grease = grease;
    }
    wish.drops = within("--drops", given.drops, (0.5, 100.0), D::Ratio)?;
    let options = [
        ("--use", Some(given.usage.clone())),
        ("--riding", given.riding.clone()),
        ("--rest", given.rest.clone()),
        ("--drops", Some(given.drops.to_string())),
        ("--found", given.found.clone()),
        ("--grease", given.grease.clone()),
    ];
    Ok(Question::Oiling(Box::new(wish)).of(of_machine("oiling", &given.machine, &options)))
}
