//! The page of a saved result.

use crate::command::arguments::Report;
use crate::command::progress::Progress;
use crate::error::Error;
use crate::keep::folder::{above, beginning, not_a_folder, refused};
use crate::keep::interrupt;
use crate::read::refusal::Refusal;
use crate::read::saved;
use slipsoak_plots::page::Page;
use std::io::Write as _;

/// Performs `slipsoak report`: writes the page of a saved result, completely or not at all.
pub fn perform(asked: &Report) -> Result<String, Error> {
    let out = asked.out.as_path();
    if !out.extension().is_some_and(|e| e.eq_ignore_ascii_case("html") || e.eq_ignore_ascii_case("htm")) {
        let why = "a page is HTML; end its name with .html, and print it to PDF from a browser";
        return Err(Refusal::of_command(format!("{}: {why}", out.display())).into());
    }
    let _bar = Progress::of("pages drawn", 1, false);
    let page = Page::of(&saved::read(&asked.result)?);
    if out.exists() && (!asked.replace || !out.is_file()) {
        let why = "exists; choose another --out, or add --replace to replace that file";
        return Err(Refusal::of_command(format!("{} {why}", out.display())).into());
    }
    let parent = above(out);
    if !parent.is_dir() {
        return Err(not_a_folder(parent).into());
    }
    let html = page.html();
    let _whole = interrupt::writing();
    let mut file = beginning(".slipsoak-", 0o666).tempfile_in(parent).map_err(refused(out))?;
    file.write_all(html.as_bytes()).map_err(refused(out))?;
    file.persist(out).map_err(|e| refused(out)(e.error))?;
    interrupt::finished(out);
    Ok(String::new())
}
