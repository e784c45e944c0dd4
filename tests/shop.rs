//! The shop's questions: the answers beside the trade's rules and the shares of a dose that are kept, and what they say.

use slipsoak::read::stock::shipped;
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::spring_choice::{self, Choice, Heated, Judged, Reason, Spring, Verdict, Weight, judge};
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;
use slipsoak_engine::{oil_plan, stack_up};
use slipsoak_plots::words;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Riding of a short outing, s.
pub const SHORT: f64 = 600.0;

fn wish(machine: Machine, minutes: f64) -> spring_choice::Wish {
    let usage = Usage::named("rental", &machine).expect("a use");
    spring_choice::Wish { simulated: minutes * 60.0, ..spring_choice::Wish::new(machine, usage) }
}

fn idling(rpm: f64) -> Machine {
    let mut machine = Machine::default();
    machine.motor.idle = rpm * RPM;
    machine
}

pub fn shipped_machine(name: &str) -> Machine {
    let text = std::fs::read_to_string(format!("scripts/parts/{name}.json")).expect("shipped");
    slipsoak_engine::parts_file::read(name, &text).expect("it reads")
}

/// A cart so heavy and geared so long that hard use ruins its clutch with any spring.
pub fn overloaded() -> (Machine, Usage) {
    let mut machine = shipped_machine("orchard-cart");
    machine.vehicle.mass *= 2.5;
    machine.vehicle.ratio *= 0.7;
    let usage = Usage::named("hard", &machine).expect("a use");
    (machine, usage)
}

/// The plan of oiling with outings of ten minutes: of what is said of springs their length tells nothing.
pub fn oiled(machine: Machine, usage: Usage) -> oil_plan::OilPlan {
    let asked = oil_plan::Wish { riding: SHORT, ..oil_plan::Wish::new(machine, usage) };
    oil_plan::plan(&asked, &|| {}).expect("it runs")
}

pub fn spring(rpm: f64) -> Spring {
    Spring { name: format!("{rpm} rpm"), engagement: rpm * RPM, rate: None }
}

fn chosen(wish: &spring_choice::Wish) -> Choice {
    let judged: Vec<Judged> = shipped().expect("a stock").iter().map(|s| judge(wish, s).expect("it runs")).collect();
    spring_choice::choice(wish, judged, None)
}

/// Sentences of an answer as text.
pub fn text(statement: &[slipsoak_plots::words::text::Words]) -> Vec<String> {
    statement.iter().map(slipsoak_plots::words::text::Words::text).collect()
}

fn named<'a>(choice: &'a Choice, name: &str) -> &'a Judged {
    choice.springs.iter().find(|s| s.name == name).expect(name)
}

/// The trade puts about 200 rpm between idle and engagement: common practice, no source.
#[test]
fn the_trades_spring_is_shown_beside_the_recommended_one() {
    for idle in [1600.0, 1700.0, 1800.0, 2000.0, 2100.0] {
        let choice = chosen(&wish(idling(idle), 6.0));
        assert!((choice.trade.rule / RPM - idle - 200.0).abs() < 1e-6);
        assert_eq!(choice.trade.spring, format!("{} rpm", idle + 200.0));
        let best = named(&choice, choice.best.as_ref().expect("one fits"));
        let over = best.engagement / RPM - idle;
        assert!((150.0..=400.0).contains(&over), "{idle}: the best engages {over} rpm over it");
        let said = text(&words::choice::statement(&choice)).join(" ");
        assert!(said.starts_with(&format!("Fit the {} spring", best.name)), "{said}");
        assert!(said.contains(&format!("{} spring", choice.trade.spring)), "{said}");
    }
}

/// Every shipped machine in every use, with springs from below idle to far above it.
#[test]
fn a_sheet_names_the_part_that_is_worn_out_before_it_is_ridden() {
    let told = |millimetres: f64| {
        let mut machine = Machine::default();
        machine.lining.thickness = 1e-3 * millimetres;
        let sheet = slipsoak_engine::sheet::sheet(&machine).expect("it runs");
        text(&words::sheet::advice(&sheet)).join(" ")
    };
    let new =
        "Fit a new lining, since that of 0.50\u{a0}mm is not over the 0.50\u{a0}mm at which a worn one is replaced.";
    assert!(told(0.5).contains(new) && !told(0.6).contains("new lining"), "{}", told(0.5));
}

