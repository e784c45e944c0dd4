//! The program: reads and plans a script, computes its requests, and delivers the results as documents.

pub mod command;
pub mod error;
pub mod keep;
pub mod language;
pub mod panic;
pub mod read;
pub mod study;

pub use error::Error;
pub use read::script::Script;

use command::arguments::{Arguments, Command};
use command::{calibrate, draw, page, retrace, run, settings, sheet, shop, words};

#[global_allocator]
static MEMORY: slipsoak_memory::Counting = slipsoak_memory::Counting;

/// Performs the command line and returns the text to print.
pub fn perform(arguments: &Arguments) -> Result<String, Error> {
    match &arguments.command {
        Command::Run(run) => run::run(run),
        Command::Gather(gather) => run::gather(gather),
        Command::Check(check) => run::check(check),
        Command::Words { word } => Ok(words::reference(word.as_deref())?),
        Command::Sheet(asked) => sheet::perform(asked),
        Command::Choose(asked) => shop::perform(&shop::choose(asked)?, asked.threads, &asked.output),
        Command::Gaps(asked) => shop::perform(&shop::gaps(asked)?, asked.threads, &asked.output),
        Command::Oiling(asked) => shop::perform(&shop::oiling(asked)?, asked.threads, &asked.output),
        Command::Draw(asked) => draw::draw(asked),
        Command::Report(asked) => page::perform(asked),
        Command::Settings => Ok(settings::text()),
        Command::Calibrate(asked) => calibrate::perform(asked),
        Command::Retrace(asked) => retrace::perform(asked),
        Command::Schema { of } => Ok(read::saved::schema(of)),
    }
}
