//! Every shipped duty runs in a short form, and its ledgers close.

use crate::common;
use crate::common::long;
use slipsoak::Script;
use slipsoak::language::interpreter::Interpreter;
use slipsoak::language::limits::Limits;
use slipsoak::study::request::Request;
use slipsoak::study::{Study, asked};
use slipsoak_engine::document::Saved;
use slipsoak_engine::names::{Book, Entry, Part, Supply};
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Options, Skipping};
use slipsoak_plots::words::answer::{brief, sure};
use std::collections::BTreeMap;
use std::path::PathBuf;

fn runs_and_closes(name: &str, settings: &[(&str, f64)], runs: usize) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty").join(name);
    let script = Script::read(&path).unwrap();
    assert!(script.text.starts_with("// "), "{name} begins by saying what it shows");
    let settings = settings.iter().map(|(n, v)| ((*n).to_owned(), *v)).collect();
    let study = common::runs(&script, &settings, None);
    let record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    assert_eq!(record.runs.len(), runs);
    for run in &record.runs {
        assert!(run.duration > 0.0 && !run.windows.end.is_empty());
        for (what, ledger) in run.ledgers.all() {
            // As far as the steps of a run follow speeds; the engine's tests hold the close tolerance to 1.5e-6.
            let allowed = if [Book::Mechanics, Book::Chain].contains(&what) { 3e-5 } else { ledger.allowed };
            assert!(
                ledger.relative <= allowed,
                "{name}: {}, {}: {what} is open by {} of {}",
                run.variant,
                run.duty,
                ledger.relative,
                ledger.allowed
            );
        }
    }
}

#[test]
fn orchard() {
    runs_and_closes("orchard.rhai", &[("minutes", 2.0)], 6);
}

#[test]
fn trail_wear() {
    runs_and_closes("trail-wear.rhai", &[("hours", 40.0), ("laps", 1.0), ("bench_laps", 1.0)], 2);
}

#[test]
fn orchard_life() {
    runs_and_closes("orchard-life.rhai", &[("trees", 2.0), ("hours", 200.0)], 3);
}

/// Hires in days, days in weeks, weeks in a season: stated by `times`, or written as loops.
#[test]
fn repeats_that_are_stated_give_the_same_record_as_loops_with_and_without_skipping() {
    let lap = "ride.idle(20.s); ride.launch(22.km_h); ride.hold(22.km_h, 60.s); ride.brake(1.5);";
    let season = |hire: &str, day: &str, week: &str| Script {
        path: PathBuf::from("season.rhai"),
        name: "season.rhai".to_owned(),
        text: format!(
            "fn hire(ride) {{ {lap} {lap} ride.motor_off(15.min); }}\n\
             fn day(ride) {{ {hire} ride.park(14.hours); }}\n\
             fn week(ride) {{ {day} ride.park(2.days); }}\n\
             fn season(ride) {{ {week} }}\n\
             compare(machine(\"example\"), duty(\"season\", Fn(\"season\")).repeated(45.days));\n"
        ),
    };
    let looped = season(
        "for k in 0..10 { hire(ride); }",
        "for k in 0..5 { day(ride); }",
        "for k in 0..3 { ride.ambient(20.degC); week(ride); }",
    );
    let stated = season(
        "ride.times(10, Fn(\"hire\"));",
        "ride.times(5, |ride| day(ride));",
        "ride.times(3, |ride| { ride.ambient(20.degC); week(ride); });",
    );
    let run = |script: &Script, skipping: f64| {
        let limits = Limits { skipping: Skipping { tolerance: skipping }, ..Limits::default() };
        let settings = BTreeMap::new();
        let request = Request::of(script, &settings, limits);
        let study = asked(&request, (1, 1), &mut |_| ()).expect("it asks");
        let Study::Runs(runs) = study else { panic!("it asks for runs") };
        let runs = runs.perform(Some(1), |_| (), &mut |_| ()).expect("it runs").record.runs;
        (serde_json::to_string(&runs).expect("it is written"), runs)
    };
    let [(full, whole), (skipped, some)] = [0.0, Skipping::default().tolerance].map(|skipping| {
        let (of_loops, of_times) = (run(&looped, skipping), run(&stated, skipping));
        assert!(of_loops.0 == of_times.0, "they differ at the tolerance {skipping}");
        of_times
    });
    assert!(full != skipped && some[0].work.steps < whole[0].work.steps / 2, "{}", some[0].work.steps);
    let told = [&whole, &some].map(|runs| &runs[0].horizon.as_ref().expect("it is repeated").errors);
    for (exact, found) in told[0].iter().zip(told[1]) {
        // Of a bushing that has lost 3e-3 of its room, the 1e-5 of it that each e-fold of time may miss are a hundredth.
        let share = if exact.quantity == "bushing wear" { 1e-2 } else { 1e-3 };
        let allowed = 3.0 * found.error + share * exact.value;
        assert!((found.value - exact.value).abs() <= allowed, "{exact:?} {found:?}");
    }
}

