//! A bushing that runs dry: it scores, squeals, grabs its shaft and drives the drum, and seizes. Oiled, it never does.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Happening, IdleKind, Part};
use slipsoak_engine::parts::{Invalid, Machine};
use slipsoak_engine::record::{Run, Warned};
use slipsoak_engine::simulate::{Options, Simulation};

fn ride(task: Task, seconds: f64) -> Segment {
    Segment::Ride(task, End::After(seconds))
}

/// A machine found without oil, after these segments.
fn dry(idle_kind: IdleKind, segments: &[Segment]) -> Run {
    let mut sim = Simulation::new(Machine { idle_kind, ..Machine::default() }, Options::default()).expect("a machine");
    sim.perform(&Segment::Service(Service::Found(0.0))).expect("found dry");
    for segment in segments {
        sim.perform(segment).expect("it runs");
    }
    sim.finish("machine", "dry").expect("the ledgers close")
}

fn when(run: &Run, what: Happening) -> Option<f64> {
    run.events.iter().find(|event| event.what == what).map(|event| event.time)
}

// An independent second implementation: score ½ after 540 s and 1 after 645 s of idling dry on the brake, governed. A tenth to
// ten times that by the assumed score energy.
#[test]
fn a_dry_bushing_grabs_after_nine_minutes_of_idling_and_seizes_after_eleven() {
    let run = dry(IdleKind::Governed, &[ride(Task::Idle, 1500.0)]);
    let at = |what| when(&run, what).expect("it scores");
    assert!((at(Happening::Grabs) / 540.0 - 1.0).abs() < 0.02, "{}", at(Happening::Grabs));
    assert!((at(Happening::Seizes) / 645.0 - 1.0).abs() < 0.02, "{}", at(Happening::Seizes));
    assert!(at(Happening::Squeals) < at(Happening::Grabs));
    // The part is at its end when it grabs; the motor ran from the start.
    let part = run.parts.iter().find(|part| part.part == Part::Seized).expect("a part");
    let (life, running) = part.life.zip(part.running).expect("a life");
    assert!(
        (life - at(Happening::Grabs)).abs() < 0.5 && (running - at(Happening::Grabs)).abs() < 0.5,
        "{life} {running}"
    );
    let seized = run.warned(Warned::Seizes).expect("a warning");
    assert!((seized.value - at(Happening::Seizes)).abs() < 1.0, "the motor ran from the start");
    // What follows is time at rest, not riding.
    assert!((run.duration - at(Happening::Seizes)).abs() < 1.0 && when(&run, Happening::MotorStops).is_none());
}

// Textbook statics: the torque of a grabbing bushing, up to 5 N·m, exceeds the 1.6 N·m that hold 190 kg on the level.
#[test]
fn a_grabbing_bushing_drives_the_machine_off_at_idle_and_stalls_a_motor_on_its_throttle_stop() {
    let off = dry(IdleKind::Governed, &[ride(Task::Idle, 60.0), ride(Task::Coast, 1440.0)]);
    let sets_off = when(&off, Happening::SetsOff).expect("it drives itself");
    assert!(sets_off > when(&off, Happening::Grabs).expect("it grabs"));
    assert!(Channel::VehicleSpeed.of(&off.overall.most) > 3.0 && off.warned(Warned::BushingDrives).is_some());
    let stalled = dry(IdleKind::ThrottleStop, &[ride(Task::Idle, 1500.0)]);
    assert!(stalled.warned(Warned::Stall).is_some() && stalled.warned(Warned::Grabs).is_some());
}

#[test]
fn a_seized_machine_stands_until_it_gets_a_new_bushing() {
    let idle = ride(Task::Idle, 900.0);
    let run = dry(IdleKind::Governed, &[idle.clone(), idle.clone()]);
    let seizes = when(&run, Happening::Seizes).expect("it seizes");
    assert!((run.running_time - seizes).abs() < 1.0, "no running after it: {}", run.running_time);
    assert!((run.duration - seizes - 900.0).abs() < 1.0, "the clock goes on: {}", run.duration);
    // A launch that cannot be made is given up after seconds, not after all the time that it was allowed.
    let launch = Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 5.0, within: 300.0 });
    let run = dry(IdleKind::Governed, &[idle.clone(), launch]);
    assert!((run.duration - seizes - 5.0).abs() < 1.0, "{}", run.duration);
    let run = dry(IdleKind::Governed, &[idle.clone(), Segment::Service(Service::New(Part::Bushing)), idle]);
    assert!((run.running_time - seizes - 900.0).abs() < 1.0, "{}", run.running_time);
    assert!(run.parts.iter().any(|part| part.part == Part::Seized && part.used < 1e-3), "a new one is smooth");
}

