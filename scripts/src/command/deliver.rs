//! Delivery of results, common to all commands: printing, writing with tables, figures, page.

use crate::command::options::Output;
use crate::command::terminal::width;
use crate::keep::folder::{Folder, PAGE};
use crate::keep::output::{result_json, whole};
use crate::keep::tables::tables;
use crate::keep::units::Units;
use crate::read::refusal::Refusal;
use slipsoak_engine::document::{Head, Kind, Saved};
use slipsoak_plots::page::Page;
use slipsoak_plots::{DrawError, Drawn, Look, drawn, drawn_for_page};

/// Results of a command.
#[derive(Clone, Debug)]
pub struct Made {
    /// the results; for a script its runs first, then the answers to its questions
    pub saved: Vec<Saved>,
    /// the head of a script with questions: its answers are on one page under its title
    pub asking: Option<Head>,
    /// further files: name and text
    pub beside: Vec<(String, String)>,
    /// units of the tables of runs
    pub units: Units,
}

impl From<Saved> for Made {
    fn from(saved: Saved) -> Self {
        Self { saved: vec![saved], asking: None, beside: vec![], units: Units::default() }
    }
}

/// Checks before any work that the requested folder can be written.
pub fn prepare(output: &Output) -> Result<Option<Folder>, Refusal> {
    output.out.as_deref().map(|out| Folder::prepare(out, output.replace)).transpose()
}

/// Returns the text to print, and writes the files. It runs last, so an earlier failure leaves nothing behind.
pub fn deliver(made: Made, output: &Output, folder: Option<Folder>) -> Result<String, Refusal> {
    let Made { mut saved, asking, beside, units } = made;
    saved.iter_mut().try_for_each(whole)?;
    let mut pages = vec![];
    for (k, one) in saved.iter().enumerate() {
        let before = saved[..k].iter().filter(|other| other.kind() == one.kind()).count();
        let number = if before == 0 { String::new() } else { format!("-{}", before + 1) };
        let figures = match &folder {
            Some(folder) => write(one, (&number, units), output, folder)?,
            None => vec![],
        };
        pages.push(Page::with(one, figures));
    }
    let text = if output.json {
        saved.iter().map(result_json).collect()
    } else if output.quiet {
        String::new()
    } else {
        pages.iter().map(|page| page.text(width(), output.details)).collect::<Vec<_>>().join("\n")
    };
    let Some(folder) = folder else { return Ok(text) };
    for (name, text) in beside {
        folder.write(&name, text.as_bytes())?;
    }
    if output.report {
        folder.write(PAGE, page(pages, &saved, asking.as_ref()).html().as_bytes())?;
    }
    let wrote = folder.finish()?;
    Ok(if output.json || output.quiet { text } else { text + wrote.as_str() })
}

/// Writes a result with its tables and figures, and returns the figures for its page. A number distinguishes its files from
/// those of earlier results of its kind.
fn write(one: &Saved, (number, units): (&str, Units), output: &Output, folder: &Folder) -> Result<Drawn, Refusal> {
    let file = format!("{}{number}.json", one.kind().name());
    match one {
        // There may be very many clutches, so their text is not kept in memory.
        Saved::Fleet(report) => folder.write_json(&file, report)?,
        other => folder.write(&file, result_json(other).as_bytes())?,
    }
    for (name, table) in tables(one, units) {
        folder.write(&name, table.as_bytes())?;
    }
    let figures = match output {
        Output { report: true, .. } => drawn_for_page(one),
        Output { no_pictures: true, .. } => vec![],
        _ => drawn(one, &Look::default()),
    };
    if !output.no_pictures {
        write_figures(folder, &figures, number, output.svg_only)?;
    }
    Ok(figures)
}

/// The pages as one: the runs' own with the answers, or the answers under the title of their script.
fn page(pages: Vec<Page>, saved: &[Saved], asking: Option<&Head>) -> Page {
    let mut pages = pages.into_iter();
    match asking {
        None => pages.next().unwrap_or_default(),
        Some(head) => {
            let runs = if saved.first().is_some_and(|s| s.kind() == Kind::Record) { pages.next() } else { None };
            Page::of_script(head, runs, pages.collect())
        }
    }
}

/// Writes figures, as SVG alone or as PNG too; a number distinguishes those of further results.
pub fn write_figures(folder: &Folder, figures: &Drawn, number: &str, svg_only: bool) -> Result<(), Refusal> {
    for (name, drawing) in figures {
        let undrawn = |e: &DrawError| Refusal::new(format!("the figure `{name}` cannot be drawn: {e}"));
        let drawing = drawing.as_ref().map_err(undrawn)?;
        folder.write(&format!("{name}{number}.svg"), drawing.svg.as_bytes())?;
        if !svg_only {
            folder.write(&format!("{name}{number}.png"), &drawing.png().map_err(|e| undrawn(&e))?)?;
        }
    }
    Ok(())
}
