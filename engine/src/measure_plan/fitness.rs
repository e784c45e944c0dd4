//! Whether the machine may be ridden in the use at all: where it may not, nothing is worth measuring yet.

use super::wish::Wish;
use crate::document::reason::{Reason, Weight};
use crate::names::Decision;
use crate::simulate::Failure;
use crate::spring_choice::{self, Spring, judge};
use rayon::prelude::*;

/// What is against the use with the machine's springs, or, to choose a spring, with the one that has least against it, all
/// constants as set. A margin over the idle that is only short of its tolerances leaves the use open.
pub(super) fn against(wish: &Wish) -> Result<Vec<Reason>, Failure> {
    let asked = spring_choice::Wish::new(wish.machine.clone(), wish.usage.clone());
    let own = Spring {
        name: wish.machine.name.clone(),
        engagement: wish.machine.clutch.engagement,
        rate: Some(wish.machine.clutch.spring_rate),
    };
    let springs = if wish.decision == Decision::Spring { wish.springs.clone() } else { vec![own] };
    let weighty = |reason: &Reason| reason.weight() == Weight::Against && !matches!(reason, Reason::TooNear { .. });
    let one = |spring: &Spring| Ok(judge(&asked, spring)?.reasons.into_iter().filter(weighty).collect());
    let judged = springs.par_iter().map(one).collect::<Result<Vec<Vec<Reason>>, Failure>>()?;
    Ok(judged.into_iter().min_by_key(Vec::len).unwrap_or_default())
}
