//! A study: the plan of a script, run pair by pair on several threads, as one record.

use crate::interpreter::{Interpreter, Limits};
use crate::{Script, Trouble};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::simulate::channels;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Stack of a thread: scripts nest calls.
const STACK: usize = 16 << 20;

/// What a script would run.
#[derive(Clone, Debug)]
pub struct Outline {
    /// what the study asks
    pub title: String,
    /// variant, duty and number of entries (none if the duty reads the ride)
    pub runs: Vec<(String, String, Option<usize>)>,
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
    /// what the script printed
    pub printed: Vec<String>,
}

pub(crate) fn pool(threads: Option<u16>) -> Result<rayon::ThreadPool, Trouble> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads.map_or(0, usize::from))
        .stack_size(STACK)
        .build()
        .map_err(|e| Trouble::Threads(e.to_string()))
}

/// Runs the top level and takes down every duty, without simulating.
pub fn check(script: &Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Outline, Trouble> {
    pool(Some(1))?.install(|| {
        let interpreter = Interpreter::new(script, settings, limits)?;
        let outline = || {
            let plan = interpreter.plan()?;
            let mut runs = Vec::new();
            for pair in &plan.pairs {
                let entries = interpreter.record(pair)?.map(|e| e.len());
                runs.push((pair.variant.name.clone(), pair.duty.name.clone(), entries));
            }
            Ok((plan.title, runs))
        };
        let (title, runs) = outline().map_err(|e: Trouble| e.after(interpreter.printed()))?;
        Ok(Outline { title, runs, parameters: interpreter.parameters(), printed: interpreter.printed() })
    })
}

/// Runs a whole script. `begun` hears how many runs there are, `done` of each as it ends.
pub fn run(
    script: &Script,
    settings: &BTreeMap<String, f64>,
    limits: Limits,
    threads: Option<u16>,
    begun: impl Fn(usize) + Sync,
    done: impl Fn() + Sync,
) -> Result<Study, Trouble> {
    let pool = pool(threads)?;
    let (title, count, mut parameters, mut printed) = pool.install(|| {
        let interpreter = Interpreter::new(script, settings, limits)?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        Ok::<_, Trouble>((plan.title, plan.pairs.len(), interpreter.parameters(), interpreter.printed()))
    })?;
    begun(count);
    // The interpreter is not shared: each run has its own, which is faster and leaves nothing behind.
    let made: Vec<Result<_, Trouble>> = pool.install(|| {
        (0..count)
            .into_par_iter()
            .map(|index| {
                let interpreter = Interpreter::new(script, settings, limits)?;
                let plan = interpreter.plan()?;
                interpreter.printed();
                let pair = plan.pairs.get(index).ok_or(Trouble::NothingToRun { script: script.name.clone() })?;
                let run = interpreter.perform(pair).map_err(|e| e.after(interpreter.printed()))?;
                done();
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
    let record = Record {
        program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
        script: script.name.clone(),
        script_hash: hash(&script.text),
        script_text: script.text.clone(),
        title,
        parameters,
        seeds: Vec::new(),
        channels: channels(),
        runs,
    };
    Ok(Study { record, printed })
}

pub(crate) fn hash(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}
