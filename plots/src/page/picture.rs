//! A drawing inside a page.

use crate::figures::Drawn;
use crate::page::Block;
use crate::sheet::drawing::Drawing;
use crate::words::text::Words;
use maud::{Markup, PreEscaped};

/// A figure with its caption. Its text alternative is the drawing's own title and description.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// the drawing
    pub drawing: Drawing,
    /// caption
    pub caption: Words,
}

impl Picture {
    /// A figure whose caption is the drawing's own description.
    pub fn new(drawing: Drawing) -> Self {
        let caption = element(&drawing.svg, "desc").map_or_else(String::new, plain).into();
        Self { drawing, caption }
    }

    /// The drawing as part of a page: without a file header, with unique identifiers, labelled by its title and
    /// description.
    pub(crate) fn inline(&self, name: &str) -> Markup {
        let svg = &self.drawing.page;
        let svg = svg.find("<svg").map_or(svg.as_str(), |at| &svg[at..]).trim_end();
        let own = svg
            .replace(" id=\"", &format!(" id=\"{name}-"))
            .replace("url(#", &format!("url(#{name}-"))
            .replace("href=\"#", &format!("href=\"#{name}-"))
            .replacen("<title>", &format!("<title id=\"{name}-title\">"), 1)
            .replacen("<desc>", &format!("<desc id=\"{name}-about\">"), 1)
            .replacen("<svg ", &format!("<svg aria-labelledby=\"{name}-title\" aria-describedby=\"{name}-about\" "), 1);
        PreEscaped(own)
    }
}

/// Figures of a page; a figure that could not be drawn is replaced by the reason.
pub(crate) fn pictures(figures: Drawn) -> Vec<Block> {
    let block = |(name, drawing)| match drawing {
        Ok(drawing) => Block::Picture(Picture::new(drawing)),
        Err(why) => Block::Words(format!("No figure “{name}”: {why}.").into()),
    };
    figures.into_iter().map(block).collect()
}

/// Text of the first element with this name, unchanged.
fn element<'a>(svg: &'a str, name: &str) -> Option<&'a str> {
    let start = svg.find(&format!("<{name}>"))? + name.len() + 2;
    svg[start..].split("</").next()
}

/// Text of an XML document without escapes.
fn plain(escaped: &str) -> String {
    escaped.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}
