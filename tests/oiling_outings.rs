//! What the plan of oiling says and advises, compared with plain rides of the same outings, one after another.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, LeakCase};
use slipsoak_engine::oil_plan::{self, Advice, Advised, OilPlan, Wish};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::usage::Usage;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

const STANDARD: &str = "example";

fn machine(name: &str) -> Machine {
    if name == STANDARD {
        return Machine::default();
    }
    let path = format!("scripts/parts/{name}.json");
    slipsoak_engine::parts_file::read(&path, &std::fs::read_to_string(&path).expect("a parts file")).expect("a machine")
}

fn wish(name: &str, usage: &str) -> Wish {
    let machine = machine(name);
    let usage = Usage::named(usage, &machine).expect("a use");
    Wish::new(machine, usage)
}

fn simulation(machine: &Machine) -> Simulation {
    let options = Options { windows: 0, ..Options::default() };
    Simulation::new(machine.clone(), options).expect("a machine")
}

fn fill(sim: &Simulation) -> f64 {
    sim.reading(Channel::OilFill)
}

fn outing(sim: &mut Simulation, wish: &Wish) -> f64 {
    let start = sim.clock();
    wish.usage.ride(sim, wish.riding).expect("it rides");
    let ridden = sim.clock() - start;
    sim.perform(&Segment::Ride(Task::Off, End::After(wish.rest))).expect("it rests");
    ridden
}

/// The sentences of a plan.
fn said(plan: &OilPlan) -> Vec<String> {
    words::oiling::statement(plan).iter().map(Words::text).collect()
}

/// In hard use the bushing runs dry or scores within the first ride; the answer says so first, and recommends no dose.
#[test]
fn the_answer_begins_with_a_bushing_that_the_first_outing_empties() {
    for name in [STANDARD, "orchard-cart", "trail-cart", "weekend-cart"] {
        let wish = wish(name, "hard");
        let mut sim = simulation(&wish.machine);
        // Service level or a squeal, then the end of the oil or a bushing that grabs.
        let limits = &wish.machine.limits;
        let mut levels = [(limits.oil_service, 0.1, None), (limits.oil_end, 0.5, None)];
        while levels.iter().any(|level| level.2.is_none()) && sim.clock() < 2.0 * wish.riding {
            wish.usage.ride(&mut sim, 1.0).expect("it rides");
            for (level, score, at) in &mut levels {
                if at.is_none() && (fill(&sim) <= *level || sim.reading(Channel::Score) >= *score) {
                    *at = Some(sim.clock());
                }
            }
        }
        assert!(levels[0].2 < Some(wish.riding), "{name}: {levels:?}");
        let lasts = oil_plan::lasts(&wish, oil_plan::Case::as_set(&wish.machine)).expect("it runs");
        // A period of the use is between two readings.
        for (told, (.., at)) in [lasts.due, lasts.end].into_iter().zip(levels) {
            let (told, at) = (told.expect("a time"), at.expect("in the ride"));
            // Between outings it cools.
            if at > wish.riding {
                assert!(told > wish.riding - 60.0, "{name}: {told} s");
                continue;
            }
            // Oil that heat has driven out is drawn in again in the rest, so that the level counts a little later.
            assert!(told <= at + 120.0 && told > at - 30.0, "{name}: {told} s, by a plain ride {at} s");
        }
        if name != STANDARD && name != "weekend-cart" {
            continue;
        }
        let plan = oil_plan::plan(&wish, &|| {}).expect("it runs");
        assert_eq!((plan.advised, plan.advised_at_most_leak), (Advice::Never, Advice::Never));
        assert!(plan.weighing.is_none());
        let said = said(&plan).join(" ");
        for advice in ["Oil with", "enough", "ten years", "outings)", "is kept after a wait"] {
            assert!(!said.contains(advice), "{name}: {advice} in {said}");
        }
    }
}

/// The recommended habit, followed on plain rides with the whole dose applied warm: each oiling finds at least the
/// stated fill.
/// The machine ridden by a habit for this many oilings, put on a minute after the ride, or until its bushing is scored as far; and its
/// fill before each.
fn oiled(wish: &Wish, habit: Advised, times: usize, scored: f64) -> (Simulation, Vec<f64>) {
    let mut sim = simulation(&wish.machine);
    let mut found = vec![];
    for _ in 0..times {
        if sim.reading(Channel::Score) > scored {
            break;
        }
        for _ in 1..habit.outings {
            outing(&mut sim, wish);
        }
        let start = sim.clock();
        wish.usage.ride(&mut sim, wish.riding).expect("it rides");
        assert!(sim.clock() - start >= wish.riding - 1e-6);
        sim.perform(&Segment::Ride(Task::Off, End::After(60.0))).expect("it stands");
        found.push(fill(&sim));
        let dose = Segment::Service(Service::Oil { drops: habit.dose, oil: wish.machine.oil.clone() });
        sim.perform(&dose).expect("it is oiled");
        sim.perform(&Segment::Ride(Task::Off, End::After(wish.rest - 60.0))).expect("it rests");
    }
    (sim, found)
}