#[test]
fn no_spring_is_recommended_without_its_margin_its_limits_and_a_better_verdict() {
    for part in ["orchard-cart", "trail-cart", "weekend-cart"] {
        let machine = shipped_machine(part);
        for usage in ["moderate", "rental", "hard"] {
            let usage = Usage::named(usage, &machine).expect("a use");
            let asked = spring_choice::Wish { simulated: 720.0, ..spring_choice::Wish::new(machine.clone(), usage) };
            let springs =
                [1500.0, 1900.0, 2100.0, 2300.0, 2600.0].map(|rpm| judge(&asked, &spring(rpm)).expect("it runs"));
            let choice = spring_choice::choice(&asked, springs.to_vec(), None);
            for s in &choice.springs {
                exceeded_limits_are_named(s, &machine);
            }
            let verdicts = choice.springs.iter().map(|s| s.verdict).min().expect("some");
            let Some(best) = choice.best.as_ref().map(|best| named(&choice, best)) else {
                assert_eq!(verdicts, Verdict::Unfit);
                let least = named(&choice, choice.least_unsuitable.as_ref().expect("one is least unsuitable"));
                let endangers = |s: &Judged| s.reasons.iter().any(Reason::endangers);
                let told = text(&words::choice::statement(&choice))[0].clone();
                assert_eq!(told.contains("The least unsuitable is"), !endangers(least), "{part}: {told}");
                assert!(!endangers(least) || choice.springs.iter().all(endangers), "{part}: {told}");
                let against = |s: &Judged| s.of_weight(Weight::Against).count();
                let into_idle = |s: &Judged| s.found.as_ref().map_or(f64::INFINITY, |f| (-f.margin).max(0.0));
                assert!(choice.springs.iter().all(|s| into_idle(s) >= into_idle(least)), "{part}");
                let same = |s: &Judged| (into_idle(s), endangers(s)) == (into_idle(least), endangers(least));
                let rivals = choice.springs.iter().filter(|s| same(s));
                assert!(rivals.map(against).all(|n| n >= against(least)), "{part}");
                continue;
            };
            assert_eq!(best.verdict, verdicts, "{part}");
            assert!(choice.least_unsuitable.is_none(), "{part}");
            let found = best.found.as_ref().expect("it was computed");
            assert!(found.margin >= found.floor && found.floor > 60.0 * RPM, "{part}: {found:?}");
            let said = text(&words::choice::statement(&choice))[..2].join(" ");
            for reason in best.of_weight(Weight::Warning).map(words::reason::reason) {
                assert!(said.contains(&reason.text()), "{part}: {}\n{said}", reason.text());
            }
        }
    }
}

/// The answer used to be the spring to look for even where the use overheats every spring.
#[test]
fn where_every_spring_overheats_a_stiffer_one_is_not_advised() {
    let (machine, usage) = overloaded();
    let asked = spring_choice::Wish { simulated: 720.0, ..spring_choice::Wish::new(machine, usage) };
    let judged = |rpm: f64| judge(&asked, &spring(rpm)).expect("it runs");
    let mut choice = spring_choice::choice(&asked, vec![judged(1700.0), judged(1900.0)], None);
    choice.sought = spring_choice::sought(&asked, &choice).expect("it runs");
    let sought = choice.sought.as_ref().expect("a spring stays clear of the idle");
    // Relaxation at such heat is not known: the trade's margin cannot be split.
    assert_eq!(choice.trade.spring, "1900 rpm");
    assert!(choice.trade.made_of.is_none() && choice.trade.too_hot.is_some_and(|(peak, limit)| peak > limit));
    assert!(!sought.is_near() && sought.verdict == Verdict::Unfit, "{:?}", sought.reasons);
    let said = text(&words::choice::statement(&choice)).join(" ");
    assert!(said.contains("No other spring is a remedy") && !said.contains("look for"), "{said}");
    assert!(said.contains("is unknown: its wire reaches") && !said.contains("has to cover"), "{said}");
}

/// The answer used to be the softest spring, because its lining stays coolest, and shorter gearing, which cannot help.
#[test]
fn of_springs_that_all_drag_the_stiffest_is_nearest_and_the_speed_to_look_for_is_named() {
    let mut machine = shipped_machine("orchard-cart");
    machine.motor.idle = 2000.0 * RPM;
    let usage = Usage::named("moderate", &machine).expect("a use");
    let asked = spring_choice::Wish { simulated: 720.0, ..spring_choice::Wish::new(machine, usage) };
    let judged = |rpm: f64| judge(&asked, &spring(rpm)).expect("it runs");
    let mut choice = spring_choice::choice(&asked, vec![judged(1500.0), judged(1700.0)], None);
    choice.sought = spring_choice::sought(&asked, &choice).expect("it runs");
    assert_eq!(choice.least_unsuitable.as_deref(), Some("1700 rpm"));
    let from = choice.sought.as_ref().expect("a spring to look for").engagement / RPM;
    let said = text(&words::choice::statement(&choice))[..2].join(" ");
    assert!(said.contains(&format!("engages at {from:.0}")), "{said}");
    assert!(!judged(from).is_near(), "{from} rpm is still too near");
    assert!(judged(from - 30.0).is_near(), "{from} rpm is more than is needed");
}

fn exceeded_limits_are_named(spring: &Judged, machine: &Machine) {
    let Some(found) = &spring.found else { return };
    let (p, l) = (&found.peaks, &machine.limits);
    for (part, peak, limit) in [
        (Heated::Lining, p.lining, l.lining_steady.min(l.lining_most)),
        (Heated::Bushing, p.bushing, l.bushing_warning),
        (Heated::Washer, p.washer, l.washer_oiled),
        (Heated::Springs, p.shoes, l.spring_most),
    ] {
        if peak > limit {
            let names = |r: &Reason| match r {
                Reason::Hot { part: hot, peak: at, .. } | Reason::TooHot { part: hot, peak: at, .. } => {
                    *hot == part && *at == peak
                }
                Reason::Beyond { peak: at } => part == Heated::Lining && *at == peak,
                _ => false,
            };
            assert!(spring.reasons.iter().any(names), "{part:?} at {peak} K, over {limit} K: {:?}", spring.reasons);
            assert_ne!(spring.verdict, Verdict::Fits);
        }
    }
}

