//! A drawing inside a page.

use super::Words;
use crate::Drawing;
use maud::{Markup, PreEscaped};

/// A figure with its caption. What it shows, for those who do not see it, is the drawing's own title and description.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// the drawing
    pub drawing: Drawing,
    /// what to see in it
    pub caption: Words,
}

impl Picture {
    /// A figure whose caption is the drawing's own description.
    pub fn new(drawing: Drawing) -> Self {
        let caption = element(&drawing.svg, "desc").map_or_else(String::new, plain).into();
        Self { drawing, caption }
    }

    /// The drawing as part of a page: without the head of a file of its own, its names made its alone, named by its title
    /// and description.
    pub(super) fn inline(&self, name: &str) -> Markup {
        let svg = &self.drawing.svg;
        let svg = svg.find("<svg").map_or(svg.as_str(), |at| &svg[at..]).trim_end();
        let own = svg
            .replace(" id=\"", &format!(" id=\"{name}-"))
            .replace("url(#", &format!("url(#{name}-"))
            .replace("href=\"#", &format!("href=\"#{name}-"))
            .replacen("<title>", &format!("<title id=\"{name}-title\">"), 1)
            .replacen("<desc>", &format!("<desc id=\"{name}-about\">"), 1)
            .replacen("<svg ", &format!("<svg aria-labelledby=\"{name}-title\" aria-describedby=\"{name}-about\" "), 1);
        PreEscaped(legible(&own))
    }
}

/// Contrast that text needs on its ground (WCAG 2.2, criterion 1.4.3), and that of what is drawn without words (1.4.11):
/// text below even that is not meant for white.
const ENOUGH: [f64; 2] = [4.5, 3.0];

/// The drawing with the colour of each text that is somewhat too faint on white made darker: a curve's colour tells its label
/// apart, but is chosen for lines.
fn legible(svg: &str) -> String {
    let mut parts = svg.split("<text ");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (tag, rest) = part.split_at(part.find('>').unwrap_or(part.len()));
        let colour =
            tag.split("fill=\"#").nth(1).and_then(|c| c.get(..6)).filter(|c| u32::from_str_radix(c, 16).is_ok());
        let tag = colour.map_or_else(|| tag.to_owned(), |c| tag.replacen(c, &darkened(c), 1));
        out.extend(["<text ", &tag, rest]);
    }
    out
}

/// A colour, RRGGBB, as dark as text has to be.
fn darkened(colour: &str) -> String {
    let given = u32::from_str_radix(colour, 16).unwrap_or(0);
    let at = |share: f64| [16, 8, 0].map(|shift| f64::from((given >> shift) & 255) / 255.0 * share);
    let share = (50..=100).rev().map(|k| f64::from(k) / 100.0).find(|s| on_white(at(*s)) >= ENOUGH[0]);
    match share {
        Some(share) if on_white(at(1.0)) >= ENOUGH[1] => {
            let [r, g, b] = at(share).map(|c| (c * 255.0).floor() as u8);
            format!("{r:02X}{g:02X}{b:02X}")
        }
        _ => colour.to_owned(),
    }
}

/// Contrast of a colour on white, 1 to 21 (WCAG 2.2, definitions of relative luminance and contrast ratio).
fn on_white(colour: [f64; 3]) -> f64 {
    let linear = colour.map(|c| if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) });
    1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)
}

/// The text of the first element of a name, as it stands.
fn element<'a>(svg: &'a str, name: &str) -> Option<&'a str> {
    let start = svg.find(&format!("<{name}>"))? + name.len() + 2;
    svg[start..].split("</").next()
}

/// Text of an XML document as a person reads it.
fn plain(escaped: &str) -> String {
    escaped.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faint_labels_are_darkened_and_nothing_else() {
        let svg = "<text fill=\"#D55E00\">a</text><path fill=\"#D55E00\"/><text fill=\"#FFFFFF\">b</text><text fill=\"#0072B2\">c</text><text>#D55E00</text>";
        let shown = legible(svg);
        assert!(shown.starts_with("<text fill=\"#C15500\">a</text><path fill=\"#D55E00\"/>"), "{shown}");
        assert!(
            shown.ends_with("<text fill=\"#FFFFFF\">b</text><text fill=\"#0072B2\">c</text><text>#D55E00</text>"),
            "{shown}"
        );
        // #767676 is the lightest grey of 4.5 on white (from memory); what is as dark stays.
        assert_eq!(["767676", "777777", "DEDEDE"].map(darkened), ["767676", "757575", "DEDEDE"]);
    }
}
