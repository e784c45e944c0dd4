//! The shop's questions: which spring, will it fit and when will it rub, when and how to oil. Asked on the command line or in a
//! script, answered by the engine, told as text, JSON and a figure.

mod choose;
mod gaps;
mod oiling;
mod options;
mod stock;
pub(crate) mod words;

pub use choose::choose;
pub use gaps::gaps;
pub use oiling::oiling;
pub use options::Wrong;
pub use stock::{Stock, shipped};
pub use words::{Asked, Use};

use crate::arguments;
use crate::output::{Folder, Unwritten, json};
use crate::{Trouble, study};
use rayon::prelude::*;
use slipsoak_engine::choice::{self, Choice, Sketched, Spring, Wish, judge};
use slipsoak_engine::{fit, oiling as engine};
use slipsoak_plots::{Drawing, Size};
use std::path::Path;

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
    /// Works the answer out on the threads of the present pool; the answer does not depend on how many there are.
    pub fn answer(&self) -> Result<Answer, Trouble> {
        match self {
            Self::Choose(wish, springs, sketched) => {
                let judged: Result<Vec<_>, _> = springs.par_iter().map(|spring| judge(wish, spring)).collect();
                Ok(Answer::Choice(Box::new(choice::choice(wish, judged?, *sketched))))
            }
            Self::Gaps(wish) => Ok(Answer::Gaps(Box::new(fit::gaps(wish)?))),
            Self::Oiling(wish) => Ok(Answer::Oiling(Box::new(engine::plan(wish)?))),
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

    /// The answer that a file holds, if it holds one: told by a key that only it has.
    pub fn read(text: &str) -> Option<Result<Self, serde_json::Error>> {
        let value: serde_json::Value = serde_json::from_str(text).ok()?;
        if value.get("best_steady").is_some() {
            return Some(serde_json::from_str(text).map(|c| Self::Choice(Box::new(c))));
        }
        if value.get("layers").is_some() {
            return Some(serde_json::from_str(text).map(|g| Self::Gaps(Box::new(g))));
        }
        value.get("habits").map(|_| serde_json::from_str(text).map(|p| Self::Oiling(Box::new(p))))
    }

    /// Its figure.
    pub fn draw(&self) -> Result<Drawing, Unwritten> {
        let drawing = match self {
            Self::Choice(choice) => slipsoak_plots::choice(choice, Size::default()),
            Self::Gaps(found) => slipsoak_plots::gaps(found, Size::default()),
            Self::Oiling(plan) => slipsoak_plots::oiling(plan, Size::default()),
        };
        drawing.map_err(|e| Unwritten::Undrawn { figure: self.name().to_owned(), why: e.to_string() })
    }

    /// Writes its JSON, if asked, and its figure under a name.
    pub fn write(&self, folder: &Folder, name: &str, whole: bool) -> Result<(), Unwritten> {
        if whole {
            folder.write(&format!("{name}.json"), self.json().as_bytes())?;
        }
        let drawing = self.draw()?;
        folder.write(&format!("{name}.svg"), drawing.svg.as_bytes())?;
        let undrawn = |e: slipsoak_plots::DrawError| Unwritten::Undrawn { figure: name.to_owned(), why: e.to_string() };
        folder.write(&format!("{name}.png"), &drawing.png().map_err(undrawn)?)
    }
}

/// Writes the answers of a script, and their figures if asked; further ones of a kind are numbered.
pub fn write_all(folder: &Folder, answers: &[Answer], pictures: bool) -> Result<(), Unwritten> {
    for (k, answer) in answers.iter().enumerate() {
        let before = answers[..k].iter().filter(|a| a.name() == answer.name()).count();
        let name = if before == 0 { answer.name().to_owned() } else { format!("{}-{}", answer.name(), before + 1) };
        if pictures {
            answer.write(folder, &name, true)?;
        } else {
            folder.write(&format!("{name}.json"), answer.json().as_bytes())?;
        }
    }
    Ok(())
}

/// Answers a question of the command line.
pub fn perform(question: &Question, given: &arguments::Answering) -> Result<String, Trouble> {
    let folder = given.out.as_deref().map(|out| Folder::prepare(out, given.replace)).transpose()?;
    let answer = study::pool(given.threads)?.install(|| question.answer())?;
    if let Some(folder) = folder {
        answer.write(&folder, answer.name(), true)?;
        folder.finish()?;
    }
    Ok(if given.json { answer.json() } else { answer.text() })
}

/// The answer that a file holds; none if it holds something else.
pub fn saved(path: &Path) -> Result<Option<Answer>, Trouble> {
    let unreadable = |e: std::io::Error| Trouble::Unreadable { path: path.to_owned(), why: e.to_string() };
    let text = std::fs::read_to_string(path).map_err(unreadable)?;
    let wrong = |e: serde_json::Error| Wrong::Saved { path: path.to_owned(), why: e.to_string() };
    Ok(Answer::read(&text).transpose().map_err(wrong)?)
}
