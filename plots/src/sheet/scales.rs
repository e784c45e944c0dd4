//! Temperatures in °C and °F inside a drawing. Each is in a span of its own, so that a page can show the one that its
//! reader chose. A separate drawing shows the one that its look chose.

use crate::words::text::doubled;

/// Private-use characters that mark a text in two scales: before the °C text, before the °F text (in brackets, or
/// replacing the °C text if only °F is chosen), and at the end.
const OPEN: char = '\u{e000}';
const BRACKET: char = '\u{e001}';
const INSTEAD: char = '\u{e002}';
const CLOSE: char = '\u{e003}';

/// A text for readers of °C, followed by one for readers of °F in brackets.
pub fn pair(c: &str, f: &str) -> String {
    format!("{OPEN}{c}{BRACKET}{f}{CLOSE}")
}

/// A text for readers of °C only; readers of °F have another text beside it.
pub fn celsius_only(c: &str) -> String {
    pair(c, "")
}

/// A text for readers of °F only.
pub fn fahrenheit_only(f: &str) -> String {
    pair("", f)
}

/// A text for readers of °C, replaced by another for readers of °F.
pub fn either(c: &str, f: &str) -> String {
    format!("{OPEN}{c}{INSTEAD}{f}{CLOSE}")
}

/// The title of an axis of temperatures.
pub fn titled(quantity: &str) -> String {
    format!("{quantity}, {}", either("°C", "°F"))
}

/// A sentence whose temperatures in both scales, "250 °C (482 °F)", are marked.
pub fn marked(text: &str) -> String {
    let Some((before, c, f, after)) = doubled(text) else { return text.to_owned() };
    format!("{before}{}{}", pair(c, f), marked(after))
}

/// Words of a text; a temperature in two scales is one of them.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    let mut inside = false;
    text.split(move |letter| {
        inside = letter == OPEN || (inside && letter != CLOSE);
        letter == ' ' && !inside
    })
}

/// Pieces of the first marked text: text before it, °C, °F, whether °F is in brackets, text after it.
fn first(text: &str) -> Option<(&str, &str, &str, bool, &str)> {
    let (before, rest) = text.split_once(OPEN)?;
    let (inside, after) = rest.split_once(CLOSE)?;
    match inside.split_once(BRACKET) {
        Some((c, f)) => Some((before, c, f, true, after)),
        None => inside.split_once(INSTEAD).map(|(c, f)| (before, c, f, false, after)),
    }
}

/// The text in a separate drawing: that for readers of °C, unless there is one of °F only.
pub fn shown(text: &str) -> String {
    replaced(text, |c, f, bracket| if bracket && c.is_empty() { f } else { c }.to_owned())
}

/// The text with both scales, that for readers of °F in brackets.
pub fn both(text: &str) -> String {
    replaced(text, |c, f, bracket| match (bracket, c.is_empty(), f.is_empty()) {
        (true, false, false) => format!("{c} ({f})"),
        (true, true, _) => f.to_owned(),
        _ => c.to_owned(),
    })
}

/// The text in a drawing for readers of °F.
pub fn in_fahrenheit(text: &str) -> String {
    replaced(text, |_, f, _| f.to_owned())
}

/// A drawing for a page, with a span for each scale.
pub fn switched(svg: &str) -> String {
    replaced(svg, |c, f, bracket| match (bracket, c.is_empty(), f.is_empty()) {
        (true, false, false) => format!(
            "<tspan class=\"c\">{c}</tspan><tspan class=\"both\"> (</tspan><tspan class=\"f\">{f}</tspan><tspan class=\"both\">)</tspan>"
        ),
        (true, true, _) => format!("<tspan class=\"f\">{f}</tspan>"),
        (true, false, true) => format!("<tspan class=\"c\">{c}</tspan>"),
        (false, ..) => format!("<tspan class=\"c\">{c}</tspan><tspan class=\"instead\" display=\"none\">{f}</tspan>"),
    })
}

fn replaced(text: &str, with: impl Fn(&str, &str, bool) -> String) -> String {
    // The first byte of every mark; most texts have none.
    if !text.as_bytes().contains(&0xee) {
        return text.to_owned();
    }
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some((before, c, f, bracket, after)) = first(rest) {
        out += before;
        out += &with(c, f, bracket);
        rest = after;
    }
    (out + rest).replace([OPEN, BRACKET, INSTEAD, CLOSE], "")
}
