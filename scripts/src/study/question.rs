//! The shop's questions of a plan.

use crate::language::plan::{Pair, ShopRequest, Use};
use crate::language::script_error::ScriptError;
use crate::language::word_error::WordError;
use crate::read::uses::usage;
use crate::shop::Posed;
use crate::study::request::Planned;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::usage::Usage;

/// The questions of a plan, with the segments of duties that serve as uses.
pub(crate) fn questions(planned: &Planned<'_>) -> Result<Vec<Posed>, ScriptError> {
    let Planned { interpreter, plan } = planned;
    let one = |asked: &ShopRequest| {
        let refused = |e: WordError| interpreter.refused(e, asked.position);
        let duty = match &asked.usage {
            Use::Named(name) => Err(name),
            Use::Duty(duty) => {
                let pair = Pair { variant: asked.variant.clone(), duty: duty.clone() };
                let reads = || {
                    refused(WordError::new(format!(
                        "the duty `{}` reads the ride, so that what it does is not known beforehand; ask the shop's questions with a duty that does not",
                        duty.name
                    )))
                };
                let entries = interpreter.record(&pair)?.ok_or_else(reads)?;
                let block = entries.into_iter().map(|(segment, _)| segment).collect();
                Ok(Usage { name: duty.name.clone(), block })
            }
        };
        let usage = |machine: &Machine| match duty {
            Ok(usage) => Ok(usage),
            Err(name) => Ok(usage(name, machine)?),
        };
        let machine = Machine { name: asked.variant.name.clone(), ..asked.variant.machine.clone() };
        asked.question.pose(machine, asked.given.clone(), usage).map_err(refused)
    };
    plan.requests.iter().map(one).collect()
}
