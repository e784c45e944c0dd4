//! The shop's questions: choice of a spring, gap under the cover, oiling. They come from the command line or a script,
//! the engine answers them, and the answer is given as text, JSON and a figure.

pub(crate) mod choose;
pub(crate) mod gaps;
pub(crate) mod oiling;
pub(crate) mod options;

pub use choose::choose;
pub use gaps::gaps;
pub use oiling::oiling;

use crate::command::arguments::Output;
use crate::command::deliver::{deliver, prepare};
use crate::command::progress::Progress;
use crate::error::Error;
use crate::study::question::Question;
use crate::study::request::pool;

/// Answers a question of the command line.
pub fn perform(question: &Question, threads: Option<u16>, output: &Output) -> Result<String, Error> {
    let folder = prepare(output)?;
    let (what, trials) = question.trials();
    let bar = Progress::of(what, output.quiet);
    bar.begin(trials as u64, 0);
    let answer = pool(threads)?.install(|| question.answer(&|| bar.add(1.0)));
    bar.end();
    Ok(deliver(answer?.into(), output, folder)?)
}
