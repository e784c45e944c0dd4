//! A recorded ride, followed by the rider of a machine: its launches and what each cost the lining.

use crate::arguments;
use crate::diagnose::Trouble;
use crate::output::{self, Folder};
use crate::recording::{self, Report};
use crate::sheet;
use crate::table::{CAUTIONS, both};
use crate::units::short;
use serde::Serialize;
use slipsoak_engine::duty::{End, Segment, Task, Trace};
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation, channels};
use slipsoak_plots::Launches;
use std::fmt::Write as _;
use std::fs;
use std::sync::Arc;

/// Windows that are kept: a quarter of a second each in the first hour and a half.
const WINDOWS: usize = 20_000;

/// One launch from standstill.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Launch {
    /// the vehicle sets off, s
    pub time: f64,
    /// how long the clutch slipped from its engagement on, s
    pub slipped: f64,
    /// slip heat in that time, J
    pub energy: f64,
    /// whether it locked before it stopped or let go again
    pub locked: bool,
}

/// A recorded ride on one machine.
#[derive(Clone, Debug, Serialize)]
pub struct Retraced {
    /// the machine
    pub machine: String,
    /// what cleaning did
    pub recording: Report,
    /// launches
    pub launches: Vec<Launch>,
    /// slip heat of the launches and of the whole ride, J
    pub heat: (f64, f64),
    /// distance that the machine covered, m
    pub distance: f64,
    /// hottest lining, K
    pub lining: f64,
    /// (least, most, launches) of each class of energy, J
    pub classes: Vec<(f64, f64, u64)>,
    /// (time s, wanted m/s, ridden m/s)
    pub speeds: Vec<(f64, f64, f64)>,
}

/// Does what `slipsoak retrace` asks.
pub fn perform(asked: &arguments::Retrace) -> Result<String, Trouble> {
    let folder = asked.out.as_deref().map(|out| Folder::prepare(out, asked.replace)).transpose()?;
    let text = fs::read_to_string(&asked.recording)
        .map_err(|e| Trouble::Unreadable { path: asked.recording.clone(), why: e.to_string() })?;
    let file = asked.recording.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    let (trace, report) = recording::read(&file, &text)?;
    let machine = sheet::machine(&arguments::Sheet {
        part: asked.machine.clone(),
        json: false,
        settings: asked.settings.clone(),
    })?;
    let told = report.lines(&file).join("\n");
    let options = Options { windows: WINDOWS, ..Options::default() };
    let mut simulation = Simulation::new(machine.clone(), options)?;
    let end = End::After(report.duration);
    let shared = Arc::new(trace);
    simulation.perform(&Segment::Ride(Task::Follow(Arc::clone(&shared)), end))?;
    let run = simulation.finish(&machine.name, &file)?;
    let ride = retraced(&run, &shared, report);
    if let Some(folder) = folder {
        folder.write("retraced.json", output::json(&ride).as_bytes())?;
        folder.write("cleaned.csv", csv(&shared).as_bytes())?;
        if !asked.no_pictures {
            let undrawn = |e: slipsoak_plots::DrawError| output::Unwritten::Undrawn {
                figure: "launches".to_owned(),
                why: e.to_string(),
            };
            let shown = Launches { speeds: &ride.speeds, classes: &ride.classes };
            let drawing =
                slipsoak_plots::draw_launches(&format!("{file} on the {}", ride.machine), &shown).map_err(undrawn)?;
            folder.write("launches.svg", drawing.svg.as_bytes())?;
            folder.write("launches.png", &drawing.png().map_err(undrawn)?)?;
        }
        folder.finish()?;
    }
    Ok(if asked.json { output::json(&ride) } else { format!("{told}\n{}", ride.text()) })
}

/// A trace as `trace(…)` reads it.
fn csv(trace: &Trace) -> String {
    let mut text = String::from("time [s],speed [km/h]\n");
    for (time, speed) in &trace.points {
        let _ = writeln!(text, "{},{}", short(*time), short(3.6 * speed));
    }
    text
}

