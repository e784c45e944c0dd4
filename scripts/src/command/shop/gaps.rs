//! Gap under the cover: a question from the command's options.

use crate::command::arguments::Gaps as Given;
use crate::command::machine::{MachineArgumentError, machine, of_machine};
use crate::command::shop::options::{OptionError, toleranced, within};
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::fit::Wish;
use slipsoak_engine::parts::Dimension;

/// The question of the command line.
pub fn gaps(given: &Given) -> Result<Question, OptionError> {
    let mut machine = machine(&given.machine)?;
    if let Some((size, tolerance)) = toleranced("--proud", given.proud.as_ref(), machine.cover.proud_tolerance)? {
        (machine.cover.proud, machine.cover.proud_tolerance) = (size, tolerance);
    }
    if let Some((size, tolerance)) = toleranced("--washer", given.washer.as_ref(), machine.cover.washer_tolerance)? {
        (machine.washer.thickness, machine.cover.washer_tolerance) = (size, tolerance);
    }
    machine.check().map_err(MachineArgumentError::from)?;
    let usage = usage(&given.usage, &machine)?;
    let cover = toleranced("--cover", given.cover.as_ref(), 0.0)?.unwrap_or_default();
    within("--cover", cover.0, (-0.02, 0.02), Dimension::Length)?;
    let wish = Wish { cover, seed: given.seed, assemblies: given.assemblies, ..Wish::new(machine, usage) };
    let options = [
        ("--proud", given.proud.clone()),
        ("--washer", given.washer.clone()),
        ("--cover", given.cover.clone()),
        ("--use", Some(given.usage.clone())),
        ("--seed", Some(given.seed.to_string())),
        ("--assemblies", Some(given.assemblies.to_string())),
    ];
    Ok(Question::Gaps(Box::new(wish)).of(of_machine("gaps", &given.machine, &options)))
}
