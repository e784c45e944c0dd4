//! The command `retrace`: a recorded ride followed by the model's rider, with its launches and the slip energy of each.

use crate::command::arguments;
use crate::command::deliver::{Made, deliver, prepare};
use crate::command::machine::machine;
use crate::command::options::Part;
use crate::command::progress::Progress;
use crate::error::Error;
use crate::read::hash::hash;
use crate::read::units::short;
use crate::read::{file, ridelog};
use crate::study::head::{command, head};
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::duty::{End, Segment, Task, Trace};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::retraced::Retraced;
use slipsoak_engine::rides::{classes, followed, launched};
use slipsoak_engine::simulate::{Options, Simulation};
use std::fmt::Write as _;
use std::sync::Arc;

/// Number of windows of the speeds shown: a quarter of a second each in a ride of up to an hour and a half.
const WINDOWS: usize = 20_000;

/// Performs `slipsoak retrace`.
pub fn perform(asked: &arguments::Retrace) -> Result<String, Error> {
    let folder = prepare(&asked.output)?;
    let (file, text) = file::named(&asked.recording, file::Kind::Table)?;
    let (trace, cleaning) = ridelog::read(&file, &text)?;
    let machine = machine(&Part { part: asked.machine.clone(), settings: asked.settings.clone() })?;
    let options = Options { windows: WINDOWS, launches: usize::MAX, ..Options::default() };
    let mut simulation = Simulation::new(machine.clone(), options)?;
    let end = End::After(cleaning.duration);
    let shared = Arc::new(trace);
    let bar = Progress::of("rides", 1, asked.output.quiet);
    let follow = Segment::Ride(Task::Follow(Arc::clone(&shared)), end);
    simulation.perform_watched(&follow, &mut |share| bar.reach(share))?;
    bar.end();
    let (mut launches, slipped) = (simulation.launches(), simulation.slip_energy());
    // To a speed at which the recording begins the model has to get by a launch that nobody recorded.
    launches.drain(..usize::from(cleaning.begins > 0.0).min(launches.len()));
    let (launches, rolled) = launched(launches);
    let run = simulation.finish(&machine.name, &file)?;
    let setting = |p: &Parameter| run.setting(p).unwrap_or(f64::NAN);
    // The command that gives the same result again, with paths as typed.
    let set = asked.settings.iter().map(|(path, value)| (path, value.clone()));
    let machine = ["--machine".to_owned(), asked.machine.display().to_string()];
    let command = command("retrace", asked.recording.display().to_string(), set, machine);
    let ridden = Retraced {
        kind: Is::default(),
        head: head(command, None, vec![]),
        file,
        file_hash: hash(&text),
        machine: run.variant.clone(),
        grade: setting(&settings::surroundings::grade),
        recording: cleaning,
        heat: (launches.iter().map(|l| l.energy).sum(), slipped),
        distance: run.distance,
        lining: Channel::LiningSurface.of(&run.overall.most),
        lining_most: setting(&settings::limits::lining_most),
        lock_speed: run.lock_up_speed().unwrap_or(f64::NAN),
        classes: classes(&launches),
        launches,
        rolled,
        speeds: followed(&run, &shared),
        engagement: run.engages().unwrap_or(f64::NAN),
        idle: setting(&settings::motor::idle),
        idle_kind: run.idle_kind,
        warnings: run.warnings.clone(),
    };
    let beside = vec![("cleaned.csv".to_owned(), csv(&shared))];
    Ok(deliver(Made { beside, ..Made::from(Saved::from(ridden)) }, &asked.output, folder)?)
}

/// A trace in the format of `trace(…)`.
fn csv(trace: &Trace) -> String {
    let mut text = String::from("time [s],speed [km/h]\n");
    for (time, speed) in &trace.points {
        let _ = writeln!(text, "{},{}", short(*time), short(3.6 * speed));
    }
    text
}
