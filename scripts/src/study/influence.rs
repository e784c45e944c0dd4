//! Sensitivities: one variable at a time at its P10 and P90, and all together on a design of points.

use crate::language::interpreter::Interpreter;
use crate::language::plan::Plan;
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use crate::study::campaign::{Campaign, afford};
use crate::study::frame::{Case, Frame};
use rhai::Position;
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::sensitivity::{Answer, Influences, Ranking};
use slipsoak_engine::simulate::{Failure, Options};
use slipsoak_engine::studies::{ENDS, Point, Sensitivity};
use std::collections::BTreeMap;

/// The changed variables of a machine under a duty.
struct Question {
    runs: Sensitivity,
    /// number of its first item
    first: u64,
}

/// A planned sensitivity study.
pub struct SensitivityStudy<'a> {
    frame: Frame<'a>,
    rows: u64,
    questions: Vec<Question>,
}

impl<'a> SensitivityStudy<'a> {
    /// The sensitivity studies of a plan.
    pub(crate) fn of(mut frame: Frame<'a>, rows: u64) -> Result<Self, Refusal> {
        let items = |case: &Case| Sensitivity::count(&case.variant.uncertain(), rows);
        let runs = frame.cases.iter().map(items).fold(0, u64::saturating_add);
        afford(runs, || format!("{rows} rows, {} machines under duties", frame.cases.len()))?;
        let mut first = 0;
        let questions = frame.cases.iter().map(|Case { variant, .. }| {
            let runs = Sensitivity::new(variant.machine.clone(), variant.uncertain(), rows);
            let question = Question { runs, first };
            first += question.runs.runs();
            question
        });
        let questions = questions.collect();
        frame.heading.items = first;
        Ok(Self { frame, rows, questions })
    }

    /// Index of the study that an item belongs to.
    fn which(&self, item: u64) -> usize {
        self.questions.partition_point(|question| question.first <= item) - 1
    }
}

impl Question {
    fn ranking(&self, Case { variant, duty, until }: &Case, found: &BTreeMap<u64, Answer>) -> Ranking {
        let own = found.range(self.first..self.first + self.runs.runs());
        let own = own.map(|(item, answer)| (item - self.first, answer.clone())).collect();
        let by_script = |draw: &str| variant.spreads.iter().any(|u| u.draw == draw);
        self.runs.ranking((&variant.name, duty), *until, by_script, &own)
    }
}

impl Campaign for SensitivityStudy<'_> {
    type Found = Answer;

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        let index = self.which(item);
        let question = &self.questions[index];
        let what = match question.runs.point(item - question.first) {
            Point::Nominal => "every setting at its nominal value".to_owned(),
            Point::End(draw, end) => format!("{} at P{:.0}", question.runs.draws()[draw], 100.0 * ENDS[end]),
            Point::Design(point) => format!("point {point} of the design"),
        };
        format!("{what} of “{}”", self.frame.cases[index].name())
    }

    fn group(&self, item: u64) -> (usize, u64) {
        let index = self.which(item);
        let question = &self.questions[index];
        match question.runs.point(item - question.first) {
            // All others are compared with the nominal run, so it forms a group of its own and must not fail.
            Point::Nominal => (self.questions.len() + index, 1),
            Point::End(..) | Point::Design(_) => (index, question.runs.runs() - 1),
        }
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Answer, ScriptError> {
        let index = self.which(item);
        let (question, mut pair) = (&self.questions[index], plan.pairs[index].clone());
        pair.variant.machine = question.runs.machine(item - question.first);
        let run = interpreter.perform(&pair, Options::default(), &|_| {})?;
        // Without a life there is nothing to rank; as one that never ends it would rank first.
        if let Some(&Warning { value: peak, limit, .. }) = run.warned(Warned::Beyond) {
            return Err(interpreter.refused(Failure::Beyond { peak, limit }.into(), Position::NONE));
        }
        Ok(Answer::of(&run))
    }

    fn together(&self, found: BTreeMap<u64, Answer>, failed: Vec<Failed>) -> Saved {
        let questions = self.questions.iter().zip(&self.frame.cases);
        Influences {
            kind: Is::default(),
            head: self.frame.head(vec![]),
            rows: self.rows,
            rankings: questions.map(|(question, case)| question.ranking(case, &found)).collect(),
            runs: self.frame.heading.items,
            failed,
        }
        .into()
    }
}
