//! The program: reads and plans a script, computes its requests, and delivers the results as documents.

pub mod command;
pub mod error;
pub mod keep;
pub mod language;
pub mod panic;
pub mod read;
pub mod shop;
pub mod study;

pub use error::Error;
pub use read::script::Script;

use command::arguments::{Arguments, Command};
use command::{calibrate, compare, draw, page, retrace, run, settings, sheet, words};

#[global_allocator]
static MEMORY: slipsoak_memory::Counting = slipsoak_memory::Counting;

/// Performs the command line and returns the text to print.
pub fn perform(arguments: &Arguments) -> Result<String, Error> {
    match &arguments.command {
        Command::Run(run) => run::run(run),
        Command::Gather(gather) => run::gather(gather),
        Command::Check(check) => run::check(check),
        Command::Words { word } => Ok(words::reference(word.as_deref())?),
        Command::Terms { word } => Ok(words::terms(word.as_deref())?),
        Command::Sheet(asked) => sheet::perform(asked),
        Command::Shop(asked) => command::shop::perform(asked),
        Command::Compare(asked) => compare::perform(asked),
        Command::Draw(asked) => draw::draw(asked),
        Command::Report(asked) => page::perform(asked),
        Command::Begin { folder } => Ok(command::begin::perform(folder)?),
        Command::Whole(machine) => Ok(slipsoak_engine::parts_file::write(&command::machine::machine(machine)?)),
        Command::Settings { group } => Ok(settings::of_group(group.as_deref())?),
        Command::Calibrate(asked) => calibrate::perform(asked),
        Command::Retrace(asked) => retrace::perform(asked),
        Command::Completions { shell } => Ok(command::manual::completions(*shell)),
        Command::Manual { command } => Ok(command::manual::page(command.as_deref())?),
        Command::Schema { of } => Ok(read::schemas::schema(of)),
    }
}
