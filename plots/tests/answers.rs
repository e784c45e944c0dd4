//! What answers say of a machine that can be used but not without more: near to the idle, with a wrong oil, short-lived, refused.

use crate::made_up::fleet::fleets;
use crate::made_up::sweep::{axis, sweep};
use crate::made_up::{NAMES, record, shop};
use slipsoak_engine::document::Saved;
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::names::{Channel, Entry, Part, Supply};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Horizon, PartUse, Record, Run, Warned, Warning};
use slipsoak_engine::spring_choice::{Heated, Reason, Verdict};
use slipsoak_engine::stack_up::Fails;
use slipsoak_engine::units::RPM;
use slipsoak_plots::page::Page;
use slipsoak_plots::words::text::Words;
use slipsoak_plots::{Figure, Size, draw, words};

fn text(words: &[Words]) -> String {
    words.iter().map(Words::text).collect::<Vec<_>>().join(" ")
}

/// A cool run whose hot and relaxed springs engage so far above the idle, rpm.
fn over_idle(run: &mut Run, over: f64) {
    run.warnings.clear();
    run.engagement.idle = None;
    let idle = run.setting(&settings::motor::idle).expect("an idle");
    run.engagement.settled = Some(idle + over * RPM);
    run.overall.least[Channel::Engagement as usize] = idle + (over + 20.0) * RPM;
}

#[test]
fn a_run_of_one_machine_says_after_its_answer_that_its_springs_are_near_to_the_idle_in_the_words_of_the_shop() {
    let said = |over: f64, change: &dyn Fn(&mut Record)| {
        let mut record = record(&NAMES[..1]);
        over_idle(&mut record.runs[0], over);
        change(&mut record);
        text(&words::answer::answer(&record))
    };
    let near = "Its springs are nearer to the idle than `slipsoak choose` allows: hot and relaxed they engage ";
    let told = said(140.0, &|_| ());
    assert_eq!(told.matches(near).count(), 1, "{told}");
    // 140 rpm over the idle, which varies by 75 rpm.
    assert!(told.contains("they engage 65\u{a0}rpm above the highest idle"), "{told}");
    assert!(told.find("lasts") < told.find(near), "{told}");
    // What shows as the same number as is needed, and is less.
    let less =
        (1640..1670).map(|tenths| said(0.1 * f64::from(tenths), &|_| ())).find(|told| told.contains("just less"));
    let less = less.expect("a margin that is rounded to what is needed");
    assert!(less.contains("just less than the 92\u{a0}rpm above"), "{less}");
    let below = said(40.0, &|_| ());
    assert!(below.contains("rpm below the highest idle") && !below.contains("−"), "{below}");
    let mut gaps = shop::gaps();
    (gaps.against, gaps.renewed, gaps.sag) =
        (vec![Reason::TooNear { margin: 65.0 * RPM, floor: 90.0 * RPM, share: 0.2 }], None, None);
    assert!(text(&words::gaps::statement(&gaps)).contains(near));
    let weak = |record: &mut Record| {
        record.runs[0].engagement.renewed = Some(record.runs[0].engagement.settled.expect("given") + 300.0 * RPM);
    };
    let weak = said(70.0, &weak);
    assert!(
        weak.contains("Replace all springs by a whole new set of the same, which keeps clear")
            && !weak.contains("nearer"),
        "{weak}"
    );
    // Enough of a margin, a clutch that drags, and springs to choose from, of which another sentence speaks.
    let drags =
        |record: &mut Record| record.runs[0].warnings.push(Warning { kind: Warned::Drag, value: 200.0, limit: 0.0 });
    let choice = |record: &mut Record| {
        let other = Run { variant: "another spring".to_owned(), ..record.runs[0].clone() };
        record.runs.push(other);
    };
    for told in [said(300.0, &|_| ()), said(140.0, &drags), said(140.0, &choice)] {
        assert!(!told.contains("nearer to the idle"), "{told}");
    }
}

