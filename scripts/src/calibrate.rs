//! Learns constants from worn parts and thermocouple logs.

use crate::arguments;
use crate::calibration;
use crate::columns::Unreadable;
use crate::diagnose::{Script, Trouble};
use crate::inspections::{inspections, thermometers};
use crate::interpreter::{Interpreter, Limits};
use crate::learned::printed;
use crate::learning::{self, Inspected, Lesson, Logged, NINETY_FIVE};
use crate::output::{self, Folder, Saved};
use crate::plan::{Pair, Variant};
use crate::study::{hash, pool};
use crate::units::{self, maybe, nearest, show};
use rayon::prelude::*;
use slipsoak_engine::calibrate::{
    Calibration, Effort, Evidence, Fitted, Forecast, Inseparable, Learned, Noise, Quality, Quantity, Reading,
    RunningIn, Source, Told, Unfitted, When, fit, separate,
};
use slipsoak_engine::duty::Segment;
use slipsoak_engine::fleet::{Outcome, Uncertain, sample};
use slipsoak_engine::parts::{Dimension, Machine, Parameter};
use slipsoak_engine::statistics::{Bounds, percentile};
use slipsoak_plots::Look;
use slipsoak_plots::report::Page;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use thiserror::Error;

/// What slopes by differences of simulated runs are exact to.
const ANGLE: f64 = 0.02;
/// Points of a curve of the evidence.
const CURVE: usize = 25;

/// Why nothing is learned.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum Unlearned {
    /// the data
    #[error(transparent)]
    Data(#[from] Unreadable),
    /// no data
    #[error("there is nothing to learn from: give --inspections FILE.csv or --log FILE.csv")]
    NoData,
    /// a constant that cannot be learned
    #[error("--fit {given}: that cannot be learned{}; these can: {known}", maybe(suggestion.as_deref()))]
    Path { given: String, known: String, suggestion: Option<String> },
    /// a constant that is zero
    #[error("--fit {path}: it is 0 in this machine, and a logarithm is fitted; set it above 0 with `having` first")]
    Zero { path: String },
    /// no such duty
    #[error("{what}, and {script} has no such duty with its first machine; its duties: {known}")]
    Duty { what: String, script: String, known: String },
    /// a duty that reads the ride
    #[error(
        "the duty `{duty}` reads the ride as it goes; to learn from worn parts its entries have to be known beforehand: leave out what asks for temperatures, fill or clock"
    )]
    Reading { duty: String },
    /// a log longer than its duty
    #[error(
        "{file} goes on for {log}, but the duty `{duty}` ends after {end}: what was the clutch put through after that?"
    )]
    LogTooLong { file: String, duty: String, log: String, end: String },
    /// the data do not tell
    #[error("{0}. What would tell: {1}")]
    Inseparable(Inseparable, String),
    /// a constant at the end of its range
    #[error(
        "the data push {path} to {value}, the end of what it can be: they contradict this machine under this duty; check their units, the duty and its name, and what else differed"
    )]
    AtItsEnd { path: String, value: String },
    /// no fit
    #[error("{0}")]
    Unfitted(String),
}

impl Unlearned {
    /// 2 where the command line is wrong, 1 where a value is.
    pub fn exit_code(&self) -> u8 {
        if matches!(self, Self::NoData | Self::Path { .. }) { 2 } else { 1 }
    }
}

impl From<Unlearned> for Trouble {
    fn from(unlearned: Unlearned) -> Self {
        Self::Learning(Box::new(unlearned))
    }
}

/// The first machine of a script and its duties: name, entries, and until when they are repeated.
struct Subject {
    title: String,
    parameters: BTreeMap<String, f64>,
    variant: Variant,
    duties: Vec<(String, Option<Vec<Segment>>, Option<f64>)>,
}

fn subject(script: &Script, settings: &BTreeMap<String, f64>) -> Result<Subject, Trouble> {
    pool(Some(1))?.install(|| {
        let interpreter = Interpreter::new(script, settings, Limits::default())?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        let variant = plan.pairs[0].variant.clone();
        let mut duties = vec![];
        for pair in plan.pairs.iter().filter(|p| p.variant.name == variant.name) {
            let entries = interpreter.record(pair)?.map(|e| e.into_iter().map(|(segment, _)| segment).collect());
            duties.push((pair.duty.name.clone(), entries, pair.duty.until));
        }
        Ok(Subject { title: plan.title, parameters: interpreter.parameters(), variant, duties })
    })
}