#[test]
fn a_duty_that_reads_the_ride_says_why_none_of_its_blocks_was_skipped() {
    let script = |reads: &str| Script {
        path: PathBuf::from("reads.rhai"),
        name: "reads.rhai".to_owned(),
        text: format!(
            r#"let watched = duty("watched", |ride| {{ ride.idle(20.s); ride.launch(15.km_h); ride.brake(2); {reads} }}).repeated(3.min);
            compare(machine("example"), watched);"#
        ),
    };
    let said = |reads| {
        let record = common::runs(&script(reads), &BTreeMap::new(), None)
            .unwrap_or_else(|t| panic!("{}", t.render(false)))
            .record;
        (brief(&record).text(), sure(&record).text())
    };
    let why = "A duty that reads the ride (“watched”) may differ from block to block: all its blocks were simulated, none skipped.";
    let (short, long) = said("if ride.fill < 0.3 { ride.oil(3, \"SAE 30\"); }");
    assert!(short.contains(why) && long.contains(why), "{short} {long}");
    assert!(!said("").0.contains("none skipped"));
}

/// With a constant idle the lining lasts longest just above idle: the farther above, the longer the clutch slips.
#[test]
fn the_spring_just_above_idle_lasts_longest_in_the_orchard() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/orchard-life.rhai");
    let script = Script::read(&path).unwrap();
    let settings = [("trees".to_owned(), 10.0), ("hours".to_owned(), 1500.0)].into_iter().collect();
    let study = common::runs(&script, &settings, None).unwrap();
    let life = |name: &str| {
        let run = study.record.runs.iter().find(|r| r.variant == name).expect(name);
        let horizon = run.horizon.as_ref().expect("a repeated duty");
        assert!(horizon.blocks_skipped > 20, "{name}: {} skipped", horizon.blocks_skipped);
        assert!(run.supplies[&Supply::Drops] > 90.0, "{:?}", run.supplies);
        run.parts.iter().find(|p| p.part == Part::Lining).and_then(|p| p.life).expect("it wears")
    };
    let [soft, near, far] = ["1700 rpm", "1750 rpm", "2100 rpm"].map(life);
    assert!(near > soft && near > 1.2 * far, "{soft} {near} {far}");
}

/// With idles that vary by 75 rpm, a spring 50 rpm above the nominal idle drags in some carts, and its heat halves their lives; one
/// 200 rpm above it in none: springs scatter as well (the shop's rule: common practice, no source).
#[test]
fn a_varying_idle_requires_the_shops_margin() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/orchard-fleet.rhai");
    let script = Script::read(&path).unwrap();
    assert!(script.text.starts_with("// "));
    let settings = [("clutches".to_owned(), 16.0), ("hours".to_owned(), 100.0)].into_iter().collect();
    let Saved::Fleet(report) = long(&script, &settings).unwrap() else { panic!("a fleet") };
    let lives = |name: &str| -> Vec<f64> {
        let fleet = report.fleets.iter().find(|f| f.variant == name).expect(name);
        assert_eq!(fleet.outcomes.len(), 16);
        fleet.outcomes.iter().map(|o| o.running.unwrap_or(100.0 * 3600.0)).collect()
    };
    let (near, shop) = (lives("1750 rpm"), lives("1900 rpm"));
    let halved = |a: &[f64], b: &[f64]| a.iter().zip(b).filter(|(a, b)| **a < 0.5 * **b).count();
    let (drag, other) = (halved(&near, &shop), halved(&shop, &near));
    assert!(drag >= 2 && other == 0, "{drag} of 16 last half as long at 50 rpm over the idle, {other} at 200");
}

#[test]
fn campground() {
    runs_and_closes("campground.rhai", &[("laps", 1.0), ("hires", 1.0), ("days", 1.0)], 2);
}

