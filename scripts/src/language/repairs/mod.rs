//! How each mistake of a script is mended: what to write instead, within its line.

mod blocks;
mod mistake;
mod names;
mod signs;
mod told;

pub(crate) use mistake::Edit;

use crate::language::script_error::Place;
use mistake::Mistake;

/// Ways to mend a mistake, the likeliest first; none if it is not known what was meant.
pub fn of(place: &Place) -> Vec<Vec<Edit>> {
    let Some(mistake) = Mistake::at(place) else { return vec![] };
    let ways = [
        mistake.unit(),
        mistake.block(),
        mistake.logic(),
        mistake.quotes(),
        mistake.comment(),
        mistake.renamed(),
        mistake.setting(),
        mistake.function(),
        mistake.variable(),
        mistake.loops(),
        mistake.brackets(),
        mistake.call_as_told(),
        mistake.decimal_comma(),
        mistake.in_place(),
        mistake.value_with_unit(),
        mistake.name_as_told(),
        mistake.one_of_two(),
        mistake.followed(),
    ];
    ways.into_iter().flatten().filter(|edits| !edits.is_empty()).collect()
}