impl Subject {
    /// A duty by its name, or the first that is repeated or is not.
    fn duty(&self, script: &Script, name: Option<&str>, repeated: bool) -> Result<(String, Vec<Segment>), Trouble> {
        let kind = |d: &&(String, Option<Vec<Segment>>, Option<f64>)| d.2.is_some() == repeated;
        let found = match name {
            Some(name) => self.duties.iter().find(|d| d.0 == name),
            None => self.duties.iter().find(kind),
        };
        let Some((duty, entries, _)) = found else {
            let what = match name {
                Some(name) => format!("the data name the duty `{name}`"),
                None if repeated => "inspections need a duty that is `.repeated(…)`".to_owned(),
                None => "a log needs a duty that is not repeated".to_owned(),
            };
            let known = self.duties.iter().map(|d| d.0.clone()).collect::<Vec<_>>().join(", ");
            return Err(Unlearned::Duty { what, script: script.name.clone(), known }.into());
        };
        let entries = entries.clone().ok_or_else(|| Unlearned::Reading { duty: duty.clone() })?;
        Ok((duty.clone(), entries))
    }
}

fn read(path: &Path) -> Result<(String, String), Trouble> {
    let text =
        fs::read_to_string(path).map_err(|e| Trouble::Unreadable { path: path.to_owned(), why: e.to_string() })?;
    Ok((path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned()), text))
}

/// Does what `slipsoak calibrate` asks.
pub fn perform(asked: &arguments::Calibrate) -> Result<String, Trouble> {
    let folder = asked.out.as_deref().map(|out| Folder::prepare(out, asked.replace)).transpose()?;
    let script = Script::read(&asked.script)?;
    let settings: BTreeMap<String, f64> = asked.settings.iter().cloned().collect();
    let told = learn(&script, &settings, asked)?;
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
        folder.finish()?;
    }
    Ok(if asked.json { output::json(&told) } else { printed(&told) })
}

/// Reads the data, fits, and tells what came of it.
pub fn learn(script: &Script, settings: &BTreeMap<String, f64>, asked: &arguments::Calibrate) -> Result<Told, Trouble> {
    let fades = units::read(&asked.running_in_time, Dimension::Time)
        .map_err(|source| Trouble::Quantity { path: "running-in-time".to_owned(), source })?;
    let subject = subject(script, settings)?;
    let machine = subject.variant.machine.clone();
    let mut lesson = Lesson::new(machine, vec![], (fades, Limits::default().skipping));
    lesson.dropped = asked.running_in == "drop";
    let mut sources = vec![];
    for path in &asked.inspections {
        let (file, text) = read(path)?;
        for (duty, mut reads) in inspections(&file, &text).map_err(Unlearned::from)? {
            let (duty, block) = subject.duty(script, duty.as_deref(), true)?;
            let whole = reads.len();
            if lesson.dropped {
                let early = |when: When| matches!(when, When::Running(time) if time < 3.0 * fades);
                reads.retain(|r| r.quantity.manner().running_in == 0.0 || !early(r.when));
            }
            let (used, set_aside) = (reads.len() as u64, (whole - reads.len()) as u64);
            sources.push(Source { file: file.clone(), hash: hash(&text), duty: duty.clone(), used, set_aside });
            lesson.inspected.push(Inspected { duty, block, reads });
        }
    }
    for path in &asked.logs {
        let (file, text) = read(path)?;
        let channels = thermometers(&file, &text).map_err(Unlearned::from)?;
        let (duty, segments) = subject.duty(script, asked.log_duty.as_deref(), false)?;
        let used = channels.iter().map(|c| c.readings).sum();
        sources.push(Source { file: file.clone(), hash: hash(&text), duty: duty.clone(), used, set_aside: 0 });
        lesson.logged.push(Logged { file, duty, segments, channels });
    }
    if sources.is_empty() {
        return Err(Unlearned::NoData.into());
    }
    let mut read: Vec<Quantity> = lesson.inspected.iter().flat_map(|g| &g.reads).map(|r| r.quantity).collect();
    read.sort_unstable();
    read.dedup();
    if !lesson.dropped {
        lesson.running_in = read.iter().copied().filter(|q| q.manner().running_in != 0.0).collect();
    }
    lesson.sought = sought(&lesson, &asked.fit, &read)?;
    pool(asked.threads)?
        .install(|| {
            too_long(&lesson)?;
            if !asked.fit.is_empty() {
                for (source, taken) in sources.iter_mut().zip(lesson.set_aside_unmoved()?) {
                    (source.used, source.set_aside) = (source.used - taken, source.set_aside + taken);
                }
            }
            told(&lesson, script, &subject, sources, asked).map(|told| (told, &subject))
        })
        .and_then(|(mut told, subject)| {
            if let Some(clutches) = asked.forecast {
                told.forecast = Some(forecast(
                    script,
                    settings,
                    subject,
                    &told.calibration,
                    (clutches, asked.seed),
                    asked.threads,
                )?);
            }
            Ok(told)
        })
}

