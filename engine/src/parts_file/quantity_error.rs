//! Why a quantity in text form cannot be read.

use super::similar::maybe;

/// Reason why a quantity in text form cannot be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum QuantityError {
    /// no number at the start
    #[error("`{text}` {}; write for example \"{example}\"", if text.trim().is_empty() { "is no quantity" } else { "does not begin with a number" })]
    Number {
        /// as given
        text: String,
        /// a correct example
        example: String,
    },
    /// separators in a number
    #[error("`{text}`: write numbers with a decimal point and nothing between thousands, as in \"{plain}\"{}", also(besides.as_deref()))]
    Comma {
        /// as given
        text: String,
        /// probable meaning
        plain: String,
        /// what is wrong with that too, if its unit cannot be read
        besides: Option<Box<QuantityError>>,
    },
    /// extra text before or after the number
    #[error("`{text}` {what}: write \"{plain}\"")]
    Around {
        /// as given
        text: String,
        /// what is wrong
        what: &'static str,
        /// probable meaning
        plain: String,
    },
    /// a range
    #[error("`{text}` is a range, and one value is wanted: write for example its middle, \"{middle}\"")]
    Span {
        /// as given
        text: String,
        /// middle of the range
        middle: String,
    },
    /// a number that is not finite
    #[error("`{text}` is not a finite number; write for example \"{example}\"")]
    NotFinite {
        /// as given
        text: String,
        /// a correct example
        example: String,
    },
    /// a number without its unit
    #[error("{text} has no unit; write for example \"{text} {unit}\" (units here: {known})")]
    Missing {
        /// as given
        text: String,
        /// a suitable unit
        unit: &'static str,
        /// suitable units
        known: String,
    },
    /// a unit of another kind, or an unknown one
    #[error("`{given}` is no unit of this quantity; use one of: {known}{}", maybe(suggestion.as_deref()))]
    Unit {
        /// as given
        given: String,
        /// units that fit
        known: String,
        /// nearest known use
        suggestion: Option<String>,
    },
}

/// A second reason, after a semicolon.
fn also(besides: Option<&QuantityError>) -> String {
    besides.map_or_else(String::new, |why| format!("; {why}"))
}