#[test]
fn a_spring_below_the_idle_drags_and_says_so() {
    let low = judge(&wish(Machine::default(), 6.0), &spring(1500.0)).expect("it runs");
    let drag = low.found.as_ref().and_then(|f| f.drag).expect("it drags");
    let Some(Reason::Drags { share, power, creep, .. }) = low.of_weight(Weight::Against).next() else {
        panic!("{:?}", low.reasons);
    };
    assert_eq!((low.verdict, *share, *power, *creep), (Verdict::Unfit, 1.0, drag.power, drag.creep));
    assert!(drag.power > 200.0 && drag.creep > 1.0, "{drag:?}");
    let why = words::verdict::why(&low).text();
    assert!(
        why.contains("on a governor or a throttle stop, whichever is worse") && why.contains("can hurt someone"),
        "{why}"
    );
    let high = judge(&wish(Machine::default(), 6.0), &spring(3900.0)).expect("it is judged");
    assert!(high.found.is_none() && matches!(high.reasons[..], [Reason::NeverEngages { .. }]), "{:?}", high.reasons);
}

#[test]
fn for_a_washer_that_chars_only_that_and_the_running_time_are_reported() {
    let machine = shipped_machine("orchard-cart");
    let said = |usage: &str| {
        let usage = Usage::named(usage, &machine).expect("a use");
        let gaps = stack_up::gaps(&stack_up::Wish::new(machine.clone(), usage)).expect("it runs");
        text(&words::gaps::statement(&gaps)).join(" ")
    };
    let hard = said("hard");
    assert!(hard.contains("chars after about") && hard.contains("of running"), "{hard}");
    assert!(!hard.contains("replace the washer at") && !hard.contains("worn through"), "{hard}");
    let rental = said("rental");
    assert!(rental.contains("replace the washer at") && !rental.contains("chars"), "{rental}");
    assert!(rental.contains("When the washer is worn through, stop riding."), "{rental}");
}

/// Shares of a dose by our own prototype, within ± 4 points (see the habits' test): the plan reproduces them.
#[test]
fn the_plan_of_oiling_keeps_the_shares_of_the_habits() {
    let machine = Machine::default();
    let usage = Usage::named("moderate", &machine).expect("a use");
    let tried = AtomicUsize::new(0);
    let wish = oil_plan::Wish { drops: 3.0, ..oil_plan::Wish::new(machine.clone(), usage.clone()) };
    let count = || {
        tried.fetch_add(1, Ordering::Relaxed);
    };
    let plan = oil_plan::plan(&wish, &count).expect("it runs");
    assert_eq!(tried.into_inner(), oil_plan::TRIALS);
    let kept = |warm: bool, wait: f64| {
        let habit = plan.habits.iter().find(|h| h.warm == warm).expect("a habit");
        habit.kept.iter().find(|k| k.0 == wait).expect("a wait").1
    };
    assert!((kept(false, 30.0) - 0.29).abs() < 0.04, "{}", kept(false, 30.0));
    assert!((0.50..0.64).contains(&kept(false, 600.0)), "{}", kept(false, 600.0));
    assert!((0.73..0.92).contains(&kept(false, 1800.0)), "{}", kept(false, 1800.0));
    assert!((kept(true, 43200.0) - 0.96).abs() < 0.04, "{}", kept(true, 43200.0));
    assert!((kept(false, 43200.0) - 0.98).abs() < 0.04, "{}", kept(false, 43200.0));
    for habit in &plan.habits {
        assert!(habit.kept.windows(2).all(|k| k[1].1 > k[0].1 - 0.005), "{:?}", habit.kept);
    }
    let due = |case| plan.case(case).expect("a case").due.unwrap_or(f64::INFINITY);
    let [set, least, most, greased] = [LeakCase::AsSet, LeakCase::Least, LeakCase::Most, LeakCase::Greased].map(due);
    assert!(set.is_finite());
    assert!(most < set && set < least && set < greased);
    assert!(plan.advised.habit().expect("a habit").riding < set);
    assert!(
        plan.doses
            .windows(2)
            .all(|d| d[1].grip < d[0].grip && d[1].kept < d[0].kept && d[1].on_lining > d[0].on_lining)
    );
    let [plain, additives @ ..] = &plan.oils[..] else { panic!("oils") };
    assert!(plain.after > 0.9 && additives.len() == 3);
    assert!(additives.iter().all(|o| o.after < plain.after - 0.2 && (o.after - o.least).abs() < 0.02), "{additives:?}");
    let said = text(&words::oiling::statement(&plan)).join(" ");
    assert!(said.contains("the rest before the drum turns again") && said.contains("measured by nobody"), "{said}");
}
