//! A request to a script, planned once on each thread that works on it.

use crate::language::corrector::corrected;
use crate::language::interpreter::Interpreter;
use crate::language::limits::Limits;
use crate::language::plan::Plan;
use crate::language::renamed;
use crate::language::script_error::ScriptError;
use crate::read::parts_folder::Hashes;
use crate::read::script::Script;
use crate::study::study_error::StudyError;
use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Stack of a thread, bytes: scripts nest calls.
const STACK: usize = 16 << 20;

/// A script with its parameter settings and its limits.
#[derive(Clone, Debug)]
pub struct Request<'a> {
    /// the script
    pub script: &'a Script,
    /// parameter values that replace the defaults
    pub settings: &'a BTreeMap<String, f64>,
    /// its limits
    pub limits: Limits,
    /// the only files that may be read, with their hashes; none allows any file
    pub files: Option<Hashes>,
}

/// A planned script: compiled, and its top level run.
pub(crate) struct Planned<'a> {
    pub interpreter: Interpreter<'a>,
    pub plan: Plan,
}

/// Results of the items, in order.
pub(crate) type Found<T> = Vec<(u64, T)>;

impl<'a> Request<'a> {
    /// A request to a script that may read any files.
    pub fn of(script: &'a Script, settings: &'a BTreeMap<String, f64>, limits: Limits) -> Self {
        Self { script, settings, limits, files: None }
    }

    /// Plans the script on this thread; the lines that it prints are added to `printed`, also if it fails.
    fn planned(&self, printed: &mut Vec<String>) -> Result<Planned<'a>, ScriptError> {
        let interpreter = Interpreter::new(self.script, self.settings, self.limits.clone())?;
        if let Some(files) = &self.files {
            interpreter.seal(files);
        }
        let plan = interpreter.plan();
        printed.extend(interpreter.printed());
        Ok(Planned { plan: plan?, interpreter })
    }

    /// Plans the script on a separate thread and returns what `take` takes from the plan; `heard` receives the lines
    /// that the script prints, also if it fails.
    pub(crate) fn plan<T: Send>(
        &self,
        heard: &mut dyn FnMut(Vec<String>),
        take: impl FnOnce(&Planned<'a>) -> Result<T, StudyError> + Send,
    ) -> Result<T, StudyError> {
        let mut printed = vec![];
        let taken = pool(Some(1))?.install(|| {
            let planned = self.planned(&mut printed)?;
            let taken = take(&planned);
            printed.extend(planned.interpreter.printed());
            taken
        });
        let taken = taken.map_err(|e| self.corrected(e));
        heard(renamed::notes(&self.script.text));
        heard(printed);
        taken
    }

    /// Processes items on the threads of a pool. Each thread plans the script once, with its first item. Items are
    /// taken in order, so the first of several failures does not depend on the number of threads. An item that aborts
    /// is the last of its thread, and no further item begins.
    pub(crate) fn each<T: Send>(
        &self,
        pool: &rayon::ThreadPool,
        items: &[u64],
        work: impl Fn(&Planned<'a>, u64) -> Result<ControlFlow<Option<T>, T>, StudyError> + Sync,
    ) -> Result<Found<T>, (u64, StudyError)> {
        let (next, stopped) = (AtomicUsize::new(0), AtomicBool::new(false));
        let thread = |_: rayon::BroadcastContext<'_>| {
            let (mut own, mut found) = (None, vec![]);
            while !stopped.load(Ordering::Relaxed)
                && let Some(&item) = items.get(next.fetch_add(1, Ordering::Relaxed))
            {
                let planned = own.get_or_insert_with(|| self.planned(&mut vec![]));
                let planned = planned.as_ref().map_err(|e| StudyError::from(e.clone()));
                match planned.and_then(|planned| work(planned, item)) {
                    Ok(ControlFlow::Continue(one)) => found.push((item, one)),
                    Ok(ControlFlow::Break(last)) => {
                        stopped.store(true, Ordering::Relaxed);
                        found.extend(last.map(|one| (item, one)));
                    }
                    Err(e) => {
                        stopped.store(true, Ordering::Relaxed);
                        return Err((item, e));
                    }
                }
            }
            Ok(found)
        };
        let (mut all, mut failures) = (vec![], vec![]);
        for done in pool.broadcast(thread) {
            match done {
                Ok(found) => all.extend(found),
                Err(failed) => failures.push(failed),
            }
        }
        all.sort_by_key(|one: &(u64, T)| one.0);
        let first = failures.into_iter().min_by_key(|failure| failure.0);
        first.map_or(Ok(all), |(item, e)| Err((item, self.corrected(e))))
    }

    /// An error with every mistake of the script that is known, and how to mend it; as it is if the script may not read
    /// all files.
    pub(crate) fn corrected(&self, error: StudyError) -> StudyError {
        match error {
            StudyError::Script(e) if self.files.is_none() => match pool(Some(1)) {
                Ok(pool) => pool.install(|| corrected(e, self.script, self.settings, &self.limits)).into(),
                Err(_) => e.into(),
            },
            other => other,
        }
    }
}

/// A pool of this number of threads for scripts, or as many as there are cores.
pub(crate) fn pool(threads: Option<u16>) -> Result<rayon::ThreadPool, StudyError> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads.map_or(0, usize::from))
        .stack_size(STACK)
        .build()
        .map_err(|e| StudyError::Threads(e.to_string()))
}