#[test]
fn a_wrong_oil_is_said_once_of_all_springs_and_is_the_fault_of_none() {
    let additive = Reason::InUse(Warning { kind: Warned::Additive, value: 1.0, limit: 1e-3 });
    assert_eq!(Verdict::of(std::slice::from_ref(&additive)), Verdict::Fits);
    let mut choice = shop::choice();
    for spring in &mut choice.springs {
        let before = Verdict::of(&spring.reasons);
        spring.reasons.push(additive.clone());
        assert_eq!(Verdict::of(&spring.reasons), before);
    }
    let page = Page::of(&Saved::Choice(Box::new(choice))).text(400, true);
    assert_eq!((page.matches("PTFE").count(), page.matches("Never use this oil").count()), (1, 1), "{page}");
}

#[test]
fn runs_that_end_within_the_hour_say_by_which_parts() {
    let mut record = record(&["soft", "hard"]);
    for (run, (part, minutes)) in record.runs.iter_mut().zip([(Part::Seized, 22.0), (Part::Lining, 36.0)]) {
        run.warnings.clear();
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) =
            (part, Some(minutes * 60.0), Some(minutes * 60.0));
    }
    let told = text(&words::answer::answer(&record));
    assert!(told.contains("until the bushing grabs its shaft or the lining is worn out"), "{told}");
}

#[test]
fn every_limit_of_temperatures_stands_with_its_whole_name() {
    let mut record = record(&NAMES);
    for run in &mut record.runs {
        let steady = &settings::limits::lining_steady;
        run.settings.iter_mut().filter(|s| s.path == steady.path).for_each(|s| s.value = 473.15);
    }
    for width in [400, 720, 960] {
        let size = Size { width, height: 600 };
        let drawing = draw(Figure::Temperatures, &record, size).expect("it draws");
        let whole = drawing.svg.matches("\nlining continuous limit 200").count();
        assert!(whole >= 1 && !drawing.svg.contains("lining … limit"), "{width}: {whole}");
    }
}

#[test]
fn the_gain_of_one_refused_fleet_over_another_is_no_recommendation() {
    let heading = |drag: &[&str]| {
        let mut report = fleets(&[("1500 rpm", 90.0, 2.0), ("1600 rpm", 145.0, 2.0)]);
        for fleet in report.fleets.iter_mut().filter(|fleet| drag.contains(&&*fleet.variant)) {
            fleet.outcomes.iter_mut().for_each(|outcome| outcome.drags = true);
        }
        words::still_running::gains_found(&report)
    };
    assert!(
        heading(&["1500 rpm", "1600 rpm"])
            .starts_with("Neither “1600 rpm” nor “1500 rpm” can be recommended (clutches drag at idle); ")
    );
    let one = heading(&["1600 rpm"]);
    assert!(one.contains("“1600 rpm” is not to be fitted (clutches drag at idle)"), "{one}");
    let mut habits = fleets(&[("no oil", 90.0, 2.0), ("three drops", 145.0, 2.0)]);
    for fleet in &mut habits.fleets {
        fleet.outcomes.iter_mut().for_each(|outcome| outcome.drags = fleet.variant == "no oil");
        fleet.duty = std::mem::replace(&mut fleet.variant, "cart".to_owned());
    }
    for pair in &mut habits.pairs {
        pair.duty = std::mem::replace(&mut pair.variant, "cart".to_owned());
        pair.against.1 = std::mem::replace(&mut pair.against.0, "cart".to_owned());
    }
    let used = words::still_running::gains_found(&habits);
    assert!(used.ends_with("“no oil” is not to be used (clutches drag at idle)"), "{used}");
    assert!(!heading(&[]).contains("fitted") && heading(&[]).contains("sampled clutches last longer with “1600 rpm”"));
}

