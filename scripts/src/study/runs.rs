//! Single runs: every machine of a plan under every duty on several threads, as one record, and the answers to the
//! shop's questions.

use crate::shop::Posed;
use crate::study::head::Asking;
use crate::study::question::questions;
use crate::study::request::{Planned, Request, pool};
use crate::study::study_error::StudyError;
use rayon::prelude::*;
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::record::{Column, Record, Run};
use slipsoak_engine::simulate::Options;
use std::cell::Cell;
use std::collections::BTreeMap;
use std::ops::ControlFlow;

/// Number of progress steps of a run.
const STEPS: f64 = 1000.0;

/// Requested runs and questions.
pub struct Runs<'a> {
    request: Request<'a>,
    title: String,
    parameters: BTreeMap<String, f64>,
    reference: Option<String>,
    count: u64,
    questions: Vec<Posed>,
}

/// The results.
#[derive(Clone, Debug)]
pub struct Findings {
    /// the record
    pub record: Record,
    /// the answers to the shop's questions
    pub answers: Vec<Saved>,
}

impl<'a> Runs<'a> {
    /// The runs and questions of a plan.
    pub(crate) fn of(request: &Request<'a>, planned: &Planned<'a>) -> Result<Self, StudyError> {
        let (interpreter, plan) = (&planned.interpreter, &planned.plan);
        let questions = questions(planned)?;
        Ok(Self {
            request: request.clone(),
            title: plan.title.clone(),
            parameters: interpreter.parameters(),
            reference: plan.reference.as_ref().map(|variant| variant.name.clone()),
            count: plan.pairs.len() as u64,
            questions,
        })
    }

    /// Number of runs and questions.
    pub fn count(&self) -> u64 {
        self.count + self.questions.len() as u64
    }

    /// Makes the runs and answers the questions; `done` receives each completed share of one, `heard` the lines that
    /// duties print.
    pub fn perform(
        self,
        threads: Option<u16>,
        done: impl Fn(f64) + Sync,
        heard: &mut dyn FnMut(Vec<String>),
    ) -> Result<Findings, StudyError> {
        let pool = pool(threads)?;
        let skipping = self.request.limits.skipping.tolerance > 0.0;
        let asking = |parameters| Asking { script: self.request.script, title: &self.title, parameters };
        let answer = |question: Posed| {
            let each = 1.0 / question.trials.max(1) as f64;
            question.answer(asking(&self.parameters).run(skipping, vec![]), &|| done(each))
        };
        let answers = pool.install(|| self.questions.into_par_iter().map(answer).collect::<Vec<_>>());
        let answers: Vec<Saved> = answers.into_iter().collect::<Result<_, _>>()?;
        let perform = |planned: &Planned<'a>, index: u64| {
            let reached = Cell::new(0.0);
            let reach = |share: f64| {
                let share = (share * STEPS).floor() / STEPS;
                if share > reached.get() {
                    done(share - reached.replace(share));
                }
            };
            let Planned { interpreter, plan } = planned;
            let pair = &plan.pairs[index as usize];
            let run = interpreter.perform(pair, Options::default(), &reach);
            let printed = interpreter.printed();
            reach(1.0);
            let run = run.map_err(|e| e.in_run(&pair.variant.name, &pair.duty.name));
            let failed = run.is_err();
            let made = (run, interpreter.parameters(), printed);
            Ok(if failed { ControlFlow::Break(Some(made)) } else { ControlFlow::Continue(made) })
        };
        let items: Vec<u64> = (0..self.count).collect();
        let made = self.request.each(&pool, &items, perform).map_err(|failed| failed.1)?;
        let (mut runs, mut parameters) = (Vec::<Run>::new(), self.parameters.clone());
        for (_, (run, used, printed)) in made {
            heard(printed);
            runs.push(run.map_err(|e| self.request.corrected(e.into()))?.rounded());
            parameters.extend(used);
        }
        let seeds = answers.iter().flat_map(|answer| answer.head().seeds.clone()).collect();
        let record = Record {
            kind: Is::default(),
            head: asking(&parameters).run(skipping, seeds),
            reference: self.reference,
            channels: Column::all(),
            runs,
        };
        Ok(Findings { record, answers })
    }
}
