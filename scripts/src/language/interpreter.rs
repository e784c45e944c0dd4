//! The interpreter of scripts: makes the plan, records the segments of duties, performs them.

use crate::command::shop::Question;
use crate::diagnose::{Script, Trouble};
use crate::language::captured;
use crate::language::fence::{Desk, fenced};
use crate::language::plan::{Aim, Duty, Pair, Plan};
use crate::language::questions::{Asked, Use, named};
use crate::language::refusal::Refusal;
use crate::language::ride::{Abandoned, Entry, Ride};
use crate::language::{dictionary, distinct, ride, spelling};
use crate::read::files::{Hashes, Shelf};
use crate::read::units::nearest;
use crate::study::head::Asking;
use rhai::{AST, Dynamic, Engine, EvalAltResult, Position};
use slipsoak_engine::duty::{End, Segment};
use slipsoak_engine::record::{Engagement, Run};
use slipsoak_engine::simulate::{Options, Simulation, Tolerance, Until};
use slipsoak_engine::usage::Usage;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::Instant;

pub use crate::language::fence::{Limits, Spent, Stop};

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Largest number of blocks of a repeated duty.
const BLOCKS: f64 = 1e6;

/// A script ready to run.
pub struct Interpreter<'a> {
    script: &'a Script,
    engine: Engine,
    ast: AST,
    desk: Rc<Desk>,
    /// defaults of the parameters that the top level uses
    planned: RefCell<BTreeMap<String, f64>>,
    limits: Limits,
    /// progress callback of a run, 0 to 1
    watch: Box<dyn Fn(f64) + 'a>,
}

impl<'a> Interpreter<'a> {
    /// Compiles a script and checks its words; `settings` replace the defaults of its parameters.
    pub fn new(script: &'a Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Self, Trouble> {
        let start = Instant::now();
        let shelf = Shelf::beside(&script.path);
        let desk = Rc::new(Desk { settings: settings.clone(), shelf: shelf.clone(), ..Desk::default() });
        let mut engine = fenced(&desk, &limits);
        dictionary::register(&mut engine, &desk, &shelf);
        ride::register(&mut engine);
        let ast = engine.compile(&script.text).map_err(|e| Trouble::parse(script, &e))?;
        spelling::check(&engine, &ast).map_err(|e| Trouble::spelling(script, &e))?;
        let known = spelling::parameters(&ast);
        if let Some(name) = settings.keys().find(|name| !known.contains(*name)) {
            return Err(Trouble::Setting {
                name: name.clone(),
                suggestion: nearest(name, known.iter().map(String::as_str)),
                known: known.join(", "),
            });
        }
        limits.spent.add_script(start.elapsed());
        Ok(Self { script, engine, ast, desk, planned: RefCell::default(), limits, watch: Box::new(|_| {}) })
    }

    /// As [`new`](Self::new), with a progress callback, 0 to 1. The progress falls when a jump is rejected.
    #[must_use]
    pub fn watched(self, watch: impl Fn(f64) + 'a) -> Self {
        Self { watch: Box::new(watch), ..self }
    }

    fn trouble(&self, error: &EvalAltResult) -> Trouble {
        Trouble::run(self.script, error)
    }

    /// Runs the top level, which defines the title and the runs.
    pub fn plan(&self) -> Result<Plan, Trouble> {
        self.desk.plan.replace(Plan::default());
        self.desk.run(&self.limits, || self.engine.run_ast(&self.ast)).map_err(|e| self.trouble(&e))?;
        let mut plan = self.desk.plan.borrow().clone();
        if let Some(reference) = &plan.reference
            && !plan.pairs.iter().any(|pair| pair.variant.is(reference))
        {
            return Err(self.trouble(&Refusal::Reference(reference.name.clone()).at(plan.reference_at)));
        }
        distinct::tell_apart(&mut plan);
        if let Some(asked) = plan.questions.first().filter(|_| plan.aim != Aim::Runs) {
            return Err(self.trouble(&Refusal::CampaignAsks.at(asked.position)));
        }
        if plan.pairs.is_empty() && plan.questions.is_empty() {
            return Err(Trouble::nothing(self.script));
        }
        Ok(plan)
    }

    /// The files that the script has read, and those that it names.
    pub(crate) fn files(&self) -> Hashes {
        self.desk.shelf.known(spelling::texts(&self.ast))
    }

    /// Restricts reading to these files, with unchanged contents.
    pub(crate) fn seal(&self, files: &Hashes) {
        self.desk.shelf.seal(files);
    }

    /// The lines printed since the last call.
    pub fn printed(&self) -> Vec<String> {
        self.desk.printed.take()
    }

    /// Parameters used so far.
    pub fn parameters(&self) -> BTreeMap<String, f64> {
        self.desk.used.borrow().clone()
    }

    fn ride(&self, duty: &Duty, ride: &Ride) -> Answer<()> {
        // Variables outside are shared by all runs of an interpreter, so the order of runs must not matter.
        let outside = captured::state(&duty.function);
        self.desk.riding.set(true);
        let call = || duty.function.call::<Dynamic>(&self.engine, &self.ast, (ride.clone(),)).map(drop);
        let done = self.desk.run(&self.limits, call);
        self.desk.riding.set(false);
        let done = match done {
            Err(e) if matches!(*e, EvalAltResult::Exit(..)) => Ok(()),
            done => done,
        };
        if done.as_ref().err().is_none_or(|e| abandoned(e)) {
            captured::unchanged(&self.ast, &duty.function, &outside)?;
        }
        done
    }

