//! The width of a spread as a script states it, with the kind of its unit.

use crate::language::quantity::{Number, Quantity, kind, needed};
use crate::language::word_error::{WordError, finite};
use crate::read::units::short;
use rhai::Dynamic;
use slipsoak_engine::fleet::Spread;
use slipsoak_engine::parts::{Dimension, Parameter};

/// A spread of any setting of its kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Width {
    spread: Spread,
    of: Option<Dimension>,
    value: f64,
}

impl Width {
    /// Of the width in an argument, at least this.
    pub fn new(
        word: &'static str,
        argument: &'static str,
        given: &Dynamic,
        least: f64,
        spread: fn(f64) -> Spread,
    ) -> Result<Self, WordError> {
        let Number { value, of } = finite(word, argument, given)?;
        if value < least {
            let (given, least) = (short(value), short(least));
            return Err(WordError::new(format!("`{word}`: its {argument} is {given}; it must be at least {least}")));
        }
        Ok(Self { spread: spread(value), of, value })
    }

    /// The spread of a setting.
    pub fn of(self, p: &Parameter) -> Result<Spread, WordError> {
        let wanted = match (self.spread, p.dimension) {
            (Spread::Factor(_), _) => Dimension::Ratio,
            (_, Dimension::Temperature) => Dimension::TemperatureDifference,
            (_, of) => of,
        };
        match self.of.filter(|of| *of != wanted) {
            None => Ok(self.spread),
            Some(of) => Err(WordError::new(format!(
                "`spread`: the width for `{}` is {}, {}; here {}",
                p.path,
                Quantity { value: self.value, of }.written(),
                kind(of),
                needed(wanted)
            ))),
        }
    }
}
