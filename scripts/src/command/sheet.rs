//! The sheet of a machine.

use crate::command::arguments::Sheet;
use crate::command::deliver::{deliver, prepare};
use crate::command::machine::{machine, of_machine};
use crate::error::Error;
use slipsoak_engine::document::Saved;
use slipsoak_engine::sheet::sheet;

/// Runs `slipsoak sheet`.
pub fn perform(asked: &Sheet) -> Result<String, Error> {
    let folder = prepare(&asked.output)?;
    let machine = machine(&asked.machine)?;
    let sheet = Saved::from(sheet(&machine)?).headed(of_machine("sheet", &asked.machine, []));
    Ok(deliver(sheet.into(), &asked.output, folder)?)
}
