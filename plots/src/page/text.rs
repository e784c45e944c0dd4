//! A page as text for a terminal: lines of a width, the answer first, without figures.

use super::grid::grid;
use super::lines::{clean, marked, paragraph, strong, wide};
use super::{Block, Page, Reach, Section};
use crate::words::text::Words;
use unicode_width::UnicodeWidthStr;

/// Lines up to which an answer is one paragraph.
const SHORT: usize = 6;
/// Columns by which a script or a command is set in.
const CODE: usize = 4;

impl Page {
    /// The page for a terminal of this width: its short form, or with details.
    pub fn text(&self, width: usize, details: bool) -> String {
        let mut text = self.title(width);
        let said: Vec<String> = self.answer.iter().map(marked).collect();
        let short = said.iter().map(|sentence| wide(sentence)).sum::<usize>() <= SHORT * width;
        let (said, hang) = if short { (vec![said.join(" ")], 0) } else { (said, 2) };
        let sure = if details { self.sure.as_slice() } else { &[] };
        let said = said.into_iter().chain(sure.iter().map(marked)).filter(|sentence| !sentence.is_empty());
        text.extend(said.map(|sentence| paragraph(&sentence, width, (0, hang))));
        let here = |reach: Reach| reach.on_terminal(details);
        let shown = |section: &&Section| here(section.reach);
        let sections = self.sections.iter().filter(shown).filter_map(|section| {
            let blocks: Vec<&Block> = section.blocks.iter().filter_map(|block| block.shown(here)).collect();
            let body = body(&blocks, width, details);
            (!body.is_empty()).then_some((section, captioned(&blocks), body))
        });
        for (k, (section, captioned, body)) in sections.enumerate() {
            // The first section follows the answer without a heading.
            if k > 0 || details {
                text = text + "\n" + &paragraph(&strong(&clean(&section.heading)), width, (0, 0));
            }
            if k == 0 && !details && (captioned || !short) {
                text.push('\n');
            }
            text += &body;
        }
        text
    }

    /// The question with its conditions, on one line if there is room.
    fn title(&self, width: usize) -> String {
        let (asked, given) = (clean(&self.question), clean(&self.given));
        if given.is_empty() || asked.is_empty() {
            return paragraph(&strong(&(asked + &given)), width, (0, 0));
        }
        if asked.width() + given.width() + " ()".len() <= width {
            return paragraph(&format!("{} ({given})", strong(&asked)), width, (0, 0));
        }
        paragraph(&strong(&asked), width, (0, 0)) + &paragraph(&given, width, (0, 0))
    }
}

/// Whether captions are shown: they distinguish several tables.
fn captioned(blocks: &[&Block]) -> bool {
    blocks.iter().filter(|block| matches!(block, Block::Table(_))).count() > 1
}

/// The blocks of a section; empty if it contains only figures.
fn body(blocks: &[&Block], width: usize, details: bool) -> String {
    let plain = |words: &Words| paragraph(&marked(words), width, (0, 0));
    let item = |sign: char, words: &Words| paragraph(&format!("{sign} {}", marked(words)), width, (0, 2));
    let mut text = String::new();
    for block in blocks {
        match block {
            Block::Words(words) => text += &plain(words),
            Block::List(items) => text.extend(items.iter().map(|said| item('-', said))),
            Block::Legend(items) => text.extend(items.iter().map(|(sign, said)| item(*sign, said))),
            Block::Table(table) => {
                // Captions distinguish several tables.
                if captioned(blocks) {
                    text += if text.is_empty() { "" } else { "\n" };
                    text += &plain(&table.caption);
                }
                text += &grid(table, width, details);
                if table.noted.on_terminal(details) && !table.note.is_empty() {
                    text += &plain(&table.note);
                }
            }
            Block::Code { caption, text: code } => {
                text += &paragraph(&clean(caption), width, (0, 0));
                text.extend(code.lines().map(|line| format!("{:CODE$}{}\n", "", clean(line))));
            }
            Block::Picture(_) | Block::Only(..) => {}
        }
    }
    text
}
