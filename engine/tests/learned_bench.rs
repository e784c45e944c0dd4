//! Constants that a bench test shows are recovered from noisy readings made by the engine itself; those that it cannot show
//! are refused.

use slipsoak_engine::calibrate::{
    Condition, Inspected, Problem, Quantity, Read, Solution, Under, Unsolved, Way, When, learnable, setting,
};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::fleet::deviate;
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::{Machine, Parameter};
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::statistics::normal_quantile;
use slipsoak_engine::units::{HOUR, RPM, ZERO_C};

use crate::start_and_night::start_and_night;

/// Readings of one quantity: age, h, and conditions.
type Plan = Vec<(f64, Under)>;

/// Deviation of a pull scale on a bench, N.
const BENCH: f64 = 0.5;

/// A use that hardly loads anything.
fn gentle() -> Vec<Segment> {
    vec![Segment::Ride(Task::Idle, End::After(60.0)), Segment::Ride(Task::Off, End::After(HOUR))]
}

/// A problem in which one constant is sought from readings of two clutches.
fn problem(machine: Machine, block: Vec<Segment>, path: &str, quantity: Quantity, plan: &Plan, truth: f64) -> Problem {
    let p = setting(path).expect(path);
    let mut true_machine = machine.clone();
    true_machine.change(|m| (p.put)(m, truth));
    let times: Vec<When> = plan.iter().map(|(hours, _)| When::Running(hours * HOUR)).collect();
    let way = Way::of(true_machine, &block, &times, Skipping::default()).expect("it runs");
    let mut reads = vec![];
    for clutch in ["A", "B"] {
        let z = |what: &str| normal_quantile(deviate(7, 1, &format!("{path} {clutch} {what}")));
        for (k, ((_, under), when)) in plan.iter().zip(&times).enumerate() {
            let exact = way.shows(*when, quantity, under);
            let row = quantity.row();
            let gauge = if quantity == Quantity::Spring { BENCH } else { row.gauge.at(exact) };
            let level = if row.level.fixed.is_finite() { row.level.at(exact) } else { 0.0 };
            let value = exact + level * z("level") + gauge * z(&k.to_string());
            reads.push(Read { clutch: clutch.into(), when: *when, quantity, under: *under, value, gauge, line: 0 });
        }
    }
    let mut problem = Problem::new(machine, vec![p], (5.0 * HOUR, Skipping::default()));
    problem.inspected = vec![Inspected { duty: "bench".into(), block, reads }];
    problem
}

fn value(machine: &Machine, p: &Parameter) -> f64 {
    (p.of)(machine)
}

/// Holds that a constant which lies off its value by this factor is found again, within its error and much better than before.
fn found(machine: Machine, block: Vec<Segment>, path: &str, (quantity, plan): (Quantity, Plan), off: f64) -> Solution {
    let truth = off * value(&machine, setting(path).expect(path));
    let problem = problem(machine, block, path, quantity, &plan, truth);
    let solution = problem.solve(1, 1).expect(path);
    let learned = &solution.constants[0];
    // Three of the errors whose 90 % are the factor: once in 400.
    let (error, missed) = (learned.factor.ln() / 1.645, (learned.value / truth).ln());
    assert!(missed.abs() < 3.0 * error, "{path}: {} for {truth}, a factor of {}", learned.value, learned.factor);
    assert!(learned.factor.ln() < 0.7 * learned.before_factor.ln(), "{path}: a factor of {}", learned.factor);
    assert!(learned.from.contains(&quantity.name().to_owned()), "{path}: {:?}", learned.from);
    solution
}

/// Holds that the readings do not tell a constant.
fn untold(machine: Machine, block: Vec<Segment>, path: &str, (quantity, plan): (Quantity, Plan)) {
    let truth = value(&machine, setting(path).expect(path));
    let problem = problem(machine, block, path, quantity, &plan, truth);
    match problem.solve(1, 1) {
        Err(Unsolved::Inseparable(why)) => {
            assert!(why.to_string().contains(&format!("the data do not determine {path}")), "{why}");
        }
        other => panic!("{path} is told by {}: {other:?}", quantity.name()),
    }
}

