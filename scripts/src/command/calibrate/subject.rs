//! The clutches' machine and duties: the first machine of a script and its duties.

use crate::language::plan::Variant;
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use crate::read::script::Script;
use crate::study::request::Request;
use crate::study::study_error::StudyError;
use slipsoak_engine::duty::Segment;
use std::collections::BTreeMap;

/// The first machine of a script and its duties: name, segments, and the time until which they are repeated.
pub(crate) struct Subject {
    pub(crate) title: String,
    pub(crate) parameters: BTreeMap<String, f64>,
    pub(crate) variant: Variant,
    pub(crate) duties: Vec<(String, Option<Vec<Segment>>, Option<f64>)>,
}

/// The subject of a script; `heard` gets what the script prints.
pub(crate) fn subject(request: &Request<'_>, heard: &mut dyn FnMut(Vec<String>)) -> Result<Subject, StudyError> {
    request.plan(heard, |planned| {
        let (interpreter, plan) = (&planned.interpreter, &planned.plan);
        // A script with only shop questions has no machine under a duty.
        let nothing = || ScriptError::nothing(request.script);
        let variant = plan.pairs.first().ok_or_else(nothing)?.variant.clone();
        let mut duties = vec![];
        for pair in plan.pairs.iter().filter(|p| p.variant.name == variant.name) {
            let entries = interpreter.record(pair)?.map(|e| e.into_iter().map(|(segment, _)| segment).collect());
            duties.push((pair.duty.name.clone(), entries, pair.duty.until));
        }
        Ok(Subject { title: plan.title.clone(), parameters: interpreter.parameters(), variant, duties })
    })
}

impl Subject {
    /// A duty by its name, or else the first repeated or unrepeated one; `source` names the data for messages.
    pub(crate) fn duty(
        &self,
        script: &Script,
        (source, name): (&str, Option<&str>),
        repeated: bool,
    ) -> Result<(String, Vec<Segment>), Refusal> {
        let kind = |d: &&(String, Option<Vec<Segment>>, Option<f64>)| d.2.is_some() == repeated;
        let found = match name {
            Some(name) => self.duties.iter().find(|d| d.0 == name),
            None => self.duties.iter().find(kind),
        };
        let Some((duty, entries, _)) = found else {
            let what = match name {
                Some(name) => format!("{source} names the duty `{name}`"),
                None if repeated => format!("{source}: inspections need a duty that is `.repeated(…)`"),
                None => format!("{source}: a log needs a duty that is not repeated"),
            };
            let known = self.duties.iter().map(|d| d.0.clone()).collect::<Vec<_>>().join(", ");
            let script = &script.name;
            let why = format!("{what}, and {script} has no such duty with its first machine; its duties: {known}");
            return Err(Refusal::new(why));
        };
        let entries = entries.clone().ok_or_else(|| {
            Refusal::new(format!(
                "the duty `{duty}` reads the ride as it goes; to learn from worn parts its entries have to be known beforehand: leave out what asks for temperatures, fill or clock"
            ))
        })?;
        Ok((duty.clone(), entries))
    }
}