#[test]
fn nobody_has_measured_the_end_leakage_of_machines_that_were_not_calibrated() {
    let leak = &settings::oiling::leak;
    let sure = |spreads: &[f64]| {
        let mut report = fleets(&[("a", 90.0, 2.0), ("b", 145.0, 2.0)]);
        for (fleet, factor) in report.fleets.iter_mut().zip(spreads) {
            fleet.uncertain = vec![Uncertain::alone(leak.path, Spread::Factor(*factor))];
        }
        (words::fleet::sure(&report).text(), Page::of(&Saved::Fleet(Box::new(report))).text(400, false))
    };
    let assumed = slipsoak_engine::fleet::assumed_factor(leak).expect("a factor");
    let (full, brief) = sure(&[assumed, assumed]);
    assert!(
        full.contains("which nobody has measured") && brief.contains("which nobody has measured"),
        "{full} {brief}"
    );
    let (full, brief) = sure(&[2.0, 2.0]);
    for said in [full, brief] {
        assert!(
            !said.contains("nobody") && said.contains("but for that of the end leakage, which is as it was learned"),
            "{said}"
        );
    }
    let (full, _) = sure(&[assumed, 2.0]);
    assert!(!full.contains("nobody") && full.contains("that of “b” is as it was learned"), "{full}");
}

#[test]
fn a_sweep_in_which_no_part_wears_says_so_and_gives_no_life() {
    let mut rests = sweep(vec![axis("motor.idle", &[1600.0, 1700.0], "rpm")]);
    for row in &mut rests.rows {
        (row.summary.life, row.summary.running, row.summary.ended_by) = (None, None, None);
    }
    let told = text(&words::sweep::answer(&rests));
    assert!(told.contains("no part wears measurably.") && !told.contains("longer than"), "{told}");
}

#[test]
fn the_terminal_shows_with_details_where_heat_and_oil_went_and_that_every_ledger_closes() {
    let mut record = record(&NAMES[..1]);
    record.runs[0].ledgers.oil.relative = 3e-14;
    // What leaked has its line, however little it is.
    record.runs[0].ledgers.oil.outward.insert(Entry::Leaked, 4.2e-7);
    let page = Page::of(&Saved::Record(Box::new(record)));
    let (details, brief) = (page.text(80, true), page.text(80, false));
    // 140 mg put on and 30 mg thrown off; what evaporated is under half a per cent of the pores' 900 mg.
    for said in [
        "Heat of the clutch, kJ",
        "slip energy",
        "300",
        "Oil, mg",
        "put on",
        "140",
        "thrown off",
        "30",
        "leaked",
        "other entries",
        "What each ledger leaves open",
        "3 × 10⁻¹⁴",
    ] {
        assert!(details.contains(said), "{said}: {details}");
    }
    let leaked = details.lines().find(|line| line.contains("leaked")).expect("a line");
    assert!(leaked.ends_with("0.42"), "{leaked}");
    assert!(details.contains("oil (100:"), "the limit of the oil is not that of service: {details}");
    assert!(!details.contains("evaporated  ") && !brief.contains("What each ledger leaves open"), "{details}");
}

#[test]
fn a_cool_bushing_that_runs_dry_is_helped_by_oil_and_a_hot_one_by_less_slip() {
    let said = |hot: bool| {
        let mut record = record(&NAMES[..1]);
        let run = &mut record.runs[0];
        run.warnings.clear();
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) = (Part::Seized, Some(660.0), Some(660.0));
        run.warnings.extend(hot.then_some(Warning { kind: Warned::Bushing, value: 420.0, limit: 363.15 }));
        text(&words::answer::answer(&record))
    };
    let (cool, hot) = (said(false), said(true));
    assert!(cool.contains("What would help: oil.") && !cool.contains("less slip"), "{cool}");
    assert!(hot.contains("What would help: less slip") && !hot.contains("help: oil."), "{hot}");
}

#[test]
fn a_washer_that_is_worn_out_before_it_is_ridden_is_helped_by_a_new_one() {
    let said = |millimetres: f64| {
        let mut record = record(&NAMES[..1]);
        let run = &mut record.runs[0];
        run.warnings.clear();
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) = (Part::Washer, Some(8.0), Some(8.0));
        let own = run.settings.iter_mut().find(|s| s.path == "washer.thickness").expect("a washer");
        own.value = 1e-3 * millimetres;
        text(&words::answer::answer(&record))
    };
    let new = "What would help: a new washer, since that of 0.20\u{a0}mm is not over the 0.25\u{a0}mm";
    assert!(said(0.2).contains(new) && !said(0.2).contains("less slip"), "{}", said(0.2));
    assert!(said(0.3).contains("less slip") && !said(0.3).contains("new washer"), "{}", said(0.3));
}

