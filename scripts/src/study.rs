//! A study: the plan of a script, run pair by pair on several threads, as one record.

use crate::interpreter::{Interpreter, Limits};
use crate::output::{Folder, Unwritten, record_json, write_study};
use crate::shop::{Answer, Asked, Question, origin, write_all};
use crate::{Script, Trouble, campaign, results};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use slipsoak_engine::record::{Column, Record, Run};
use slipsoak_plots::report::Page;
use std::cell::Cell;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Steps of a run that are told of.
const STEPS: f64 = 1000.0;
/// Stack of a thread: scripts nest calls.
const STACK: usize = 16 << 20;

/// What a script would run.
#[derive(Clone, Debug)]
pub struct Outline {
    /// what the study asks
    pub title: String,
    /// variant, duty and number of entries (none if the duty reads the ride)
    pub runs: Vec<(String, String, Option<usize>)>,
    /// the shop's questions
    pub questions: Vec<String>,
    /// parameters with their values
    pub parameters: BTreeMap<String, f64>,
    /// what the script printed
    pub printed: Vec<String>,
}

/// What became of a script.
#[derive(Clone, Debug)]
pub struct Study {
    /// the record
    pub record: Record,
    /// the answers to the shop's questions
    pub answers: Vec<Answer>,
    /// what the script printed
    pub printed: Vec<String>,
}

impl Study {
    fn runs(&self) -> bool {
        !self.record.runs.is_empty()
    }

    /// For the terminal: the runs, if there are any, every warning in full where details are wanted, then each answer.
    pub fn text(&self, details: bool) -> String {
        let runs = self.runs().then(|| results::text(&self.record, details));
        runs.into_iter().chain(self.answers.iter().map(Answer::text)).collect::<Vec<_>>().join("\n")
    }

    /// For programs, a document a line: the record, if there are runs, then each answer.
    pub fn json(&self) -> Result<String, Unwritten> {
        let record = if self.runs() { record_json(&self.record)? } else { String::new() };
        Ok(self.answers.iter().fold(record, |all, answer| all + answer.json().as_str()))
    }

    /// As one page.
    pub fn page(&self) -> Page {
        Page::of_script(&self.record, self.answers.iter().map(Answer::page).collect())
    }

    /// Writes the record, if there are runs, and the answers, with their figures where they are wanted.
    pub fn write(&self, folder: &Folder, pictures: bool) -> Result<(), Unwritten> {
        if self.runs() {
            write_study(folder, &self.record, pictures)?;
        }
        write_all(folder, &self.answers, pictures)
    }
}

pub(crate) fn pool(threads: Option<u16>) -> Result<rayon::ThreadPool, Trouble> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads.map_or(0, usize::from))
        .stack_size(STACK)
        .build()
        .map_err(|e| Trouble::Threads(e.to_string()))
}

/// Runs the top level and takes down every duty, without simulating; refuses what a run would refuse before it begins.
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
/// Runs a whole script. `begun` hears how many runs there are, `done` of each share of one that is done.
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
    let answers: Vec<Result<Answer, Trouble>> = pool.install(|| questions.par_iter().map(answer).collect());
    let answers = answers.into_iter().collect::<Result<Vec<_>, _>>().map_err(|e| e.after(printed.clone()))?;
    // The interpreter is not shared: each run has its own, which is faster and leaves nothing behind.
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
    let command = origin::command(script, &parameters, limits.skipping.tolerance > 0.0);
    let record = Record {
        program: PROGRAM.to_owned(),
        script: script.name.clone(),
        script_hash: hash(&script.text),
        script_text: script.text.clone(),
        title,
        command,
        parameters,
        seeds: answers.iter().filter_map(Answer::seed).collect(),
        reference,
        channels: Column::all(),
        runs,
    };
    Ok(Study { record, answers, printed })
}

/// Program and version.
pub(crate) const PROGRAM: &str = concat!("slipsoak ", env!("CARGO_PKG_VERSION"));

pub(crate) fn hash(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}