fn retraced(run: &Run, trace: &Trace, recording: Report) -> Retraced {
    let column = |name: &str| channels().iter().position(|c| c.name == name).unwrap_or(0);
    let (slip, pace) = (column("slip power"), column("vehicle speed"));
    let ends = &run.windows.end;
    let starts = || std::iter::once(0.0).chain(ends.iter().copied());
    let windows: Vec<(f64, f64, f64)> =
        starts().zip(ends).zip(&run.windows.mean).map(|((a, b), row)| (a, *b, row[slip])).collect();
    let heat = |from: f64, to: f64| -> f64 {
        windows.iter().map(|(a, b, power)| power * (b.min(to) - a.max(from)).max(0.0)).sum()
    };
    let launches: Vec<Launch> = spans(run)
        .into_iter()
        .map(|(from, time, to, locked)| Launch { time, slipped: to - from, energy: heat(from, to), locked })
        .collect();
    let speeds = windows.iter().zip(&run.windows.mean).map(|((a, b, _), row)| {
        let middle = f64::midpoint(*a, *b);
        (middle, crate::learning::along(&trace.points, middle), row[pace])
    });
    Retraced {
        machine: run.variant.clone(),
        recording,
        heat: (launches.iter().map(|l| l.energy).sum(), heat(0.0, run.duration)),
        distance: run.distance,
        lining: run.overall.most.get(column("lining surface")).copied().unwrap_or(f64::NAN),
        classes: classes(&launches),
        launches,
        speeds: speeds.collect(),
    }
}

/// Of each launch: engagement, setting off, end of slipping, and whether it locked.
fn spans(run: &Run) -> Vec<(f64, f64, f64, bool)> {
    let mut all = vec![];
    let (mut engaged, mut under_way): (Option<f64>, Option<(f64, f64)>) = (None, None);
    for event in &run.events {
        match event.what.as_str() {
            "engages" => engaged = Some(event.time),
            "sets off" => under_way = Some((engaged.unwrap_or(event.time), event.time)),
            "locks" | "stops" | "releases" => {
                if let Some((from, time)) = under_way.take() {
                    all.push((from, time, event.time, event.what == "locks"));
                }
                if event.what == "releases" {
                    engaged = None;
                }
            }
            _ => {}
        }
    }
    all.extend(under_way.map(|(from, time)| (from, time, run.duration, false)));
    all
}

/// Classes of equal width on round numbers, about as many as the root of the launches.
fn classes(launches: &[Launch]) -> Vec<(f64, f64, u64)> {
    let most = launches.iter().map(|l| l.energy).fold(0.0, f64::max);
    if launches.is_empty() || most <= 0.0 {
        return vec![];
    }
    let about = (launches.len() as f64).sqrt().clamp(5.0, 15.0);
    let power = 10f64.powf((most / about).log10().floor());
    let width =
        [1.0, 2.0, 5.0, 10.0].map(|m| m * power).into_iter().find(|w| *w * about >= most).unwrap_or(10.0 * power);
    let count = (most / width).floor() as usize + 1;
    let mut all: Vec<(f64, f64, u64)> = (0..count).map(|k| (k as f64 * width, (k + 1) as f64 * width, 0)).collect();
    for l in launches {
        all[((l.energy / width) as usize).min(count - 1)].2 += 1;
    }
    all
}

impl Retraced {
    /// For the terminal.
    fn text(&self) -> String {
        let mut text = format!("{}: {} launches from standstill\n", self.machine, self.launches.len());
        let most = self.classes.iter().map(|c| c.2).max().unwrap_or(1).max(1);
        for (from, to, count) in &self.classes {
            let bar = "#".repeat((40 * count).div_ceil(most) as usize);
            let _ = writeln!(text, "  {:>6} to {:>6} kJ {:>4}  {bar}", short(from / 1e3), short(to / 1e3), count);
        }
        let open = self.launches.iter().filter(|l| !l.locked).count();
        if open > 0 {
            let _ = writeln!(
                text,
                "  {open} of them never locked: ridden below the lock speed, the clutch slips all the way"
            );
        }
        let (launch, whole) = self.heat;
        let _ = writeln!(
            text,
            "slip heat: {:.1} kJ in launches, {:.1} kJ in the whole ride of {:.0} m; lining peak {}",
            launch / 1e3,
            whole / 1e3,
            self.distance,
            both(self.lining)
        );
        text + CAUTIONS + "\n"
    }
}