fn sought(lesson: &Lesson, given: &[String], read: &[Quantity]) -> Result<Vec<&'static Parameter>, Trouble> {
    let usual = || {
        let worn = read.iter().map(|q| q.manner().teaches.to_owned());
        worn.chain((!lesson.logged.is_empty()).then(|| "heat.convection".to_owned())).collect()
    };
    let mut paths: Vec<String> = if given.is_empty() { usual() } else { given.to_vec() };
    paths.dedup();
    let one = |path: &String| -> Result<&'static Parameter, Trouble> {
        let p = learning::setting(path).ok_or_else(|| Unlearned::Path {
            given: path.clone(),
            known: learning::learnable().map(|l| l.0).collect::<Vec<_>>().join(", "),
            suggestion: nearest(path, learning::learnable().map(|l| l.0)),
        })?;
        if (p.of)(&lesson.machine) > 0.0 { Ok(p) } else { Err(Unlearned::Zero { path: path.clone() }.into()) }
    };
    paths.iter().map(one).collect()
}

/// Refuses a log that goes on after its duty.
fn too_long(lesson: &Lesson) -> Result<(), Trouble> {
    for log in &lesson.logged {
        let last = log.channels.iter().filter_map(|c| c.points.last()).map(|p| p.0).fold(0.0, f64::max);
        let curve = learning::temperatures(log, lesson.machine.clone())?;
        let end = curve.iter().filter_map(|c| c.last()).map(|p| p.0).fold(0.0, f64::max);
        if last > end + 60.0 {
            let (file, duty) = (log.file.clone(), log.duty.clone());
            let (log, end) = (units::duration(last), units::duration(end));
            return Err(Unlearned::LogTooLong { file, duty, log, end }.into());
        }
    }
    Ok(())
}

