//! Learns constants from worn parts and thermocouple logs.

mod data;
mod fitted;
mod forecast;
mod further;
mod pace;
mod subject;
mod unlearned;

pub use unlearned::Unlearned;

use crate::arguments;
use crate::diagnose::{Script, Trouble};
use crate::learned::printed;
use crate::output::{self, Folder, Saved};
use crate::study::pool;
use pace::Pace;
use slipsoak_engine::calibrate::{Told, evidence};
use slipsoak_plots::Look;
use slipsoak_plots::report::Page;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Does what `slipsoak calibrate` asks.
pub fn perform(asked: &arguments::Calibrate) -> Result<String, Trouble> {
    let folder = asked.out.as_deref().map(|out| Folder::prepare(out, asked.replace)).transpose()?;
    let script = Script::read(&asked.script)?;
    let settings: BTreeMap<String, f64> = asked.settings.iter().cloned().collect();
    let told = learn(&script, &settings, asked)?;
    let mut text = if asked.json { output::json(&told) } else { printed(&told) };
    if let Some(folder) = folder {
        folder.write("calibration.json", output::json(&told.calibration).as_bytes())?;
        folder.write("told.json", output::whole_json(&told, &told.calibration.machine)?.as_bytes())?;
        if !asked.no_pictures {
            let saved = Saved::Told(Box::new(told.clone()));
            output::write_figures(&folder, &saved, &saved.figures(), &Look::default())?;
        }
        if asked.report {
            output::write_page(&folder, &Page::of_calibration(&told))?;
        }
        let wrote = folder.finish()?;
        if !asked.json {
            text += &wrote;
        }
    }
    Ok(text)
}

/// Reads the data, fits, and tells what came of it.
pub fn learn(script: &Script, settings: &BTreeMap<String, f64>, asked: &arguments::Calibrate) -> Result<Told, Trouble> {
    let subject = subject::subject(script, settings)?;
    let (mut problem, mut sources) = data::gathered(script, &subject, asked)?;
    let pace = Arc::new(Pace::of(&problem, asked));
    let tried = Arc::clone(&pace);
    problem.watch(move || tried.tried());
    let (calibration, evidence) = pool(asked.threads)?.install(|| {
        pace.sifting();
        data::sifted(&mut problem, &mut sources, asked)?;
        pace.fitting();
        let solution = fitted::solved(&problem, asked)?;
        let calibration = fitted::calibration(&solution, (script, &subject), sources);
        Ok::<_, Trouble>((calibration, evidence(&problem, &solution.fitted)?))
    })?;
    let lives = |clutches| {
        pace.living(2 * clutches);
        forecast::forecast((script, settings), &subject, &calibration, (clutches, asked.seed), asked.threads, &|| {
            pace.tried();
        })
    };
    let forecast = asked.forecast.map(lives).transpose()?;
    Ok(Told {
        title: subject.title,
        script_text: script.text.clone(),
        parameters: subject.parameters,
        command: command(script, asked),
        calibration,
        evidence,
        forecast,
    })
}

/// The command that gives the same again, paths as they were typed.
fn command(script: &Script, asked: &arguments::Calibrate) -> Vec<String> {
    let mut words: Vec<String> = vec!["slipsoak".into(), "calibrate".into(), script.path.display().to_string()];
    let mut say = |option: &str, value: String| words.extend([format!("--{option}"), value]);
    let name = |path: &Path| path.display().to_string();
    asked.inspections.iter().for_each(|path| say("inspections", name(path)));
    asked.logs.iter().for_each(|path| say("log", name(path)));
    asked.log_duty.iter().for_each(|duty| say("log-duty", duty.clone()));
    asked.fit.iter().for_each(|path| say("fit", path.clone()));
    say("running-in", asked.running_in.clone());
    say("running-in-time", asked.running_in_time.clone());
    say("searches", asked.searches.to_string());
    say("seed", asked.seed.to_string());
    asked.forecast.iter().for_each(|clutches| say("forecast", clutches.to_string()));
    asked.settings.iter().for_each(|(name, value)| say("set", format!("{name}={value}")));
    words
}
