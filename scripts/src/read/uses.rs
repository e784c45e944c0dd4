//! Uses known by name.

use crate::read::refusal::Refusal;
use crate::read::units::{maybe, nearest};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::usage::{USES, Usage};

/// The use with that name.
pub fn usage(given: &str, machine: &Machine) -> Result<Usage, Refusal> {
    Usage::named(given, machine).ok_or_else(|| {
        let names = USES.map(|usage| usage.0);
        let near = nearest(given, names);
        let (near, known) = (maybe(near.as_deref()), names.join(", "));
        Refusal::new(format!(
            "there is no use `{given}`{near}; uses: {known} (described by `slipsoak choose --help`); any other use is a duty in a script: `slipsoak words choose`"
        ))
    })
}