#[test]
fn weekend() {
    runs_and_closes("weekend.rhai", &[("rounds", 1.0), ("weekends", 1.0)], 4);
}

/// A counterexample: a cold dose with a night's rest keeps as well as a warm one; only an immediate spin loses it.
#[test]
fn rest_before_the_next_spin_keeps_the_oil_and_warmth_does_not() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/weekend.rhai");
    let script = Script::read(&path).unwrap();
    let settings = [("rounds".to_owned(), 6.0), ("weekends".to_owned(), 2.0)].into_iter().collect();
    let study = common::runs(&script, &settings, None);
    let record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    let pores: Vec<f64> = record.runs.iter().map(|r| r.ledgers.oil.held[&Entry::InPores]).collect();
    let [never, at_once, warm, cold] = pores[..] else { panic!("four habits") };
    assert!(never < at_once && at_once < warm, "{pores:?}");
    assert!((warm / cold - 1.0).abs() < 0.01, "{pores:?}");
    // Oiling must not seem to prolong the lining's life; oil thrown on it prolongs slip and so shortens its life.
    let lives: Vec<f64> = record.runs.iter().map(|r| r.parts[0].life.unwrap()).collect();
    let [never, at_once, warm, cold] = lives[..] else { panic!("four habits") };
    assert!((warm / never - 1.0).abs() < 0.03 && (cold / never - 1.0).abs() < 0.03, "{lives:?}");
    assert!(at_once < never, "{lives:?}");
}

#[test]
fn town_trace() {
    runs_and_closes("town-trace.rhai", &[("laps", 1.0)], 2);
}

/// UN Regulation 83 states 1.013 km; its own points, joined by straight lines, give 1014.58 m.
#[test]
fn the_shipped_trace_covers_its_published_distance() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/ece15.csv");
    let trace = slipsoak::read::trace::read("ece15.csv", &std::fs::read_to_string(path).unwrap()).unwrap().0;
    let distance: f64 = trace.points.windows(2).map(|w| (w[1].0 - w[0].0) * (w[0].1 + w[1].1) / 2.0).sum();
    approx::assert_abs_diff_eq!(distance, 1014.58, epsilon = 0.005);
}

fn only_run(text: &str) -> slipsoak_engine::record::Run {
    let script = Script { path: PathBuf::from("duty.rhai"), name: "duty.rhai".to_owned(), text: text.to_owned() };
    let study = common::runs(&script, &std::collections::BTreeMap::new(), Some(1));
    study.unwrap_or_else(|t| panic!("{}", t.render(false))).record.runs.remove(0)
}

const COMPARE: &str = "compare(machine(\"example\"), duty(\"d\", Fn(\"d\")));";

#[test]
fn a_duty_that_reads_the_ride_gives_the_same_result_as_one_that_does_not() {
    let entries = "ride.idle(20.s); ride.launch(25.km_h); ride.hold(25.km_h, 10.s); ride.brake(1.5);";
    let taken_down = only_run(&format!("fn d(ride) {{ {entries} }} {COMPARE}"));
    let at_once = only_run(&format!("fn d(ride) {{ {entries} let now = ride.clock; }} {COMPARE}"));
    assert_eq!(taken_down, at_once);
}

#[test]
fn a_duty_may_act_on_what_it_reads() {
    let run = only_run(&format!("fn d(ride) {{ while ride.clock < 95.s {{ ride.idle(10.s); }} }} {COMPARE}"));
    assert_eq!(run.duration, 100.0);
}

#[test]
fn a_closure_may_use_the_ride_and_read_it() {
    let text = "fn d(ride) { [10, 20].for_each(|| if ride.fill > 0.1 { ride.idle(this); }); }";
    assert_eq!(only_run(&format!("{text} {COMPARE}")).duration, 30.0);
}

#[test]
fn shop_counter() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/shop-counter.rhai");
    let script = Script::read(&path).unwrap();
    assert!(script.text.starts_with("// "));
    let settings = [("minutes".to_owned(), 10.0)].into_iter().collect();
    let study = common::runs(&script, &settings, None);
    let study = study.unwrap_or_else(|t| panic!("{}", t.render(false)));
    let names: Vec<&str> = study.answers.iter().map(|answer| answer.kind().name()).collect();
    assert_eq!((names, study.record.runs.len()), (vec!["choice", "gaps", "oiling"], 0));
    for answer in &study.answers {
        let text = slipsoak_plots::page::Page::with(answer, vec![]).text(80, false);
        assert!(text.contains("between the trees") && text.contains("Caution"), "{}", answer.kind().name());
    }
}

