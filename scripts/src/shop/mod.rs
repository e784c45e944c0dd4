//! The shop's questions: which spring, will it fit and when will it rub, when and how to oil. Asked on the command line or in a
//! script, answered by the engine, told as text, JSON and a figure.

mod choose;
mod gaps;
mod oiling;
mod options;
pub(crate) mod origin;
mod stock;
pub(crate) mod words;

pub use choose::choose;
pub use gaps::gaps;
pub use oiling::oiling;
pub use options::Wrong;
pub use stock::{Stock, shipped};
pub use words::{Asked, Use};

use crate::arguments;
use crate::output::{Folder, Unwritten, json, write_page};
use crate::terminal::Progress;
use crate::{Trouble, study};
use rayon::prelude::*;
use slipsoak_engine::choice::{self, Choice, Sketched, Spring, Wish, judge};
use slipsoak_engine::origin::Origin;
use slipsoak_engine::{fit, oiling as engine};
use slipsoak_plots::report::Page;
use slipsoak_plots::{DrawError, Drawing, Look};

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

/// An answer, as it is saved.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// which spring
    Choice(Box<Choice>),
    /// will it fit, and when will it rub
    Gaps(Box<fit::Gaps>),
    /// when and how to oil
    Oiling(Box<engine::OilPlan>),
}

impl Question {
    /// The same, asked by someone.
    #[must_use]
    pub fn of(mut self, origin: Origin) -> Self {
        match &mut self {
            Self::Choose(wish, ..) => wish.origin = origin,
            Self::Gaps(wish) => wish.origin = origin,
            Self::Oiling(wish) => wish.origin = origin,
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
    pub fn answer(&self, done: &(dyn Fn() + Sync)) -> Result<Answer, Trouble> {
        match self {
            Self::Choose(wish, springs, sketched) => {
                let judged = springs.par_iter().map(|spring| judge(wish, spring).inspect(|_| done()));
                let judged: Result<Vec<_>, _> = judged.collect();
                Ok(Answer::Choice(Box::new(choice::choice(wish, judged?, *sketched))))
            }
            Self::Gaps(wish) => Ok(Answer::Gaps(Box::new(fit::gaps(wish).inspect(|_| done())?))),
            Self::Oiling(wish) => Ok(Answer::Oiling(Box::new(engine::plan(wish, done)?))),
        }
    }
}

impl Answer {
    /// Stem of its files' names.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Choice(_) => "choice",
            Self::Gaps(_) => "gaps",
            Self::Oiling(_) => "oiling",
        }
    }

    /// For the terminal.
    pub fn text(&self) -> String {
        match self {
            Self::Choice(choice) => choose::text(choice),
            Self::Gaps(found) => gaps::text(found),
            Self::Oiling(plan) => oiling::text(plan),
        }
    }

    /// For programs, SI.
    pub fn json(&self) -> String {
        match self {
            Self::Choice(choice) => json(choice),
            Self::Gaps(found) => json(found),
            Self::Oiling(plan) => json(plan),
        }
    }

    /// As a page.
    pub fn page(&self) -> Page {
        match self {
            Self::Choice(choice) => Page::of_choice(choice),
            Self::Gaps(found) => Page::of_gaps(found),
            Self::Oiling(plan) => Page::of_oiling(plan),
        }
    }

    /// Seed of what was drawn for it.
    pub fn seed(&self) -> Option<u64> {
        if let Self::Gaps(found) = self { Some(found.seed) } else { None }
    }

    /// Its figure.
    pub fn draw(&self, look: &Look) -> Result<Drawing, DrawError> {
        match self {
            Self::Choice(choice) => slipsoak_plots::choice(choice, look),
            Self::Gaps(found) => slipsoak_plots::gaps(found, look),
            Self::Oiling(plan) => slipsoak_plots::oiling(plan, look),
        }
    }

    /// Writes its JSON and, if asked, its figure under a name.
    fn write(&self, folder: &Folder, name: &str, picture: bool) -> Result<(), Unwritten> {
        folder.write(&format!("{name}.json"), self.json().as_bytes())?;
        if !picture {
            return Ok(());
        }
        let undrawn = |e: DrawError| Unwritten::Undrawn { figure: name.to_owned(), why: e.to_string() };
        let drawing = self.draw(&Look::default()).map_err(undrawn)?;
        folder.write(&format!("{name}.svg"), drawing.svg.as_bytes())?;
        folder.write(&format!("{name}.png"), &drawing.png().map_err(undrawn)?)
    }
}

/// Writes the answers of a script, and their figures if asked; further ones of a kind are numbered.
pub fn write_all(folder: &Folder, answers: &[Answer], pictures: bool) -> Result<(), Unwritten> {
    for (k, answer) in answers.iter().enumerate() {
        let before = answers[..k].iter().filter(|a| a.name() == answer.name()).count();
        let name = if before == 0 { answer.name().to_owned() } else { format!("{}-{}", answer.name(), before + 1) };
        answer.write(folder, &name, pictures)?;
    }
    Ok(())
}

/// Answers a question of the command line.
pub fn perform(question: &Question, given: &arguments::Answering) -> Result<String, Trouble> {
    let folder = given.out.as_deref().map(|out| Folder::prepare(out, given.replace)).transpose()?;
    let (what, trials) = question.trials();
    let bar = Progress::of(what, false);
    bar.begin(trials as u64, 0);
    let answer = study::pool(given.threads)?.install(|| question.answer(&|| bar.add(1.0)));
    bar.end();
    let answer = answer?;
    let mut text = if given.json { answer.json() } else { answer.text() };
    if let Some(folder) = folder {
        answer.write(&folder, answer.name(), true)?;
        if given.report {
            write_page(&folder, &answer.page())?;
        }
        let wrote = folder.finish()?;
        if !given.json {
            text += &wrote;
        }
    }
    Ok(text)
}
