//! What matters most: one draw at a time put at its P10 and P90, and all of them together on a design of points.

use crate::Trouble;
use crate::language::interpreter::Interpreter;
use crate::language::plan::{Pair, Plan, Variant};
use crate::study::campaign::{Campaign, Frame};
use slipsoak_engine::document::Is;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::{Uncertain, machine_at};
use slipsoak_engine::influence::{Answer, ENDS, Influence, Influences, Measure, Ranking, draws, moved};
use slipsoak_engine::statistics::{Design, Index};
use std::collections::BTreeMap;

/// A machine under a duty, and what is moved.
struct Question {
    variant: Variant,
    duty: String,
    horizon: Option<f64>,
    uncertain: Vec<Uncertain>,
    draws: Vec<String>,
    design: Option<Design>,
    /// number of its first item
    first: u64,
}

/// What an item of a question is.
enum Point {
    Nominal,
    /// one draw at one of its ends
    End(usize, usize),
    /// a point of the design
    Design(usize),
}

/// A study of what matters that was asked for, before it is run.
pub struct Asked<'a> {
    frame: Frame<'a>,
    rows: u64,
    questions: Vec<Question>,
}

/// Runs that a machine under a duty takes, with so many rows of the design.
pub(crate) fn items(pair: &Pair, rows: u64) -> u64 {
    let draws = draws(&pair.variant.uncertain()).len() as u64;
    // The design's points are not made to be counted: they may be too many.
    1 + 2 * draws + rows * (2 + draws)
}

impl<'a> Asked<'a> {
    /// The questions of a plan.
    pub(crate) fn of(mut frame: Frame<'a>, plan: &Plan, rows: u64) -> Self {
        let mut first = 0;
        let questions = plan.pairs.iter().map(|pair| {
            let uncertain = pair.variant.uncertain();
            let draws = draws(&uncertain);
            let design = (rows > 0).then(|| Design::new(rows as usize, draws.len()));
            let (variant, duty, horizon) = (pair.variant.clone(), pair.duty.name.clone(), pair.duty.until);
            let question = Question { variant, duty, horizon, uncertain, draws, design, first };
            first += question.items();
            question
        });
        let questions = questions.collect();
        frame.heading.items = first;
        Self { frame, rows, questions }
    }

    /// Which question an item belongs to.
    fn which(&self, item: u64) -> usize {
        self.questions.partition_point(|question| question.first <= item) - 1
    }
}

impl Question {
    /// Runs before the design: the nominal one, and both ends of each draw.
    fn singles(&self) -> u64 {
        1 + 2 * self.draws.len() as u64
    }

    fn items(&self) -> u64 {
        self.singles() + self.design.as_ref().map_or(0, |d| d.points() as u64)
    }

    fn point(&self, item: u64) -> Point {
        let own = item - self.first;
        match own.checked_sub(self.singles()) {
            Some(index) => Point::Design(index as usize),
            None if own == 0 => Point::Nominal,
            None => Point::End((own as usize - 1) / 2, (own as usize - 1) % 2),
        }
    }

    /// The deviate of each draw at an item, where it is moved.
    fn deviates(&self, item: u64) -> BTreeMap<&str, f64> {
        match self.point(item) {
            Point::Nominal => BTreeMap::new(),
            Point::End(draw, end) => [(self.draws[draw].as_str(), ENDS[end])].into(),
            Point::Design(index) => {
                let point = self.design.as_ref().map_or_else(Vec::new, |d| d.point(index));
                self.draws.iter().map(String::as_str).zip(point).collect()
            }
        }
    }

    fn ranking(&self, found: &BTreeMap<u64, Answer>) -> Ranking {
        let horizon = self.horizon;
        let at = |own: u64| found.get(&(self.first + own)).cloned();
        let design: Vec<Answer> = (self.singles()..self.items()).filter_map(at).collect();
        // Shares of variance need every point of the design.
        let whole = self.design.as_ref().filter(|of| of.points() == design.len());
        let shares = |measure: Measure| -> Vec<Index> {
            let values: Option<Vec<f64>> = design.iter().map(|answer| measure.of(answer, horizon)).collect();
            whole.zip(values).map_or_else(Vec::new, |(design, values)| design.indices(&values))
        };
        let [end, service, peak] = Measure::ALL.map(shares);
        let influence = |(k, draw): (usize, &String)| {
            Some(Influence {
                draw: draw.clone(),
                by_script: self.variant.spreads.iter().any(|u| u.draw == *draw),
                settings: moved(&self.variant.machine, &self.uncertain, draw),
                low: at(1 + 2 * k as u64)?,
                high: at(2 + 2 * k as u64)?,
                end: end.get(k).copied(),
                service_due: service.get(k).copied(),
                lining_peak: peak.get(k).copied(),
            })
        };
        let mut influences: Vec<Influence> = self.draws.iter().enumerate().filter_map(influence).collect();
        influences.sort_by(|a, b| {
            let swing = |i: &Influence| i.swing(Measure::End, horizon);
            swing(b).total_cmp(&swing(a))
        });
        Ranking {
            variant: self.variant.name.clone(),
            duty: self.duty.clone(),
            horizon,
            nominal: at(0).unwrap_or_default(),
            influences,
            beyond: design.iter().filter(|answer| answer.end.is_none()).count() as u64,
        }
    }
}

impl Campaign for Asked<'_> {
    type Found = Answer;
    type Report = Influences;
    const ITEMS: &'static str = "runs";

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        let question = &self.questions[self.which(item)];
        let what = match question.point(item) {
            Point::Nominal => "all nominal".to_owned(),
            Point::End(draw, end) => format!("{} at P{:.0}", question.draws[draw], 100.0 * ENDS[end]),
            Point::Design(point) => format!("point {point} of the design"),
        };
        format!("{what} of “{}, {}”", question.variant.name, question.duty)
    }

    fn group(&self, item: u64) -> (usize, u64) {
        let index = self.which(item);
        let question = &self.questions[index];
        match question.point(item) {
            // All else is held against it: it stands for itself, and may not fail.
            Point::Nominal => (self.questions.len() + index, 1),
            Point::End(..) | Point::Design(_) => (index, question.items() - 1),
        }
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Answer, Trouble> {
        let index = self.which(item);
        let (question, mut pair) = (&self.questions[index], plan.pairs[index].clone());
        let deviates = question.deviates(item);
        pair.variant.machine =
            machine_at(&pair.variant.machine, &question.uncertain, |draw| deviates.get(draw).copied());
        Ok(Answer::of(&interpreter.perform(&pair)?))
    }

    fn together(&self, found: BTreeMap<u64, Answer>, failed: Vec<Failed>) -> Influences {
        Influences {
            kind: Is::default(),
            head: self.frame.head(vec![]),
            rows: self.rows,
            rankings: self.questions.iter().map(|question| question.ranking(&found)).collect(),
            runs: self.frame.heading.items,
            failed,
        }
    }
}
