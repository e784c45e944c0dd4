//! The content of a cell: words, a number, a temperature, a bar.

use crate::words::number::column;
use crate::words::reading::brief;
use crate::words::text::{Words, scales};
use maud::{Markup, html};
use slipsoak_engine::names::Part;

/// Content of a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// text
    Words(Words),
    /// a formatted number
    Number(String),
    /// a rounded number, and the full number for a tooltip
    Rounded(String, String),
    /// a temperature, K
    Temperature(f64),
    /// a value that exceeds its limit
    Exceeded(String),
    /// a temperature above its limit, K
    TooHot(f64),
    /// a number with a bar of this share of the widest, 0 to 1
    Bar(String, f64),
    /// no value
    Nothing,
}

impl Cell {
    /// Numbers of one column, all with the decimals that the largest needs for this number of significant digits; nothing for
    /// what is not a number.
    pub fn numbers(values: impl IntoIterator<Item = f64>, digits: i32) -> Vec<Self> {
        let values: Vec<f64> = values.into_iter().collect();
        let cell = |(value, shown): (&f64, String)| if value.is_finite() { Self::Number(shown) } else { Self::Nothing };
        values.iter().zip(column(&values, digits)).map(cell).collect()
    }

    pub(super) fn html(&self) -> Markup {
        html! {
            @match self {
                Self::Words(words) => (words),
                Self::Number(shown) | Self::Rounded(shown, _) => (shown),
                Self::Temperature(kelvin) => (scales(*kelvin)),
                Self::Exceeded(shown) => strong.over { "▲\u{a0}" (shown) },
                Self::TooHot(kelvin) => strong.over { "▲\u{a0}" (scales(*kelvin)) },
                Self::Bar(shown, share) => {
                    span.track aria-hidden="true" {
                        span.bar style=(format!("width:{:.1}%", 100.0 * share.clamp(0.0, 1.0))) {}
                    }
                    (shown)
                }
                Self::Nothing => span.none { "–" },
            }
        }
    }

    /// The full number of a rounded one, for a tooltip.
    pub(super) fn full(&self) -> Option<&str> {
        match self {
            Self::Rounded(_, full) => Some(full),
            _ => None,
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Words(text.into())
    }
}

impl From<Part> for Cell {
    fn from(part: Part) -> Self {
        Self::from(brief(part))
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Words(text.into())
    }
}
