//! The shop's questions: choice of a spring, gap under the cover, oiling; answered by the engine.

use crate::language::plan::{Pair, ShopQuestion, ShopRequest, Use};
use crate::language::script_error::ScriptError;
use crate::language::word_error::WordError;
use crate::read::uses::usage;
use crate::study::head::Asking;
use crate::study::request::{Planned, Request};
use rayon::prelude::*;
use slipsoak_engine::choice::{self, Sketched, Spring, judge, sketch};
use slipsoak_engine::document::{Head, Saved};
use slipsoak_engine::simulate::Failure;
use slipsoak_engine::units::DAY;
use slipsoak_engine::usage::Usage;
use slipsoak_engine::{fit, oiling};

/// A question with all its data.
#[derive(Clone, Debug)]
pub enum Question {
    /// choice of a spring
    Choose(Box<choice::Wish>, Vec<Spring>, Option<Sketched>),
    /// gap under the cover, and time until it closes
    Gaps(Box<fit::Wish>),
    /// interval and dose of oiling
    Oiling(Box<oiling::Wish>),
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
            Self::Oiling(_) => ("ways to oil tried", oiling::TRIALS),
        }
    }

    /// Computes the answer on the threads of the present pool; the answer does not depend on their number. `done` is
    /// called for each trial.
    pub fn answer(&self, done: &(dyn Fn() + Sync)) -> Result<Saved, Failure> {
        match self {
            Self::Choose(wish, springs, sketched) => {
                let judged = springs.par_iter().map(|spring| judge(wish, spring).inspect(|_| done()));
                let judged: Result<Vec<_>, _> = judged.collect();
                Ok(choice::choice(wish, judged?, *sketched).into())
            }
            Self::Gaps(wish) => Ok(fit::gaps(wish).inspect(|_| done())?.into()),
            Self::Oiling(wish) => Ok(oiling::plan(wish, done)?.into()),
        }
    }
}

/// The questions of a plan, with the segments of duties that serve as uses.
pub(crate) fn questions(request: &Request<'_>, planned: &Planned<'_>) -> Result<Vec<Question>, ScriptError> {
    let Planned { interpreter, plan } = planned;
    let one = |asked: &ShopRequest| {
        let refused = |e: WordError| interpreter.refused(e, asked.position);
        let usage = match &asked.usage {
            Use::Named(name) => usage(name, &asked.variant.machine).map_err(|e| refused(e.into()))?,
            Use::Duty(duty) => {
                let pair = Pair { variant: asked.variant.clone(), duty: duty.clone() };
                let entries = interpreter.record(&pair)?.ok_or_else(|| refused(WordError::Reads(duty.name.clone())))?;
                let block = entries.into_iter().map(|(segment, _)| segment).collect();
                Usage { name: duty.name.clone(), block }
            }
        };
        question(asked, usage).map_err(refused)
    };
    let questions: Vec<Question> = plan.requests.iter().map(one).collect::<Result<_, _>>()?;
    // After all duties are recorded, every parameter is known.
    let asking = Asking { script: request.script, title: &plan.title, parameters: &interpreter.parameters() };
    let head = asking.run(request.limits.skipping.tolerance > 0.0, vec![]);
    Ok(questions.into_iter().map(|question| question.of(head.clone())).collect())
}

/// The complete question of a script's request.
fn question(asked: &ShopRequest, usage: Usage) -> Result<Question, WordError> {
    let mut machine = asked.variant.machine.clone();
    machine.name.clone_from(&asked.variant.name);
    let of = |name: &str, usual: f64| asked.options.get(name).copied().unwrap_or(usual);
    Ok(match asked.question {
        ShopQuestion::Choose => {
            let rating = asked.options.get("power").zip(asked.options.get("rated"));
            let sketched = rating.map(|(power, rated)| sketch(&mut machine, *power, *rated));
            machine.vehicle.mass += of("load", 0.0);
            machine.check().map_err(|e| WordError::Machine(e.into()))?;
            let usual = choice::Wish::new(machine, usage);
            let wish = choice::Wish {
                wander: of("wander", usual.wander),
                grade: of("grade", 0.0),
                load: of("load", 0.0),
                crawl: asked.options.get("crawl").copied(),
                season: of("season", usual.season),
                ..usual
            };
            Question::Choose(Box::new(wish), asked.springs.clone(), sketched)
        }
        ShopQuestion::Gaps => {
            let usual = fit::Wish::new(machine, usage);
            Question::Gaps(Box::new(fit::Wish {
                cover: (of("cover", 0.0), of("cover_tolerance", 0.0)),
                seed: of("seed", usual.seed as f64) as u64,
                assemblies: of("assemblies", usual.assemblies as f64) as u64,
                ..usual
            }))
        }
        ShopQuestion::Oiling => {
            let usual = oiling::Wish::new(machine, usage);
            let riding = of("riding", usual.riding);
            Question::Oiling(Box::new(oiling::Wish {
                riding,
                rest: of("rest", (DAY - riding).max(0.0)),
                drops: of("drops", usual.drops),
                found: of("found", usual.found),
                grease: of("grease", usual.grease),
                ..usual
            }))
        }
    })
}
