//! Figures, pages and sentences, by one binary: documents are read by one copy of the code that reads them.

mod answers;
mod cautions;
mod columns;
mod comparisons;
mod duties;
mod figures;
mod html;
mod made_up;
#[path = "../../engine/tests/measured/mod.rs"]
mod measured;
mod measured_figures;
mod page;
mod plain;
mod sentences;
mod structure;
mod terminal;
mod what_to_measure;
