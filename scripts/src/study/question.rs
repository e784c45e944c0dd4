//! The shop's questions: choice of a spring, gap under the cover, oiling; answered by the engine.

use crate::language::plan::{Pair, ShopQuestion, ShopRequest, Use};
use crate::language::script_error::ScriptError;
use crate::language::shop_options::Options;
use crate::language::word_error::WordError;
use crate::read::uses::usage;
use crate::study::head::Asking;
use crate::study::request::{Planned, Request};
use rayon::prelude::*;
use slipsoak_engine::document::{Head, Saved};
use slipsoak_engine::parts::{Invalid, Machine};
use slipsoak_engine::simulate::Failure;
use slipsoak_engine::spring_choice::{self, Sketched, Spring, judge, sketch};
use slipsoak_engine::units::DAY;
use slipsoak_engine::usage::Usage;
use slipsoak_engine::{oil_plan, stack_up};

/// A question with all its data.
#[derive(Clone, Debug)]
pub enum Question {
    /// choice of a spring
    Choose(Box<spring_choice::Wish>, Vec<Spring>, Option<Sketched>),
    /// gap under the cover, and time until it closes
    Gaps(Box<stack_up::Wish>),
    /// interval and dose of oiling
    Oiling(Box<oil_plan::Wish>),
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
            Self::Oiling(_) => ("ways to oil tried", oil_plan::TRIALS),
        }
    }

    /// Computes the answer on the threads of the present pool; the answer does not depend on their number. `done` is
    /// called for each trial.
    pub fn answer(&self, done: &(dyn Fn() + Sync)) -> Result<Saved, Failure> {
        match self {
            Self::Choose(wish, springs, sketched) => {
                let judged = springs.par_iter().map(|spring| judge(wish, spring).inspect(|_| done()));
                let judged: Result<Vec<_>, _> = judged.collect();
                Ok(spring_choice::choice(wish, judged?, *sketched).into())
            }
            Self::Gaps(wish) => Ok(stack_up::gaps(wish).inspect(|_| done())?.into()),
            Self::Oiling(wish) => Ok(oil_plan::plan(wish, done)?.into()),
        }
    }
}

/// The questions of a plan, with the segments of duties that serve as uses.
pub(crate) fn questions(request: &Request<'_>, planned: &Planned<'_>) -> Result<Vec<Question>, ScriptError> {
    let Planned { interpreter, plan } = planned;
    let one = |asked: &ShopRequest| {
        let refused = |e: WordError| interpreter.refused(e, asked.position);
        let duty = match &asked.usage {
            Use::Named(name) => Err(name),
            Use::Duty(duty) => {
                let pair = Pair { variant: asked.variant.clone(), duty: duty.clone() };
                let entries = interpreter.record(&pair)?.ok_or_else(|| refused(WordError::Reads(duty.name.clone())))?;
                let block = entries.into_iter().map(|(segment, _)| segment).collect();
                Ok(Usage { name: duty.name.clone(), block })
            }
        };
        let usage = |machine: &Machine| match duty {
            Ok(usage) => Ok(usage),
            Err(name) => Ok(usage(name, machine)?),
        };
        let machine = Machine { name: asked.variant.name.clone(), ..asked.variant.machine.clone() };
        question(asked.question, machine, &asked.options, asked.springs.clone(), usage).map_err(refused)
    };
    let questions: Vec<Question> = plan.requests.iter().map(one).collect::<Result<_, _>>()?;
    // After all duties are recorded, every parameter is known.
    let asking = Asking { script: request.script, title: &plan.title, parameters: &interpreter.parameters() };
    let head = asking.run(request.limits.skipping.tolerance > 0.0, vec![]);
    Ok(questions.into_iter().map(|question| question.of(head.clone())).collect())
}

/// A question about a machine with these options; `usage` is asked for the use of the machine as the options leave it.
pub(crate) fn question<E: From<Invalid>>(
    of: ShopQuestion,
    mut machine: Machine,
    options: &Options,
    springs: Vec<Spring>,
    usage: impl FnOnce(&Machine) -> Result<Usage, E>,
) -> Result<Question, E> {
    let given = |name: &str| options.get(name).copied();
    if let Some(idle) = given("idle") {
        machine.motor.idle = idle;
    }
    let sketched = given("power").zip(given("rated")).map(|(power, rated)| sketch(&mut machine, power, rated));
    let load = given("load").unwrap_or(0.0);
    machine.vehicle.mass += load;
    machine.check()?;
    let usage = usage(&machine)?;
    Ok(match of {
        ShopQuestion::Choose => {
            let usual = spring_choice::Wish::new(machine, usage);
            let wish = spring_choice::Wish {
                wander: given("wander").unwrap_or(usual.wander),
                grade: given("grade").unwrap_or(usual.grade),
                load,
                crawl: given("crawl"),
                season: given("season").unwrap_or(usual.season),
                ..usual
            };
            Question::Choose(Box::new(wish), springs, sketched)
        }
        ShopQuestion::Gaps => {
            let usual = stack_up::Wish::new(machine, usage);
            let size = |name: &str| given(name).unwrap_or(0.0);
            let count = |name: &str, usual: u64| given(name).map_or(usual, |value| value as u64);
            Question::Gaps(Box::new(stack_up::Wish {
                cover: (size("cover"), size("cover_tolerance")),
                seed: count("seed", usual.seed),
                assemblies: count("assemblies", usual.assemblies),
                ..usual
            }))
        }
        ShopQuestion::Oiling => {
            let usual = oil_plan::Wish::new(machine, usage);
            let riding = given("riding");
            let until_next = riding.map_or(usual.rest, |riding| (DAY - riding).max(0.0));
            Question::Oiling(Box::new(oil_plan::Wish {
                riding: riding.unwrap_or(usual.riding),
                rest: given("rest").unwrap_or(until_next),
                drops: given("drops").unwrap_or(usual.drops),
                found: given("found").unwrap_or(usual.found),
                grease: given("grease").unwrap_or(usual.grease),
                ..usual
            }))
        }
    })
}