/// Most of the oil's life is spent by heat, not by leakage: with the greatest leakage and with the least. Far more oil is asked for than warm
/// pores have room for: the rule goes by what they take, and that is enough.
#[test]
fn the_rule_for_the_wall_keeps_a_bushing_smooth_with_the_shortest_life_of_its_oil() {
    let mut wish = wish("trail-cart", "rental");
    wish.drops = 20.0;
    let plan = oil_plan::plan(&wish, &|| {}).expect("it runs");
    let (wall, as_set) = (plan.advised_at_most_leak.habit().expect("a habit"), plan.advised.habit().expect("a habit"));
    assert!(wall.outings < as_set.outings, "{wall:?} {as_set:?}");
    assert!(1.0 <= plan.dose && plan.dose <= plan.warm_room, "{}", plan.warm_room);
    assert_eq!((wall.warm, as_set.dose, as_set.warm), (plan.dose, plan.dose, plan.dose));
    assert!(wall.dose > wall.warm && wall.dose <= wall.warm + 1.0 && wall.drops <= wall.dose, "{wall:?}");
    assert!((plan.drops_when_due - (1.0 - plan.due_at) * plan.full_drops).abs() < 1e-9, "{}", plan.drops_when_due);
    let said = said(&plan).join(" ");
    for words in [
        "Put on up to 2\u{a0}drops, one at a time",
        "put on up to 1\u{a0}drop more when the bushing is cold",
        "no room for 20\u{a0}drops: the rest would run off",
        "takes 9\u{a0}drops",
    ] {
        assert!(said.contains(words), "{words} not in {said}");
    }
    let score = |wish: &Wish, habit: Advised| {
        let (sim, found) = oiled(wish, habit, 40, 0.1);
        let lowest = found.iter().copied().fold(1.0, f64::min);
        assert!(lowest > plan.due_at || habit != wall, "{lowest}");
        sim.reading(Channel::Score)
    };
    let worst = plan.case(LeakCase::Most).expect("the worst");
    assert!((worst.oil_life / wish.machine.oiling.oxidation_life - 1.0 / 9.0).abs() < 1e-9);
    wish.machine.oiling.oxidation_life = worst.oil_life;
    for leak in [worst.leak, plan.case(LeakCase::Least).expect("the best").leak] {
        wish.machine.oiling.leak = leak;
        assert!(score(&wish, wall) < 0.02, "{leak}");
        assert!(score(&wish, Advised { outings: 4 * wall.outings, ..wall }) > 0.1, "it is no more often than needed");
    }
}

#[test]
fn the_advised_habit_holds_the_fill_and_names_the_greatest_leakage() {
    let wish = wish("weekend-cart", "rental");
    let plan = oil_plan::plan(&wish, &|| {}).expect("it runs");
    // What to measure takes its range from the same two cases.
    let due = [LeakCase::Most, LeakCase::Least].map(|name| plan.case(name).and_then(|case| case.due));
    assert_eq!(oil_plan::due_range(&wish).expect("it runs"), due);
    let advised = plan.advised.habit().expect("a habit");
    assert!((advised.riding / 3600.0 - 0.68).abs() < 0.1 && advised.dose == plan.dose, "{advised:?}");
    let (sim, found) = oiled(&wish, advised, 30, f64::INFINITY);
    // Measured hot, when part of the oil is outside the pores: a thirtieth of what a nearly full bushing holds.
    let lowest = found.iter().copied().fold(1.0, f64::min);
    assert!(lowest > advised.fill - 1.0 / 30.0 && lowest > plan.due_at + 0.1, "{found:?} {advised:?}");
    assert!(lowest > found[0] - 0.001, "from full it falls no further: {found:?}");
    assert!(found[4] > found[0] - 0.005, "{found:?}");
    assert!(sim.reading(Channel::Score) < 0.02 && sim.reading(Channel::Oxidation) < 0.2, "the bushing stays smooth");
    // At worst an outing spoils five times the oil that it makes room for: no more is put on than that, and the answer says so.
    assert_eq!(plan.advised_at_most_leak, Advice::Never);
    let words = "no oiling habit keeps the bushing oiled: stop where it squeals";
    let answer = said(&plan).join(" ");
    assert!(answer.contains(words) && answer.contains("Put on up to 2\u{a0}drops,"), "{answer}");
    // A drum weighed after these outings has lost the oil of the leakage, and is not yet below the service level.
    let weighing = plan.weighing.expect("a drum to weigh");
    let lost = [weighing.lost, weighing.lost_at_most_leak].map(|kg| kg / plan.full_mass);
    assert!(0.0 < lost[0] && lost[0] < lost[1] && lost[1] <= 1.0 - plan.due_at, "{weighing:?}");
    assert!(weighing.outings >= 1, "{weighing:?}");
    // Hot pores have less room than the cold pores' 15 %; the dose is put on warm nevertheless, as it was above.
    assert!(plan.warm_room < (1.0 - plan.found) * plan.full_drops, "{}", plan.warm_room);
    assert!(advised.warm == advised.dose && advised.warm <= plan.warm_room && plan.dose < plan.drops, "{advised:?}");
    assert!(
        said(&plan)
            .iter()
            .any(|s| s.contains("while the bushing is warm from the ride") && s.contains("one at a time"))
    );
    let limit = "So the rule for the wall is for 2\u{a0}drops";
    assert!(
        said(&plan).iter().any(|s| s.contains("room for 2.2\u{a0}drops, not for 4\u{a0}drops") && s.contains(limit))
    );
}

/// The fuller a bushing at which habits are compared, the more drops went by the rule for the wall.
#[test]
fn the_rule_for_the_wall_is_the_same_whatever_the_fill_at_which_habits_are_compared() {
    let rule = |found: f64| {
        let wish = Wish { found, ..wish("weekend-cart", "moderate") };
        let plan = oil_plan::plan(&wish, &|| {}).expect("it runs");
        (plan.dose, plan.advised, plan.advised_at_most_leak)
    };
    let usual = rule(0.85);
    for found in [0.92, 0.95, 1.0] {
        assert_eq!(rule(found), usual, "{found}");
    }
}
