//! Common parts of the shop questions' pages: the figure, the assumptions, how to ask again, and a script's page with
//! its answers.

use crate::page::{Block, Page, Reach, Section};
use crate::pages::origin::{CLOSING, closing};
use crate::pages::settings::every_setting;
use crate::words::cautions::{Caution, on_its_ground};
use crate::words::reading::asked;
use crate::words::text::Words;
use slipsoak_engine::document::Head;
use slipsoak_engine::record::Setting;

/// Section of assumptions, from clauses.
pub fn assumed(clauses: Vec<Words>) -> Section {
    Section::new("What was assumed", vec![Block::List(clauses.into_iter().map(Words::sentence).collect())]).folded()
}

/// Largest number of sentences of an answer; the others are reasons.
const ANSWER: usize = 3;

/// A statement as the answer and a section of reasons.
pub fn parted(mut statement: Vec<Words>) -> (Vec<Words>, Section) {
    let reasons = statement.split_off(statement.len().min(ANSWER));
    (statement, Section::new("Reasons", vec![Block::List(reasons)]))
}

/// Cautions, the script if there is one, how to ask again, and the machine.
pub fn ending(head: &Head, settings: &[Setting], applying: &[Caution]) -> Vec<Section> {
    let mut sections = closing(head, &on_its_ground(applying, settings), vec![]);
    sections.push(
        Section::new(MACHINE, vec![every_setting(settings, "Every setting of the machine".to_owned())])
            .only(Reach::Page)
            .folded(),
    );
    sections
}

const MACHINE: &str = "The machine";

impl Page {
    /// The page of a script: that of its runs, if any, with the answers to its questions.
    pub fn of_script(head: &Head, runs: Option<Self>, answers: Vec<Self>) -> Self {
        let mut page = runs.unwrap_or_else(|| {
            let count = answers.len();
            let answers = if count == 1 { "answer" } else { "answers" };
            Self {
                question: asked(head),
                origin: format!("{}, {count} {answers}, computed by {}", head.script, head.program),
                sections: closing(head, &[], vec![]),
                ..Self::default()
            }
        });
        for answer in answers {
            page.take(answer);
        }
        page
    }

    /// Inserts another page's answer and sections before the closing sections.
    fn take(&mut self, other: Self) {
        let ends = |s: &Section| CLOSING.contains(&s.heading.as_str());
        let about = other.question.trim_end_matches('?').to_owned();
        self.answer.push(Words::default().strong(other.question));
        self.answer.extend(other.answer);
        self.answer.extend(other.sure);
        // What was shown already, as the machine of the question before, is not shown again.
        let shown = |s: &Section| self.sections.iter().any(|own| own.blocks == s.blocks);
        let new: Vec<Section> = other.sections.into_iter().filter(|s| !ends(s) && !shown(s)).collect();
        let own = new.into_iter().map(|s| Section { heading: format!("{about}: {}", s.heading.to_lowercase()), ..s });
        let at = self.sections.iter().position(ends).unwrap_or(self.sections.len());
        self.sections.splice(at..at, own);
    }
}
