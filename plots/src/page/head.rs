//! The head of a column: its name, the unit of its numbers, and where it is shown.

use super::Reach;
use crate::sheet::palette::class_of;
use crate::words::text::pair;
use maud::{Markup, html};

/// The head of a column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Head {
    /// its name
    pub name: String,
    /// shorter name on a terminal, if any
    pub brief: String,
    /// unit of its numbers
    pub unit: Unit,
    /// index of the compared item, if the column belongs to one
    pub of: Option<usize>,
    /// media in which it is shown
    pub reach: Reach,
    /// priority for leaving the column out of a table that is too wide for a terminal: the greatest first; 0 never, above
    /// 10 before bars and before any name is wrapped
    pub spare: u8,
}

/// Contents of a column's cells.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Unit {
    /// text, left-aligned
    #[default]
    Words,
    /// plain numbers
    One,
    /// numbers of this unit
    Of(String),
    /// temperatures in °C and °F
    Temperature,
}

impl Head {
    /// A column of words.
    pub fn words(name: &str) -> Self {
        Self { name: name.to_owned(), ..Self::default() }
    }

    /// Columns of a table, from their names with a bar between them: words, or numbers of the unit in brackets, which is
    /// empty for plain numbers.
    ///
    /// ```
    /// use slipsoak_plots::page::Head;
    /// assert_eq!(Head::row("part | size [mm]"), [Head::words("part"), Head::of("size", "mm")]);
    /// ```
    pub fn row(names: &str) -> Vec<Self> {
        let head = |name: &str| match name.trim_end_matches(']').split_once('[') {
            Some((name, unit)) => Self::of(name.trim(), unit),
            None => Self::words(name),
        };
        names.split(" | ").map(head).collect()
    }

    /// A column of numbers of a unit; none if it is empty.
    pub fn of(name: &str, unit: &str) -> Self {
        let unit = if unit.is_empty() { Unit::One } else { Unit::Of(unit.to_owned()) };
        Self { unit, ..Self::words(name) }
    }

    /// A column of temperatures.
    pub fn temperature(name: &str) -> Self {
        Self { unit: Unit::Temperature, ..Self::words(name) }
    }

    /// The head with a priority for leaving the column out on a terminal.
    #[must_use]
    pub fn spare(self, spare: u8) -> Self {
        Self { spare, ..self }
    }

    /// The same, shown there alone.
    #[must_use]
    pub fn only(self, reach: Reach) -> Self {
        Self { reach, ..self }
    }

    /// The same, with a shorter name on a terminal.
    #[must_use]
    pub fn brief(self, brief: &str) -> Self {
        Self { brief: brief.to_owned(), ..self }
    }

    /// Classes of its cells.
    pub(super) fn classes(&self) -> Option<String> {
        let number = (self.unit != Unit::Words).then(|| "number".to_owned());
        number.into_iter().chain(self.of.map(class_of)).reduce(|all, one| format!("{all} {one}"))
    }

    pub(super) fn html(&self) -> Markup {
        html! {
            th class=[self.classes()] scope="col" {
                (self.name)
                @match &self.unit {
                    Unit::Words | Unit::One => "",
                    Unit::Of(unit) => { " " span.unit { (unit) } }
                    Unit::Temperature => { " " span.unit { (pair("°C", "°F")) } }
                }
            }
        }
    }
}
