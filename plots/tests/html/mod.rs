//! Faults of a page: parse errors found by an independent parser, and further requirements of HTML, screen readers and
//! machines without a network.
//!
//! Sources: the HTML standard's parse errors (as html5ever reports them) and its rules for ids, tables and headings; WCAG 2.2,
//! criteria 1.1.1 (text for figures), 1.3.1 (headings, tables), 2.4.1 (skip link), 2.4.2 (title), 3.1.1 (language).

use html5ever::tendril::TendrilSink;
use html5ever::tokenizer::TokenizerOpts;
use html5ever::tree_builder::TreeBuilderOpts;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use std::collections::BTreeSet;

/// Every element in the order of the document, with its ancestors' names.
struct Element {
    name: String,
    attributes: Vec<(String, String)>,
    above: Vec<String>,
    text: String,
}

impl Element {
    fn get(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|a| a.0 == name).map(|a| a.1.as_str())
    }
}

fn text(node: &Handle) -> String {
    match &node.data {
        NodeData::Text { contents } => contents.borrow().to_string(),
        _ => node.children.borrow().iter().map(text).collect(),
    }
}

fn collect(node: &Handle, above: &[String], all: &mut Vec<Element>) {
    let mut below = above.to_vec();
    if let NodeData::Element { name, attrs, .. } = &node.data {
        let attributes =
            attrs.borrow().iter().map(|a| (a.name.local.to_string(), a.value.to_string())).collect::<Vec<_>>();
        let name = name.local.to_string();
        below.push(name.clone());
        all.push(Element { name, attributes, above: above.to_vec(), text: text(node).trim().to_owned() });
    }
    for child in node.children.borrow().iter() {
        collect(child, &below, all);
    }
}

