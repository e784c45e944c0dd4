//! The program: a script is read, checked and planned; its runs are made; the record is written.

pub mod arguments;
pub mod calibrate;
pub mod calibration;
pub mod columns;
pub mod diagnose;
mod dictionary;
pub mod fence;
pub mod files;
pub mod fleet;
pub mod geodesic;
pub mod inspections;
pub mod interpreter;
pub mod journal;
pub mod learning;
pub mod mishap;
pub mod output;
pub mod plan;
pub mod recording;
pub mod refusal;
pub mod retrace;
pub mod ride;
pub mod sheet;
pub mod spelling;
pub mod study;
pub mod table;
pub mod trace;
pub mod units;
pub mod variant;
pub mod vocabulary;

pub use diagnose::{Script, Trouble};

use arguments::{Arguments, Command};
use indicatif::{ProgressBar, ProgressStyle};
use interpreter::Limits;
use output::Folder;
use std::fmt::Write as _;

/// Does what the command line asks and gives the text to print.
pub fn perform(arguments: &Arguments) -> Result<String, Trouble> {
    match &arguments.command {
        Command::Run(run) => perform_run(run),
        Command::Gather(gather) => perform_gather(gather),
        Command::Check(check) => perform_check(check),
        Command::Words { word } => vocabulary::reference(word.as_deref()),
        Command::Sheet(wanted) => {
            let sheet = sheet::sheet(&sheet::machine(wanted)?)?;
            Ok(if wanted.json { sheet.json() } else { sheet.text() })
        }
        Command::Draw(draw) => perform_draw(draw),
        Command::Settings => Ok(table::settings()),
        Command::Calibrate(asked) => calibrate::perform(asked),
        Command::Retrace(asked) => retrace::perform(asked),
        Command::Schema { document } if document == "calibration" => Ok(calibration::schema()),
        Command::Schema { .. } => Ok(output::schema()),
    }
}

fn perform_run(run: &arguments::Run) -> Result<String, Trouble> {
    let script = Script::read(&run.script)?;
    let settings = run.settings.iter().cloned().collect();
    let limits = limits(run.no_skip);
    if let Some(asked) = fleet::asked(&script, &settings, limits, run.share.unwrap_or((1, 1)))? {
        return perform_fleet(run, &asked);
    }
    if run.share.is_some() {
        return Err(Trouble::NoFleet { script: script.name.clone() });
    }
    let folder = run.out.as_deref().map(|out| Folder::prepare(out, run.replace)).transpose()?;
    let bar = if run.quiet { ProgressBar::hidden() } else { ProgressBar::new(0) };
    if let Ok(style) = ProgressStyle::with_template("{pos}/{len} runs {bar:30} {elapsed}") {
        bar.set_style(style);
    }
    let study = study::run(&script, &settings, limits, run.threads, |n| bar.set_length(n as u64), || bar.inc(1));
    bar.finish_and_clear();
    let study = study?;
    report(&study.printed);
    let results = if run.quiet { String::new() } else { table::results(&study.record) };
    // Last of all, so that whatever fails before it leaves nothing behind.
    if let Some(folder) = folder {
        output::write_study(&folder, &study.record, !run.no_pictures)?;
        folder.finish()?;
    }
    Ok(results)
}

fn limits(no_skip: bool) -> Limits {
    let mut limits = Limits::default();
    if no_skip {
        limits.skipping.tolerance = 0.0;
    }
    limits
}

fn perform_fleet(run: &arguments::Run, asked: &fleet::Asked<'_>) -> Result<String, Trouble> {
    let out = run.out.as_deref().ok_or(Trouble::NoOut)?;
    let journal = journal::beside(out, asked.heading.part);
    // A part leaves its journal only.
    let folder = match run.share {
        None => Some(Folder::prepare(out, run.replace)?),
        Some(_) => None,
    };
    let bar = if run.quiet { ProgressBar::hidden() } else { ProgressBar::new(asked.count()) };
    if let Ok(style) = ProgressStyle::with_template("{pos}/{len} clutches {bar:30} {elapsed}, {eta} left") {
        bar.set_style(style);
    }
    let entries = asked.run(&journal, run.threads, || bar.inc(1));
    bar.finish_and_clear();
    let entries = entries?;
    let Some(folder) = folder else {
        return Ok(format!("{} clutches stand in {}\n", entries.len(), journal.display()));
    };
    let report = asked.report(entries);
    let results = if run.quiet { String::new() } else { table::fleets(&report) };
    output::write_fleet(&folder, &report)?;
    folder.finish()?;
    // The result stands: the journal has done its work.
    let _ = std::fs::remove_file(&journal);
    Ok(results)
}

fn perform_gather(gather: &arguments::Gather) -> Result<String, Trouble> {
    let script = Script::read(&gather.script)?;
    let settings = gather.settings.iter().cloned().collect();
    let (heading, entries) = journal::gather(&gather.journals)?;
    let limits = limits(gather.no_skip);
    let asked = fleet::asked(&script, &settings, limits, heading.part)?
        .ok_or_else(|| Trouble::NothingToRun { script: script.name.clone() })?;
    journal::same(&gather.journals[0], &heading, &asked.heading)?;
    let folder = Folder::prepare(&gather.out, gather.replace)?;
    let report = asked.report(entries);
    output::write_fleet(&folder, &report)?;
    folder.finish()?;
    Ok(table::fleets(&report))
}

fn perform_check(check: &arguments::Check) -> Result<String, Trouble> {
    let script = Script::read(&check.script)?;
    let outline = study::check(&script, &check.settings.iter().cloned().collect(), Limits::default())?;
    report(&outline.printed);
    let mut text = format!("{}\n", outline.title);
    for (name, value) in &outline.parameters {
        let _ = writeln!(text, "  {name} = {value}");
    }
    for (variant, duty, entries) in &outline.runs {
        let entries = entries.map_or_else(|| "reads the ride as it goes".to_owned(), |n| format!("{n} entries"));
        let _ = writeln!(text, "  {variant}, {duty}: {entries}");
    }
    Ok(text + "The script is in order.\n")
}

fn perform_draw(draw: &arguments::Draw) -> Result<String, Trouble> {
    let record = output::read_record(&draw.record)?;
    let all = output::figures();
    if let Some(given) = draw.figures.iter().find(|f| !all.contains(&f.as_str())) {
        return Err(output::Unwritten::Figure { given: given.clone(), known: all.join(", ") }.into());
    }
    let chosen: Vec<&str> =
        all.into_iter().filter(|f| draw.figures.is_empty() || draw.figures.iter().any(|g| g == f)).collect();
    let folder = Folder::prepare(&draw.out, false)?;
    output::write_figures(&folder, &record, &chosen)?;
    folder.finish()?;
    Ok(format!("{}\n", chosen.join("\n")))
}

/// What a script prints goes to the error stream, so that results stay clean.
fn report(printed: &[String]) {
    for line in printed {
        anstream::eprintln!("{line}");
    }
}
