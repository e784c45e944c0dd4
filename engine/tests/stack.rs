//! The stack under the cover beside a published one, and its hours beside simulations run through.

use slipsoak_engine::duty::{Segment, Service};
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::oil_plan;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::parts_file::read;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::stack_up;
use slipsoak_engine::usage::Usage;

fn shipped_machine(name: &str) -> Machine {
    let path = format!("{}/../scripts/parts/{name}.json", env!("CARGO_MANIFEST_DIR"));
    read(name, &std::fs::read_to_string(path).expect("shipped")).expect("it reads")
}

fn layer(name: &str, size: f64, tolerance: f64) -> stack_up::Layer {
    stack_up::Layer { name: name.to_owned(), size, tolerance }
}

/// Shigley, Mechanical Engineering Design, 9th ed., ex. 1-3, inches; the exact share of overlapping parts is ours:
/// 29/360.
#[test]
fn the_published_stack_leaves_its_gap_and_its_exact_share() {
    let layers =
        [layer("bolt", 1.750, 0.003), layer("a", -0.750, 0.001), layer("b", -0.120, 0.005), layer("c", -0.875, 0.001)];
    let stack = stack_up::stack(&layers, 0.0, 1, 200_000);
    assert!((stack.nominal - 0.005).abs() < 1e-12 && (stack.worst - 0.010).abs() < 1e-12);
    assert!((stack.rss - 0.006).abs() < 1e-12);
    assert!((stack.below_zero - 29.0 / 360.0).abs() < 1e-9, "{}", stack.below_zero);
    // Four standard errors of 200 000 samples.
    assert!((stack.drawn.below_limit - 29.0 / 360.0).abs() < 4.0 * stack.drawn.error, "{:?}", stack.drawn);
    assert!((stack.drawn.error - (29.0 * 331.0_f64).sqrt() / 360.0 / 200_000_f64.sqrt()).abs() < 1e-5);
    assert_eq!(stack, stack_up::stack(&layers, 0.0, 1, 200_000));
    assert_ne!(stack.drawn, stack_up::stack(&layers, 0.0, 2, 200_000).drawn);
}

/// The washer wears out in a complete simulation, and the gap continues at the bronze's rate.
#[test]
fn the_hours_of_the_washer_are_those_of_a_simulation_run_through() {
    let mut machine = Machine::default();
    machine.washer.wear_oiled *= 400.0;
    machine.washer.wear_dry *= 400.0;
    machine.bushing.wear_face *= 16.0;
    let usage = Usage::named("rental", &machine).expect("a use");
    let gaps = stack_up::gaps(&stack_up::Wish::new(machine.clone(), usage.clone())).expect("it runs");
    let gone = gaps.courses[0].bronze_on_steel.time.expect("it wears");
    let mut sim = Simulation::new(machine.clone(), Options { windows: 0, ..Options::default() }).expect("a machine");
    usage.ride(&mut sim, 1800.0).expect("it runs");
    // From warm on: the first half hour, cold, wears slightly less.
    let (start, worn) = (sim.clock(), sim.reading(Channel::WasherWear));
    while sim.reading(Channel::WasherWear) < machine.washer.thickness {
        usage.ride(&mut sim, 60.0).expect("it runs");
    }
    let simulated = (sim.clock() - start) * machine.washer.thickness / (machine.washer.thickness - worn);
    assert!((gone / simulated - 1.0).abs() < 0.03, "{gone} {simulated}");
    // The bronze face, by the same simulation.
    let (from, at) = (sim.reading(Channel::WasherWear), sim.clock());
    usage.ride(&mut sim, 3600.0).expect("it runs");
    let face = (sim.reading(Channel::WasherWear) - from) / (sim.clock() - at);
    let touches = gaps.courses[0].touches.time.expect("it rubs");
    let bronze = (gaps.stack.nominal - machine.washer.thickness) / (touches - gone);
    assert!((bronze / face - 1.0).abs() < 0.05, "{bronze} {face}");
}

/// The same if ageing doubles the wear meanwhile: a hot cart, with ageing accelerated twentyfold and springs that do
/// not relax.
#[test]
fn the_hours_of_a_washer_that_ages_in_heat_are_those_of_a_simulation_run_through() {
    let mut machine = shipped_machine("weekend-cart");
    machine.washer.wear_oiled *= 20.0;
    machine.washer.wear_dry *= 20.0;
    machine.washer.age_life /= 20.0;
    machine.clutch.relaxation = 0.0;
    // Its bushing would seize long before.
    machine.bushing.score_energy = 1e10;
    let usage = Usage::named("rental", &machine).expect("a use");
    let gaps = stack_up::gaps(&stack_up::Wish::new(machine.clone(), usage.clone())).expect("it runs");
    let mut sim = Simulation::new(machine.clone(), Options { windows: 0, ..Options::default() }).expect("a machine");
    let mut reached = |depth: f64| {
        while sim.reading(Channel::WasherWear) < depth {
            sim.perform(&Segment::Service(Service::Found(1.0))).expect("oiled");
            usage.ride(&mut sim, 600.0).expect("it runs");
        }
        sim.clock()
    };
    let thickness = machine.washer.thickness;
    for (depth, said) in [
        (thickness - machine.limits.washer, gaps.courses[0].washer_due.time),
        (thickness, gaps.courses[0].bronze_on_steel.time),
    ] {
        let (simulated, said) = (reached(depth), said.expect("it wears"));
        assert!((said / simulated - 1.0).abs() < 0.05, "{depth} m: {said} s, simulated {simulated} s");
    }
}

