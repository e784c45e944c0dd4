//! Sentences with temperatures that a reader may see in °C or °F.

use crate::words::reading::{celsius, fahrenheit};
use crate::words::say;
use maud::{Markup, Render, html};

/// A sentence or a part of one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words(Vec<Piece>);

/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Piece {
    Plain(String),
    Strong(String),
}

impl Words {
    /// Appends text.
    #[must_use]
    pub fn plain(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Plain(text.into()));
        self
    }

    /// Appends emphasised text.
    #[must_use]
    pub fn strong(mut self, text: impl Into<String>) -> Self {
        self.0.push(Piece::Strong(text.into()));
        self
    }

    /// Appends a temperature, K, rounded to whole degrees.
    #[must_use]
    pub fn temperature(self, kelvin: f64) -> Self {
        self.plain(say::temperature(kelvin))
    }

    /// Appends a range of temperatures, K.
    #[must_use]
    pub fn temperatures(self, low: f64, high: f64) -> Self {
        self.plain(say::temperatures(low, high))
    }

    /// Text in which temperatures in °C, as in "at 80 °C", are shown in both scales.
    pub fn scaled(text: &str) -> Self {
        let Some((before, after)) = text.split_once(" °C").filter(|parts| !parts.1.starts_with(" (")) else {
            return text.into();
        };
        let start = before.rfind(' ').map_or(0, |at| at + 1);
        let Ok(celsius) = before[start..].parse::<f64>() else { return text.into() };
        Self::from(&before[..start]).temperature(slipsoak_engine::units::celsius(celsius)).and(Self::scaled(after))
    }

    /// Appends other words.
    #[must_use]
    pub fn and(mut self, more: Self) -> Self {
        self.0.extend(more.0);
        self
    }

    /// Joins pieces, with a text between them.
    #[must_use]
    pub fn joined(pieces: Vec<Self>, between: &str) -> Self {
        pieces.into_iter().reduce(|all, next| all.plain(between).and(next)).unwrap_or_default()
    }

    /// As a complete sentence, with a capital and a full stop.
    #[must_use]
    pub fn sentence(self) -> Self {
        self.capital().plain(".")
    }

    /// With a capital.
    #[must_use]
    pub fn capital(mut self) -> Self {
        if let Some(Piece::Plain(text) | Piece::Strong(text)) = self.0.first_mut() {
            let mut letters = text.chars();
            *text = letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect());
        }
        self
    }

    /// Its pieces.
    pub(crate) fn pieces(&self) -> &[Piece] {
        &self.0
    }

    /// Whether it is empty.
    pub fn is_empty(&self) -> bool {
        self.text().is_empty()
    }

    /// Plain text, temperatures in °C and °F.
    pub fn text(&self) -> String {
        self.0.iter().map(|(Piece::Plain(text) | Piece::Strong(text))| text.as_str()).collect()
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

/// A command line as a shell takes it, with quotes where it would split a word.
///
/// ```
/// use slipsoak_plots::words::text::shell;
/// assert_eq!(shell(["a/b-c.rhai", "two words", "it's", ""]), r"a/b-c.rhai 'two words' 'it'\''s' ''");
/// ```
pub fn shell<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let plain = |c: char| c.is_alphanumeric() || "-_./=:,+%@".contains(c);
    let quoted = |word: &str| match word {
        "" => "''".to_owned(),
        word if word.chars().all(plain) => word.to_owned(),
        word => format!("'{}'", word.replace('\'', "'\\''")),
    };
    words.into_iter().map(quoted).collect::<Vec<_>>().join(" ")
}

/// A machine within a sentence: with its article, or in quotation marks where its name has one already or is a proper
/// name.
///
/// ```
/// use slipsoak_plots::words::text::the;
/// assert_eq!(the("orchard cart"), "the orchard cart");
/// assert_eq!((the("my cart"), the("Number 4")), ("“my cart”".to_owned(), "“Number 4”".to_owned()));
/// ```
pub fn the(machine: &str) -> String {
    let first = machine.split_whitespace().next().unwrap_or_default();
    let own = ["my", "our", "your", "the", "a", "an"].contains(&first) || !first.starts_with(char::is_lowercase);
    if own { format!("“{machine}”") } else { format!("the {machine}") }
}

/// A list as text: one, two and three.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Names without quotes, with a common last word given once: 1500, 1600 and 1700 rpm.
pub fn together(names: &[String]) -> Option<String> {
    let mut groups: Vec<(&str, Vec<String>)> = vec![];
    for name in names {
        let (number, unit) = name.split_once(' ')?;
        if !number.chars().all(|c| c.is_ascii_digit()) {
            return None;
        }
        match groups.iter_mut().find(|(own, _)| *own == unit) {
            Some((_, numbers)) => numbers.push(number.to_owned()),
            None => groups.push((unit, vec![number.to_owned()])),
        }
    }
    let said = groups.iter().map(|(unit, numbers)| format!("{} {unit}", listed(numbers)));
    (groups.len() < names.len()).then(|| said.collect::<Vec<_>>().join(", "))
}

