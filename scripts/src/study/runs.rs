//! A study of single runs: the pairs of a plan, run on several threads, as one record.

use crate::Script;
use crate::Trouble;
use crate::command::deliver::Made;
use crate::command::shop::Question;
use crate::language::interpreter::{Interpreter, Limits};
use crate::language::questions::Asked;
use crate::study::campaign;
use crate::study::head::Asking;
use rayon::prelude::*;
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::record::{Column, Record, Run};
use std::cell::Cell;
use std::collections::BTreeMap;

/// Number of progress steps of a run.
const STEPS: f64 = 1000.0;
/// Stack of a thread, bytes: scripts nest calls.
const STACK: usize = 16 << 20;

/// Outline of what a script would run.
#[derive(Clone, Debug)]
pub struct Outline {
    /// title of the study
    pub title: String,
    /// variant, duty and number of segments (none if the duty reads the ride)
    pub runs: Vec<(String, String, Option<usize>)>,
    /// the shop's questions
    pub questions: Vec<String>,
    /// parameters with their values
    pub parameters: BTreeMap<String, f64>,
    /// lines printed by the script
    pub printed: Vec<String>,
}

/// Result of a script.
#[derive(Clone, Debug)]
pub struct Study {
    /// the record
    pub record: Record,
    /// the answers to the shop's questions
    pub answers: Vec<Saved>,
    /// lines printed by the script
    pub printed: Vec<String>,
}

impl Study {
    /// Results to deliver: the record, if there are runs, then each answer.
    pub fn made(self) -> Made {
        let head = self.record.head.clone();
        let runs = (!self.record.runs.is_empty()).then(|| self.record.into());
        Made { saved: runs.into_iter().chain(self.answers).collect(), asking: Some(head), beside: vec![] }
    }
}

pub(crate) fn pool(threads: Option<u16>) -> Result<rayon::ThreadPool, Trouble> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads.map_or(0, usize::from))
        .stack_size(STACK)
        .build()
        .map_err(|e| Trouble::Threads(e.to_string()))
}

/// Runs the top level and records every duty, without simulating; reports every error that a run would report before it
/// begins.
pub fn check(script: &Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Outline, Trouble> {
    let outline = pool(Some(1))?.install(|| {
        let interpreter = Interpreter::new(script, settings, limits.clone())?;
        let outline = || {
            let plan = interpreter.plan()?;
            let mut runs = Vec::new();
            for pair in &plan.pairs {
                let entries = interpreter.record(pair)?.map(|e| e.len());
                runs.push((pair.variant.name.clone(), pair.duty.name.clone(), entries));
            }
            interpreter.questions(&plan)?;
            Ok((plan.title, runs, plan.questions.iter().map(Asked::name).collect()))
        };
        let (title, runs, questions) = outline().map_err(|e: Trouble| e.after(interpreter.printed()))?;
        let (parameters, printed) = (interpreter.parameters(), interpreter.printed());
        Ok::<_, Trouble>(Outline { title, runs, questions, parameters, printed })
    })?;
    campaign::asked(script, settings, limits, (1, 1)).map_err(|e| e.after(outline.printed.clone()))?;
    Ok(outline)
}

#[allow(clippy::needless_pass_by_value)] // as `check` and the campaigns take them
/// Runs a whole script. `begun` receives the number of runs, `done` each completed share of a run.
pub fn run(
    script: &Script,
    settings: &BTreeMap<String, f64>,
    limits: Limits,
    threads: Option<u16>,
    begun: impl Fn(usize) + Sync,
    done: impl Fn(f64) + Sync,
) -> Result<Study, Trouble> {
    let pool = pool(threads)?;
    let (title, count, reference, questions, mut parameters, mut printed) = pool.install(|| {
        let interpreter = Interpreter::new(script, settings, limits.clone())?;
        let ask = || {
            let plan = interpreter.plan()?;
            let questions = interpreter.questions(&plan)?;
            Ok((plan, questions))
        };
        let (plan, questions) = ask().map_err(|e: Trouble| e.after(interpreter.printed()))?;
        let reference = plan.reference.map(|variant| variant.name);
        let (parameters, printed) = (interpreter.parameters(), interpreter.printed());
        Ok::<_, Trouble>((plan.title, plan.pairs.len(), reference, questions, parameters, printed))
    })?;
    begun(count + questions.len());
    let answer = |question: &Question| {
        let each = 1.0 / question.trials().1.max(1) as f64;
        question.answer(&|| done(each))
    };
    let answers: Vec<Result<Saved, Trouble>> = pool.install(|| questions.par_iter().map(answer).collect());
    let answers = answers.into_iter().collect::<Result<Vec<_>, _>>().map_err(|e| e.after(printed.clone()))?;
    // The interpreter is not shared: one per run is faster and leaves no state behind.
    let made: Vec<Result<_, Trouble>> = pool.install(|| {
        (0..count)
            .into_par_iter()
            .map(|index| {
                let reached = Cell::new(0.0);
                let reach = |share: f64| {
                    let share = (share * STEPS).floor() / STEPS;
                    if share > reached.get() {
                        done(share - reached.replace(share));
                    }
                };
                let interpreter = Interpreter::new(script, settings, limits.clone())?.watched(reach);
                let plan = interpreter.plan()?;
                interpreter.printed();
                let pair = plan.pairs.get(index).ok_or(Trouble::nothing(script))?;
                let run = interpreter
                    .perform(pair)
                    .map_err(|e| e.in_run(&pair.variant.name, &pair.duty.name).after(interpreter.printed()))?;
                reach(1.0);
                Ok((run, interpreter.parameters(), interpreter.printed()))
            })
            .collect()
    });
    let mut runs: Vec<Run> = Vec::new();
    for made in made {
        let (run, used, said) = match made {
            Ok(made) => made,
            Err(trouble) => return Err(trouble.after(printed)),
        };
        runs.push(run);
        parameters.extend(used);
        printed.extend(said);
    }
    let seeds = answers.iter().flat_map(|answer| answer.head().seeds.clone()).collect();
    let asking = Asking { script, title: &title, parameters: &parameters };
    let record = Record {
        kind: Is::default(),
        head: asking.run(limits.skipping.tolerance > 0.0, seeds),
        reference,
        channels: Column::all(),
        runs,
    };
    Ok(Study { record, answers, printed })
}
