//! What answers say of a machine that can be used but not without more: near to the idle, with a wrong oil, short-lived, refused.

use crate::made_up::fleet::fleets;
use crate::made_up::sweep::{axis, sweep};
use crate::made_up::{NAMES, record, shop};
use slipsoak_engine::document::Saved;
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned, Warning};
use slipsoak_engine::spring_choice::{Reason, Verdict};
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
    let below = said(40.0, &|_| ());
    assert!(below.contains("rpm below the highest idle") && !below.contains("−"), "{below}");
    let mut gaps = shop::gaps();
    (gaps.against, gaps.renewed, gaps.sag) =
        (vec![Reason::TooNear { margin: 65.0 * RPM, floor: 90.0 * RPM, share: 0.2 }], None, None);
    assert!(text(&words::gaps::statement(&gaps)).contains(near));
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
        let whole = drawing.svg.matches("\nlining steady limit 200").count();
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
    let page = Page::of(&Saved::Record(Box::new(record)));
    let (details, brief) = (page.text(80, true), page.text(80, false));
    // 140 mg put on and 30 mg thrown off; what evaporated is under half a per cent of the pores' 900 mg.
    for said in
        ["Oil, mg", "put on", "140", "thrown off", "30", "other entries", "What each ledger leaves open", "3 × 10⁻¹⁴"]
    {
        assert!(details.contains(said), "{said}: {details}");
    }
    assert!(!details.contains("evaporated  ") && !brief.contains("What each ledger leaves open"), "{details}");
}
