//! The page of a saved result.

use crate::command::arguments::Report;
use crate::command::progress::Progress;
use crate::error::Error;
use crate::keep::interrupt;
use crate::keep::place::{above, beginning, not_a_folder, refused};
use crate::read::refusal::Refusal;
use crate::read::saved;
use slipsoak_plots::page::Page;
use std::io::Write as _;
use std::path::Path;

/// Performs `slipsoak report`: writes the page of a saved result.
pub fn perform(asked: &Report) -> Result<String, Error> {
    free(&asked.out, asked.replace)?;
    let _bar = Progress::of("pages drawn", 1, false);
    let page = Page::of(&saved::read(&asked.result)?);
    write(&page, &asked.out)?;
    Ok(String::new())
}

/// Refuses a file that is no page by its name, cannot be made, or stands there already.
pub(crate) fn free(out: &Path, replace: bool) -> Result<(), Refusal> {
    if !out.extension().is_some_and(|e| e.eq_ignore_ascii_case("html") || e.eq_ignore_ascii_case("htm")) {
        let why = "a page is HTML; end its name with .html, and print it to PDF from a browser";
        return Err(Refusal::of_command(format!("{}: {why}", out.display())));
    }
    if out.exists() && (!replace || !out.is_file()) {
        let why = "exists; choose another --out, or add --replace to replace that file";
        return Err(Refusal::of_command(format!("{} {why}", out.display())));
    }
    let parent = above(out);
    if parent.is_dir() { Ok(()) } else { Err(not_a_folder(parent)) }
}

/// Writes a page, completely or not at all.
pub(crate) fn write(page: &Page, out: &Path) -> Result<(), Refusal> {
    let html = page.html();
    let _whole = interrupt::writing();
    let mut file = beginning(".slipsoak-", 0o666).tempfile_in(above(out)).map_err(refused(out))?;
    file.write_all(html.as_bytes()).map_err(refused(out))?;
    file.persist(out).map_err(|e| refused(out)(e.error))?;
    interrupt::finished(out);
    Ok(())
}
