//! Choice of a spring: a question from the command's options.

use crate::command::arguments::Choose;
use crate::command::machine::{MachineArgumentError, machine, of_machine};
use crate::command::shop::options::{OptionError, quantity};
use crate::read::file;
use crate::read::stock::{Stock, shipped};
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::choice::{Wish, sketch};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::RPM;

/// The question of the command line.
pub fn choose(given: &Choose) -> Result<Question, OptionError> {
    let mut machine = machine(&given.machine)?;
    let turns =
        |option, text, range: (f64, f64)| quantity(option, text, (range.0 * RPM, range.1 * RPM), D::AngularSpeed);
    if let Some(idle) = turns("--idle", given.idle.as_ref(), (800.0, 4000.0))? {
        machine.motor.idle = idle;
    }
    let power = quantity("--power", given.power.as_ref(), (100.0, 1e5), D::Power)?;
    let rated = turns("--rated", given.rated.as_ref(), (1500.0, 19000.0))?;
    let sketched = power.zip(rated).map(|(power, speed)| sketch(&mut machine, power, speed));
    let load = quantity("--load", given.load.as_ref(), (0.0, 2000.0), D::Mass)?.unwrap_or(0.0);
    machine.vehicle.mass += load;
    machine.check().map_err(MachineArgumentError::from)?;
    let usage = usage(&given.usage, &machine)?;
    let mut wish = Wish { load, ..Wish::new(machine, usage) };
    if let Some(wander) = turns("--wander", given.wander.as_ref(), (0.0, 500.0))? {
        wish.wander = wander;
    }
    if let Some(grade) = quantity("--grade", given.grade.as_ref(), (-0.5, 0.5), D::Ratio)? {
        wish.grade = grade;
    }
    wish.crawl = quantity("--crawl", given.crawl.as_ref(), (0.1, 30.0), D::Speed)?;
    if let Some(season) = quantity("--season", given.season.as_ref(), (3600.0, 3.6e8), D::Time)? {
        wish.season = season;
    }
    let springs = match &given.stock {
        None => shipped()?,
        Some(path) => {
            let text = file::text(path, file::Kind::Stock)?;
            Stock::read(&path.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned()), &text)?
        }
    };
    let stock = given.stock.as_ref().map(|path| path.display().to_string());
    let options = [
        ("--idle", given.idle.clone()),
        ("--wander", given.wander.clone()),
        ("--power", given.power.clone()),
        ("--rated", given.rated.clone()),
        ("--grade", given.grade.clone()),
        ("--load", given.load.clone()),
        ("--use", Some(given.usage.clone())),
        ("--crawl", given.crawl.clone()),
        ("--season", given.season.clone()),
        ("--stock", stock),
    ];
    let question = Question::Choose(Box::new(wish), springs, sketched);
    Ok(question.of(of_machine("choose", &given.machine, &options)))
}
