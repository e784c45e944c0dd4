//! What a machine does unasked at idle and downhill, and what it does not do though it is asked.

use crate::bench_ride::ride;
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::laws::bearing::{film_factor, film_torque, nahme};
use slipsoak_engine::laws::oil::{Walther, density};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Machine, parameter, settings};
use slipsoak_engine::record::{Run, Warned};
use slipsoak_engine::simulate::{Options, Simulation, cold_idle};
use slipsoak_engine::units::{KM_H, RPM, ZERO_C};

fn having(settings: &[(&str, f64)]) -> Machine {
    let mut machine = Machine::default();
    for (path, value) in settings {
        (parameter(path).expect("a setting").put)(&mut machine, *value);
    }
    machine
}

fn ridden(machine: &Machine, segments: &[Segment]) -> Run {
    let mut sim = Simulation::new(machine.clone(), Options::default()).expect("a machine");
    for segment in segments {
        sim.perform(segment).expect("it runs");
    }
    sim.finish("machine", "duty").expect("the ledgers close")
}

/// Pull at the wheels of the film in a full bushing, N: Petroff's law with the film's own heating.
fn pull(machine: &Machine, celsius: f64) -> f64 {
    let (b, v, w) = (&machine.bushing, &machine.vehicle, machine.motor.idle);
    let (t, o) = (celsius + ZERO_C, &machine.oil);
    let oil = Walther::through(40.0 + ZERO_C, o.viscosity_40, 100.0 + ZERO_C, o.viscosity_100);
    let viscosity = oil.kinematic(t) * density(machine.oil.density_15, t);
    let expansion = (density(885.0, t - 1e-3).ln() - density(885.0, t + 1e-3).ln()) / 2e-3;
    let number = nahme(oil.falling(t).1 + expansion, viscosity, w, b.bore / 2.0, b.oil_conductivity);
    let torque = film_torque([b.bore / 2.0, b.length, b.clearance], viscosity, w, 1.0, film_factor(number));
    torque * v.chain_efficiency * v.ratio / v.wheel_radius
}

// Statics with Petroff's law (textbook): the machine sets off if the film in its bushing pulls more than it takes to roll it.
#[test]
fn cold_oil_in_the_bushing_moves_a_light_machine_off_at_idle_whatever_its_springs() {
    let light = |celsius: f64, engages: f64| {
        let mut machine =
            having(&[("vehicle.mass", 95.0), ("vehicle.rolling", 0.02), ("surroundings.ambient", celsius + ZERO_C)]);
        machine.clutch.engagement = engages * RPM;
        machine
    };
    let rolls = 95.0 * 9.80665 * 0.02;
    for (celsius, moves) in [(0.0, true), (20.0, false)] {
        assert_eq!(pull(&light(celsius, 2000.0), celsius) > 1.3 * rolls, moves, "{celsius} °C");
        for engages in [2000.0, 2600.0] {
            let machine = light(celsius, engages);
            let idle = [ride(Task::Coast, End::After(20.0))];
            let run = ridden(&machine, &idle);
            let warned = run.warned(Warned::BushingDrives);
            assert_eq!(warned.is_some(), moves, "{celsius} °C, {engages} rpm");
            assert_eq!(run.fault() == Some(Fault::BushingDrives), moves);
            assert_eq!((run.warned(Warned::Creep), run.warned(Warned::Drag)), (None, None));
            assert_eq!(cold_idle(&machine, machine.motor.idle).expect("it idles").is_some(), moves);
            assert!(
                warned.is_none_or(|w| w.value >= celsius + ZERO_C && w.value < celsius + ZERO_C + 5.0),
                "{warned:?}"
            );
        }
    }
}

fn descent(grade: f64) -> Segment {
    Segment::Service(Service::Adjust(&settings::surroundings::grade, grade))
}

