//! The outline of a study: what a script would run, without running it.

use crate::language::plan::ShopRequest;
use crate::study::request::Request;
use crate::study::study_error::StudyError;
use std::collections::BTreeMap;

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
}

/// Runs the top level and records every duty, without simulating; reports every error that a run would report before it
/// begins.
pub fn outline(request: &Request<'_>, heard: &mut dyn FnMut(Vec<String>)) -> Result<Outline, StudyError> {
    request.plan(heard, |planned| {
        let (interpreter, plan) = (&planned.interpreter, &planned.plan);
        let mut runs = Vec::new();
        for pair in &plan.pairs {
            let entries = interpreter.record(pair)?.map(|e| e.len());
            runs.push((pair.variant.name.clone(), pair.duty.name.clone(), entries));
        }
        let questions = plan.requests.iter().map(ShopRequest::name).collect();
        super::of(request, planned, (1, 1))?;
        Ok(Outline { title: plan.title.clone(), runs, questions, parameters: interpreter.parameters() })
    })
}
