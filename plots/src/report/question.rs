//! What the pages of the shop's questions share: the figure, what was assumed, how to ask again, and a script's page with its
//! answers.

use super::origin::{Again, CLOSING, WHERE, again, asked, cautions, closing, scripted};
use super::study::{every_setting, origin_of};
use super::{Block, Page, Picture, Section, Words};
use crate::cautions::{Caution, of_record};
use crate::{DrawError, Drawing};
use slipsoak_engine::origin::Origin;
use slipsoak_engine::record::{Record, Setting};

/// The figure of an answer; one that cannot be drawn says why.
pub fn figure(name: &str, drawing: Result<Drawing, DrawError>) -> Section {
    let block = match drawing {
        Ok(drawing) => Block::Picture(Picture::new(drawing)),
        Err(why) => Block::Words(format!("No figure “{name}”: {why}.").into()),
    };
    Section::new("Figure", vec![block])
}

/// What an answer leans on.
pub fn assumed(sentences: &[String]) -> Section {
    let item = |sentence: &String| Words::from(format!("{}.", capital(sentence)));
    Section::new("What was assumed", vec![Block::List(sentences.iter().map(item).collect())])
}

/// The sentences of an answer.
pub fn said(statement: &[String]) -> Vec<Words> {
    statement.iter().map(|s| s.as_str().into()).collect()
}

/// Cautions, the script if one asked, how to ask again, and the machine.
pub fn ending(origin: &Origin, seeds: &[u64], settings: &[Setting], applying: &[Caution]) -> Vec<Section> {
    let mut sections = vec![cautions(applying)];
    if !origin.script_text.is_empty() {
        sections.push(scripted(&origin.script, &origin.script_text));
    }
    sections.push(again(&Again {
        first: WHERE,
        words: &origin.command,
        program: &origin.program,
        hash: Some(origin.script_hash.as_str()).filter(|hash| !hash.is_empty()),
        seeds,
    }));
    sections.push(Section::new(MACHINE, vec![every_setting(settings, "Every setting of the machine".to_owned())]));
    sections
}

const MACHINE: &str = "The machine";

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

impl Page {
    /// The page of a script: its runs, if it made any, and the answers to the questions that it asked.
    pub fn of_script(record: &Record, answers: Vec<Self>) -> Self {
        let mut page = if record.runs.is_empty() && !answers.is_empty() {
            let count = answers.len();
            Self {
                question: asked(&record.title, &record.script),
                origin: format!(
                    "{}, {count} {} of {}",
                    record.script,
                    if count == 1 { "answer" } else { "answers" },
                    record.program
                ),
                sections: closing(&origin_of(record), &of_record(record)),
                ..Self::default()
            }
        } else {
            Self::of_study(record)
        };
        for answer in answers {
            page.take(answer);
        }
        page
    }

    /// Takes up another page's answer and sections before its own closing ones.
    fn take(&mut self, other: Self) {
        let ends = |s: &Section| CLOSING.contains(&s.heading.as_str());
        let about = other.question.trim_end_matches('?').to_owned();
        self.answer.push(Words::default().strong(other.question));
        self.answer.extend(other.answer);
        // What was shown already, as the machine of the question before, is not shown again.
        let shown = |s: &Section| self.sections.iter().any(|own| own.blocks == s.blocks);
        let new: Vec<Section> = other.sections.into_iter().filter(|s| !ends(s) && !shown(s)).collect();
        let own = new.into_iter().map(|s| Section { heading: format!("{about}: {}", s.heading.to_lowercase()), ..s });
        let at = self.sections.iter().position(ends).unwrap_or(self.sections.len());
        self.sections.splice(at..at, own);
    }
}
