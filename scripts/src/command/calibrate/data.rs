//! Measurements, read and matched with the duties under which they were made.

use crate::command::calibrate::arguments::{Calibrate, RunningIn};
use crate::command::calibrate::subject::Subject;
use crate::command::terminal::print;
use crate::language::limits::Limits;
use crate::read::hash::hash;
use crate::read::inspections::{inspections, thermometers};
use crate::read::refusal::Refusal;
use crate::read::script::Script;
use crate::read::units::{maybe, nearest};
use crate::read::{file, quantity};
use crate::study::study_error::StudyError;
use slipsoak_engine::calibrate::{
    Inspected, Logged, Problem, Quantity, Source, When, learnable, setting, temperatures,
};
use slipsoak_engine::names::{IdleKind, distinct};
use slipsoak_engine::parts::{Dimension, Parameter, settings};
use slipsoak_engine::units::HOUR;
use slipsoak_plots::words::say::time;
use std::path::Path;

/// The calibration problem of a command, and the sources of its data.
pub(crate) fn gathered(
    script: &Script,
    subject: &Subject,
    asked: &Calibrate,
) -> Result<(Problem, Vec<Source>), StudyError> {
    let fades = quantity::read_near(&asked.running_in_time, Dimension::Time, Some(5.0 * HOUR))
        .map_err(|why| Refusal::new(format!("--running-in-time: {why}")))?;
    let mut problem = Problem::new(subject.variant.machine.clone(), vec![], (fades, Limits::default().skipping));
    problem.dropped = asked.running_in == RunningIn::Drop;
    let mut sources = vec![];
    for path in &asked.inspections {
        add_inspections(&mut problem, &mut sources, path, (script, subject))?;
    }
    for path in &asked.logs {
        let (file, text) = file::named(path, file::Kind::Table)?;
        let (channels, notes) = thermometers(&file, &text)?;
        print(&notes);
        let source = if asked.log_duty.is_some() { "--log-duty" } else { &file };
        let (duty, segments) = subject.duty(script, (source, asked.log_duty.as_deref()), false)?;
        let used = channels.iter().map(|c| c.readings).sum();
        sources.push(Source { file: file.clone(), hash: hash(&text), duty: duty.clone(), used, set_aside: 0 });
        problem.logged.push(Logged { file, duty, segments, channels });
    }
    if sources.is_empty() {
        let why = "there is nothing to learn from: give --inspections FILE.csv or --log FILE.csv";
        return Err(Refusal::of_command(why).into());
    }
    held_as_shown(&mut problem)?;
    let all: Vec<Quantity> = problem.inspected.iter().flat_map(|g| &g.reads).map(|r| r.quantity).collect();
    let read: Vec<Quantity> = Quantity::ALL.into_iter().filter(|quantity| all.contains(quantity)).collect();
    if !problem.dropped {
        problem.running_in = read.iter().copied().filter(|quantity| quantity.row().running_in != 0.0).collect();
    }
    problem.sought = sought(&mut problem, &asked.fit, &read)?;
    Ok((problem, sources))
}

/// Adds a table of inspections, one group for each duty; readings during running-in are left out if running-in is
/// dropped.
fn add_inspections(
    problem: &mut Problem,
    sources: &mut Vec<Source>,
    path: &Path,
    (script, subject): (&Script, &Subject),
) -> Result<(), StudyError> {
    let (file, text) = file::named(path, file::Kind::Table)?;
    let (groups, notes) = inspections(&file, &text, &subject.variant.machine)?;
    print(&notes);
    for (duty, mut reads) in groups {
        let (duty, block) = subject.duty(script, (&file, duty.as_deref()), true)?;
        let whole = reads.len();
        if problem.dropped {
            let early = |when: When| matches!(when, When::Running(time) if time < 3.0 * problem.fades);
            reads.retain(|r| r.quantity.row().running_in == 0.0 || !early(r.when));
        }
        let (used, set_aside) = (reads.len() as u64, (whole - reads.len()) as u64);
        sources.push(Source { file: file.clone(), hash: hash(&text), duty: duty.clone(), used, set_aside });
        problem.inspected.push(Inspected { duty, block, reads });
    }
    Ok(())
}

/// Refuses logs that are too long. If constants were requested by name, sets aside the readings that none of them
/// affects.
pub(crate) fn sifted(problem: &mut Problem, sources: &mut [Source], asked: &Calibrate) -> Result<(), StudyError> {
    too_long(problem)?;
    if !asked.fit.is_empty() {
        for (source, taken) in sources.iter_mut().zip(problem.set_aside_unmoved()?) {
            (source.used, source.set_aside) = (source.used - taken, source.set_aside + taken);
        }
    }
    Ok(())
}

/// Takes the kind of idle that the drops show, where the machine does not state it; refuses a machine that states another.
fn held_as_shown(problem: &mut Problem) -> Result<(), Refusal> {
    let Some(shown) = problem.idle_shown() else { return Ok(()) };
    let stated = problem.machine.idle_kind;
    if stated != IdleKind::Unstated && stated != shown {
        return Err(Refusal::new(format!(
            "the drops of the idle are those of a {shown} idle, but the machine says \"idle_kind\": \"{stated}\"; correct it there, or check the drag and the unit of the drops"
        )));
    }
    problem.machine.idle_kind = shown;
    Ok(())
}

/// The constants to learn: the requested ones, or those that the columns suggest.
fn sought(problem: &mut Problem, given: &[String], read: &[Quantity]) -> Result<Vec<&'static Parameter>, StudyError> {
    let learnable = || learnable().map(|l| l.0.path);
    let named = |path: &String| {
        setting(path).ok_or_else(|| {
            let near = maybe(nearest(path, learnable()).as_deref());
            let known = learnable().collect::<Vec<_>>().join(", ");
            Refusal::of_command(format!("--fit {path}: that cannot be learned{near}; these can: {known}"))
        })
    };
    let mut all = given.iter().map(named).collect::<Result<Vec<_>, _>>()?;
    if given.is_empty() {
        for quantity in read {
            all.push(problem.taught_best(*quantity)?.unwrap_or(quantity.row().teaches[0]));
        }
        all.extend((!problem.logged.is_empty()).then_some(&settings::heat::convection));
    }
    let all = distinct(all);
    match all.iter().find(|p| (p.of)(&problem.machine) <= 0.0) {
        Some(p) => Err(Refusal::new(format!(
            "--fit {}: it is 0 in this machine, and a logarithm is fitted; set it above 0 with `having` first",
            p.path
        ))
        .into()),
        None => Ok(all),
    }
}

/// Refuses a log that is longer than its duty.
fn too_long(problem: &Problem) -> Result<(), StudyError> {
    for log in &problem.logged {
        let last = log.channels.iter().filter_map(|c| c.stretches.last()?.times.last()).copied().fold(0.0, f64::max);
        let curve = temperatures(log, problem.machine.clone())?;
        let end = curve.iter().filter_map(|c| c.last()).map(|p| p.0).fold(0.0, f64::max);
        if last > end + 60.0 {
            let (file, duty, last, end) = (&log.file, &log.duty, time(last), time(end));
            return Err(Refusal::new(format!(
                "{file} goes on for {last}, but the duty `{duty}` ends after {end}: what did the clutch do after that?"
            ))
            .into());
        }
    }
    Ok(())
}
