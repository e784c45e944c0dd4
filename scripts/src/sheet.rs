//! The sheet of one machine: what follows from its numbers, and one launch.

use crate::arguments;
use crate::given;
use crate::table::{both, cautions, pairs, turns};
use crate::terminal::strong;
use crate::units::{UNITS, read_near, rpm};
use crate::variant;
use crate::{Trouble, output};
use serde::Serialize;
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::laws::{shoe, stack};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Machine, parameter};
use slipsoak_engine::simulate::{Options, Simulation, balance, capacity};
use std::f64::consts::PI;
use std::path::Path;

/// The sheet, SI.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// machine
    pub name: String,
    /// speed at which the shoes leave their seats, rad/s
    pub lift_off: f64,
    /// speed at which they touch the drum, rad/s
    pub engagement: f64,
    /// idle speed, rad/s
    pub idle: f64,
    /// (motor speed rad/s, torque the clutch can carry N·m)
    pub capacity: Vec<(f64, f64)>,
    /// motor speed at which the slipping clutch takes the full throttle's torque, rad/s; none if it never does
    pub balance: Option<f64>,
    /// lock speed: a lower held speed slips for ever, m/s
    pub lock_speed: f64,
    /// vehicle speed at which the clutch locks at full throttle, m/s
    pub lock: Option<f64>,
    /// gap between drum and cover: nominal, worst, root of sum of squares, m
    pub cover_gap: Stack,
    /// oil that the bushing's pores hold, m³
    pub oil: f64,
    /// the same in drops
    pub oil_drops: f64,
    /// one launch from standstill at full throttle
    pub launch: Launch,
}

/// A gap with its tolerances.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Stack {
    /// nominal, m
    pub nominal: f64,
    /// with every tolerance at its worst, m
    pub worst: f64,
    /// with the tolerances' root of sum of squares, m
    pub likely: f64,
}

/// One launch.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Launch {
    /// to this speed, m/s
    pub speed: f64,
    /// time, s
    pub time: f64,
    /// heat of the slipping lining, J
    pub heat: f64,
    /// hottest lining, K
    pub lining: f64,
}

/// Reads the machine that the command line names.
pub fn machine(arguments: &arguments::Part) -> Result<Machine, Trouble> {
    let mut machine = if arguments.part == Path::new("standard") {
        Machine::default()
    } else {
        let text = given::text(&arguments.part, given::Kind::Part)?;
        let file = arguments.part.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned());
        variant::read(&file, &text)?
    };
    for (path, value) in &arguments.settings {
        let Some(p) = parameter(path) else {
            return Err(variant::unknown(&machine.name, path).into());
        };
        let value = read_near(value, p.dimension, Some((p.of)(&machine)));
        let value = value.map_err(|source| Trouble::Quantity { path: path.clone(), source })?;
        variant::adjust(&mut machine, path, value)?;
    }
    machine.check().map_err(variant::Unfit::from)?;
    Ok(machine)
}

fn launch(machine: &Machine, speed: f64) -> Result<Launch, Trouble> {
    let mut simulation = Simulation::new(machine.clone(), Options::default())?;
    simulation.perform(&Segment::Ride(Task::Idle, End::After(5.0)))?;
    let end = End::Reached { speed, within: 60.0 };
    simulation.perform(&Segment::Ride(Task::Throttle(1.0), end))?;
    let run = simulation.finish(&machine.name, "launch")?;
    let Some(segment) = run.segments.last() else {
        return Ok(Launch { speed, time: 0.0, heat: 0.0, lining: 0.0 });
    };
    let time = segment.end - segment.start;
    let heat = Channel::SlipPower.of(&segment.extremes.mean) * time;
    Ok(Launch { speed, time, heat, lining: Channel::LiningSurface.of(&segment.extremes.most) })
}

/// Works out the sheet.
pub fn sheet(machine: &Machine) -> Result<Sheet, Trouble> {
    let (c, v) = (&machine.clutch, &machine.vehicle);
    let balance = balance(machine);
    let lock = balance.map(|w| w / v.ratio * v.wheel_radius);
    let stacked = [
        (machine.cover.proud, machine.cover.proud_tolerance),
        (machine.washer.thickness, machine.cover.washer_tolerance),
    ];
    let nominal = stack::gap(&stacked);
    let bushing = &machine.bushing;
    let pores = PI / 4.0 * (bushing.outside.powi(2) - bushing.bore.powi(2)) * bushing.length * bushing.porosity;
    let step = 200.0 * PI / 30.0;
    let speeds = (0..).map(|i| c.engagement + f64::from(i) * step).take_while(|w| *w <= machine.motor.no_load).take(12);
    let least = machine.motor.full_load / v.ratio * v.wheel_radius * 0.9;
    Ok(Sheet {
        name: machine.name.clone(),
        lift_off: shoe::lift_off_speed(c.shoe_mass, (c.shoe_radius - c.gap).max(1e-4), machine.preload()),
        engagement: c.engagement,
        idle: machine.motor.idle,
        capacity: speeds.map(|w| (w, capacity(machine, w))).collect(),
        balance,
        lock_speed: c.engagement / v.ratio * v.wheel_radius,
        lock,
        cover_gap: Stack { nominal, worst: nominal - stack::worst(&stacked), likely: nominal - stack::rss(&stacked) },
        oil: pores,
        oil_drops: pores / machine.oiling.drop,
        launch: launch(machine, lock.map_or(least, |s| (s * 1.05).min(least)))?,
    })
}

fn in_unit(value: f64, word: &str) -> f64 {
    UNITS.iter().find(|u| u.word == word).map_or(value, |u| u.from_si(value))
}

fn speed(value: f64) -> String {
    format!("{:.1} km/h = {:.1} mph", in_unit(value, "km_h"), in_unit(value, "mph"))
}

fn gap(value: f64) -> String {
    format!("{:.2} mm = {:.0} thou", in_unit(value, "mm"), in_unit(value, "thou"))
}

impl Sheet {
    /// For the terminal.
    pub fn text(&self) -> String {
        let mut rows: Vec<(String, String)> = Vec::new();
        let mut row = |name: &str, value: String| rows.push((name.to_owned(), value));
        row("motor idles at", turns(self.idle));
        row("shoes lift off at", turns(self.lift_off));
        row("clutch engages at", turns(self.engagement));
        for (w, torque) in &self.capacity {
            let feet = in_unit(*torque, "lbf_ft");
            row(&format!("carries at {:.0} rpm", rpm(*w)), format!("{torque:.1} N·m = {feet:.1} lbf·ft"));
        }
        row("balance at full throttle", self.balance.map_or_else(|| "none".to_owned(), turns));
        row("slips at a held speed below", speed(self.lock_speed));
        row("locks at full throttle", self.lock.map_or_else(|| "never".to_owned(), speed));
        row("cover gap, nominal", gap(self.cover_gap.nominal));
        row("cover gap, root of squares", gap(self.cover_gap.likely));
        row("cover gap, worst", gap(self.cover_gap.worst));
        row("oil in a full bushing", format!("{:.2} mL = {:.0} drops", self.oil * 1e6, self.oil_drops));
        row("one launch to", speed(self.launch.speed));
        row("  takes", format!("{:.1} s", self.launch.time));
        row("  slip heat", format!("{:.2} kJ", self.launch.heat / 1e3));
        row("  lining peak", both(self.launch.lining));
        format!("{}\n{}\n{}", strong(&self.name), pairs(&rows), cautions())
    }

    /// For programs, SI.
    pub fn json(&self) -> String {
        output::json(self)
    }
}
