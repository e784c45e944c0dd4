//! Running a script: its requests are planned once, computed, and delivered as documents.

use crate::command::arguments::{Check, Gather, Run};
use crate::command::deliver::{Made, deliver, prepare};
use crate::command::progress::Progress;
use crate::command::terminal::{print, set_in};
use crate::error::Error;
use crate::keep::units::Units;
use crate::keep::{journal, place};
use crate::language::limits::Limits;
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use crate::read::script::Script;
use crate::study::campaign::LongStudy;
use crate::study::forecast::lasts;
use crate::study::outline::outline;
use crate::study::request::Request;
use crate::study::runs::{Findings, Runs};
use crate::study::study_error::StudyError;
use crate::study::{Study, asked};
use slipsoak_plots::words::say;
use std::collections::BTreeMap;

/// Where a long study without a place for its journal goes.
const NO_OUT: &str =
    "a fleet, a sweep or `matters` needs --out DIR: it keeps a journal beside it, so that it can be resumed";

/// Refuses parts of what is not divided.
fn not_divided(script: &Script) -> Refusal {
    Refusal::of_command(format!(
        "only a fleet, a sweep or what matters is run in parts, and {} asks for none of them; run it without --share",
        script.name
    ))
}

/// What refuses a script, and that it needs a place for its journal too, if both are wrong on the command line.
fn also_without_out(arguments: &Run, script: &Script, refused: StudyError) -> Error {
    if let StudyError::Script(ScriptError::Parameter { .. }) = &refused
        && arguments.output.out.is_none()
        && let Ok(Study::Long(_)) =
            asked(&Request::of(script, &BTreeMap::new(), limits(arguments.no_skip)), (1, 1), &mut |_| ())
    {
        return Refusal::of_command(format!("{refused}; besides, {NO_OUT}")).into();
    }
    refused.into()
}

/// Runs a script.
pub fn run(arguments: &Run) -> Result<String, Error> {
    let (script, settings) = arguments.subject.read()?;
    let request = Request::of(&script, &settings, limits(arguments.no_skip));
    let study = asked(&request, arguments.share.unwrap_or((1, 1)), &mut |printed| print(&printed));
    match study.map_err(|refused| also_without_out(arguments, &script, refused))? {
        Study::Long(study) => long(arguments, &*study),
        Study::Runs(_) if arguments.share.is_some() => Err(not_divided(&script).into()),
        Study::Runs(study) => runs(arguments, *study),
    }
}

fn runs(arguments: &Run, study: Runs<'_>) -> Result<String, Error> {
    let (output, folder) = (&arguments.output, prepare(&arguments.output)?);
    let bar = Progress::of("runs", study.count(), output.quiet);
    let found = study.perform(arguments.threads.number, |share| bar.add(share), &mut |printed| print(&printed));
    bar.end();
    Ok(deliver(Made { units: arguments.units, ..made(found?) }, output, folder)?)
}

/// Results to deliver: the record, if there are runs, then each answer.
pub fn made(found: Findings) -> Made {
    let Findings { record, answers } = found;
    let head = record.head.clone();
    let runs = (!record.runs.is_empty()).then(|| record.into());
    let saved = runs.into_iter().chain(answers).collect();
    Made { saved, asking: Some(head), beside: vec![], units: Units::default() }
}

fn long(arguments: &Run, study: &dyn LongStudy) -> Result<String, Error> {
    let out = arguments.output.out.as_deref().ok_or_else(|| Refusal::of_command(NO_OUT))?;
    let frame = study.frame();
    let journal = journal::beside(out, frame.heading.part);
    // A part of a study leaves only its journal.
    let folder = if arguments.share.is_none() { prepare(&arguments.output)? } else { None };
    let bar = Progress::of(frame.items, frame.count(), arguments.output.quiet);
    let begun = |done| bar.begin(frame.count(), done);
    let found = study.run(&journal, arguments.threads.number, &begun, &|| bar.add(1.0));
    bar.end();
    match (found?, folder) {
        ((_, Some(whole)), Some(mut folder)) => {
            folder.supersede(journal);
            Ok(deliver(whole.into(), &arguments.output, Some(folder))?)
        }
        ((count, _), _) => Ok(format!("{count} {} stand in {}\n", frame.items, journal.display())),
    }
}

/// Joins the journals of all parts of a long study.
pub fn gather(arguments: &Gather) -> Result<String, Error> {
    let (script, settings) = arguments.subject.read()?;
    let first = journal::heading(&arguments.journals[0])?;
    let request = Request::of(&script, &settings, limits(arguments.no_skip));
    let Study::Long(study) = asked(&request, first.part, &mut |printed| print(&printed))? else {
        return Err(not_divided(&script).into());
    };
    let folder = prepare(&arguments.output)?;
    Ok(deliver(study.gather(&arguments.journals)?.into(), &arguments.output, folder)?)
}

/// Checks a script without running it.
pub fn check(arguments: &Check) -> Result<String, Error> {
    let (script, settings) = arguments.subject.read()?;
    let request = Request::of(&script, &settings, Limits::default());
    let outlined = outline(&request, &mut |printed| print(&printed));
    if let (Some(new), Err(StudyError::Script(refused))) = (&arguments.corrected, &outlined)
        && let Some(corrections) = refused.corrections().filter(|corrections| corrections.left.is_empty())
    {
        place::write_new(new, corrections.text.as_bytes())?;
        return Ok(format!("Wrote {}: {}\n", new.display(), corrections.written()));
    }
    let (title, lines) = outlined?;
    if let Some(new) = &arguments.corrected {
        let why = "the script is in order: nothing is to be corrected, and nothing was written";
        return Err(Refusal::of_command(format!("--corrected {}: {why}", new.display())).into());
    }
    let lines: String = lines.iter().map(|line| set_in(line, 2, 4)).collect();
    if let Some((least, most)) = lasts(&request)? {
        let soon = || "less than a second".to_owned();
        let times = if most < 1.0 { soon() } else { format!("about {}", say::times(least.max(1.0), most)) };
        print(&[format!("note: a run takes {times} on this machine, figures apart")]);
    }
    Ok(format!("{}{lines}The script is in order.\n", set_in(&title, 0, 0)))
}

fn limits(no_skip: bool) -> Limits {
    let mut limits = Limits::default();
    if no_skip {
        limits.skipping.tolerance = 0.0;
    }
    limits
}
