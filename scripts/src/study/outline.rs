//! The outline of a study: what a script would run, without running it.

use crate::language::plan::ShopRequest;
use crate::study::request::Request;
use crate::study::study_error::StudyError;

/// The title of a study, and a line for each parameter, run and question. Runs the top level and records every duty,
/// without simulating; reports every error that a run would report before it begins.
pub fn outline(request: &Request<'_>, heard: &mut dyn FnMut(Vec<String>)) -> Result<(String, Vec<String>), StudyError> {
    request.plan(heard, |planned| {
        let (interpreter, plan) = (&planned.interpreter, &planned.plan);
        let mut runs = Vec::new();
        for pair in &plan.pairs {
            let entries = interpreter.record(pair)?.map(|all| match all.len() {
                1 => "1 entry".to_owned(),
                n => format!("{n} entries"),
            });
            let entries = entries.unwrap_or_else(|| "reads the ride as it goes".to_owned());
            runs.push(format!("{}, {}: {entries}", pair.variant.name, pair.duty.name));
        }
        super::of(request, planned, (1, 1))?;
        let parameters = interpreter.parameters().into_iter().map(|(name, value)| format!("{name} = {value}"));
        let questions = plan.requests.iter().map(ShopRequest::name);
        Ok((plan.title.clone(), parameters.chain(runs).chain(questions).collect()))
    })
}
