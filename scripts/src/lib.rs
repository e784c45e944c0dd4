//! The program: a script is read, checked and planned; its runs are made; the record is written.

pub mod arguments;
pub mod diagnose;
mod dictionary;
pub mod fence;
pub mod files;
pub mod interpreter;
pub mod mishap;
pub mod output;
pub mod plan;
pub mod refusal;
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
        Command::Check(check) => perform_check(check),
        Command::Words { word } => vocabulary::reference(word.as_deref()),
        Command::Sheet(wanted) => {
            let sheet = sheet::sheet(&sheet::machine(wanted)?)?;
            Ok(if wanted.json { sheet.json() } else { sheet.text() })
        }
        Command::Draw(draw) => perform_draw(draw),
        Command::Settings => Ok(table::settings()),
        Command::Schema => Ok(output::schema()),
    }
}

fn perform_run(run: &arguments::Run) -> Result<String, Trouble> {
    let script = Script::read(&run.script)?;
    let settings = run.settings.iter().cloned().collect();
    let folder = run.out.as_deref().map(|out| Folder::prepare(out, run.replace)).transpose()?;
    let bar = if run.quiet { ProgressBar::hidden() } else { ProgressBar::new(0) };
    if let Ok(style) = ProgressStyle::with_template("{pos}/{len} runs {bar:30} {elapsed}") {
        bar.set_style(style);
    }
    let mut limits = Limits::default();
    if run.no_skip {
        limits.skipping.tolerance = 0.0;
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