fn told(
    lesson: &Lesson,
    script: &Script,
    subject: &Subject,
    data: Vec<Source>,
    asked: &arguments::Calibrate,
) -> Result<Told, Trouble> {
    let constants = lesson.constants();
    let starts: Vec<f64> = constants.iter().map(|c| c.start).collect();
    // A running-in depth is no constant that anyone asks for: it may stay as uncertain as it was.
    let mut asked_for = constants.clone();
    asked_for.iter_mut().skip(lesson.sought.len()).for_each(|c| c.known = None);
    let separable = |at: &[f64]| {
        separate(&asked_for, &lesson.columns(at)?, ANGLE).map_err(|e| {
            let further = match &e {
                Inseparable::Alike { one, other, .. } => learning::further(one, other),
                Inseparable::Silent { constant, .. } => {
                    format!("readings of a part or node that {constant} moves, later or more of them; or leave it out with --fit")
                }
            };
            Trouble::from(Unlearned::Inseparable(e, further))
        })
    };
    separable(&starts)?;
    let effort = Effort { starts: asked.searches, seed: asked.seed, tolerance: 1e-6, patience: 12 };
    let fitted = fit(lesson, &constants, effort, Noise::Stated).map_err(|e| match e {
        Unfitted::Unpredicted(failure) => Trouble::from(failure),
        other => Unlearned::Unfitted(other.to_string()).into(),
    })?;
    for (p, value) in lesson.sought.iter().zip(&fitted.values) {
        if !(*value > p.least * 1.001 && *value < p.most * 0.999) {
            let value = show(value.clamp(p.least, p.most), p.dimension);
            return Err(Unlearned::AtItsEnd { path: p.path.to_owned(), value }.into());
        }
    }
    separable(&fitted.values)?;
    let among = among_clutches(lesson, &fitted)?;
    let n = lesson.sought.len();
    // The mean of few clutches is not that of all.
    let error = |k: usize| fitted.errors[k].hypot(among[k].0 / among[k].1.sqrt());
    let correlation = |i: usize, j: usize| {
        let share = |k: usize| if i == j { 1.0 } else { fitted.errors[k] / error(k) };
        fitted.correlation[i][j] * share(i) * share(j)
    };
    let learned = |(k, p): (usize, &&'static Parameter)| {
        let before_factor = learning::learnable().find(|l| l.0 == p.path).map_or(1.0, |l| l.1);
        let factor = |deviation: f64| (NINETY_FIVE * deviation).exp();
        let (differ, error) = (among[k].0, error(k));
        Learned {
            path: p.path.to_owned(),
            unit: p.dimension.unit().to_owned(),
            before: (p.of)(&lesson.machine),
            before_factor,
            value: fitted.values[k],
            factor: factor(error),
            clutches_factor: factor(differ),
            spread: factor(error.hypot(differ)),
            from: sources_of(lesson, p.path),
        }
    };
    let running_in = lesson.running_in.iter().enumerate().map(|(j, q)| RunningIn {
        part: q.manner().name.to_owned(),
        depth: fitted.values[n + j],
        error: fitted.errors[n + j],
    });
    let calibration = Calibration {
        program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
        script: script.name.clone(),
        script_hash: hash(&script.text),
        machine: subject.variant.name.clone(),
        data,
        constants: lesson.sought.iter().enumerate().map(learned).collect(),
        correlation: (0..n).map(|i| (0..n).map(|j| correlation(i, j)).collect()).collect(),
        running_in: running_in.collect(),
        quality: Quality {
            sum: fitted.sum,
            freedom: fitted.freedom as u64,
            widened: fitted.widened,
            searches: fitted.starts,
            seed: asked.seed,
        },
    };
    let evidence = evidence(lesson, &fitted)?;
    Ok(Told {
        title: subject.title.clone(),
        script_text: script.text.clone(),
        parameters: subject.parameters.clone(),
        command: command(script, asked),
        calibration,
        evidence,
        forecast: None,
    })
}

/// The command that gives the same again, from files in one folder.
fn command(script: &Script, asked: &arguments::Calibrate) -> Vec<String> {
    let mut words: Vec<String> = vec!["slipsoak".into(), "calibrate".into(), script.name.clone()];
    let mut say = |option: &str, value: String| words.extend([format!("--{option}"), value]);
    let name = |path: &Path| path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
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
    say("out", "result".to_owned());
    words.push("--report".to_owned());
    words
}

/// What was measured that moves a setting.
fn sources_of(lesson: &Lesson, path: &str) -> Vec<String> {
    let mut from: Vec<String> = vec![];
    for quantity in Quantity::ALL {
        let manner = quantity.manner();
        let part = path.split('.').next().unwrap_or_default();
        let own = manner.teaches == path || manner.teaches.split('.').next() == Some(part);
        if own && lesson.inspected.iter().flat_map(|g| &g.reads).any(|r| r.quantity == quantity) {
            from.push(manner.name.to_owned());
        }
    }
    if path.starts_with("heat.") {
        from.extend(lesson.logged.iter().flat_map(|l| &l.channels).map(|c| format!("{} (log)", c.node)));
    }
    from
}

