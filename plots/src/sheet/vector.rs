//! Marks as SVG.

use crate::sheet::font::FAMILY;
use crate::sheet::mark::{Ground, Letters, Mark, Paint, Spot};
use crate::sheet::palette::{PAPER, class_of};
use crate::sheet::scales;
use crate::sheet::tone::{Theme, Tone, hex, resolved, rules};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Distance from a place within which a reader points at it, tenths of a px.
const REACH: i32 = 90;

/// Where an SVG document is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Medium {
    /// by itself: with both scales of temperature, and colours for viewers without style sheets
    Whole,
    /// inside a page: with a span for each scale, and colours by class alone
    InPage,
}

impl Medium {
    /// The SVG document of marks with a title and a description.
    pub fn document(self, marks: &[Mark], ground: &Ground, theme: Theme, [title, about]: [&str; 2]) -> String {
        let mut pen = Pen { svg: String::new(), used: BTreeSet::new(), theme, medium: self };
        let ((width, height), above) = (ground.size, i64::from(ground.above));
        let paper = Paint { pigment: PAPER.pigment(), opacity: 1.0 };
        pen.tag(&format!("rect x=\"0\" y=\"{}\" width=\"{width}\" height=\"{height}\"", -above), paper, false);
        for mark in marks {
            pen.mark(mark);
        }
        let (wide, high) = ground.shown;
        let about = if about.is_empty() { String::new() } else { format!("<desc>{}</desc>\n", escaped(about)) };
        format!(
            "<svg role=\"img\" class=\"slipsoak\" stroke-linejoin=\"round\" font-family=\"{FAMILY}\" width=\"{wide}\" \
         height=\"{high}\" viewBox=\"0 {} {width} {height}\" xmlns=\"http://www.w3.org/2000/svg\">\n\
         <title>{}</title>\n{about}<style>{}</style>\n{}</svg>\n",
            -above,
            escaped(title),
            rules(&pen.used, theme),
            pen.svg
        )
    }

    /// The text of a mark, already escaped, as in the document.
    fn words(self, text: &str) -> String {
        match self {
            Self::Whole => scales::shown(text),
            Self::InPage => scales::switched(text),
        }
    }
}

/// The SVG as far as it is written.
struct Pen {
    svg: String,
    /// classes used
    used: BTreeSet<String>,
    theme: Theme,
    medium: Medium,
}

impl Pen {
    /// Writes a mark.
    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Opens(k) => {
                let _ = writeln!(self.svg, "<g class=\"{}\">", class_of(*k));
            }
            Mark::Says(words) => {
                let _ = writeln!(self.svg, "<g>{}", self.hint(words));
            }
            Mark::Closes => self.svg += "</g>\n",
            Mark::Places(all) => {
                self.svg += "<g fill=\"none\" pointer-events=\"all\">";
                for ((x, y), words) in all {
                    let hint = self.hint(words);
                    let _ = write!(self.svg, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{REACH}\">{hint}</circle>");
                }
                self.svg += "</g>\n";
            }
            Mark::Line { places, width, dash, paint } => {
                let dashes = dash.map_or_else(String::new, |(on, off)| format!(" stroke-dasharray=\"{on} {off}\""));
                let places = points(places);
                let tag = format!("polyline fill=\"none\" stroke-width=\"{width}\"{dashes} points=\"{places}\"");
                self.tag(&tag, *paint, true);
            }
            Mark::Shape { places, paint } => {
                self.tag(&format!("polygon points=\"{}\"", points(places)), *paint, false);
            }
            Mark::Bar { at, size, paint } => {
                let tag = format!("rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", at.0, at.1, size.0, size.1);
                self.tag(&tag, *paint, false);
            }
            Mark::Dot { at, radius, paint } => {
                self.tag(&format!("circle cx=\"{}\" cy=\"{}\" r=\"{radius}\"", at.0, at.1), *paint, false);
            }
            Mark::Text { words: text, at, letters, paint } => {
                self.svg += "<text";
                let _ = write!(self.svg, " x=\"{}\" y=\"{}\" dy=\"0.5ex\"{}", at.0, at.1, set(*letters, *at));
                self.paint(*paint, false);
                let _ = writeln!(self.svg, ">\n{}\n</text>", self.medium.words(&escaped(text)));
            }
        }
    }

    /// What marks say to a reader who points at them: in the scale of temperature of the drawing; in a page, whose reader
    /// may choose, in both.
    fn hint(&self, words: &str) -> String {
        let words = match self.medium {
            Medium::Whole => scales::shown(words),
            Medium::InPage => scales::both(words),
        };
        format!("<title>{}</title>", escaped(&words))
    }

    /// Writes an empty element with its colour.
    fn tag(&mut self, tag: &str, paint: Paint, line: bool) {
        self.svg.push('<');
        self.svg += tag;
        self.paint(paint, line);
        self.svg += "/>\n";
    }

    /// Writes the class of a line or a shape, and its colour for viewers without style sheets.
    fn paint(&mut self, paint: Paint, line: bool) {
        if paint.opacity < 1.0 {
            let _ = write!(self.svg, " opacity=\"{}\"", paint.opacity);
        }
        if let Some(tone) = Tone::of(paint.pigment) {
            let class = tone.class(line);
            let _ = write!(self.svg, " class=\"{class}\"");
            self.used.insert(class);
            if self.medium == Medium::InPage {
                return;
            }
        }
        let what = if line { "stroke" } else { "fill" };
        let _ = write!(self.svg, " {what}=\"{}\"", hex(resolved(paint.pigment, self.theme)));
    }
}

/// Positions as in SVG.
fn points(places: &[Spot]) -> String {
    let mut text = String::new();
    for (k, (x, y)) in places.iter().enumerate() {
        let _ = write!(text, "{}{x},{y}", if k > 0 { " " } else { "" });
    }
    text
}

/// Attributes of a text's type.
fn set(letters: Letters, (x, y): Spot) -> String {
    let anchor = match letters.side {
        ..0 => "start",
        0 => "middle",
        1.. => "end",
    };
    let bold = if letters.bold { " font-weight=\"bold\"" } else { "" };
    let turned = if letters.upright { format!(" transform=\"rotate(270, {x}, {y})\"") } else { String::new() };
    format!(" text-anchor=\"{anchor}\" font-size=\"{}\"{bold}{turned}", letters.size)
}

/// Text with the escapes of XML.
fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
