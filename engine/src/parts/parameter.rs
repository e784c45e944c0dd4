//! The table of settings: every number of a machine with its path, dimension, range, meaning and confidence.

use super::{Group, Machine};
use crate::dimension::Dimension;
use serde::{Deserialize, Serialize};

/// Confidence in a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Confidence {
    /// Chosen by the author of the machine.
    Chosen,
    /// Published and checked.
    Published,
    /// Common practice in the trade, no source.
    Practice,
    /// Assumed: an engineering estimate on which results may depend.
    Assumed,
}

/// One row of the table of settings.
#[derive(Clone, Copy)]
pub struct Parameter {
    /// the part that it belongs to
    pub group: Group,
    /// dotted path as in a parts file, for example `clutch.engagement`
    pub path: &'static str,
    /// unique plain name, for example `engagement speed`
    pub name: &'static str,
    /// meaning in one line
    pub meaning: &'static str,
    /// dimension; the value is held in its SI unit
    pub dimension: Dimension,
    /// default, SI
    pub default: f64,
    /// least allowed value, SI
    pub least: f64,
    /// greatest allowed value, SI
    pub most: f64,
    /// confidence in the default
    pub confidence: Confidence,
    /// reads the value from a machine, SI
    pub of: fn(&Machine) -> f64,
    /// writes the value to a machine, SI
    pub put: fn(&mut Machine, f64),
}

impl PartialEq for Parameter {
    fn eq(&self, other: &Self) -> bool {
        self.path == other.path
    }
}

impl Eq for Parameter {}

impl std::fmt::Debug for Parameter {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?}", self.path)
    }
}

/// Finds a setting by its path.
pub fn parameter(path: &str) -> Option<&'static Parameter> {
    super::PARAMETERS.iter().find(|p| p.path == path)
}

/// Plain name of the setting with that path; any other text unchanged.
///
/// ```
/// use slipsoak_engine::parts::in_words;
/// assert_eq!([in_words("clutch.engagement"), in_words("motor.idle")], ["engagement speed", "idle speed"]);
/// assert_eq!(in_words("duty"), "duty"); // no setting
/// ```
pub fn in_words(path: &str) -> &str {
    parameter(path).map_or(path, |p| p.name)
}

macro_rules! parts {
    ($($(#[$part_doc:meta])* $part:ident: $Part:ident {
        $( #[doc = $doc:literal] $name:ident: $dimension:ident = $default:expr, $least:expr, $most:expr, $confidence:ident, $words:literal; )*
    })*) => {
        $( $(#[$part_doc])* #[derive(Clone, Debug, PartialEq)]
        pub struct $Part { $( #[doc = $doc] pub $name: f64, )* }
        impl Default for $Part { fn default() -> Self { Self { $( $name: $default, )* } } } )*

        /// A part, as a group of settings.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Group { $( $(#[$part_doc])* $Part, )* }

        impl Group {
            /// Every part, in the order of the table.
            pub const ALL: &[Self] = &[$( Self::$Part, )*];

            /// Its name in a parts file.
            pub const fn name(self) -> &'static str {
                match self { $( Self::$Part => stringify!($part), )* }
            }
        }

        /// Each setting by its part and its own name, as a parts file writes them: `settings::motor::idle`.
        #[allow(non_upper_case_globals)]
        pub mod settings {
            $( $(#[$part_doc])* pub mod $part {
                use super::super::*;
                $( #[doc = $doc] pub const $name: Parameter = Parameter {
                    group: Group::$Part,
                    path: concat!(stringify!($part), ".", stringify!($name)),
                    name: $words,
                    meaning: $doc.trim_ascii(),
                    dimension: Dimension::$dimension,
                    default: $default, least: $least, most: $most,
                    confidence: Confidence::$confidence,
                    of: |m| m.$part.$name,
                    put: |m, value| m.$part.$name = value,
                }; )*
            } )*
        }

        /// Every number of a machine, once.
        pub static PARAMETERS: &[Parameter] = &[ $( $( settings::$part::$name, )* )* ];
    };
}
pub(super) use parts;

#[cfg(test)]
mod tests {
    use super::super::PARAMETERS;
    use std::collections::BTreeSet;

    #[test]
    fn no_two_settings_have_the_same_name() {
        let names: BTreeSet<&str> = PARAMETERS.iter().map(|p| p.name).collect();
        assert_eq!(names.len(), PARAMETERS.len());
        assert!(names.iter().all(|name| !name.is_empty() && !name.contains(['.', '_'])), "{names:?}");
    }
}