/// Standard deviation of each constant's logarithm from clutch to clutch, by the method of moments: the variance of the
/// clutches' own best values less what their readings scatter; and how many clutches told it. 0 for fewer than three.
fn among_clutches(lesson: &Lesson, fitted: &Fitted) -> Result<Vec<(f64, f64)>, Trouble> {
    use slipsoak_engine::calibrate::Measured;
    let residuals = lesson.residuals(&fitted.values)?;
    let slopes = lesson.slopes(&fitted.values)?;
    let reads: Vec<&crate::inspections::Read> = lesson.inspected.iter().flat_map(|g| &g.reads).collect();
    let one = |k: usize| {
        let mut own: BTreeMap<&String, (f64, f64)> = BTreeMap::new();
        // Only by what it shows in: what the others leave in theirs is not its doing.
        let shows = reads.iter().zip(residuals.iter().zip(&slopes[k]));
        for (read, (r, slope)) in shows.filter(|(read, _)| read.quantity.manner().teaches == lesson.sought[k].path) {
            let along = slope * fitted.values[k];
            let sums = own.entry(&read.clutch).or_default();
            *sums = (sums.0 - along * r, sums.1 + along * along);
        }
        // Only clutches whose readings say more of it than nothing: known to a factor of e or better.
        let steps: Vec<(f64, f64)> = own.values().filter(|s| s.1 > 1.0).map(|s| (s.0 / s.1, 1.0 / s.1)).collect();
        let count = steps.len() as f64;
        if steps.len() < 3 {
            return (0.0, 1.0);
        }
        let mean = steps.iter().map(|s| s.0).sum::<f64>() / count;
        let seen = steps.iter().map(|s| (s.0 - mean).powi(2)).sum::<f64>() / (count - 1.0);
        let scatter = steps.iter().map(|s| s.1).sum::<f64>() / count;
        ((seen - scatter).max(0.0).sqrt(), count)
    };
    Ok((0..lesson.sought.len()).map(one).collect())
}

/// Charts of data against the fit.
fn evidence(lesson: &Lesson, fitted: &Fitted) -> Result<Vec<Evidence>, Trouble> {
    let starts: Vec<f64> = lesson.constants().iter().map(|c| c.start).collect();
    let residuals = lesson.bare_residuals(&fitted.values)?;
    let machines: Vec<Machine> = [lesson.machine_with(&starts), lesson.machine_with(&fitted.values)]
        .into_iter()
        .chain(lesson.stepped(&fitted.values))
        .collect();
    let band = |shown: &[f64]| -> f64 {
        // Slopes along the logarithms times errors and their correlation; running-in is left as fitted.
        let slope = |k: usize| (shown[2 + 2 * k] - shown[3 + 2 * k]) / 0.1 * fitted.errors[k];
        let n = lesson.sought.len();
        let terms = (0..n).flat_map(|i| (0..n).map(move |j| (i, j)));
        let variance: f64 = terms.map(|(i, j)| slope(i) * slope(j) * fitted.correlation[i][j]).sum();
        NINETY_FIVE * variance.max(0.0).sqrt()
    };
    let mut all = vec![];
    let levels = lesson.levels();
    // What each reading's clutch lies above the model, best guess.
    let level_of = |index: usize| -> f64 {
        let Some((members, level)) = levels.iter().find(|l| l.0.contains(&index)) else { return 0.0 };
        let mean = members.iter().map(|i| residuals[*i]).sum::<f64>() / members.len() as f64;
        if level.is_finite() {
            let n = members.len() as f64;
            mean * n * level * level / (1.0 + n * level * level)
        } else {
            mean
        }
    };
    let mut index = 0;
    for group in &lesson.inspected {
        let by_launches = group.reads.iter().all(|r| matches!(r.when, When::Launches(_)));
        let when = |at: f64| if by_launches { When::Launches(at) } else { When::Running(at) };
        let probe = lesson.way(group, machines[1].clone(), &[])?;
        let place = |w: When| if by_launches { probe.at(w).launches } else { probe.at(w).running };
        let last = group.reads.iter().map(|r| place(r.when)).fold(0.0, f64::max);
        let places: Vec<f64> = (0..CURVE).map(|k| last * k as f64 / (CURVE - 1) as f64).collect();
        let times: Vec<When> = places.iter().map(|p| when(*p)).collect();
        let ways = machines.par_iter().map(|m| lesson.way(group, m.clone(), &times)).collect::<Result<Vec<_>, _>>()?;
        for quantity in Quantity::ALL {
            let own = |r: &&(usize, &crate::inspections::Read)| r.1.quantity == quantity;
            let reads: Vec<(usize, &crate::inspections::Read)> =
                group.reads.iter().enumerate().map(|(i, r)| (index + i, r)).collect();
            let shift = lesson
                .running_in
                .iter()
                .position(|q| *q == quantity)
                .map_or(0.0, |j| -quantity.manner().running_in.signum() * fitted.values[lesson.sought.len() + j]);
            let readings: Vec<Reading> = reads
                .iter()
                .filter(own)
                .map(|(i, r)| Reading {
                    of: r.clutch.clone(),
                    at: place(r.when),
                    value: r.value + level_of(*i) * r.gauge,
                    scatter: NINETY_FIVE * r.gauge,
                })
                .collect();
            if readings.is_empty() {
                continue;
            }
            let curve = places.iter().zip(&times).map(|(at, when)| {
                let shown: Vec<f64> = ways.iter().map(|way| quantity.of(&way.at(*when))).collect();
                let wide = band(&shown);
                let run = shift * slipsoak_engine::calibrate::run_in(ways[1].at(*when).running, lesson.fades);
                [*at, shown[0], shown[1] + run, shown[1] + run - wide, shown[1] + run + wide]
            });
            let names = lesson.inspected.len() > 1;
            all.push(Evidence {
                name: if names {
                    format!("{}, {}", quantity.manner().name, group.duty)
                } else {
                    quantity.manner().name.to_owned()
                },
                unit: quantity.manner().dimension.unit().to_owned(),
                across: if by_launches { "1" } else { "s" }.to_owned(),
                readings,
                curve: curve.collect(),
            });
        }
        index += group.reads.len();
    }
    for log in &lesson.logged {
        let curves =
            machines.par_iter().map(|m| learning::temperatures(log, m.clone())).collect::<Result<Vec<_>, _>>()?;
        for (c, channel) in log.channels.iter().enumerate() {
            let readings = channel.points.iter().enumerate().map(|(i, (at, value))| Reading {
                of: log.file.clone(),
                at: *at,
                value: value + level_of(index + i) * channel.gauge,
                scatter: NINETY_FIVE * channel.gauge,
            });
            let last = channel.points.last().map_or(0.0, |p| p.0);
            let curve = (0..4 * CURVE).map(|k| last * k as f64 / (4 * CURVE - 1) as f64).map(|at| {
                let shown: Vec<f64> = curves.iter().map(|curve| learning::along(&curve[c], at)).collect();
                let wide = band(&shown);
                [at, shown[0], shown[1], shown[1] - wide, shown[1] + wide]
            });
            let (readings, curve) = (readings.collect(), curve.collect());
            all.push(Evidence { name: channel.node.clone(), unit: "K".into(), across: "s".into(), readings, curve });
            index += channel.points.len();
        }
    }
    Ok(all)
}