#[test]
fn a_lining_over_its_continuous_limit_is_said_to_be() {
    let said = |celsius: f64| {
        let mut record = record(&NAMES[..1]);
        record.runs[0].overall.most[Channel::LiningSurface as usize] = celsius + 273.15;
        text(&words::answer::answer(&record))
    };
    assert!(said(160.0).contains("above its continuous limit of 150\u{a0}°C"), "{}", said(160.0));
    assert!(!said(140.0).contains("continuous") && !said(260.0).contains("continuous"));
}

#[test]
fn lives_that_the_table_shows_apart_are_not_said_to_be_one() {
    let mut habits = record(&["cart"; 2]);
    for (k, (run, hours)) in habits.runs.iter_mut().zip([1840.0, 1860.0]).enumerate() {
        run.warnings.clear();
        run.duty = format!("habit {k}");
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) =
            (Part::Lining, Some(hours * 3600.0), Some(hours * 3600.0));
    }
    let told = text(&words::answer::answer(&habits));
    assert!(
        told.contains("wear hardly differs: the lining is worn out after 1800 to 1900\u{a0}h of running"),
        "{told}"
    );
}

/// From an hour of riding “never oiled” came out as the longest-lived.
#[test]
fn habits_of_oiling_are_ranked_by_life_only_by_runs_that_reach_the_service_of_their_oil() {
    let lasting = |drops: f64, ran: f64, due: Option<f64>, lives: [f64; 2]| {
        let mut habits = record(&["cart"; 2]);
        for (k, (run, hours)) in habits.runs.iter_mut().zip(lives).enumerate() {
            run.warnings.clear();
            run.supplies.clear();
            (run.duty, run.duration, run.running_time) = (format!("habit {k}"), ran * 3600.0, ran * 3600.0);
            run.parts.truncate(1);
            (run.parts[0].part, run.parts[0].life, run.parts[0].running) =
                (Part::Lining, Some(hours * 3600.0), Some(hours * 3600.0));
            run.horizon = due.map(|due| Horizon { service_due: Some(due * 3600.0), ..Horizon::default() });
        }
        habits.runs[1].supplies.insert(Supply::Drops, drops);
        (text(&words::answer::answer(&habits)), text(&[words::answer::brief(&habits)]))
    };
    let told = |drops: f64, ran: f64, due| lasting(drops, ran, due, [900.0_f64.max(2.0 * ran), 500.0]);
    let (answer, brief) = told(3.0, 1.0, None);
    assert!(answer.contains("1\u{a0}h of running, does not show which habit lasts longest"), "{answer}");
    assert!(answer.contains(".repeated(2000.hours)") && !answer.contains("900") && !answer.contains("500"), "{answer}");
    assert!(brief.contains("too short to rank habits"), "{brief}");
    // Duties that differ in no oil, and runs until the oil is due, are compared.
    for (drops, ran, due) in [(0.0, 1.0, None), (3.0, 300.0, Some(200.0))] {
        let (answer, brief) = told(drops, ran, due);
        assert!(answer.contains("900\u{a0}h") && !answer.contains("does not show"), "{answer}");
        assert!(!brief.contains("too short"), "{brief}");
    }
    // Carried on for a few times the run, but no oil is due in it.
    assert!(told(3.0, 300.0, None).0.contains("does not show which habit"));
    // The oil is due in them, but parts wear out long after: as long as is advised to shorter ones was too short.
    let (answer, _) = lasting(3.0, 2000.0, Some(500.0), [30_000.0, 25_000.0]);
    let longer = "2000\u{a0}h of running does not show which habit lasts longest, since parts wear out more than ten times later: repeat the duty for longer.";
    assert!(answer.contains(longer), "{answer}");
    // Repeated for longer than is advised to shorter ones.
    let (answer, brief) = told(3.0, 3000.0, None);
    let never = "Under none of these habits did the oil reach its service within 3000\u{a0}h of running";
    assert!(answer.contains(never) && !answer.contains("repeat") && !brief.contains("too short"), "{answer} {brief}");
}

