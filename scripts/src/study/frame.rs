//! The frame of a campaign: its script, what it compares, and what identifies it.

use crate::keep::heading::Heading;
use crate::language::closures;
use crate::language::interpreter::Interpreter;
use crate::language::plan::{Aim, Pair, Plan, Variant};
use crate::language::script_error::ScriptError;
use crate::read::hash::hash;
use crate::study::head::{Asking, PROGRAM};
use crate::study::request::{Planned, Request};
use slipsoak_engine::document::Head;
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// End of life in a fleet and in a sensitivity study.
const ENDS: &str = "the first worn part, the oil set apart";

/// A machine under a duty.
pub struct Case {
    /// the machine
    pub variant: Variant,
    /// name of the duty
    pub duty: String,
    /// time for which it is repeated, s; none if it is not
    pub until: Option<f64>,
}

impl Case {
    /// Machine and duty, for messages.
    pub fn name(&self) -> String {
        format!("{}, {}", self.variant.name, self.duty)
    }
}

/// Common data of every campaign.
pub struct Frame<'a> {
    pub(super) request: Request<'a>,
    /// what is compared, in the order of the plan
    pub cases: Vec<Case>,
    /// name of its items
    pub items: &'static str,
    /// title of the study
    pub title: String,
    /// identity of the study
    pub heading: Heading,
}

impl<'a> Frame<'a> {
    /// The frame of a plan's study, or of a part of it.
    pub(crate) fn of(
        items: &'static str,
        request: &Request<'a>,
        planned: &Planned<'a>,
        part: (u64, u64),
    ) -> Result<Self, ScriptError> {
        let Planned { interpreter, plan } = planned;
        let compared = compared(interpreter, plan)?;
        let files = interpreter.files();
        let heading = Heading {
            program: PROGRAM.to_owned(),
            script_hash: hash(&request.script.text),
            // A duty may use parameters that have not been used until now.
            parameters: interpreter.parameters().into_iter().chain(request.settings.clone()).collect(),
            files: files.clone(),
            aim: serde_json::to_value(plan.aim).unwrap_or_default(),
            compared,
            items: plan.pairs.len() as u64,
            group: 1,
            ends: matches!(plan.aim, Aim::Fleet { .. } | Aim::Influence { .. }).then(|| ENDS.to_owned()),
            skipping: request.limits.skipping.tolerance > 0.0,
            part,
        };
        let case =
            |pair: &Pair| Case { variant: pair.variant.clone(), duty: pair.duty.name.clone(), until: pair.duty.until };
        let cases = plan.pairs.iter().map(case).collect();
        let request = Request { files: Some(files), ..request.clone() };
        Ok(Self { request, cases, items, title: plan.title.clone(), heading })
    }

    /// Number of items of this part.
    pub fn count(&self) -> u64 {
        self.heading.due().count() as u64
    }

    /// The head of the whole study, the same for every part.
    pub fn head(&self, seeds: Vec<u64>) -> Head {
        let Heading { parameters, skipping, .. } = &self.heading;
        Asking { script: self.request.script, title: &self.title, parameters }.run(*skipping, seeds)
    }
}

/// SHA-256 of every machine, and of every duty whose segments can be recorded.
fn compared(interpreter: &Interpreter<'_>, plan: &Plan) -> Result<String, ScriptError> {
    let (mut text, mut duties) = (String::new(), BTreeSet::new());
    for pair in &plan.pairs {
        let _ = write!(text, "{:?}{:?}{:?}", pair.variant, pair.duty.name, pair.duty.until);
        let function = &pair.duty.function;
        if duties.insert((&pair.duty.name, function.fn_name(), closures::state(function))) {
            let entries = interpreter.record(pair)?;
            let segments = entries.map(|all| all.into_iter().map(|entry| entry.0).collect::<Vec<_>>());
            let _ = write!(text, "{segments:?}");
        }
    }
    Ok(hash(&text))
}
