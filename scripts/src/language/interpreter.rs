//! The interpreter of scripts: makes the plan, records the segments of duties, performs them.

use crate::language::context::ScriptContext;
use crate::language::limits::Limits;
use crate::language::plan::{Aim, Duty, Pair, Plan};
use crate::language::ride::{Abandoned, Entry, Halted, Recorded, Ride};
use crate::language::sandbox::sandbox;
use crate::language::script_error::ScriptError;
use crate::language::word_error::{Answer, WordError};
use crate::language::{closures, distinct_names, spelling, vocabulary};
use crate::read::parts_folder::{Hashes, PartsFolder};
use crate::read::script::Script;
use crate::read::units::{nearest, show};
use rhai::{AST, Dynamic, Engine, EvalAltResult, Position};
use slipsoak_engine::duty::{End, Segment};
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::parts_file::similarity;
use slipsoak_engine::record::{Engagement, Run};
use slipsoak_engine::simulate::{Options, Simulation, Until};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::Instant;

/// Smallest similarity of an unknown parameter to a known one for a suggestion.
const LIKE: f64 = 0.8;
/// Factor on the tolerance when a run that cannot be computed is made once more.
const FINER: f64 = 0.1;
/// Largest number of blocks of a repeated duty.
const BLOCKS: f64 = 1e6;

/// A script ready to run.
pub struct Interpreter<'a> {
    script: &'a Script,
    engine: Engine,
    ast: AST,
    context: Rc<ScriptContext>,
    /// parameters that the top level uses: their defaults, and the values used
    planned: RefCell<(BTreeMap<String, f64>, BTreeMap<String, f64>)>,
    limits: Limits,
}

/// Makes a run; again with [`FINER`] steps if it cannot be computed.
fn retried<T>(options: Options, make: impl Fn(Options, bool) -> Result<T, ScriptError>) -> Result<T, ScriptError> {
    make(options, false).or_else(|error| {
        if error.uncomputed().is_none() {
            return Err(error);
        }
        let options = Options { tolerance: options.tolerance.times(FINER), ..options };
        make(options, true).map_err(|_| error)
    })
}

impl<'a> Interpreter<'a> {
    /// Compiles a script and checks its words; `settings` replace the defaults of its parameters.
    pub fn new(script: &'a Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Self, ScriptError> {
        let start = Instant::now();
        let parts = PartsFolder::beside(&script.path);
        let context = Rc::new(ScriptContext { settings: settings.clone(), parts, ..ScriptContext::default() });
        let mut engine = sandbox(&context, &limits);
        vocabulary::register(&mut engine, &context);
        let ast = engine.compile(&script.text).map_err(|e| ScriptError::parse(script, &e))?;
        spelling::check(&engine, &ast).map_err(|e| ScriptError::spelling(script, &e))?;
        let known = spelling::parameters(&ast);
        if let Some(name) = settings.keys().find(|name| !known.contains(*name)) {
            return Err(ScriptError::Parameter {
                name: name.clone(),
                suggestion: nearest(name, known.iter().map(String::as_str))
                    .filter(|near| similarity(near, name) > LIKE),
                known: known.join(", "),
            });
        }
        limits.spent.add_script(start.elapsed());
        Ok(Self { script, engine, ast, context, planned: RefCell::default(), limits })
    }

    fn error(&self, error: &EvalAltResult) -> ScriptError {
        ScriptError::run(self.script, error)
    }

    /// Runs the top level, which defines the title and the runs.
    pub fn plan(&self) -> Result<Plan, ScriptError> {
        self.context.plan.replace(Plan::default());
        self.context.run(&self.limits, || self.engine.run_ast(&self.ast)).map_err(|e| self.error(&e))?;
        self.context.printed.borrow_mut().extend(self.context.parts.notes());
        self.planned.replace((self.context.defaults.borrow().clone(), self.context.used.borrow().clone()));
        let mut plan = self.context.plan.borrow().clone();
        if let Some(reference) = &plan.reference
            && !plan.pairs.iter().any(|pair| pair.variant.is(reference))
        {
            let not = format!("`reference` was given the machine {}, which is not compared", reference.name);
            let refusal = WordError::new(not + "; give it one of the machines of `compare`");
            return Err(self.refused(refusal, plan.reference_at));
        }
        self.context.printed.borrow_mut().extend(distinct_names::once(&mut plan));
        distinct_names::tell_apart(&mut plan);
        if let Some(asked) = plan.requests.first().filter(|_| plan.aim != Aim::Runs) {
            let refusal = WordError::new(
                "a script that asks for a fleet, a sweep or what matters cannot ask the shop's questions too; put them into a script of their own",
            );
            return Err(self.refused(refusal, asked.position));
        }
        if plan.pairs.is_empty() && plan.requests.is_empty() {
            return Err(ScriptError::nothing(self.script));
        }
        Ok(plan)
    }