#[test]
fn a_sweep_says_which_warnings_its_choice_has() {
    let mut crossed =
        sweep(vec![axis("clutch.engagement", &[1900.0, 2000.0], "rpm"), axis("vehicle.mass", &[160.0, 200.0], "kg")]);
    let told = text(&words::sweep::answer(&crossed));
    assert!(!told.contains("with warnings"), "{told}");
    for row in &mut crossed.rows {
        row.summary.warnings = if row.place[1] == 1 { vec![Warned::Bushing] } else { vec![] };
    }
    let told = text(&words::sweep::answer(&crossed));
    assert!(told.contains("It fits with warnings: bushing in 1 of 2."), "{told}");
}

#[test]
fn a_line_of_runs_with_different_limits_gives_all_of_them() {
    let mut record = record(&NAMES[..2]);
    let mut line = |kind: Warned, given: [(f64, f64); 2]| {
        for (run, (value, limit)) in record.runs.iter_mut().zip(given) {
            run.warnings = vec![Warning { kind, value, limit }];
        }
        words::warnings::lines(&record)[0].1.text()
    };
    let lining = line(Warned::Lining, [(560.0, 523.15), (660.0, 623.15)]);
    assert!(lining.starts_with("lining over a limit of 250 to 350\u{a0}°C (482 to 662\u{a0}°F): all, "), "{lining}");
    let alike = line(Warned::Lining, [(560.0, 523.15), (660.0, 523.15)]);
    assert!(alike.starts_with("lining over 250\u{a0}°C (482\u{a0}°F): all, "), "{alike}");
    let held = line(Warned::HeldSpeed, [(5.0, 25.0 / 3.6), (5.0, 30.0 / 3.6)]);
    assert!(held.contains("below lock-up at 25\u{a0}km/h (16\u{a0}mph) to 30\u{a0}km/h (19\u{a0}mph): all"), "{held}");
}

/// What is to be done comes before what holds of new and sound parts.
#[test]
fn a_use_that_is_forbidden_is_answered_by_the_change_it_needs_before_the_new_gap() {
    let mut gaps = shop::gaps();
    gaps.courses[0].fails = Some(Fails { part: Part::Seized, after: 1500.0 });
    gaps.against = vec![Reason::TooHot { part: Heated::Lining, peak: 580.0, limit: 523.15 }];
    let told = text(&words::gaps::statement(&gaps));
    let order = ["do not use it so.", "Choose a spring that fits first", "New, with sound parts, it clears"];
    let places: Vec<usize> =
        order.iter().map(|said| told.find(said).unwrap_or_else(|| panic!("{said}: {told}"))).collect();
    assert!(places.is_sorted(), "{told}");
}

/// A run whose washer chars by this power of the time: by the first it does so evenly, by the sixth ever faster.
#[test]
fn a_washer_that_chars_ever_faster_is_said_to_char_sooner_than_its_life_says_and_a_steady_one_is_not() {
    let said = |power: i32, used: f64, motor_runs: f64| {
        let mut record = record(&NAMES[..1]);
        let run = &mut record.runs[0];
        run.running_time = motor_runs * run.duration;
        run.windows.running = run.windows.end.iter().map(|t| t.min(run.running_time)).collect();
        let curve: Vec<f64> = run.windows.end.iter().map(|t| used * (t / run.duration).powi(power)).collect();
        // What the second half says.
        let half = curve[curve.len() / 2];
        let life = run.duration * (1.0 + (1.0 - used) / (2.0 * (used - half)));
        run.parts = vec![PartUse { part: Part::Charring, used, life: Some(life), running: Some(life), curve }];
        text(&words::answer::answer(&record))
    };
    let told = said(6, 0.01, 1.0);
    assert!(
        told.contains("The washer chars faster the longer this is ridden: at the rate of the last quarter"),
        "{told}"
    );
    assert!(!said(1, 0.01, 1.0).contains("chars faster"), "evenly");
    assert!(!said(6, 0.0, 1.0).contains("chars faster"), "not at all");
    assert!(!said(1, 0.01, 0.5).contains("chars faster"), "evenly, and on while it cools with the motor off");
}
