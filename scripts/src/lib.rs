//! The program: reads, checks and plans a script, makes its runs, and writes the record.

pub mod command;
pub mod diagnose;
pub mod keep;
pub mod language;
pub mod mishap;
pub mod read;
pub mod study;

pub use crate::diagnose::{Script, Trouble};

#[global_allocator]
static MEMORY: slipsoak_memory::Counting = slipsoak_memory::Counting;

use crate::command::arguments::{Arguments, Command};
use crate::command::deliver::{deliver, prepare};
use crate::command::terminal::Progress;
use crate::command::{arguments, calibrate, deliver, page, retrace, sheet, shop, table, terminal};
use crate::keep::output::Folder;
use crate::keep::{journal, output};
use crate::language::interpreter::Limits;
use crate::language::vocabulary;
use crate::read::saved;
use crate::study::campaign::{Asked, Campaign};
use crate::study::{campaign, runs};
use slipsoak_plots::{Look, Size, Theme, figures};
use std::fmt::Write as _;

/// Performs the command line and returns the text to print.
pub fn perform(arguments: &Arguments) -> Result<String, Trouble> {
    match &arguments.command {
        Command::Run(run) => perform_run(run),
        Command::Gather(gather) => perform_gather(gather),
        Command::Check(check) => perform_check(check),
        Command::Words { word } => vocabulary::reference(word.as_deref()),
        Command::Sheet(wanted) => {
            let sheet = slipsoak_engine::sheet::sheet(&sheet::machine(&wanted.machine)?)?;
            Ok(if wanted.json { output::json(&sheet) } else { sheet::text(&sheet) })
        }
        Command::Choose(given) => shop::perform(&shop::choose(given)?, given.threads, &given.output),
        Command::Gaps(given) => shop::perform(&shop::gaps(given)?, given.threads, &given.output),
        Command::Oiling(given) => shop::perform(&shop::oiling(given)?, given.threads, &given.output),
        Command::Draw(draw) => perform_draw(draw),
        Command::Report(asked) => Progress::during("drawing", || {
            page::write(&asked.result, &asked.out, asked.replace).map(|()| String::new())
        }),
        Command::Settings => Ok(table::settings()),
        Command::Calibrate(asked) => calibrate::perform(asked),
        Command::Retrace(asked) => retrace::perform(asked),
        Command::Schema { of } => Ok(saved::schema(of)),
    }
}

fn perform_run(run: &arguments::Run) -> Result<String, Trouble> {
    let script = Script::read(&run.script)?;
    let settings = run.settings.iter().cloned().collect();
    let limits = limits(run.no_skip);
    match campaign::asked(&script, &settings, limits.clone(), run.share.unwrap_or((1, 1)))? {
        Some(Asked::Fleet(fleet)) => return perform_campaign(run, &fleet),
        Some(Asked::Sweep(sweep)) => return perform_campaign(run, &sweep),
        Some(Asked::Influence(influence)) => return perform_campaign(run, &influence),
        None => {}
    }
    if run.share.is_some() {
        return Err(Trouble::NotDivided { script: script.name.clone() });
    }
    let (output, folder) = (&run.output, prepare(&run.output)?);
    let bar = Progress::of("runs", output.quiet);
    let study = runs::run(&script, &settings, limits, run.threads, |n| bar.begin(n as u64, 0), |share| bar.add(share));
    bar.end();
    let study = study?;
    report(&study.printed);
    Ok(deliver(study.made(), output, folder)?)
}

fn limits(no_skip: bool) -> Limits {
    let mut limits = Limits::default();
    if no_skip {
        limits.skipping.tolerance = 0.0;
    }
    limits
}

