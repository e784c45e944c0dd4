//! The command `calibrate`: learns constants from worn parts and thermocouple logs.

pub mod arguments;
mod data;
mod forecast;
mod further;
mod pace;
mod subject;

use crate::command::calibrate::arguments::{Calibrate, RunningIn};
use crate::command::deliver::{deliver, prepare};
use crate::command::terminal::{print, width};
use crate::error::Error;
use crate::language::limits::Limits;
use crate::read::script::Script;
use crate::study::head::{Asking, command, head};
use crate::study::request::{Request, pool};
use crate::study::study_error::StudyError;
use pace::{Pace, Stage};
use slipsoak_engine::calibrate::{Calibration, Told, evidence};
use slipsoak_engine::document::{Is, Saved};
use slipsoak_plots::page::Page;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Performs `slipsoak calibrate`.
pub fn perform(asked: &Calibrate) -> Result<String, Error> {
    let folder = prepare(&asked.output)?;
    let (script, settings) = asked.subject.read()?;
    if asked.compare {
        return Ok(compared(&script, &settings, asked)?);
    }
    let told = learn(&script, &settings, asked)?;
    Ok(deliver(Saved::from(told).into(), &asked.output, folder)?)
}

/// Compares the machine as it is with the data.
fn compared(script: &Script, settings: &BTreeMap<String, f64>, asked: &Calibrate) -> Result<String, StudyError> {
    let request = Request::of(script, settings, Limits::default());
    let subject = subject::subject(&request, &mut |printed| print(&printed))?;
    let (mut problem, _) = data::gathered(script, &subject, asked)?;
    (problem.sought, problem.running_in) = (vec![], vec![]);
    let misfits = pool(asked.threads.number)?.install(|| problem.compare())?;
    let page = Page::of_comparison(&subject.title, &subject.variant.name, &misfits);
    Ok(page.text(width(), asked.output.details))
}

/// Reads the data, fits, and reports.
pub fn learn(script: &Script, settings: &BTreeMap<String, f64>, asked: &Calibrate) -> Result<Told, StudyError> {
    let request = Request::of(script, settings, Limits::default());
    let subject = subject::subject(&request, &mut |printed| print(&printed))?;
    let (mut problem, mut sources) = data::gathered(script, &subject, asked)?;
    let pace = Arc::new(Pace::of(&problem, asked));
    let tried = Arc::clone(&pace);
    problem.watch(move || tried.tried());
    let asking = Asking { script, title: &subject.title, parameters: &subject.parameters };
    let head = head(again(script, asked), Some(asking), vec![asked.seed]);
    let (calibration, evidence) = pool(asked.threads.number)?.install(|| {
        pace.stage(Stage::Sifting);
        data::sifted(&mut problem, &mut sources, asked)?;
        pace.stage(Stage::Fitting);
        let solution = problem.solve(asked.searches, asked.seed).map_err(|why| further::refused(why, &sources))?;
        let evidence = evidence(&problem, &solution.fitted)?;
        let calibration = Calibration {
            kind: Is::default(),
            head,
            machine: subject.variant.machine.name.clone(),
            lining_kind: subject.variant.machine.lining_kind,
            data: sources,
            idle_kind: problem.idle_shown(),
            constants: solution.constants,
            correlation: solution.correlation,
            running_in: solution.running_in,
            thermocouples: solution.thermocouples,
            quality: solution.quality,
        };
        Ok::<_, StudyError>((calibration, evidence))
    })?;
    let lives = |clutches| {
        pace.stage(Stage::Living);
        forecast::forecast(&request, &subject, &calibration, (clutches, asked.seed), asked.threads.number, &|| {
            pace.tried();
        })
    };
    let forecast = asked.forecast.map(lives).transpose()?;
    Ok(Told { kind: Is::default(), calibration, evidence, forecast })
}

/// The command that gives the same result again, with paths as typed.
fn again(script: &Script, asked: &Calibrate) -> Vec<String> {
    let mut words = vec![];
    let mut say = |option: &str, value: String| words.extend([format!("--{option}"), value]);
    let name = |path: &Path| path.display().to_string();
    asked.inspections.iter().for_each(|path| say("inspections", name(path)));
    asked.logs.iter().for_each(|path| say("log", name(path)));
    asked.log_duty.iter().for_each(|duty| say("log-duty", duty.clone()));
    asked.fit.iter().for_each(|path| say("fit", path.clone()));
    say("running-in", if asked.running_in == RunningIn::Drop { "drop" } else { "fit" }.to_owned());
    say("running-in-time", asked.running_in_time.clone());
    say("searches", asked.searches.to_string());
    say("seed", asked.seed.to_string());
    asked.forecast.iter().for_each(|clutches| say("forecast", clutches.to_string()));
    let set = asked.subject.settings.iter().map(|(name, value)| (name, value.to_string()));
    command("calibrate", script.path.display().to_string(), set, words)
}
