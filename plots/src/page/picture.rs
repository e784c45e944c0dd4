//! A drawing inside a page.

use crate::figures::{Drawn, leads};
use crate::page::data::address;
use crate::page::{Block, Section};
use crate::sheet::draw_error::DrawError;
use crate::sheet::drawing::Drawing;
use crate::words::text::Words;
use maud::{Markup, PreEscaped, html};

/// A figure with its caption. Its text alternative is the drawing's own title, and the caption.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// stem of a file of it
    pub name: String,
    /// the drawing
    pub drawing: Drawing,
    /// caption
    pub caption: Words,
    /// whether a reader has to open it
    pub folded: bool,
}

impl Picture {
    /// A figure whose caption is the drawing's own.
    pub fn new(name: &str, drawing: Drawing) -> Self {
        let caption = drawing.caption().to_owned().into();
        Self { name: name.to_owned(), drawing, caption, folded: false }
    }

    /// What it is called in a list: its title without the question, which heads the page, or its name.
    pub(crate) fn heading(&self) -> String {
        match self.drawing.title().split_once(": ") {
            Some((heading, _)) => heading.to_owned(),
            None => Words::from(self.name.replace('-', " ")).capital().text(),
        }
    }

    /// The figure with its number; folded, it stands under its heading.
    pub(crate) fn html(&self, number: usize) -> Markup {
        let name = format!("figure-{number}");
        let figure = html! {
            figure id=(name) {
                div.wide tabindex="0" role="group" aria-label={ "Figure " (number) } { (self.inline(&name)) }
                figcaption id={ (name) "-about" } {
                    b { "Figure " (number) "." } " " (self.caption)
                    // As files of their own the others would double the page.
                    @if !self.folded {
                        " "
                        a.take href=(address("image/svg+xml", &self.drawing.svg)) download={ (self.name) ".svg" } {
                            "Figure " (number) " as SVG"
                        }
                    }
                }
            }
        };
        if self.folded {
            html! { details { summary { b { "Figure " (number) "." } " " (self.heading()) } (figure) } }
        } else {
            figure
        }
    }

    /// The drawing as part of a page, and for small windows the narrow one.
    fn inline(&self, name: &str) -> Markup {
        match self.drawing.narrow() {
            None => inside(&self.drawing, name, name),
            Some(narrow) => html! {
                div.broad { (inside(&self.drawing, name, name)) }
                div.narrow { (inside(narrow, &format!("{name}n"), name)) }
            },
        }
    }
}

/// Without the ends of lines before marks, where they mean nothing; within a text they are spaces.
fn joined(svg: &str) -> String {
    const MARKS: [&str; 9] = ["g", "/g", "poly", "circle", "rect", "path", "text", "title", "/svg"];
    MARKS.iter().fold(svg.to_owned(), |svg, mark| svg.replace(&format!("\n<{mark}"), &format!("<{mark}")))
}

/// A drawing without a file header, with unique identifiers, labelled by its title and the caption of its figure.
fn inside(drawing: &Drawing, name: &str, figure: &str) -> Markup {
    let svg = drawing.for_page();
    let svg = joined(svg.find("<svg").map_or(svg.as_str(), |at| &svg[at..]).trim_end());
    let own = svg
        .replace(" id=\"", &format!(" id=\"{name}-"))
        .replace("url(#", &format!("url(#{name}-"))
        .replace("href=\"#", &format!("href=\"#{name}-"))
        .replacen("<title>", &format!("<title id=\"{name}-title\">"), 1)
        .replacen("<svg ", &format!("<svg aria-labelledby=\"{name}-title\" aria-describedby=\"{figure}-about\" "), 1);
    PreEscaped(own)
}

/// Figures of a page that are all open.
pub(crate) fn pictures(figures: Drawn) -> Section {
    let heading = if figures.len() == 1 { "Figure" } else { "Figures" };
    Section::new(heading, figures.into_iter().map(|figure| block(figure, false)).collect()).pinned()
}

/// Figures of a page of which some lead, and the others are for a reader to open.
pub(crate) fn leading(figures: Drawn) -> [Section; 2] {
    let leads = leads(&figures.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    let (first, others): (Drawn, Drawn) = figures.into_iter().partition(|(name, _)| leads.contains(name));
    let others = others.into_iter().map(|figure| block(figure, true)).collect();
    [pictures(first), Section::new("Further figures", others)]
}

/// A figure; one that could not be drawn is replaced by the reason.
fn block((name, drawing): (&'static str, Result<Drawing, DrawError>), folded: bool) -> Block {
    match drawing {
        Ok(drawing) => Block::Picture(Picture { folded, ..Picture::new(name, drawing) }),
        Err(why) => Block::Words(format!("No figure “{name}”: {why}.").into()),
    }
}
