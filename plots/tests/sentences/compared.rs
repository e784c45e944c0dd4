//! Two results beside each other.

use super::said::{Said, sentences};
use crate::made_up::{documents, record};
use slipsoak_engine::document::Saved;
use slipsoak_plots::page::Page;
use slipsoak_plots::words::text::Words;

/// Two results beside each other.
pub fn compared() -> Vec<Said> {
    let of = |names: &[&str], longer: f64| {
        let first = record(names);
        let mut second = first.clone();
        for part in second.runs.iter_mut().flat_map(|run| &mut run.parts) {
            [&mut part.life, &mut part.running].into_iter().flatten().for_each(|life| *life *= longer);
        }
        let answer =
            Page::of_two(["a", "b"], [&Saved::Record(Box::new(first)), &Saved::Record(Box::new(second))]).answer;
        sentences(if names.len() > 1 { "compare, several runs" } else { "compare, one run" }, &answer)
    };
    vec![
        of(&["1900 rpm"], 0.6),
        of(&["1900 rpm"], 1.0),
        of(&["1900 rpm", "2100 rpm", "2300 rpm"], 1.3),
        of(&["1900 rpm"], 1.01),
    ]
}

#[test]
fn every_kind_of_result_has_a_figure_of_what_differs_but_a_sheet_which_holds_no_answer() {
    for saved in documents() {
        let kind = saved.kind().name();
        let other =
            saved.clone().headed(slipsoak_engine::document::Head { program: "another".into(), ..<_>::default() });
        let page = Page::of_two(["a", "b"], [&saved, &other]);
        let answer = page.answer.iter().map(Words::text).collect::<Vec<_>>().join(" ");
        let drawn = page.html().contains("<svg");
        assert_eq!(drawn, kind != "sheet", "{kind}: {answer}");
        assert_eq!(answer.contains("There is no figure, since a machine's sheet"), !drawn, "{kind}: {answer}");
    }
}
