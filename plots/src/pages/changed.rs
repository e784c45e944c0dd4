//! The page of two results of one kind beside each other: what differs in the answer, in what was asked, and in the numbers.

use crate::figures::{answer_values::measures, changed::draw, for_page};
use crate::page::picture::pictures;
use crate::page::{Block, Head, Page, Section, Table};
use crate::pages::changed_inputs::{Row, asked, duties, renamed};
use crate::pages::changed_numbers::{found, shown};
use crate::sheet::look::Look;
use crate::words::changed::{self as words, ORDER, Pair, answers, finding, lives, moved, same, undrawn};
use slipsoak_engine::document::Saved;
use slipsoak_engine::record::Run;

impl Page {
    /// Two results of one kind beside each other, with the names of their files.
    pub fn of_two(names: [&str; 2], results: [&Saved; 2]) -> Self {
        let pages = results.map(|saved| Self::with(saved, vec![]));
        let (asked, found) = (asked(results), found(&pages, &renamed(results)));
        let [first, second] = &pages;
        let pairs = pairs(results);
        let (mut answer, mut figures) = (vec![], vec![]);
        if asked.is_empty() && found.is_empty() {
            answer.push(same());
        } else {
            answer.extend(answers([&first.answer, &second.answer]));
            // Of several runs what is advised comes first; the life that differs most may be that of one that does not fit.
            let at = if pairs.len() == 1 { 0 } else { answer.len() };
            answer.splice(at..at, lives(&pairs));
            let values = measures(results, &pairs);
            if values.is_empty() {
                answer.push(undrawn(!matches!(results[0], Saved::Sheet(_))));
            } else {
                let head = if pairs.is_empty() { moved(&values) } else { finding(&pairs) };
                let draw = |look: &Look| draw(&values, (&head, &changed(&asked)), look);
                figures.push(pictures(vec![("changed", for_page(&draw))]));
            }
        }
        let section = |heading: &str, caption: &str, rows: Vec<Row>| {
            let heads = ["what", "of", ORDER[0], ORDER[1]].map(Head::words);
            (!rows.is_empty()).then(|| Section::new(heading, vec![Block::Table(Table::new(caption, heads, rows))]))
        };
        let sections = [
            section("What differs in what was asked", "Machines, duties, settings and script", asked),
            section("What differs in the results", "Numbers that differ", found),
        ];
        let order = format!("{}: {}; {}: {}", ORDER[0], names[0], ORDER[1], names[1]);
        Self {
            question: "What differs between two results?".to_owned(),
            given: order,
            origin: first.origin.clone(),
            answer,
            sections: figures.into_iter().chain(sections.into_iter().flatten()).collect(),
            ..Self::default()
        }
    }
}

/// Runs of one machine and duty in two records, also of a machine that is called otherwise; where each holds one run, those.
fn pairs<'a>(results: [&'a Saved; 2]) -> Vec<Pair<'a>> {
    let [Saved::Record(first), Saved::Record(second)] = results else { return vec![] };
    if let ([a], [b]) = (&first.runs[..], &second.runs[..]) {
        let name = if a.variant == b.variant { a.variant.clone() } else { format!("{} / {}", a.variant, b.variant) };
        return vec![Pair { name, first: a, second: b }];
    }
    let several = duties(results[0]).len() > 1;
    let renamed = renamed(results);
    let twin = |a: &'a Run| {
        let other = renamed.iter().find(|(names, _)| names[0] == a.variant);
        let (called, both) = other.map_or((&a.variant, &a.variant), |(names, both)| (&names[1], both));
        let second = second.runs.iter().find(|b| (&b.variant, &b.duty) == (called, &a.duty))?;
        let name = if several { format!("{both}, {}", a.duty) } else { both.clone() };
        Some(Pair { name, first: a, second })
    };
    first.runs.iter().filter_map(twin).collect()
}

/// What differs in what was asked, in a line for a figure: settings and names, but not scripts and commands.
fn changed(rows: &[Row]) -> String {
    let line = |[what, whose, first, second]: &Row| {
        let [what, whose] = [what, whose].map(shown);
        let plain = !["line of the script", "command", "seed", "program"].contains(&what.as_str());
        let of = if what == "parameter" { whose } else { what };
        plain.then(|| (of, shown(first), shown(second)))
    };
    words::asked(&rows.iter().filter_map(line).collect::<Vec<_>>())
}