    /// The segments of a duty; none if it reads the ride, because its segments then depend on the run.
    pub fn record(&self, pair: &Pair) -> Result<Option<Vec<Entry>>, Trouble> {
        let ride = Ride::recording(&pair.duty.name, pair.variant.machine.clone(), Rc::clone(&self.desk.away));
        match self.ride(&pair.duty, &ride) {
            Ok(()) => {
                let entries = ride.entries();
                if entries.iter().any(|(segment, _)| matches!(segment, Segment::Ride(..))) {
                    self.repeatable(&pair.duty, length(&entries))?;
                    return Ok(Some(entries));
                }
                let refusal = Refusal::Timeless(pair.duty.name.clone()).at(Position::NONE);
                Err(self.trouble(&refusal).inside(pair.duty.function.fn_name()))
            }
            Err(e) if abandoned(&e) => {
                ride.entries();
                self.desk.printed.take();
                Ok(None)
            }
            Err(e) => Err(self.trouble(&e).inside(pair.duty.function.fn_name())),
        }
    }

    /// Refuses a block with too many repetitions. A block whose rides have no given length is not known to be short.
    fn repeatable(&self, duty: &Duty, block: f64) -> Result<(), Trouble> {
        match duty.until {
            Some(until) if block > 0.0 && until / block > BLOCKS => {
                let name = duty.name.clone();
                let refusal = Refusal::Blocks { name, block, until, count: (until / block).ceil(), most: BLOCKS };
                Err(self.trouble(&refusal.at(Position::NONE)).inside(duty.function.fn_name()))
            }
            _ => Ok(()),
        }
    }

    /// The shop questions of a plan, with the segments of duties that serve as uses.
    pub fn questions(&self, plan: &Plan) -> Result<Vec<Question>, Trouble> {
        let one = |asked: &Asked| {
            let refused = |e: Refusal| self.trouble(&e.at(asked.position));
            let usage = match &asked.usage {
                Use::Named(name) => named(name, &asked.variant).map_err(|e| refused(e.into()))?,
                Use::Duty(duty) => {
                    let pair = Pair { variant: asked.variant.clone(), duty: duty.clone() };
                    let entries = self.record(&pair)?.ok_or_else(|| refused(Refusal::Reads(duty.name.clone())))?;
                    let block = entries.into_iter().map(|(segment, _)| segment).collect();
                    Usage { name: duty.name.clone(), block }
                }
            };
            asked.question(usage).map_err(refused)
        };
        let questions: Vec<Question> = plan.questions.iter().map(one).collect::<Result<_, Trouble>>()?;
        // After all duties are recorded, every parameter is known.
        let asking = Asking { script: self.script, title: &plan.title, parameters: &self.parameters() };
        let head = asking.run(self.limits.skipping.tolerance > 0.0, vec![]);
        Ok(questions.into_iter().map(|question| question.of(head.clone())).collect())
    }

    /// Performs a pair of the plan and returns its record.
    pub fn perform(&self, pair: &Pair) -> Result<Run, Trouble> {
        self.perform_with(pair, Options::default())
    }

    /// As [`perform`](Self::perform) without windows and extremes, for a clutch of a fleet.
    pub fn perform_unrecorded(&self, pair: &Pair) -> Result<Run, Trouble> {
        self.perform_with(pair, Options { windows: 0, ..Options::default() })
    }

    fn perform_with(&self, pair: &Pair, mut options: Options) -> Result<Run, Trouble> {
        if pair.duty.until.is_some() {
            options.tolerance = Tolerance::LIVES;
        }
        // The order of runs must not matter, so the parameters used by other runs are discarded.
        self.desk.defaults.replace(self.planned.borrow().clone());
        let entries = self.record(pair)?;
        let start = Instant::now();
        let refused = |e, at| self.trouble(&Refusal::Engine(e).at(at));
        let machine = pair.variant.machine.clone();
        let mut simulation = Simulation::new(machine.clone(), options).map_err(|e| refused(e, Position::NONE))?;
        if let Some((entries, until)) = entries.as_ref().zip(pair.duty.until) {
            let block: Vec<Segment> = entries.iter().map(|(segment, _)| segment.clone()).collect();
            let how = Until { time: until, skipping: self.limits.skipping };
            let lived = simulation.live_watched(&block, how, &mut |share| (self.watch)(share));
            lived.map_err(|(index, e)| refused(e, entries[index].1))?;
            self.limits.spent.add_engine(start.elapsed());
        } else if let Some(entries) = entries {
            for (k, (segment, position)) in entries.iter().enumerate() {
                simulation.perform(segment).map_err(|e| refused(e, *position))?;
                (self.watch)((k + 1) as f64 / entries.len() as f64);
            }
            self.limits.spent.add_engine(start.elapsed());
        } else {
            let ride = Ride::live(&pair.duty.name, machine, simulation, Rc::clone(&self.desk.away));
            let perform =
                || self.ride(&pair.duty, &ride).map_err(|e| self.trouble(&e).inside(pair.duty.function.fn_name()));
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
            simulation = ride.simulation().ok_or_else(|| Trouble::nothing(self.script))?;
        }
        if simulation.clock() <= 0.0 {
            let refusal = Refusal::Timeless(pair.duty.name.clone()).at(Position::NONE);
            return Err(self.trouble(&refusal).inside(pair.duty.function.fn_name()));
        }
        let run = simulation.finish(&pair.variant.name, &pair.duty.name).map_err(|e| refused(e, Position::NONE))?;
        Ok(Run { engagement: Engagement { idle: pair.variant.idles(), ..run.engagement }, ..run })
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

fn abandoned(error: &EvalAltResult) -> bool {
    match error {
        EvalAltResult::ErrorInFunctionCall(_, _, inner, _) => abandoned(inner),
        EvalAltResult::ErrorTerminated(token, _) => token.is::<Abandoned>(),
        _ => false,
    }
}