fn spun(rpm: f64, warm: f64) -> Under {
    Under::default().with(Condition::Spun, rpm * RPM).with(Condition::Warm, warm + ZERO_C)
}

fn governed() -> Machine {
    Machine { idle_kind: IdleKind::Governed, ..Machine::default() }
}

/// A bushing without a drop of oil.
fn dry() -> Vec<Segment> {
    let emptied = Segment::Service(Service::Found(0.0));
    [vec![emptied], gentle()].concat()
}

#[test]
fn warm_spin_downs_show_where_the_film_lets_the_tips_touch() {
    let plan = [(500.0, 90.0), (500.0, 70.0), (300.0, 90.0)].map(|(n, t)| (0.0, spun(n, t))).to_vec();
    found(Machine::default(), gentle(), "bushing.mixed_number", (Quantity::SpinDown, plan), 2.0);
}

#[test]
fn spin_downs_of_a_dry_bushing_show_its_dry_friction_and_not_where_a_film_would_carry() {
    let plan = || [(500.0, 20.0), (300.0, 20.0), (400.0, 20.0)].map(|(n, t)| (0.05, spun(n, t))).to_vec();
    found(Machine::default(), dry(), "bushing.friction_dry", (Quantity::SpinDown, plan()), 1.2);
    untold(Machine::default(), dry(), "bushing.mixed_number", (Quantity::SpinDown, plan()));
}

#[test]
fn the_pull_of_a_shoe_shows_how_its_spring_relaxes() {
    let plan = [0.0, 20.0, 60.0].map(|hours| (hours, Under::default())).to_vec();
    found(Machine::default(), start_and_night(), "clutch.relaxation", (Quantity::Spring, plan), 1.5);
    let new = vec![(0.0, Under::default())];
    untold(Machine::default(), start_and_night(), "clutch.relaxation", (Quantity::Spring, new));
}

#[test]
fn a_drop_under_a_known_drag_shows_the_governor_or_the_friction_of_a_motor_on_its_stop() {
    let plan = || [0.4, 0.8, 0.4].map(|drag| (0.0, Under::default().with(Condition::Drag, drag))).to_vec();
    found(governed(), gentle(), "motor.idle_band", (Quantity::Drop, plan()), 2.0);
    found(Machine::default(), gentle(), "motor.drag", (Quantity::Drop, plan()), 1.3);
    untold(Machine::default(), gentle(), "motor.idle_band", (Quantity::Drop, plan()));
}

#[test]
fn the_colour_of_a_washer_shows_how_long_it_stands_heat_unless_it_is_black_or_new() {
    let mut weak = Machine::default();
    weak.washer.heat_life /= 400.0;
    let plan = |all: [f64; 3]| all.map(|hours| (hours, Under::default())).to_vec();
    let early = (Quantity::Charring, plan([15.0, 30.0, 45.0]));
    let solution = found(weak.clone(), start_and_night(), "washer.heat_life", early, 0.8);
    assert!(solution.constants[0].factor < 2.0);
    untold(weak, start_and_night(), "washer.heat_life", (Quantity::Charring, plan([0.0, 1.0, 2.0])));
}

#[test]
fn a_quantity_teaches_by_default_the_constant_that_its_readings_show_best() {
    let best = |machine: Machine, block, quantity, under: Under| {
        let path = "motor.drag"; // any: it is replaced
        let truth = value(&machine, setting(path).expect(path));
        let mut problem = problem(machine, block, path, quantity, &vec![(0.05, under)], truth);
        problem.taught_best(quantity).expect("it runs").expect("a constant").path
    };
    let drag = Under::default().with(Condition::Drag, 0.4);
    assert_eq!(best(governed(), gentle(), Quantity::Drop, drag), "motor.idle_band");
    assert_eq!(best(Machine::default(), gentle(), Quantity::Drop, drag), "motor.drag");
    assert_eq!(best(Machine::default(), gentle(), Quantity::SpinDown, spun(500.0, 90.0)), "bushing.mixed_number");
    assert_eq!(best(Machine::default(), dry(), Quantity::SpinDown, spun(500.0, 20.0)), "bushing.friction_dry");
    assert!(learnable().any(|l| l.0.path == "bushing.friction_dry"));
}
