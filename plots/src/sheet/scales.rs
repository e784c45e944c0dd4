//! Temperatures in both scales inside a drawing: each stands in a span of its own, so that a page can show the one that its
//! reader chose. A drawing by itself shows both.

/// Letters that no text holds: before the text for readers of °C, before that for readers of °F (in brackets, or only where
/// that scale alone is chosen), and at the end.
const OPEN: char = '\u{e000}';
const BRACKET: char = '\u{e001}';
const INSTEAD: char = '\u{e002}';
const CLOSE: char = '\u{e003}';

/// A text for readers of °C, and in brackets one for readers of °F.
pub fn pair(c: &str, f: &str) -> String {
    format!("{OPEN}{c}{BRACKET}{f}{CLOSE}")
}

/// A text that only readers of °C need: another stands beside it for the others.
pub fn celsius_only(c: &str) -> String {
    pair(c, "")
}

/// A text that only readers of °F need.
pub fn fahrenheit_only(f: &str) -> String {
    pair("", f)
}

/// A text with one for readers of °F in its place.
pub fn either(c: &str, f: &str) -> String {
    format!("{OPEN}{c}{INSTEAD}{f}{CLOSE}")
}

/// The title of an axis of temperatures.
pub fn titled(quantity: &str) -> String {
    format!("{quantity}, {}", pair("°C", "°F"))
}

/// The pieces of the first marked text: before it, °C, °F, whether in brackets, after it.
fn first(text: &str) -> Option<(&str, &str, &str, bool, &str)> {
    let (before, rest) = text.split_once(OPEN)?;
    let (inside, after) = rest.split_once(CLOSE)?;
    match inside.split_once(BRACKET) {
        Some((c, f)) => Some((before, c, f, true, after)),
        None => inside.split_once(INSTEAD).map(|(c, f)| (before, c, f, false, after)),
    }
}

/// The text as a drawing by itself shows it.
pub fn shown(text: &str) -> String {
    replaced(text, |c, f, bracket| match (bracket, c.is_empty(), f.is_empty()) {
        (true, false, false) => format!("{c} ({f})"),
        (true, true, _) => f.to_owned(),
        _ => c.to_owned(),
    })
}

/// A drawing with a span for each scale.
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
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some((before, c, f, bracket, after)) = first(rest) {
        out += before;
        out += &with(c, f, bracket);
        rest = after;
    }
    (out + rest).replace([OPEN, BRACKET, INSTEAD, CLOSE], "")
}
