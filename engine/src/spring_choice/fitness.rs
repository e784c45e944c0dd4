//! The springs that a machine has, and a whole new set of them.

use super::judge::{Spring, judge};
use super::wish::Wish;
use crate::document::finding::Weak;
use crate::document::spring_choice::Renewed;
use crate::parts::Machine;
use crate::simulate::Failure;

/// The springs of a machine.
pub fn own(machine: &Machine) -> Spring {
    let clutch = &machine.clutch;
    Spring { name: machine.name.clone(), engagement: clutch.engagement, rate: Some(clutch.spring_rate) }
}

/// A whole new set of the machine's springs, if they are weaker than that.
pub fn renewed(wish: &Wish) -> Result<Option<Renewed>, Failure> {
    let new = |weak: Weak| Ok(Renewed { weak, set: judge(wish, &own(&wish.machine))? });
    Weak::of(&wish.machine).map(new).transpose()
}
