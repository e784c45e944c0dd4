//! The interpreter of scripts: makes the plan, takes duties down, performs them.

use crate::diagnose::{Script, Trouble};
use crate::fence::{Desk, fenced};
use crate::files::Shelf;
use crate::plan::{Aim, Duty, Pair, Plan};
use crate::refusal::Refusal;
use crate::ride::{Abandoned, Entry, Ride};
use crate::shop::{Asked, Question, Use, origin, words};
use crate::units::nearest;
use crate::{dictionary, distinct, ride, spelling};
use rhai::{AST, Dynamic, Engine, EvalAltResult, Position};
use slipsoak_engine::duty::Segment;
use slipsoak_engine::horizon::Skipping;
use slipsoak_engine::record::{Engagement, Run};
use slipsoak_engine::simulate::{Options, Simulation, Tolerance, Until};
use slipsoak_engine::usage::Usage;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::{Duration, Instant};

pub use crate::fence::{Limits, Stop};

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A script ready to run.
pub struct Interpreter<'a> {
    script: &'a Script,
    engine: Engine,
    ast: AST,
    desk: Rc<Desk>,
    skipping: Skipping,
    /// hears how much of a run is done, 0 to 1
    watch: Box<dyn Fn(f64) + 'a>,
}

impl<'a> Interpreter<'a> {
    /// Compiles a script and checks its words; `settings` replace the defaults of its parameters.
    pub fn new(script: &'a Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Self, Trouble> {
        let desk = Rc::new(Desk { settings: settings.clone(), ..Desk::default() });
        let mut engine = fenced(&desk, limits);
        dictionary::register(&mut engine, &desk, &Shelf::beside(&script.path));
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
        Ok(Self { script, engine, ast, desk, skipping: limits.skipping, watch: Box::new(|_| {}) })
    }

    /// The same, with somebody who hears how much of a run is done, 0 to 1; now and then it may be less than before.
    #[must_use]
    pub fn watched(self, watch: impl Fn(f64) + 'a) -> Self {
        Self { watch: Box::new(watch), ..self }
    }

    fn begin(&self) {
        self.desk.operations.set(0);
        self.desk.start.set(Some(Instant::now()));
        self.desk.engine_time.set(Duration::ZERO);
    }

    fn trouble(&self, error: &EvalAltResult) -> Trouble {
        Trouble::run(self.script, error)
    }

    /// Runs the top level: the title and what to compare.
    pub fn plan(&self) -> Result<Plan, Trouble> {
        self.begin();
        self.desk.plan.replace(Plan::default());
        self.engine.run_ast(&self.ast).map_err(|e| self.trouble(&e))?;
        let mut plan = self.desk.plan.borrow().clone();
        if let Some(reference) = &plan.reference
            && !plan.pairs.iter().any(|pair| pair.variant.is(reference))
        {
            return Err(self.trouble(&Refusal::Reference(reference.name.clone()).at(Position::NONE)));
        }
        distinct::tell_apart(&mut plan);
        if let Some(asked) = plan.questions.first().filter(|_| plan.aim != Aim::Runs) {
            return Err(self.trouble(&Refusal::CampaignAsks.at(asked.position)));
        }
        if plan.pairs.is_empty() && plan.questions.is_empty() {
            return Err(Trouble::NothingToRun { script: self.script.name.clone() });
        }
        Ok(plan)
    }

    /// What the script printed since this was last asked.
    pub fn printed(&self) -> Vec<String> {
        self.desk.printed.take()
    }

    /// Parameters used so far.
    pub fn parameters(&self) -> BTreeMap<String, f64> {
        self.desk.used.borrow().clone()
    }

    fn ride(&self, duty: &Duty, ride: &Ride) -> Answer<()> {
        self.begin();
        match duty.function.call::<Dynamic>(&self.engine, &self.ast, (ride.clone(),)) {
            Err(e) if matches!(*e, EvalAltResult::Exit(..)) => Ok(()),
            done => done.map(drop),
        }
    }

