//! Running time of the motor until a part reaches its limit.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, IdleKind, Part};
use slipsoak_engine::parts::{Machine, Oil};
use slipsoak_engine::record::{PartUse, Run, Warned};
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::simulate::{Options, Simulation, Until};
use slipsoak_engine::units::{KM_H, RPM};

const HOUR: f64 = 3600.0;

/// Half an hour in which the motor runs for ten minutes, with launches and stops.
fn shift() -> Vec<Segment> {
    let mut all = vec![];
    for _ in 0..10 {
        all.push(Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }));
        all.push(Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }));
        all.push(Segment::Ride(Task::Idle, End::After(45.0)));
    }
    all.push(Segment::Ride(Task::Off, End::After(1200.0)));
    all
}

fn part(run: &Run, name: Part) -> &PartUse {
    run.parts.iter().find(|part| part.part == name).expect("a part")
}

fn lived(machine: Machine, windows: usize, hours: f64, tolerance: f64) -> Run {
    let mut sim = Simulation::new(machine, Options { windows, ..Options::default() }).expect("a machine");
    let until = Until { time: hours * HOUR, skipping: Skipping { tolerance } };
    sim.live(&shift(), until).expect("it lives");
    sim.finish("machine", "shift").expect("the ledgers close")
}

#[test]
fn a_life_in_running_hours_is_the_share_of_the_shift_in_which_the_motor_runs() {
    let machine = Machine::default();
    let run = lived(machine.clone(), 0, 4000.0, Skipping::default().tolerance);
    let horizon = run.horizon.as_ref().expect("a horizon");
    assert!(horizon.blocks_skipped > horizon.blocks_run, "{} of {}", horizon.blocks_skipped, horizon.blocks_run);
    let share = run.running_time / run.duration;
    assert!(0.3 < share && share < 0.5, "the motor runs {share} of the time");
    let lining = part(&run, Part::Lining);
    let (life, running) = (lining.life.expect("it wears"), lining.running.expect("the motor runs"));
    // All shifts are alike, so the share of one is that of the whole life.
    assert!((running / life / share - 1.0).abs() < 2e-3, "{running} s of {life} s, {share} in all");
    // One shift alone, projected from windows: wear follows the motor's running time, independent of the rest after it.
    for windows in [600, 0] {
        let mut sim = Simulation::new(machine.clone(), Options { windows, ..Options::default() }).expect("a machine");
        for segment in shift().iter().chain(&shift()) {
            sim.perform(segment).expect("it runs");
        }
        let ran = sim.running();
        let two = sim.finish("machine", "shift").expect("the ledgers close");
        assert_eq!(two.running_time.to_bits(), ran.to_bits());
        let lining = part(&two, Part::Lining);
        let found = lining.running.expect("the motor runs") / lining.life.expect("it wears");
        assert!((found / share - 1.0).abs() < 0.02, "{windows} windows: {found} for {share}");
        if windows > 0 {
            let (end, whole) = (two.windows.running.last().expect("windows"), two.running_time);
            assert!((end - whole).abs() < 1e-6 * whole, "{end} for {whole}");
        }
    }
}

#[test]
fn a_washer_that_chars_within_the_first_shift_is_reported_to_the_minute() {
    let mut machine = Machine { idle_kind: IdleKind::Governed, ..Machine::default() };
    machine.clutch.engagement = 1500.0 * RPM;
    machine.washer.heat_life = 3600.0;
    let run = lived(machine.clone(), 600, 2.0, 0.0);
    let charring = part(&run, Part::Charring);
    let (life, running) = (charring.life.expect("it chars"), charring.running.expect("the motor runs"));
    // The same shift once, step by step through its windows.
    let mut sim = Simulation::new(machine.clone(), Options::default()).expect("a machine");
    let mut first = None;
    let minute = Segment::Ride(Task::Off, End::After(60.0));
    let rest = std::iter::repeat_n(minute, 20);
    for segment in shift().into_iter().take(30).chain(rest) {
        sim.perform(&segment).expect("it runs");
        if first.is_none() && sim.reading(Channel::WasherDose) >= 1.0 {
            first = Some(sim.clock());
        }
    }
    let first = first.expect("it chars");
    assert!(life <= first && first - life < 60.0, "{life} s, seen after {first} s");
    assert!((running - life).abs() < 2.0, "{running} s of {life} s: the motor runs from the start");
    // The time is that of the dose, not of the window that contains it.
    let unseen = lived(machine.clone(), 0, 2.0, 0.0);
    assert_eq!(part(&unseen, Part::Charring).life.map(f64::to_bits), Some(life.to_bits()));
    let horizon = run.horizon.expect("a horizon");
    assert_eq!(horizon.ended_by, Some(Part::Charring));
}

