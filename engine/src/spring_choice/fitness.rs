//! Whether a machine may be ridden in a use at all: where it may not, nothing else is worth asking of it.

use super::judge::{Spring, judge};
use super::wish::Wish;
use crate::document::finding::Weak;
use crate::document::reason::Reason;
use crate::document::spring_choice::Renewed;
use crate::parts::Machine;
use crate::simulate::Failure;
use rayon::prelude::*;

/// The springs of a machine.
pub fn own(machine: &Machine) -> Spring {
    let clutch = &machine.clutch;
    Spring { name: machine.name.clone(), engagement: clutch.engagement, rate: Some(clutch.spring_rate) }
}

/// What is against the use with the one of these springs that has least against it, all constants as set. A margin over the
/// idle that is only short of its tolerances leaves the use open.
pub fn against(wish: &Wish, springs: &[Spring]) -> Result<Vec<Reason>, Failure> {
    let one = |spring: &Spring| Ok(judge(wish, spring)?.reasons.into_iter().filter(Reason::forbids).collect());
    let judged = springs.par_iter().map(one).collect::<Result<Vec<Vec<Reason>>, Failure>>()?;
    Ok(judged.into_iter().min_by_key(Vec::len).unwrap_or_default())
}

/// A whole new set of the machine's springs, if they are weaker than that.
pub fn renewed(wish: &Wish) -> Result<Option<Renewed>, Failure> {
    let new = |weak: Weak| Ok(Renewed { weak, set: judge(wish, &own(&wish.machine))? });
    Weak::of(&wish.machine).map(new).transpose()
}