    /// The entries of a duty, or none if it reads the ride and so has to be run to be known.
    pub fn record(&self, pair: &Pair) -> Result<Option<Vec<Entry>>, Trouble> {
        let ride = Ride::recording(&pair.duty.name, pair.variant.machine.clone(), Rc::clone(&self.desk.engine_time));
        match self.ride(&pair.duty, &ride) {
            Ok(()) => {
                let entries = ride.entries();
                if entries.iter().any(|(segment, _)| matches!(segment, Segment::Ride(..))) {
                    return Ok(Some(entries));
                }
                let refusal = Refusal::Timeless(pair.duty.name.clone()).at(Position::NONE);
                Err(self.trouble(&refusal).inside(pair.duty.function.fn_name()))
            }
            Err(e) if abandoned(&e) => {
                self.desk.printed.take();
                Ok(None)
            }
            Err(e) => Err(self.trouble(&e).inside(pair.duty.function.fn_name())),
        }
    }

    /// The shop's questions of a plan, the duties that stand for uses taken down.
    pub fn questions(&self, plan: &Plan) -> Result<Vec<Question>, Trouble> {
        let one = |asked: &Asked| {
            let refused = |e: Refusal| self.trouble(&e.at(asked.position));
            let usage = match &asked.usage {
                Use::Named(name) => words::named(name, &asked.variant).map_err(|e| refused(e.into()))?,
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
        // Once all duties are taken down, so that every parameter is known.
        let origin = origin::of_script(self.script, &self.parameters());
        Ok(questions.into_iter().map(|question| question.of(origin.clone())).collect())
    }

    /// Performs a pair of the plan and leaves its record.
    pub fn perform(&self, pair: &Pair) -> Result<Run, Trouble> {
        self.perform_with(pair, Options::default(), true)
    }

    /// The same, ended where the oil is spent.
    pub fn perform_oiled(&self, pair: &Pair) -> Result<Run, Trouble> {
        self.perform_with(pair, Options::default(), false)
    }

    /// The same without windows and extremes: what a clutch of a fleet needs.
    pub fn perform_unrecorded(&self, pair: &Pair) -> Result<Run, Trouble> {
        self.perform_with(pair, Options { windows: 0, ..Options::default() }, false)
    }

    fn perform_with(&self, pair: &Pair, mut options: Options, past_oil: bool) -> Result<Run, Trouble> {
        if pair.duty.until.is_some() {
            options.tolerance = Tolerance::LIVES;
        }
        let entries = self.record(pair)?;
        let refused = |e, at| self.trouble(&Refusal::Engine(e).at(at));
        let machine = pair.variant.machine.clone();
        let mut simulation = Simulation::new(machine.clone(), options).map_err(|e| refused(e, Position::NONE))?;
        if let Some((entries, until)) = entries.as_ref().zip(pair.duty.until) {
            let block: Vec<Segment> = entries.iter().map(|(segment, _)| segment.clone()).collect();
            let how = Until { time: until, skipping: self.skipping, past_oil };
            let lived = simulation.live_watched(&block, how, &mut |share| (self.watch)(share));
            lived.map_err(|(index, e)| refused(e, entries[index].1))?;
        } else if let Some(entries) = entries {
            for (k, (segment, position)) in entries.iter().enumerate() {
                simulation.perform(segment).map_err(|e| refused(e, *position))?;
                (self.watch)((k + 1) as f64 / entries.len() as f64);
            }
        } else {
            let ride = Ride::live(&pair.duty.name, machine, simulation, Rc::clone(&self.desk.engine_time));
            let perform =
                || self.ride(&pair.duty, &ride).map_err(|e| self.trouble(&e).inside(pair.duty.function.fn_name()));
            if let Some(until) = pair.duty.until {
                // What reads the ride may ride otherwise each time: every block is run.
                ride.begin_log();
                loop {
                    perform()?;
                    if ride.note(until) {
                        break;
                    }
                }
            } else {
                perform()?;
            }
            simulation = ride.simulation().ok_or_else(|| Trouble::NothingToRun { script: self.script.name.clone() })?;
        }
        if simulation.clock() <= 0.0 {
            let refusal = Refusal::Timeless(pair.duty.name.clone()).at(Position::NONE);
            return Err(self.trouble(&refusal).inside(pair.duty.function.fn_name()));
        }
        let run = simulation.finish(&pair.variant.name, &pair.duty.name).map_err(|e| refused(e, Position::NONE))?;
        Ok(Run { engagement: Engagement { idle: pair.variant.idles(), ..run.engagement }, ..run })
    }
}

fn abandoned(error: &EvalAltResult) -> bool {
    match error {
        EvalAltResult::ErrorInFunctionCall(_, _, inner, _) => abandoned(inner),
        EvalAltResult::ErrorTerminated(token, _) => token.is::<Abandoned>(),
        _ => false,
    }
}