/// Lives of a small fleet under the script's first repeated duty, before and after.
fn forecast(
    script: &Script,
    settings: &BTreeMap<String, f64>,
    subject: &Subject,
    calibration: &Calibration,
    (clutches, seed): (u64, u64),
    threads: Option<u16>,
) -> Result<Forecast, Trouble> {
    let (duty, _) = subject.duty(script, None, true)?;
    let after = calibration::applied(&subject.variant, calibration);
    let lives = |variant: &Variant| -> Result<[Bounds; 3], Trouble> {
        let uncertain: Vec<Uncertain> = variant.uncertain();
        let planned = || -> Result<(Interpreter<'_>, Pair), Trouble> {
            let interpreter = Interpreter::new(script, settings, Limits::default())?;
            let plan = interpreter.plan()?;
            let pair = plan.pairs.into_iter().find(|p| p.duty.name == duty).ok_or(Trouble::NoOut)?;
            Ok((interpreter, pair))
        };
        let ends: Result<Vec<Option<f64>>, Trouble> = pool(threads)?.install(|| {
            (0..clutches)
                .into_par_iter()
                .map_init(planned, |own, clutch| {
                    let (interpreter, pair) = own.as_ref().map_err(Clone::clone)?;
                    let mut pair = pair.clone();
                    pair.variant.machine = sample(&variant.machine, &uncertain, seed, clutch);
                    let run = interpreter.perform_unrecorded(&pair).map_err(|e| e.of(format!("clutch {clutch}")))?;
                    let way = run.horizon.clone().unwrap_or_default();
                    Ok(Outcome::of(clutch, &run, &way, pair.duty.until.unwrap_or(0.0)).end)
                })
                .collect()
        });
        let ends = ends?;
        Ok([0.1, 0.5, 0.9].map(|share| percentile(&ends, share, 0.9)))
    };
    let until = subject.duties.iter().find(|d| d.0 == duty).and_then(|d| d.2);
    let (before, after) = (lives(&subject.variant)?, lives(&after)?);
    Ok(Forecast { duty: duty.clone(), clutches, horizon: until.unwrap_or(0.0), before, after })
}