    /// The files that the script has read, and those that it names.
    pub(crate) fn files(&self) -> Hashes {
        self.context.parts.known(spelling::texts(&self.ast))
    }

    /// Restricts reading to these files, with unchanged contents.
    pub(crate) fn seal(&self, files: &Hashes) {
        self.context.parts.seal(files);
    }

    /// The lines printed since the last call.
    pub fn printed(&self) -> Vec<String> {
        self.context.printed.take()
    }

    /// Parameters used so far.
    pub fn parameters(&self) -> BTreeMap<String, f64> {
        self.context.used.borrow().clone()
    }

    fn ride(&self, duty: &Duty, ride: &Ride) -> Answer<()> {
        // Variables outside are shared by all runs of an interpreter, so the order of runs must not matter.
        let outside = closures::state(&duty.function);
        self.context.riding.set(true);
        let call = || duty.function.call::<Dynamic>(&self.engine, &self.ast, (ride.clone(),)).map(drop);
        let done = self.context.run(&self.limits, call);
        self.context.riding.set(false);
        let done = match done {
            Err(e) if matches!(*e, EvalAltResult::Exit(..)) || ended_by::<Halted>(&e) => Ok(()),
            done => done,
        };
        if done.as_ref().err().is_none_or(|e| ended_by::<Abandoned>(e)) {
            closures::unchanged(&self.ast, &duty.function, &outside)?;
        }
        done
    }

    /// The segments of a duty; none if it reads the ride, because its segments then depend on the run.
    pub fn record(&self, pair: &Pair) -> Result<Option<Vec<Entry>>, ScriptError> {
        Ok(self.recorded(pair)?.map(|(entries, _)| entries))
    }

    /// The segments of a duty, and the indices of those in each pass of `times`.
    fn recorded(&self, pair: &Pair) -> Result<Option<Recorded>, ScriptError> {
        let ride = Ride::recording(&pair.duty.name, pair.variant.machine.clone(), Rc::clone(&self.context.away));
        match self.ride(&pair.duty, &ride) {
            Ok(()) => {
                let entries = ride.entries();
                if entries.iter().any(|(segment, _)| matches!(segment, Segment::Ride(..))) {
                    self.repeatable(&pair.duty, length(&entries))?;
                    return Ok(Some((entries, ride.passes())));
                }
                Err(self.timeless(&pair.duty))
            }
            Err(e) if ended_by::<Abandoned>(&e) => {
                ride.entries();
                self.context.printed.take();
                Ok(None)
            }
            Err(e) => Err(self.error(&e).inside(&pair.duty)),
        }
    }

    /// The error of a duty without duration.
    fn timeless(&self, duty: &Duty) -> ScriptError {
        let why = format!("the duty `{}` takes no time; give it something to do, such as `ride.idle(30.s)`", duty.name);
        self.refused(WordError::new(why), Position::NONE).inside(duty)
    }

    /// Refuses a block with too many repetitions. A block whose rides have no given length is not known to be short.
    fn repeatable(&self, duty: &Duty, block: f64) -> Result<(), ScriptError> {
        match duty.until {
            Some(until) if block > 0.0 && until / block > BLOCKS => {
                let [of, whole, least] = [block, until, until / BLOCKS].map(|time| show(time, Dimension::Time));
                let refusal = WordError::new(format!(
                    "the duty `{}` repeats a block of {of} for {whole}: that is {:.0} blocks, and the most allowed is {BLOCKS:.0}; put more \
                     into a block (at least {least}), or repeat it for a shorter time",
                    duty.name,
                    (until / block).ceil()
                ));
                Err(self.refused(refusal, Position::NONE).inside(duty))
            }
            _ => Ok(()),
        }
    }

    /// An error at a position of the script.
    pub(crate) fn refused(&self, refusal: WordError, at: Position) -> ScriptError {
        self.error(&refusal.at(at))
    }

    /// Performs a pair of the plan and returns its record; once more with smaller steps if it cannot be computed. `watch` receives
    /// the progress, 0 to 1; it falls when a jump is rejected.
    pub fn perform(&self, pair: &Pair, options: Options, watch: &dyn Fn(f64)) -> Result<Run, ScriptError> {
        retried(options, |options, again| {
            // What the duty prints is not shown twice.
            if again {
                self.context.printed.take();
            }
            self.performed(pair, options, watch)
        })
    }