#[test]
fn worn_gaps_are_reached_in_order_and_sooner_by_a_worse_assembly() {
    let machine = Machine::default();
    let usage = Usage::named("moderate", &machine).expect("a use");
    let gaps = stack_up::gaps(&stack_up::Wish::new(machine, usage)).expect("it runs");
    for course in &gaps.courses {
        let of = |w: stack_up::When| (w.early.expect("early"), w.time.expect("nominal"), w.late.expect("late"));
        let [due, bronze, tight, touches] =
            [course.washer_due, course.bronze_on_steel, course.tight, course.touches].map(of);
        assert!(due.1 < bronze.1 && bronze.1 < tight.1 && tight.1 < touches.1, "{}", course.name);
        // The washer's constants have a factor of 10 either way at 90 %.
        assert!((due.1 / due.0 - 10.0).abs() < 2.0 && (due.2 / due.1 - 10.0).abs() < 2.0, "{due:?}");
        assert!(course.points.windows(2).all(|p| p[0].time <= p[1].time && p[0].gap[1] >= p[1].gap[1]));
    }
    let [kept, dry] = [0, 1].map(|k| gaps.courses[k].washer_due.time.expect("due"));
    assert!(dry < kept / 5.0, "{dry} {kept}");
}

/// Time at which an edge of a band (0: 5th percentile, 2: 95th percentile) reaches a limit, s, interpolated in the
/// logarithm of time.
fn edge_reaches(course: &stack_up::Course, edge: usize, limit: f64) -> f64 {
    let pair = course.points.windows(2).find(|p| p[0].washer[edge] > limit && p[1].washer[edge] <= limit);
    let [a, b] = pair.expect("it gets there") else { panic!("two points") };
    let share = (a.washer[edge] - limit) / (a.washer[edge] - b.washer[edge]);
    a.time * (b.time / a.time).powf(share)
}

#[test]
fn the_band_of_a_wearing_washer_reaches_its_limit_at_the_hours_of_the_answer() {
    for name in ["orchard-cart", "trail-cart"] {
        let machine = shipped_machine(name);
        let usage = Usage::named("rental", &machine).expect("a use");
        let gaps = stack_up::gaps(&stack_up::Wish::new(machine, usage)).expect("it runs");
        for course in &gaps.courses {
            for (edge, said) in [(0, course.washer_due.early), (2, course.washer_due.late)] {
                let (said, drawn) = (said.expect("due"), edge_reaches(course, edge, gaps.washer_limit));
                assert!((drawn / said - 1.0).abs() < 0.1, "{name} {}: {drawn} s drawn, {said} s said", course.name);
            }
        }
    }
}

/// A use that ruins the clutch within the hour gives no hours of wear: the oiling plan of the same use lets the bushing grab
/// its shaft after the same time.
#[test]
fn a_bushing_that_grabs_a_washer_that_chars_and_heat_beyond_the_model_leave_no_hours_of_wear() {
    let hard = |machine: &Machine| Usage::named("hard", machine).expect("a use");
    let gaps =
        |machine: &Machine| stack_up::gaps(&stack_up::Wish::new(machine.clone(), hard(machine))).expect("it runs");
    let orchard = shipped_machine("orchard-cart");
    let courses = gaps(&orchard).courses;
    let fails = courses[0].fails.expect("the bushing grabs");
    let plan = oil_plan::Wish::new(orchard.clone(), hard(&orchard));
    let lasts = oil_plan::lasts(&plan, oil_plan::Case::as_set(&orchard)).expect("it runs");
    let grabs = lasts.end.expect("it grabs");
    assert_eq!(fails.part, Part::Seized);
    assert!((fails.after / grabs - 1.0).abs() < 0.02, "{} s, {grabs} s", fails.after);
    assert_eq!(courses[1].fails.map(|fails| fails.part), Some(Part::Charring));
    assert!(courses.iter().all(|course| !course.holds() && course.beyond.is_none()));
    let beyond = gaps(&shipped_machine("weekend-cart")).courses[0].beyond.expect("too hot");
    assert!(beyond.peak > beyond.limit && (beyond.limit - 773.15).abs() < 1e-9, "{beyond:?}");
}