/// All faults of a page, one sentence each.
pub fn faults(html: &str) -> Vec<String> {
    let exact = ParseOpts {
        tokenizer: TokenizerOpts { exact_errors: true, ..TokenizerOpts::default() },
        tree_builder: TreeBuilderOpts { exact_errors: true, ..TreeBuilderOpts::default() },
    };
    let dom = parse_document(RcDom::default(), exact).one(html);
    let mut faults: Vec<String> = dom.errors.borrow().iter().map(|e| format!("parser: {e}")).collect();
    let mut all = Vec::new();
    collect(&dom.document, &[], &mut all);
    let named = |name: &'static str| all.iter().filter(move |e| e.name == name);
    let mut must = |holds: bool, fault: &str| {
        if !holds {
            faults.push(fault.to_owned());
        }
    };

    must(html.starts_with("<!DOCTYPE html>"), "no doctype");
    must(named("html").all(|e| e.get("lang").is_some_and(|l| !l.is_empty())), "no language");
    must(named("title").any(|e| e.above.last().is_some_and(|a| a == "head") && !e.text.is_empty()), "no title");
    must(named("meta").any(|e| e.get("name") == Some("viewport")), "no viewport");
    must(named("meta").any(|e| e.get("charset") == Some("utf-8")), "no character set");
    must(named("main").count() == 1, "not one main part");
    let body = all.iter().position(|e| e.name == "body").map_or(0, |k| k + 1);
    let skip = all.get(body).is_some_and(|e| e.name == "a" && e.get("href").is_some_and(|h| h.starts_with('#')));
    must(skip, "the body does not begin with a skip link");

    let levels: Vec<u32> =
        all.iter().filter_map(|e| e.name.strip_prefix('h').filter(|n| n.len() == 1)?.parse().ok()).collect();
    must(levels.iter().filter(|l| **l == 1).count() == 1, "not one heading of level 1");
    must(levels.first() == Some(&1), "the first heading is not of level 1");
    must(levels.windows(2).all(|l| l[1] <= l[0] + 1), "a heading skips a level");
    must(
        all.iter()
            .filter(|e| e.name.len() == 2 && e.name.starts_with('h'))
            .all(|e| e.name == "hr" || !e.text.is_empty()),
        "an empty heading",
    );

    let mut ids = BTreeSet::new();
    for id in all.iter().filter_map(|e| e.get("id")) {
        must(ids.insert(id), &format!("the id {id} stands twice"));
    }
    for e in &all {
        let lists = ["aria-labelledby", "aria-describedby"].into_iter().filter_map(|a| e.get(a));
        let links = [e.get("href").and_then(|h| h.strip_prefix('#')), e.get("for")].into_iter().flatten();
        for id in lists.flat_map(str::split_whitespace).chain(links) {
            must(ids.contains(id), &format!("<{}> names {id}, which is not there", e.name));
        }
        let foreign =
            ["src", "srcset", "data", "action", "poster", "background"].into_iter().find(|a| e.get(a).is_some());
        must(foreign.is_none(), &format!("<{}> fetches something", e.name));
        // A file to take away is inside the link, and is not opened as a page.
        let given = e.get("download").is_some() && e.get("href").is_some_and(|h| h.starts_with("data:"));
        must(given || e.get("href").is_none_or(|h| h.starts_with('#')), &format!("<{}> leads out of the page", e.name));
        must(!e.attributes.iter().any(|a| a.0.starts_with("on")), &format!("<{}> has an event's script", e.name));
        let style = if e.name == "style" { &e.text } else { e.get("style").unwrap_or_default() };
        must(
            !style.contains("@import") && !style.contains("url("),
            &format!("the style of <{}> fetches something", e.name),
        );
    }
    for name in ["script", "link", "img", "iframe", "object", "embed", "base", "image"] {
        must(named(name).next().is_none(), &format!("there is a <{name}>"));
    }

    for svg in named("svg") {
        must(svg.get("role") == Some("img"), "a drawing without the role of an image");
        must(svg.get("aria-labelledby").is_some() && svg.get("aria-describedby").is_some(), "a drawing without a text");
    }
    let filled = |name: &'static str| named(name).filter(|e| e.above.contains(&"svg".to_owned()) && !e.text.is_empty());
    let drawings = named("svg").count();
    must(filled("title").count() >= drawings, "a drawing without a title");
    must(named("figure").count() == named("figcaption").count(), "a figure without a caption");
    must(named("table").count() == named("caption").count(), "a table without a caption");
    must(named("th").all(|e| e.get("scope").is_some()), "a head of a table without its scope");
    for input in named("input") {
        must(input.above.contains(&"label".to_owned()), "an input without a label");
    }
    must(named("fieldset").count() == named("legend").count(), "a fieldset without a legend");
    faults.extend(uneven_tables(&dom.document));
    faults
}

/// Tables in which a row lacks cells or has too many.
fn uneven_tables(node: &Handle) -> Vec<String> {
    fn rows(node: &Handle, widths: &mut Vec<usize>) {
        let is = |node: &Handle, names: &[&str]| matches!(&node.data, NodeData::Element { name, .. } if names.contains(&&*name.local));
        if is(node, &["tr"]) {
            let cells = node.children.borrow();
            let width = |cell: &Handle| match &cell.data {
                NodeData::Element { attrs, .. } => attrs
                    .borrow()
                    .iter()
                    .find(|a| &*a.name.local == "colspan")
                    .map_or(1, |a| a.value.parse::<usize>().unwrap_or(0)),
                _ => 0,
            };
            widths.push(cells.iter().map(width).sum());
        }
        node.children.borrow().iter().for_each(|child| rows(child, widths));
    }
    let mut found = Vec::new();
    if matches!(&node.data, NodeData::Element { name, .. } if &*name.local == "table") {
        let mut widths = Vec::new();
        rows(node, &mut widths);
        if widths.windows(2).any(|w| w[0] != w[1]) {
            found.push(format!("a table with rows of {widths:?} cells"));
        }
    }
    node.children.borrow().iter().for_each(|child| found.extend(uneven_tables(child)));
    found
}
