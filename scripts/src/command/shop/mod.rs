//! The shop's questions: which spring, will it fit and when will it rub, when and how to oil. Asked on the command line or in a
//! script, answered by the engine, told as text, JSON and a figure.

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

/// A question with all that it needs.
#[derive(Clone, Debug)]
pub enum Question {
    /// which spring
    Choose(Box<Wish>, Vec<Spring>, Option<Sketched>),
    /// will it fit, and when will it rub
    Gaps(Box<fit::Wish>),
    /// when and how to oil
    Oiling(Box<engine::Wish>),
}

impl Question {
    /// The same, asked by someone.
    #[must_use]
    pub fn of(mut self, head: Head) -> Self {
        match &mut self {
            Self::Choose(wish, ..) => wish.head = head,
            Self::Gaps(wish) => wish.head = head,
            Self::Oiling(wish) => wish.head = head,
        }
        self
    }

    /// What its answer tries out one by one, and how many of them.
    pub fn trials(&self) -> (&'static str, usize) {
        match self {
            Self::Choose(_, springs, _) => ("springs judged", springs.len()),
            Self::Gaps(_) => ("gaps worn", 1),
            Self::Oiling(_) => ("ways to oil tried", engine::TRIALS),
        }
    }

    /// Works the answer out on the threads of the present pool; the answer does not depend on how many there are. `done` hears
    /// of each trial.
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
