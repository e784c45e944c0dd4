//! A page as HTML with its style sheet.

use crate::page::data::address;
use crate::page::{Block, Page, Reach, Section, Shown};
use crate::sheet::palette::class_of;
use crate::sheet::tone::{Theme, variables};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::fmt::Write as _;

const STYLE: &str = include_str!("page.css");
/// Security policy: nothing is fetched and nothing is executed, whatever a script or a parts file contains.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";
/// Largest number of boxes for hiding compared items; more would fill the page.
const BOXES: usize = 24;

/// Temperature scales, at first the first: name of the choice and its label.
const SCALES: [(&str, &str); 3] = [("both", "°C and °F"), ("celsius", "°C"), ("fahrenheit", "°F")];

/// What is printed, at first the first: name of the choice and its label.
const PRINTED: [(&str, &str); 3] = [("open", "what is open"), ("sheet", "one page"), ("everything", "everything")];

/// Running number of tables, and headings of figures so far.
#[derive(Default)]
struct Count {
    pictures: Vec<String>,
    tables: usize,
}

impl Page {
    /// The whole page.
    pub fn html(&self) -> String {
        let mut count = Count::default();
        let shown: Vec<&Section> =
            self.sections.iter().filter(|section| section.reach.on_page() && !section.blocks.is_empty()).collect();
        let mut figures = vec![0];
        let mut sections: Vec<Markup> = vec![];
        for (k, s) in shown.iter().enumerate() {
            sections.push(section(k, s, &mut count));
            figures.push(count.pictures.len());
        }
        let answer = html! { @for sentence in self.answer.iter().chain(&self.sure) { p { (sentence) } } };
        let hot = sections.iter().chain([&answer]).any(|part| part.0.contains("<span class=\"f\">"));
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta http-equiv="Content-Security-Policy" content=(POLICY);
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (self.question) }
                    style { (PreEscaped(STYLE.replace("\n  ", ""))) (PreEscaped(on_dark())) (PreEscaped(self.hiding())) }
                }
                body {
                    a.skip href="#answer" { "Skip to the answer" }
                    header {
                        h1 { (self.question) }
                        p.origin {
                            (self.given)
                            @if !self.given.is_empty() && !self.origin.is_empty() { " · " }
                            (self.origin)
                        }
                    }
                    main {
                        section #answer aria-labelledby="answer-heading" {
                            h2 #answer-heading { "The answer" }
                            (answer)
                        }
                        (self.choices(hot))
                        nav aria-label="Contents" {
                            details {
                                summary { "Contents" }
                                ul {
                                    @for (k, s) in shown.iter().enumerate() {
                                        li { a href={ "#section-" (k + 1) } { (s.heading) } }
                                        @for n in figures[k]..figures[k + 1] {
                                            li.under { a href={ "#figure-" (n + 1) } { "Figure " (n + 1) ": " (count.pictures[n]) } }
                                        }
                                    }
                                }
                            }
                        }
                        @for section in &sections { (section) }
                        p.take {
                            a href=(address("application/json", &self.json())) download="answer.json" { "Answer and tables as JSON" }
                        }
                    }
                }
            }
        };
        page.into_string().chars().filter_map(legal).collect()
    }

    fn boxes(&self) -> &[String] {
        if self.compared.len() < 2 { &[] } else { &self.compared[..self.compared.len().min(BOXES)] }
    }

    /// Switches by the style sheet alone: for the temperature scale if the page has temperatures, and for the compared
    /// items.
    fn choices(&self, hot: bool) -> Markup {
        html! {
            form.choices aria-label="What is shown" autocomplete="off" {
                @if hot {
                    fieldset {
                        legend { "Temperatures" }
                        @for (k, (name, words)) in SCALES.into_iter().enumerate() {
                            label { input type="radio" name="scale" id={ "scale-" (name) } checked[k == 0]; (words) }
                        }
                    }
                }
                fieldset {
                    legend { "Printed" }
                    @for (k, (name, words)) in PRINTED.into_iter().enumerate() {
                        label { input type="radio" name="print" id={ "print-" (name) } checked[k == 0]; (words) }
                    }
                }
                @if !self.boxes().is_empty() {
                    fieldset {
                        legend { "Shown in tables and figures" }
                        @for (k, name) in self.boxes().iter().enumerate() {
                            label { input type="checkbox" id={ "show-" (k) } checked; (name) }
                        }
                    }
                }
            }
        }
    }

    /// Style rules by which a box hides its item, and by which box and rows have its colour in the figures.
    fn hiding(&self) -> String {
        let mut rules = String::new();
        for k in 0..self.boxes().len() {
            let of = class_of(k);
            let _ = writeln!(rules, "body:has(#show-{k}:not(:checked)) .{of} {{ display: none }}");
            if let Some(colour) = self.colours.get(k) {
                let _ = writeln!(rules, "#show-{k} {{ accent-color: {colour} }}");
                let _ = writeln!(rules, "tr.{of} > th {{ border-left: 5px solid {colour}; padding-left: 0.5rem }}");
            }
        }
        rules
    }
}

/// Style rule for figures on a dark screen; print is always on a light background.
fn on_dark() -> String {
    format!("@media screen and (prefers-color-scheme: dark) {{ :root {{ {} }} }}\n", variables(Theme::Dark))
}

/// A character allowed in HTML: control characters become spaces, line ends are unified, direction marks become
/// replacement characters.
fn legal(c: char) -> Option<char> {
    match c {
        '\n' | '\t' => Some(c),
        '\r' => None,
        // These change the reading order of the text after them.
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => Some('\u{fffd}'),
        c if c.is_control() || (u32::from(c) & 0xfffe) == 0xfffe || ('\u{fdd0}'..='\u{fdef}').contains(&c) => Some(' '),
        c => Some(c),
    }
}

fn section(k: usize, section: &Section, count: &mut Count) -> Markup {
    let shown = section.blocks.iter().filter_map(|block| block.shown(Reach::on_page));
    let blocks: Vec<Markup> = shown.map(|b| block(b, count)).collect();
    let name = format!("section-{}", k + 1);
    let heading = html! { h2 id={ (name) "-heading" } { (section.heading) } };
    let pinned = (section.shown == Shown::Pinned).then_some("pinned");
    html! {
        section id=(name) class=[pinned] aria-labelledby={ (name) "-heading" } {
            @if section.shown == Shown::Folded {
                details { summary { (heading) } @for block in &blocks { (block) } }
            } @else {
                (heading)
                @for block in &blocks { (block) }
            }
        }
    }
}

fn block(block: &Block, count: &mut Count) -> Markup {
    match block {
        Block::Words(words) => html! { p { (words) } },
        Block::List(items) => html! { ul { @for item in items { li { (item) } } } },
        Block::Legend(items) => html! { ul { @for (sign, said) in items { li { b { (sign) } " " (said) } } } },
        Block::Picture(picture) => {
            count.pictures.push(picture.heading());
            picture.html(count.pictures.len())
        }
        Block::Table(table) => {
            count.tables += 1;
            table.html(count.tables)
        }
        Block::Code { caption, text } => html! {
            p.code { (caption) }
            pre tabindex="0" role="region" aria-label=(caption) { code { (text) } }
        },
        Block::Only(..) => Markup::default(),
    }
}
