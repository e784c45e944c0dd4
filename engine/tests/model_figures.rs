//! The figures in the description of the model are what laws and runs give.

use crate::bench_ride::{cycle, most, ride};
use crate::model_text::{last_digit, number, rows};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::laws::{
    air, bearing, conduction, convection, deviates, friction, history, margin, motor, oil, shoe, springs, stack,
    vehicle, wear,
};
use slipsoak_engine::names::{Happening, IdleKind, Part};
use slipsoak_engine::parts::{Form, Machine, Parameter, parameter};
use slipsoak_engine::parts_file::quantity;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::units::{HOUR, RPM, ZERO_C};
use std::collections::BTreeMap;

/// A law by the name in the text, of the numbers in its inputs.
type Law = (&'static str, fn(&[f64]) -> f64);

fn thirty_weight() -> oil::Walther {
    oil::Walther::through(313.15, 100e-6, 373.15, 11.2e-6)
}

/// Viscosity of the default oil, Pa·s, at °C.
fn viscosity(celsius: f64) -> f64 {
    thirty_weight().kinematic(celsius + ZERO_C) * oil::density(885.0, celsius + ZERO_C)
}

/// Torque over the squares of speed of the example clutch, N·m·s².
fn grip() -> f64 {
    let m = Machine::default();
    m.clutch.shoes * m.lining.friction * m.clutch.shoe_mass * m.clutch.shoe_radius * m.drum.radius
}

const LAWS: &[Law] = &[
    ("air::density", |x| air::density(air::pressure(x[0]), x[1] + ZERO_C)),
    ("air::conductivity", |x| air::conductivity(x[0] + ZERO_C)),
    ("convection::band", |x| convection::band(air::SEA_LEVEL, x[0], x[1] * RPM, x[2], x[3] + ZERO_C, x[4] + ZERO_C)),
    ("convection::disc", |x| convection::disc(air::SEA_LEVEL, x[0] * RPM, x[1] + ZERO_C)),
    ("convection::natural_plate", |x| convection::natural_plate(air::SEA_LEVEL, x[0], x[1] + ZERO_C, x[2] + ZERO_C)),
    ("convection::radiation", |x| convection::radiation(x[0], x[1] + ZERO_C, x[2] + ZERO_C)),
    ("conduction::ring_capacity", |x| conduction::ring_capacity(x[0], x[1], x[2], x[3], x[4])),
    ("motor::air_share", |x| motor::air_share(air::pressure(x[0]), x[1] + ZERO_C)),
    ("motor::stop_opening", |x| {
        let machine = Machine::default();
        let indicated = |w: f64| machine.motor_full(w) + machine.motor_drag(w);
        motor::stop_opening(machine.stop_power(x[0] * RPM), indicated(x[1] * RPM), x[1] * RPM) * indicated(x[1] * RPM)
    }),
    ("vehicle::rolling", |x| vehicle::rolling(x[0], x[1], 0.0)),
    ("shoe::capacity", |x| {
        let m = Machine::default();
        let (c, of) = (&m.clutch, |w: f64| m.clutch.shoe_mass * m.clutch.shoe_radius * w * w);
        let normal = shoe::normal_force(c.shoe_mass, c.shoe_radius, x[0] * RPM, of(x[1] * RPM));
        shoe::capacity(c.shoes, m.lining.friction, normal, m.drum.radius, 1.0)
    }),
    ("shoe::balance_speed", |x| shoe::balance_speed(x[0] * RPM, x[1], grip()) / RPM),
    ("shoe::self_energising", |x| shoe::self_energising(Form::Leading, x[1], 0.0, x[0], x[2])),
    ("deviates::normal_scores", |x| deviates::normal_scores(x[0] as u32)[x[0] as usize - 1]),
    ("springs::touching", |x| springs::touching(x[0], x[1])),
    ("springs::rounding", |x| springs::rounding(x[0], x[1])),
    ("margin::margin_floor", |x| {
        let tolerances = margin::Tolerances { spring: x[2], lot: x[2], tachometer: x[3] };
        margin::margin_floor(x[0], x[1] as u32, tolerances, 1.644_854)
    }),
    ("friction::dry", |x| friction::dry(x[0], 473.15, 150.0, 0.5, -0.002, x[1] + ZERO_C, x[2])),
    ("friction::oiled", |x| friction::oiled(1.0, [x[0], 0.0], [0.25, 0.06], friction::wet_share_over(x[0]))),
    ("history::bedded", |x| history::bedded(x[0] * 1e-6, 20e-6, 0.6)),
    ("history::glazed", |x| history::glazed(0.0, history::glaze_rate(x[0] + ZERO_C, 573.15), 0.0, x[1])),
    ("oil::kinematic", |x| thirty_weight().kinematic(x[0] + ZERO_C) * 1e6),
    ("oil::density", |x| oil::density(885.0, x[0] + ZERO_C)),
    ("oil::evaporation", |x| oil::evaporation(3e-8, 105e3, x[0] + ZERO_C)),
    ("oil::oxidation_rate", |x| 1.0 / oil::oxidation_rate(1000.0, x[0] + ZERO_C)),
    ("bearing::sommerfeld", |x| {
        let (radius, length, clearance) = (9.525e-3, 30e-3, 25e-6);
        bearing::sommerfeld(1.0, radius / clearance, viscosity(x[0]), x[2] * RPM, x[1] / (2.0 * radius * length))
    }),
    ("bearing::film_factor", |x| bearing::film_factor(x[0])),
    ("bearing::film_torque", |x| {
        let (t, w) = (x[0] + ZERO_C, x[1] * RPM);
        let fall = thirty_weight().falling(t).1 + oil::expansion(885.0, t);
        let heated = bearing::film_factor(bearing::nahme(fall, viscosity(x[0]), w, 9.525e-3, 0.13));
        bearing::film_torque([9.525e-3, 30e-3, 25e-6], viscosity(x[0]), w, 1.0, heated)
    }),
    ("bearing::chain_loop", |x| bearing::chain_loop(x[0] * x[1], x[2])),
    ("bearing::wear_constant", |x| bearing::wear_constant(1.7e-19, 1.7e-16, 1e-14, x[0], x[1])),
    ("bearing::pressure_speed", |x| bearing::pressure_speed(x[0], 19.05e-3, 30e-3, x[1] * 9.525e-3)),
    ("wear::bushing_rate", |x| wear::bushing_rate(x[0], x[1], 19.05e-3, 30e-3, x[2] * 9.525e-3) * HOUR * 1e6),
    ("wear::lining_constant", |x| wear::lining_constant(40e-15, 0.0075, 503.15, 60e3, x[0] + ZERO_C) * 1e15),
    ("wear::relaxed", |x| wear::relaxed(0.0, wear::relaxation_per_decade(0.02, 25.0, x[0] + ZERO_C), x[1] * HOUR)),
    ("wear::fibre_dose_rate", |x| 1.0 / wear::fibre_dose_rate(x[0] + ZERO_C, wear::fibre_reference(x[1]), 20_000.0)),
    ("stack::share_below", |x| stack::share_below(&[(x[0], x[1]), (x[2], x[3])], x[4])),
];

#[test]
fn every_check_figure_in_the_text_is_what_its_law_gives() {
    let rows = rows("Check figures");
    let mut wrong = vec![];
    for row in &rows {
        let name = row[0].trim_matches('`');
        let law = LAWS.iter().find(|law| law.0 == name).unwrap_or_else(|| panic!("no law {name}"));
        let inputs: Vec<f64> = row[1].split([' ', ',']).filter_map(|word| word.parse().ok()).collect();
        let result = (law.1)(&inputs);
        let printed = number(row[2]);
        let digits = last_digit(row[2]);
        let coarse = digits > 0.1 * printed.abs();
        if coarse || (result - printed).abs() > 0.5001 * digits {
            wrong.push(format!("{} {}: {result:.8e}", law.0, row[1]));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    for (law, _) in LAWS {
        assert!(rows.iter().any(|row| row[0].trim_matches('`') == *law), "{law} has no figure");
    }
    for file in std::fs::read_dir("src/laws").expect("the laws") {
        let name = file.expect("a file").file_name().to_string_lossy().replace(".rs", "");
        assert!(name == "mod" || LAWS.iter().any(|law| law.0.starts_with(&format!("{name}::"))), "nothing of {name}");
    }
}

fn ridden(machine: Machine, idle: f64, speed: f64, period: f64) -> Run {
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    while sim.clock() < 2399.0 {
        cycle(&mut sim, idle, speed, period);
    }
    sim.finish("example", "reference").expect("the ledgers close")
}

/// Life of a part by a run, h.
fn hours(run: &Run, part: Part) -> f64 {
    let life = run.parts.iter().find(|used| used.part == part).and_then(|used| used.life);
    life.expect("it wears") / HOUR
}

/// A governed motor that idles on the brake with a bushing found dry.
fn dry() -> Run {
    let machine = Machine { idle_kind: IdleKind::Governed, ..Machine::default() };
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    for segment in [Segment::Service(Service::Found(0.0)), ride(Task::Idle, End::After(900.0))] {
        sim.perform(&segment).expect("it idles");
    }
    sim.finish("example", "dry").expect("the ledgers close")
}

#[test]
fn every_figure_of_the_whole_runs_in_the_text_is_what_the_engine_gives() {
    let runs: BTreeMap<&str, Run> = [
        ("rental", ridden(Machine::default(), 30.0, 25.0, 60.0)),
        ("moderate", ridden(Machine::default(), 6.0, 30.0, 60.0)),
        ("abuse", ridden(Machine::default(), 6.0, 20.0, 20.0)),
        ("dry idle", dry()),
    ]
    .into();
    let rows = rows("Whole runs");
    assert!(rows.len() >= 12, "{} figures", rows.len());
    let mut wrong = vec![];
    for row in rows {
        let run = runs.get(row[0]).unwrap_or_else(|| panic!("no run {}", row[0]));
        let hottest = |channel| most(run, channel) - ZERO_C;
        let life = |part| hours(run, part);
        let first = |what| run.events.iter().find(|e| e.what == what).map_or(f64::NAN, |e| e.time);
        let value = match row[1] {
            "lining, °C" => hottest("lining surface"),
            "bushing, °C" => hottest("bushing"),
            "washer, °C" => hottest("washer"),
            "lining's life, h" => life(Part::Lining),
            "bore's life, h" => life(Part::Bushing),
            "bushing squeals, min" => first(Happening::Squeals) / 60.0,
            "bushing grabs, min" => first(Happening::Grabs) / 60.0,
            "bushing grabs, s" => first(Happening::Grabs),
            "bushing seizes, s" => first(Happening::Seizes),
            other => panic!("no figure {other}"),
        };
        if (value - number(row[2])).abs() > last_digit(row[2]) {
            wrong.push(format!("{} {}: {value}", row[0], row[1]));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A setting's value at an end that the text names.
fn end(p: &Parameter, text: &str) -> f64 {
    match text.split_once(' ') {
        Some(("÷", factor)) => p.default / number(factor),
        Some(("×", factor)) => p.default * number(factor),
        _ => quantity(text, p.dimension).unwrap_or_else(|e| panic!("{}: {e}", p.path)),
    }
}

#[test]
fn every_effect_of_a_constant_in_the_text_is_what_the_engine_gives() {
    let mut wrong = vec![];
    for row in rows("What moves") {
        let p = parameter(row[0].trim_matches('`')).unwrap_or_else(|| panic!("{} is no setting", row[0]));
        let ends: Vec<Vec<&str>> = row[1..].iter().map(|cell| cell.split(" to ").collect()).collect();
        for (k, text) in ends[0].iter().enumerate() {
            let mut machine = Machine::default();
            machine.change(|m| (p.put)(m, end(p, text)));
            let run = ridden(machine, 30.0, 25.0, 60.0);
            let hottest = |channel| most(&run, channel) - ZERO_C;
            let found =
                [hottest("lining surface"), hottest("bushing"), hours(&run, Part::Lining), hours(&run, Part::Bushing)];
            // Temperatures to a kelvin, lives to two digits.
            let allowed = [1.0, 1.0, 0.05 * found[2], 0.05 * found[3]];
            if (0..4).any(|i| (found[i] - number(ends[i + 1][k])).abs() > allowed[i]) {
                wrong.push(format!("{} {text}: {found:.1?}", p.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