    fn performed(&self, pair: &Pair, options: Options, watch: &dyn Fn(f64)) -> Result<Run, ScriptError> {
        // The order of runs must not matter, so the parameters used by other runs are discarded.
        let (defaults, used) = self.planned.borrow().clone();
        self.context.defaults.replace(defaults);
        self.context.used.replace(used);
        let recorded = self.recorded(pair)?;
        let start = Instant::now();
        let refused = |e, at| self.error(&WordError::Engine(e).at(at));
        let machine = pair.variant.machine.clone();
        let mut simulation = Simulation::new(machine.clone(), options).map_err(|e| refused(e, Position::NONE))?;
        if let Some(((entries, passes), until)) = recorded.as_ref().zip(pair.duty.until) {
            let block: Vec<Segment> = entries.iter().map(|(segment, _)| segment.clone()).collect();
            let how = Until { time: until, skipping: self.limits.skipping };
            let lived = simulation.live_watched(&block, passes, how, &mut |share| watch(share));
            lived.map_err(|(index, e)| refused(e, entries[index].1))?;
            self.limits.spent.add_engine(start.elapsed());
        } else if let Some((entries, _)) = recorded {
            for (k, (segment, position)) in entries.iter().enumerate() {
                simulation.perform(segment).map_err(|e| refused(e, *position))?;
                watch((k + 1) as f64 / entries.len() as f64);
            }
            self.limits.spent.add_engine(start.elapsed());
        } else {
            let ride = Ride::live(&pair.duty.name, machine, simulation, Rc::clone(&self.context.away));
            let perform = || self.ride(&pair.duty, &ride).map_err(|e| self.error(&e).inside(&pair.duty));
            if let Some(until) = pair.duty.until {
                // A duty that reads the ride may differ in each block, so every block is simulated.
                ride.begin_log();
                let mut blocks = 0.0;
                loop {
                    let begun = ride.clock();
                    perform()?;
                    let block = ride.clock() - begun;
                    if ride.note(until) {
                        break;
                    }
                    blocks += 1.0;
                    // The first block gives the number of blocks; later ones may be shorter.
                    self.repeatable(&pair.duty, block.max(if blocks > 1.0 { until / BLOCKS } else { 0.0 }))?;
                    if blocks >= BLOCKS {
                        self.repeatable(&pair.duty, ride.clock() / blocks)?;
                    }
                }
            } else {
                perform()?;
            }
            simulation = ride.simulation().ok_or_else(|| ScriptError::nothing(self.script))?;
        }
        if simulation.clock() <= 0.0 {
            return Err(self.timeless(&pair.duty));
        }
        let run = simulation.finish(&pair.variant.name, &pair.duty.name).map_err(|e| refused(e, Position::NONE))?;
        let engagement = Engagement { idle: pair.variant.idles(), ..run.engagement };
        Ok(Run { engagement, learned: pair.variant.known(), ..run })
    }
}

/// Duration of a block, s; 0 if it depends on the machine.
fn length(entries: &[Entry]) -> f64 {
    let each = entries.iter().map(|(segment, _)| match segment {
        Segment::Ride(_, End::After(time)) => Some(*time),
        Segment::Ride(..) => None,
        Segment::Service(_) => Some(0.0),
    });
    each.sum::<Option<f64>>().unwrap_or(0.0)
}

/// Whether a token of this kind ended the script.
fn ended_by<T: Clone + 'static>(error: &EvalAltResult) -> bool {
    match error {
        EvalAltResult::ErrorInFunctionCall(_, _, inner, _) => ended_by::<T>(inner),
        EvalAltResult::ErrorTerminated(token, _) => token.is::<T>(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::script_error::Place;

    fn failed(uncomputed: bool) -> ScriptError {
        let (script, text, title) = ("made.rhai".to_owned(), String::new(), "a ledger does not close".to_owned());
        let (span, trail, help, corrections) = (None, vec![], None, None);
        ScriptError::At(Box::new(Place { script, text, title, span, trail, help, uncomputed, corrections }))
    }

    #[test]
    fn a_run_that_cannot_be_computed_is_made_once_more_with_smaller_steps_but_a_mistake_is_not() {
        let whole = Options::default();
        let only = |factor: f64, why: bool| {
            retried(whole, move |options, again| {
                assert_eq!(again, options.tolerance != whole.tolerance);
                if options.tolerance == whole.tolerance.times(factor) { Ok(factor) } else { Err(failed(why)) }
            })
        };
        assert_eq!(only(1.0, true).expect("at first"), 1.0);
        assert_eq!(only(FINER, true).expect("once more"), FINER);
        assert!(only(0.5, true).expect_err("not twice").uncomputed().is_some());
        assert!(only(FINER, false).expect_err("a mistake").uncomputed().is_none());
    }
}