fn perform_campaign<C: Campaign>(run: &arguments::Run, campaign: &C) -> Result<String, Trouble> {
    let out = run.output.out.as_deref().ok_or(Trouble::NoOut)?;
    let frame = campaign.frame();
    let journal = journal::beside(out, frame.heading.part);
    // A part of a study leaves only its journal.
    let folder = if run.share.is_none() { prepare(&run.output)? } else { None };
    let bar = Progress::of(C::ITEMS, run.output.quiet);
    let begun = |done| bar.begin(frame.count(), done);
    let found = campaign::run(campaign, &journal, run.threads, begun, || bar.add(1.0));
    bar.end();
    let found = found?;
    let Some(mut folder) = folder else {
        return Ok(format!("{} {} stand in {}\n", found.len(), C::ITEMS, journal.display()));
    };
    folder.supersede(journal);
    Ok(deliver(campaign::report(campaign, found)?.into().into(), &run.output, Some(folder))?)
}

fn perform_gather(gather: &arguments::Gather) -> Result<String, Trouble> {
    let script = Script::read(&gather.script)?;
    let settings = gather.settings.iter().cloned().collect();
    let first = journal::heading(&gather.journals[0])?;
    match campaign::asked(&script, &settings, limits(gather.no_skip), first.part)? {
        Some(Asked::Fleet(fleet)) => gather_campaign(gather, &fleet),
        Some(Asked::Sweep(sweep)) => gather_campaign(gather, &sweep),
        Some(Asked::Influence(influence)) => gather_campaign(gather, &influence),
        None => Err(Trouble::NotDivided { script: script.name }),
    }
}

fn gather_campaign<C: Campaign>(gather: &arguments::Gather, campaign: &C) -> Result<String, Trouble> {
    let entries = journal::gather(&gather.journals, &campaign.frame().heading)?;
    let folder = prepare(&gather.output)?;
    let found = entries.into_iter().map(|entry| (entry.item, entry.found)).collect();
    Ok(deliver(campaign::report(campaign, found)?.into().into(), &gather.output, folder)?)
}

fn perform_check(check: &arguments::Check) -> Result<String, Trouble> {
    let script = Script::read(&check.script)?;
    let outline = runs::check(&script, &check.settings.iter().cloned().collect(), Limits::default())?;
    report(&outline.printed);
    let mut text = terminal::wrapped(&outline.title, 0);
    for (name, value) in &outline.parameters {
        let _ = writeln!(text, "  {name} = {value}");
    }
    for (variant, duty, entries) in &outline.runs {
        let entries = entries.map_or_else(|| "reads the ride as it goes".to_owned(), |n| format!("{n} entries"));
        text += &terminal::set_in(&format!("{variant}, {duty}: {entries}"), 2, 4);
    }
    for question in &outline.questions {
        text += &terminal::set_in(question, 2, 4);
    }
    Ok(text + "The script is in order.\n")
}

fn perform_draw(draw: &arguments::Draw) -> Result<String, Trouble> {
    let saved = saved::read(&draw.record)?;
    let all = figures(&saved);
    let known: Vec<&str> = all.iter().map(|figure| figure.0).collect();
    if let Some(given) = draw.figures.iter().find(|f| !known.contains(&f.as_str())) {
        return Err(output::Unwritten::Figure { given: given.clone(), known: known.join(", ") }.into());
    }
    let wanted = |name: &str| draw.figures.is_empty() || draw.figures.iter().any(|given| given == name);
    let chosen: Vec<_> = all.into_iter().filter(|figure| wanted(figure.0)).collect();
    let folder = Folder::prepare(&draw.out, false).map_err(|e| match e {
        output::Unwritten::Exists(path) => output::Unwritten::Full(path),
        other => other,
    })?;
    let look = Look {
        size: Size { width: draw.width, ..Size::default() },
        theme: if draw.dark { Theme::Dark } else { Theme::Light },
        title: draw.title.clone(),
        caption: draw.caption.clone(),
        at: draw.at.clone(),
    };
    let bar = Progress::of("figures drawn", false);
    bar.begin(chosen.len() as u64, 0);
    let mut names = String::new();
    for (name, draw) in chosen {
        deliver::write_figures(&folder, &vec![(name, draw(&look))], "")?;
        names = names + name + "\n";
        bar.add(1.0);
    }
    bar.end();
    Ok(names + folder.finish()?.as_str())
}

/// Text printed by a script goes to the error stream, so that results stay clean.
fn report(printed: &[String]) {
    for line in printed {
        anstream::eprintln!("{}", terminal::printable(line));
    }
}
