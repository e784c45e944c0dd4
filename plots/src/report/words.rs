//! Sentences whose temperatures a reader may take in either scale.

use crate::reading::{celsius, fahrenheit};
use maud::{Markup, Render, html};

/// A sentence or less.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words(Vec<Piece>);

#[derive(Clone, Debug, PartialEq)]
enum Piece {
    Plain(String),
    Strong(String),
    Temperature(f64),
}

impl Words {
    /// Followed by more text.
    #[must_use]
    pub fn plain(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Plain(text.into()));
        self
    }

    /// Followed by text that stands out.
    #[must_use]
    pub fn strong(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Strong(text.into()));
        self
    }

    /// Followed by a temperature, K, to whole degrees.
    #[must_use]
    pub fn temperature(mut self, kelvin: f64) -> Self {
        self.0.push(Piece::Temperature(kelvin));
        self
    }

    /// Whether there is nothing to read.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The text alone, temperatures in both scales.
    pub fn text(&self) -> String {
        let piece = |piece: &Piece| match piece {
            Piece::Plain(text) | Piece::Strong(text) => text.clone(),
            Piece::Temperature(k) => format!("{} °C ({} °F)", degrees(celsius(*k)), degrees(fahrenheit(celsius(*k)))),
        };
        self.0.iter().map(piece).collect()
    }
}

impl From<&str> for Words {
    fn from(text: &str) -> Self {
        Self::default().plain(text)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Self::default().plain(text)
    }
}

/// One, two and three.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Whole degrees, with a proper minus.
fn degrees(value: f64) -> String {
    format!("{value:.0}").replace("-0", "0").replace('-', "−")
}

/// Both scales of a temperature, K, each with what follows its number; the page's switch shows one or both.
pub fn scales(kelvin: f64, (after_c, after_f): (&str, &str)) -> Markup {
    let c = celsius(kelvin);
    pair(&format!("{}{after_c}", degrees(c)), &format!("{}{after_f}", degrees(fahrenheit(c))))
}

/// A text for readers of °C, and in brackets one for readers of °F.
pub fn pair(c: &str, f: &str) -> Markup {
    html! { span.c { (c) } span.both { " (" } span.f { (f) } span.both { ")" } }
}

impl Render for Words {
    fn render(&self) -> Markup {
        html! {
            @for piece in &self.0 {
                @match piece {
                    Piece::Plain(text) => (text),
                    Piece::Strong(text) => strong { (text) },
                    Piece::Temperature(kelvin) => (scales(*kelvin, ("\u{a0}°C", "\u{a0}°F"))),
                }
            }
        }
    }
}
