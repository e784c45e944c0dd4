//! The page of a saved result.

use crate::command::arguments::Report;
use crate::command::progress::Progress;
use crate::error::Error;
use crate::keep::folder::{above, beginning};
use crate::keep::interrupt;
use crate::keep::output_error::{OutputError, refused};
use crate::read::saved;
use slipsoak_plots::page::Page;
use std::io::Write as _;

/// Performs `slipsoak report`: writes the page of a saved result, completely or not at all.
pub fn perform(asked: &Report) -> Result<String, Error> {
    let out = asked.out.as_path();
    if !out.extension().is_some_and(|e| e.eq_ignore_ascii_case("html") || e.eq_ignore_ascii_case("htm")) {
        return Err(OutputError::NotAPage(out.to_owned()).into());
    }
    let bar = Progress::of("pages drawn", false);
    bar.begin(1, 0);
    let page = Page::of(&saved::read(&asked.result)?);
    if out.exists() && (!asked.replace || !out.is_file()) {
        return Err(OutputError::Taken(out.to_owned()).into());
    }
    let parent = above(out);
    if !parent.is_dir() {
        return Err(OutputError::NotAFolder(parent.to_owned()).into());
    }
    let html = page.html();
    let _whole = interrupt::writing();
    let mut file = beginning(".slipsoak-", 0o666).tempfile_in(parent).map_err(refused(out))?;
    file.write_all(html.as_bytes()).map_err(refused(out))?;
    file.persist(out).map_err(|e| refused(out)(e.error))?;
    interrupt::finished(out);
    Ok(String::new())
}