#[test]
fn oil_lowers_the_friction_of_a_scored_bushing_but_the_score_stays() {
    let oil = Segment::Service(Service::Oil { drops: 20.0, oil: Machine::default().oil });
    let idle = ride(Task::Idle, 400.0);
    let score = |segments: &[Segment]| Channel::Score.of(&dry(IdleKind::Governed, segments).overall.most);
    let before = score(std::slice::from_ref(&idle));
    let (oiled, unoiled) = (score(&[idle.clone(), oil, idle.clone()]), score(&[idle.clone(), idle]));
    assert!(before > 0.2 && oiled >= before && oiled - before < 0.05, "{before} {oiled}");
    assert!(unoiled > before + 0.3, "{unoiled}");
}

// Kohno & Nishino, JJSPPM 28 (3) (1981) (abstract): the rise of a porous bearing is linear in pVμ, in every regime of friction. The
// network of heat is nearly linear over 30 K.
#[test]
fn the_bushing_warms_in_proportion_to_pressure_speed_and_friction() {
    let rise = |friction: f64, weight: f64| {
        let mut machine = Machine { idle_kind: IdleKind::Governed, ..Machine::default() };
        let b = &mut machine.bushing;
        (b.friction_dry, b.score_energy, b.weight, b.chain_pull, b.shake) = (friction, 1e10, weight, 0.0, 0.0);
        machine.motor.block_heat = 0.0;
        machine.motor.block_share = 0.0;
        machine.washer.preload = 0.0;
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        sim.perform(&Segment::Service(Service::Found(0.0))).expect("found dry");
        sim.perform(&ride(Task::Idle, 600.0)).expect("it idles");
        sim.reading(Channel::Bushing) - 293.15
    };
    let base = rise(0.1, 40.0);
    assert!((3.0..30.0).contains(&base), "{base} K");
    for (friction, weight, times) in [(0.2, 40.0, 2.0), (0.1, 80.0, 2.0), (0.05, 120.0, 1.5)] {
        // The chain's loop adds what the friction adds to the load.
        let looped = |mu: f64| 1.0 / (1.0 - mu / 1.618_03);
        let expected = times * looped(friction) / looped(0.1);
        let found = rise(friction, weight) / base;
        assert!((found / expected - 1.0).abs() < 0.05, "{friction} {weight} N: {found}, {expected} expected");
    }
}

// Exact: 10 teeth of 9.525 mm have a pitch radius of 1.61803 times that of the bore, 9.525 mm; 8 teeth one of 12.445 mm.
#[test]
fn a_bushing_that_its_own_chain_would_jam_is_refused_with_its_numbers_and_what_to_change() {
    let with = |teeth: f64| {
        let mut machine = Machine::default();
        (machine.drum.teeth, machine.bushing.friction_scored) = (teeth, 1.5);
        machine.check()
    };
    assert_eq!(with(10.0), Ok(()));
    let Err(Invalid::Jams {
        gain,
        friction,
        setting,
        bore_radius,
        pitch_radius,
        bore_most,
        teeth_least,
        friction_most,
        ..
    }) = with(8.0)
    else {
        panic!("it jams")
    };
    assert_eq!((friction, setting, teeth_least), (1.5, "bushing.friction_scored", 10.0));
    for (found, wanted) in [
        (bore_radius, 9.525e-3),
        (pitch_radius, 12.445e-3),
        (gain, 1.5 * 9.525 / 12.445),
        (bore_most, 2.0 * 12.445e-3 / 1.5),
        (friction_most, 12.445 / 9.525),
    ] {
        assert!((found / wanted - 1.0).abs() < 1e-4, "{found} for {wanted}");
    }
}