// Energy: what rolls freely down a slope is moved by no clutch, and what a locked clutch lets past its governor is driven by the slope.
#[test]
fn downhill_it_rolls_free_from_rest_and_drives_its_motor_from_speed() {
    let machine = Machine::default();
    let rest = |grade: f64, time: f64| {
        ridden(&machine, &[ride(Task::Idle, End::After(5.0)), descent(grade), ride(Task::Coast, End::After(time))])
    };
    let run = rest(-0.1, 5.0);
    assert_eq!(run.own_fault(), None);
    let rolls = run.warned(Warned::RollsFree).expect("it rolls");
    assert!((rolls.value - Channel::VehicleSpeed.of(&run.overall.most)).abs() < 0.5, "{}", rolls.value);
    for kind in [Warned::Creep, Warned::Drag, Warned::BushingDrives, Warned::Overspeed] {
        assert_eq!(run.warned(kind), None, "{kind:?}");
    }
    // Free fall along the slope, less rolling: v = g (grade − rolling) t, above what the motor drives and above a walk.
    let top = machine.motor.no_load * machine.vehicle.wheel_radius / machine.vehicle.ratio;
    for (grade, time, most) in [(-0.1, 30.0, top), (0.3, 2.0, 1.5)] {
        let run = rest(grade, time);
        let away = run.warned(Warned::RunsAway).expect("the slope carries it off");
        assert!((away.limit / most - 1.0).abs() < 1e-9 && away.value > most, "{away:?}");
        let falls = 9.80665 * (f64::abs(grade) - machine.vehicle.rolling) * time;
        assert!((0.6..1.05).contains(&(away.value / falls)), "{} m/s, {falls} m/s by hand", away.value);
        assert_eq!([Warned::RollsFree, Warned::RolledBack].map(|kind| run.warned(kind)), [None; 2]);
        assert_eq!(run.own_fault(), Some(Fault::RunsAway));
    }
    let launch = ride(Task::Throttle(1.0), End::Reached { speed: 20.0 * KM_H, within: 60.0 });
    let down = |grade| ridden(&machine, &[launch.clone(), descent(grade), ride(Task::Coast, End::After(120.0))]);
    let run = down(-0.25);
    let driven = run.warned(Warned::Overspeed).expect("the slope drives it");
    assert!(
        driven.value > driven.limit && driven.limit > machine.motor.no_load && run.fault() == Some(Fault::Overspeed)
    );
    assert_eq!(down(-0.03).warned(Warned::Overspeed), None);
}

// Kinematics: at its governed speed without load the gearing gives a speed which no launch can pass.
#[test]
fn a_machine_geared_below_the_speed_asked_for_or_not_moved_by_its_throttle_does_not_do_its_duty() {
    let machine = Machine::default();
    let top = machine.motor.no_load * machine.vehicle.wheel_radius / machine.vehicle.ratio;
    let starts = |opening: f64, end: End| {
        let one = [
            ride(Task::Idle, End::After(10.0)),
            ride(Task::Throttle(opening), end),
            ride(Task::Brake(1.5), End::Still { within: 60.0 }),
        ];
        ridden(&machine, &vec![one; 3].concat())
    };
    let asked = |speed: f64| starts(1.0, End::Reached { speed, within: 40.0 });
    let fails = asked(1.05 * top);
    let failed = fails.warned(Warned::TooSlow).expect("it is out of reach");
    assert_eq!((failed.value, failed.limit, fails.fault()), (3.0, 3.0, Some(Fault::TooSlow)));
    assert_eq!(asked(0.7 * top).warned(Warned::TooSlow), None);
    // A throttle that slips the clutch without moving the machine; running down to the idle is no drag.
    let stands = starts(0.3, End::After(20.0));
    assert_eq!(stands.fault(), Some(Fault::TooSlow), "{:?}", stands.warnings);
    assert!(stands.distance.abs() < 0.1 && stands.warned(Warned::Drag).is_none(), "{}", stands.distance);
    assert!(Channel::SlipPower.of(&stands.overall.most) > 10.0);
}