/// Whole degrees with a true minus sign.
fn minus(degrees: &str) -> String {
    degrees.replace("-0", "0").replace('-', "−")
}

/// A text with a span for each scale of every temperature given in both: "250 °C (482 °F)", "°C (°F)".
fn switched(text: &str) -> Markup {
    let Some((before, c, f, after)) = doubled(text) else { return html! { (text) } };
    html! { (before) (pair(&minus(c), &minus(f))) (switched(after)) }
}

/// A text with temperatures in both scales, in which what stands between backticks is a command, an option or a word of a script.
fn coded(text: &str) -> Markup {
    let parts: Vec<&str> = text.split('`').collect();
    // One backtick alone begins nothing.
    if parts.len().is_multiple_of(2) {
        return switched(text);
    }
    html! {
        @for (k, part) in parts.iter().enumerate() {
            @if k % 2 == 1 { code { (part) } } @else { (switched(part)) }
        }
    }
}

/// Text before the first temperature in both scales, °C, °F, and text after it.
pub(crate) fn doubled(text: &str) -> Option<(&str, &str, &str, &str)> {
    let mut from = 0;
    loop {
        let end_c = from + text[from..].find("°C (")? + "°C".len();
        let open = end_c + " (".len();
        let close = open + text[open..].find(')')?;
        let number = |c: char| c.is_ascii_digit() || matches!(c, '−' | '-' | '.' | ' ' | '\u{a0}' | 't' | 'o');
        let f = &text[open..close];
        if f.strip_suffix("°F").is_some_and(|f| f.chars().all(number)) {
            let head = &text[..end_c - "°C".len()];
            // The number before the unit, or two numbers with "to" between them.
            let one = |head: &str| {
                let gapless = head.trim_end_matches([' ', '\u{a0}']);
                gapless.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '−' | '-' | '.')).len()
            };
            let mut start = one(head);
            if let Some(range) = head[..start].strip_suffix(" to ") {
                start = one(range);
            }
            let start = if head[start..].trim().is_empty() { head.len() } else { start };
            return Some((&text[..start], &text[start..end_c], f, &text[close + 1..]));
        }
        from = open;
    }
}

/// Both scales of a temperature, K, without their units; the page's switch shows one or both.
pub fn scales(kelvin: f64) -> Markup {
    let c = celsius(kelvin);
    pair(&minus(&format!("{c:.0}")), &minus(&format!("{:.0}", fahrenheit(c))))
}

/// A text for readers of °C, followed by one for readers of °F in brackets.
pub fn pair(c: &str, f: &str) -> Markup {
    html! { span.c { (c) } span.both { " (" } span.f { (f) } span.both { ")" } }
}

impl Render for Words {
    fn render(&self) -> Markup {
        html! {
            @for piece in &self.0 {
                @match piece {
                    Piece::Plain(text) => (coded(text)),
                    Piece::Strong(text) => strong { (coded(text)) },
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_temperature_given_in_one_scale_is_shown_in_both() {
        assert_eq!(Words::scaled("end leak at 80 °C and").text(), "end leak at 80\u{a0}°C (176\u{a0}°F) and");
        assert_eq!(Words::scaled("32 °C (90 °F)").text(), "32 °C (90 °F)");
    }

    #[test]
    fn a_command_in_a_sentence_is_code_on_a_page_and_stands_in_backticks_in_a_terminal() {
        let words = Words::from("ask `slipsoak choose` at 80 °C (176 °F), 5` long");
        assert_eq!(words.text(), "ask `slipsoak choose` at 80 °C (176 °F), 5` long");
        assert!(!words.render().into_string().contains("<code>"), "three backticks are no pairs");
        let page = Words::from("ask `slipsoak choose` at 80 °C (176 °F)").strong("`--cover`").render().into_string();
        assert!(
            page.starts_with("ask <code>slipsoak choose</code> at <span")
                && page.contains("<strong><code>--cover</code></strong>"),
            "{page}"
        );
    }

    #[test]
    fn a_temperature_in_both_scales_is_found_in_plain_words() {
        let found = |text| doubled(text);
        assert_eq!(found("peaked at 332 °C (630 °F), hot"), Some(("peaked at ", "332 °C", "630 °F", ", hot")));
        assert_eq!(
            found("114 to 222\u{a0}°C (237 to 432\u{a0}°F)"),
            Some(("", "114 to 222\u{a0}°C", "237 to 432\u{a0}°F", ""))
        );
        assert_eq!(found("to scale, °C (°F); strip"), Some(("to scale, ", "°C", "°F", "; strip")));
        assert_eq!(found("at 80 °C (warm) it"), None);
    }
}