/// A spring below idle drags, and is hotter the further below; above idle the idle hardly matters.
#[test]
fn the_sweep_overheats_where_idle_is_above_the_engagement_speed() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/orchard-sweep.rhai");
    let script = Script::read(&path).unwrap();
    assert!(script.text.starts_with("// "));
    let settings = [("minutes", 4.0), ("springs", 3.0), ("idles", 3.0)].map(|(name, v)| (name.to_owned(), v)).into();
    let Saved::Sweep(sweep) = long(&script, &settings).unwrap() else { panic!("a sweep") };
    assert_eq!(sweep.axes.iter().map(|a| a.labels.len()).collect::<Vec<_>>(), [3, 3]);
    // Springs of 1600, 1900 and 2200 rpm on idles of 1500, 1700 and 1900 rpm.
    let peak = |spring, idle| sweep.at(&[spring, idle]).unwrap().summary.lining_peak;
    assert!(peak(0, 0) + 30.0 < peak(0, 1) && peak(0, 1) + 30.0 < peak(0, 2), "{:?}", sweep.rows);
    assert!((peak(2, 0) - peak(2, 2)).abs() < 2.0, "{:?}", sweep.rows);
}

#[test]
fn a_long_run_shows_its_progress() {
    let text = "fn d(ride) { ride.idle(20.s); ride.launch(25.km_h); ride.brake(1.5); } \
                compare(machine(\"example\"), duty(\"d\", Fn(\"d\")).repeated(1.hours));";
    let script = Script { path: PathBuf::from("duty.rhai"), name: "duty.rhai".to_owned(), text: text.to_owned() };
    let told = std::sync::Mutex::new(vec![]);
    let hear = |share: f64| told.lock().unwrap().push(share);
    let none = std::collections::BTreeMap::new();
    let request = Request::of(&script, &none, Limits::default());
    let Study::Runs(runs) = asked(&request, (1, 1), &mut |_| ()).unwrap() else { panic!("runs") };
    assert_eq!(runs.count(), 1);
    runs.perform(None, hear, &mut |_| ()).unwrap();
    let told = told.into_inner().unwrap();
    let sum: f64 = told.iter().sum();
    assert!(told.len() > 5 && told.iter().all(|share| *share > 0.0), "{told:?}");
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
}

/// By steps that passed the standstill before its clutch pulls 7 J were missing in its chain ledger, and it was made once more.
#[test]
fn a_vehicle_that_rolls_back_a_little_before_it_sets_off_is_computed_by_the_usual_steps() {
    let folder = tempfile::tempdir().unwrap();
    let machine = r#"{"lining_kind": "bare metal", "oil": "SAE 20", "idle_kind": "governed", "motor": {"idle": "1850 rpm"},
        "vehicle": {"mass": "320 kg", "wheel_radius": "200 mm", "ratio": 6},
        "clutch": {"shoes": 6, "shoe_mass": "120 g"}, "surroundings": {"grade": 0.05, "ambient": "35 °C"}}"#;
    let text = r#"fn up(ride) {
            for k in 0..5 { ride.idle(30.s); ride.launch(30.3101.km_h); ride.hold(30.3101.km_h, 20.s); ride.brake(1.5); }
        }
        compare(machine("creeper").spring(1600.rpm), duty("up", Fn("up")));"#;
    std::fs::write(folder.path().join("creeper.json"), machine).unwrap();
    let path = folder.path().join("up.rhai");
    std::fs::write(&path, text).unwrap();
    let script = Script::read(&path).unwrap();
    let interpreter = Interpreter::new(&script, &BTreeMap::new(), Limits::default()).expect("a script");
    let pair = interpreter.plan().expect("a plan").pairs.remove(0);
    let by = |tolerance| {
        let options = Options { tolerance, ..Options::default() };
        interpreter.perform(&pair, options, &|_| ()).unwrap_or_else(|e| panic!("{e}"))
    };
    let [usual, finer] = [1.0, 0.1].map(|factor| by(Options::default().tolerance.times(factor)));
    assert!(usual.warned(Warned::Drag).is_some() && usual.duration > 300.0);
    assert!(usual.work.steps < finer.work.steps, "it was made once more: {} steps", usual.work.steps);
}