/// Shoes off the drum do not slip, however fast the shaft turns in a drum that stands.
#[test]
fn a_clutch_slips_for_as_long_as_its_shoes_rub() {
    let machine = Machine::default();
    let slipped = |tasks: &[Segment]| {
        let mut sim = Simulation::new(machine.clone(), Options::default()).expect("a machine");
        for task in tasks {
            sim.perform(task).expect("it runs");
        }
        let run = sim.finish("machine", "a few tasks").expect("the ledgers close");
        (run.sliding_time, run.running_time)
    };
    let idle = || Segment::Ride(Task::Idle, End::After(60.0));
    assert_eq!(slipped(&[idle()]).0, 0.0, "it idles with its shoes off the drum");
    // A launch of a few seconds, then locked: 5 s of 90 s at most.
    let launch = Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 30.0 * KM_H, within: 60.0 });
    let hold = |speed| Segment::Ride(Task::Hold(speed), End::After(30.0));
    let (locked, ran) = slipped(&[idle(), launch, hold(30.0 * KM_H)]);
    assert!(1.0 < locked && locked < 5.0 && ran > 90.0, "{locked} of {ran} s");
    // Held at half of its lock-up speed it slips all the time.
    let (held, _) = slipped(&[idle(), hold(10.0 * KM_H)]);
    assert!((29.0..30.0 + 1e-6).contains(&held), "{held} s");
}

/// A ride of a minute or so: idle, launch, hold, stop.
fn from_stop_to_stop() -> [Segment; 4] {
    [
        Segment::Ride(Task::Idle, End::After(15.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(25.0 * KM_H), End::After(20.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ]
}

/// Four drops on a bushing at 85 % of the same oil, ridden at once for some minutes: what an oil with PTFE leaves on the lining stays
/// there.
#[test]
fn a_run_keeps_what_oil_takes_of_the_grip_at_worst_and_at_its_end() {
    let ridden = |oil: &str| {
        let oil = Oil::named(oil).expect("a known oil");
        let machine = Machine { oil: oil.clone(), ..Machine::default() };
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        sim.perform(&Segment::Service(Service::Found(0.85))).expect("it is set");
        sim.perform(&Segment::Service(Service::Oil { drops: 4.0, oil })).expect("it is oiled");
        let mut least = 1.0_f64;
        for _ in 0..20 {
            for task in from_stop_to_stop() {
                sim.perform(&task).expect("it runs");
                least = least.min(sim.grip());
            }
        }
        let end = sim.grip();
        let run = sim.finish("machine", "oiled").expect("the ledgers close");
        let [kept, last] = run.grip.expect("recorded");
        let stays = run.warned(Warned::Additive).map_or(0.0, |warning| warning.value);
        assert_eq!(last.to_bits(), end.to_bits());
        assert!(kept <= least && kept > least - 0.1, "{kept} by the step, {least} by the task");
        [kept, last, stays]
    };
    let ([least, end, none], [lasting, stays, all]) = (ridden("SAE 30"), ridden("with PTFE"));
    assert!(least < 0.75 && end > 0.85, "plain oil burns off: {least}, then {end}");
    assert_eq!((none, all), (0.0, 1.0), "the share of oil that stays is a warning");
    assert!(lasting < least && stays < lasting + 0.02, "{lasting}, then {stays}");
}

/// Four drops with PTFE on a bushing at 85 % of plain oil, ridden half a minute later: what is thrown off is the dose, mixed with what
/// stood in the clearance, not with the oil of the pores. It takes about as much grip as where the pores hold such oil too.
#[test]
fn a_dose_that_is_thrown_off_at_once_is_not_diluted_by_the_oil_of_the_pores() {
    let ptfe = Oil::named("with PTFE").expect("an oil");
    let grip = |filled: Oil| {
        let mut sim =
            Simulation::new(Machine { oil: filled, ..Machine::default() }, Options::default()).expect("a machine");
        sim.perform(&Segment::Service(Service::Found(0.85))).expect("it is set");
        sim.perform(&Segment::Service(Service::Oil { drops: 4.0, oil: ptfe.clone() })).expect("it is oiled");
        sim.perform(&Segment::Ride(Task::Off, End::After(30.0))).expect("it rests");
        for _ in 0..20 {
            for task in from_stop_to_stop() {
                sim.perform(&task).expect("it runs");
            }
        }
        sim.grip()
    };
    let [alone, topped] = [ptfe.clone(), Oil::default()].map(grip);
    assert!(alone < 0.8 && (1.0 - topped) / (1.0 - alone) > 0.6 && topped >= alone, "{alone}, {topped}");
}

/// A twentieth of a drop with PTFE on a full bushing, then drops of plain oil, at last a new bushing: it warns all the same.
#[test]
fn any_dose_of_an_oil_that_stays_on_the_lining_warns_to_the_end() {
    let warned = |first: &str| {
        let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
        let dose = |drops: f64, oil: &str| {
            let oil = Oil::named(oil).expect("a known oil");
            Segment::Service(Service::Oil { drops, oil })
        };
        sim.perform(&dose(0.05, first)).expect("it is oiled");
        sim.perform(&Segment::Ride(Task::Idle, End::After(5.0))).expect("it runs");
        for _ in 0..4 {
            sim.perform(&dose(10.0, "SAE 30")).expect("it is oiled");
        }
        sim.perform(&Segment::Service(Service::New(Part::Bushing))).expect("it is fitted");
        sim.perform(&Segment::Ride(Task::Idle, End::After(5.0))).expect("it runs");
        let run = sim.finish("machine", "oiled").expect("the ledgers close");
        run.warned(Warned::Additive).map(|warning| warning.value)
    };
    assert_eq!(warned("SAE 40"), None);
    let share = warned("with PTFE").expect("a warning");
    assert!(share > 0.0 && share < 5e-3, "{share}");
}
