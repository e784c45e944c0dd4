//! The shop's questions: choice of a spring, gap under the cover, oiling. They come from the command line or a script,
//! the engine answers them, and the answer is given as text, JSON and a figure.

pub(crate) mod choose;
pub(crate) mod gaps;
pub(crate) mod oiling;
pub(crate) mod options;

pub use choose::choose;
pub use gaps::gaps;
pub use oiling::oiling;
pub use options::Wrong;

use crate::Trouble;
use crate::command::arguments::Output;
use crate::command::deliver::{deliver, prepare};
use crate::command::terminal::Progress;
use crate::study::runs;
use rayon::prelude::*;
use slipsoak_engine::choice::{self, Sketched, Spring, Wish, judge};
use slipsoak_engine::document::{Head, Saved};
use slipsoak_engine::{fit, oiling as engine};

/// A question with all its data.
#[derive(Clone, Debug)]
pub enum Question {
    /// choice of a spring
    Choose(Box<Wish>, Vec<Spring>, Option<Sketched>),
    /// gap under the cover, and time until it closes
    Gaps(Box<fit::Wish>),
    /// interval and dose of oiling
    Oiling(Box<engine::Wish>),
}

impl Question {
    /// The question with the head of the request.
    #[must_use]
    pub fn of(mut self, head: Head) -> Self {
        match &mut self {
            Self::Choose(wish, ..) => wish.head = head,
            Self::Gaps(wish) => wish.head = head,
            Self::Oiling(wish) => wish.head = head,
        }
        self
    }

    /// Name of the trials that the answer needs, and their number.
    pub fn trials(&self) -> (&'static str, usize) {
        match self {
            Self::Choose(_, springs, _) => ("springs judged", springs.len()),
            Self::Gaps(_) => ("gaps worn", 1),
            Self::Oiling(_) => ("ways to oil tried", engine::TRIALS),
        }
    }

    /// Computes the answer on the threads of the present pool; the answer does not depend on their number. `done` is
    /// called for each trial.
    pub fn answer(&self, done: &(dyn Fn() + Sync)) -> Result<Saved, Trouble> {
        match self {
            Self::Choose(wish, springs, sketched) => {
                let judged = springs.par_iter().map(|spring| judge(wish, spring).inspect(|_| done()));
                let judged: Result<Vec<_>, _> = judged.collect();
                Ok(choice::choice(wish, judged?, *sketched).into())
            }
            Self::Gaps(wish) => Ok(fit::gaps(wish).inspect(|_| done())?.into()),
            Self::Oiling(wish) => Ok(engine::plan(wish, done)?.into()),
        }
    }
}

/// Answers a question of the command line.
pub fn perform(question: &Question, threads: Option<u16>, output: &Output) -> Result<String, Trouble> {
    let folder = prepare(output)?;
    let (what, trials) = question.trials();
    let bar = Progress::of(what, output.quiet);
    bar.begin(trials as u64, 0);
    let answer = runs::pool(threads)?.install(|| question.answer(&|| bar.add(1.0)));
    bar.end();
    Ok(deliver(answer?.into(), output, folder)?)
}
