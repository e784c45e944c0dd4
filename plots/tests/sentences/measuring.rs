//! What to measure.

use super::covers_and_oil::{NEAR, renewed};
use super::said::{HOUR, RPM, Said, sentences};
use super::springs::to_look_for;
use crate::made_up::shop;
use slipsoak_engine::document::Saved;
use slipsoak_engine::measure_plan::{Action, MeasurePlan, Stocked};
use slipsoak_engine::names::{Decision, IdleKind, Method};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Reason, Verdict};
use slipsoak_plots::figures;
use slipsoak_plots::page::Page;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

/// A spring that drags on a throttle stop where the idle is high, and one that drags at any idle.
const DRAGS: Reason = drags(1690.0, 0.57);
const ALWAYS: Reason = drags(1600.0, 1.0);

const fn drags(rpm: f64, share: f64) -> Reason {
    let (highest, idle_kind) = (1775.0 * RPM, IdleKind::ThrottleStop);
    Reason::Drags { settled: rpm * RPM, highest, share, power: 12.0, creep: 0.0, stalls: false, idle_kind }
}

pub fn measurements() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut MeasurePlan)| {
        let mut plan = shop::measure();
        change(&mut plan);
        [words::measuring::statement(&plan), words::measuring::sure(&plan)].concat()
    };
    let none = |plan: &mut MeasurePlan| (plan.best, plan.quickest, plan.pair) = (None, None, None);
    let how: Vec<Words> = Method::ALL.into_iter().map(words::measuring::how).collect();
    vec![
        sentences("measuring for the oiling", &with(&|_| ())),
        sentences("measuring with the wrong oil", &with(&|plan| plan.wrong_oil = true)),
        sentences(
            "measuring for the life, read once",
            &with(&|plan| {
                (plan.decision, plan.safe, plan.best, plan.failed) = (Decision::Life, None, Some(4), 0);
                plan.prior.beyond = 0.2;
            }),
        ),
        sentences("measuring for the oiling, two together", &with(&|plan| (plan.best, plan.quickest) = (None, None))),
        sentences(
            "measuring for the spring, none worth it",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.now) = (Decision::Spring, 0);
                plan.actions = vec![Action::Fit("1900 rpm".into()), Action::Fit("2000 rpm".into())];
            }),
        ),
        sentences(
            "measuring for the spring, one alone",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.now) = (Decision::Spring, 0);
                plan.actions = vec![Action::Fit("1900 rpm".into())];
                plan.candidates.iter_mut().for_each(|c| c.deviation = 1.26);
            }),
        ),
        sentences(
            "measuring for the life, none that narrows it",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.safe) = (Decision::Life, None);
                plan.candidates.iter_mut().for_each(|c| c.deviation = 1.25);
            }),
        ),
        sentences("measuring for the oiling, by its range", &with(&|plan| plan.due = Some([Some(2.5e4), Some(3.6e6)]))),
        sentences(
            "measuring for the oiling, not due within ten years",
            &with(&|plan| plan.due = Some([Some(2.5e4), None])),
        ),
        sentences(
            "measuring for a season",
            &with(&|plan| {
                (plan.decision, plan.safe, plan.now) = (Decision::Season, None, 1);
                plan.season = Some(Stocked { carts: 12.0, running: 3.3e6 });
                plan.actions = vec![Action::Stock(20), Action::Stock(60)];
                (plan.prior.low, plan.prior.high) = (7.4, 130.2);
            }),
        ),
        sentences(
            "measuring, a use that is too hard",
            &with(&|plan| {
                none(plan);
                plan.against =
                    vec![Reason::NeverLocks, Reason::InUse(Warning { kind: Warned::Grabs, value: 1620.0, limit: 0.0 })];
                plan.sought = Some(to_look_for(Verdict::Unfit));
            }),
        ),
        sentences(
            "measuring, a weak spring",
            &with(&|plan| {
                none(plan);
                plan.against = vec![Reason::NeverLocks];
                plan.renewed = Some(renewed(0.7, 1.0, Verdict::Fits));
            }),
        ),
        sentences(
            "measuring, springs near to the idle",
            &with(&|plan| (plan.against, plan.sought) = (vec![NEAR], Some(to_look_for(Verdict::Fits)))),
        ),
        sentences(
            "measuring, all springs weaker than a new set, near to the idle",
            &with(&|plan| (plan.against, plan.renewed) = (vec![NEAR], Some(renewed(0.85, 0.85, Verdict::Fits)))),
        ),
        sentences(
            "measuring, a spring that only drags",
            &with(&|plan| {
                none(plan);
                (plan.against, plan.sought) = (vec![NEAR, DRAGS], Some(to_look_for(Verdict::Warned)));
            }),
        ),
        sentences(
            "measuring, a spring that drags at any idle",
            &with(&|plan| {
                none(plan);
                (plan.against, plan.sought) = (vec![ALWAYS], Some(to_look_for(Verdict::Fits)));
            }),
        ),
        sentences(
            "measuring, a weak spring that only drags",
            &with(&|plan| {
                none(plan);
                (plan.against, plan.renewed) = (vec![DRAGS], Some(renewed(0.7, 1.0, Verdict::Fits)));
            }),
        ),
        sentences(
            "measuring for the spring, all of them drag",
            &with(&|plan| {
                none(plan);
                plan.decision = Decision::Spring;
                (plan.against, plan.sought) = (vec![DRAGS], Some(to_look_for(Verdict::Fits)));
            }),
        ),
        sentences(
            "measuring for the spring, all of them too near to the idle",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.now) = (Decision::Spring, 0);
                plan.actions = vec![Action::Fit("1900 rpm".into()), Action::Fit("2000 rpm".into())];
                plan.sought = Some(to_look_for(Verdict::Fits));
            }),
        ),
        sentences(
            "measuring for the spring, all of them too near to the idle, and none is the remedy",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.now) = (Decision::Spring, 0);
                plan.actions = vec![Action::Fit("1900 rpm".into()), Action::Fit("2000 rpm".into())];
                plan.sought = Some(to_look_for(Verdict::Unfit));
            }),
        ),
        sentences(
            "measuring for a season, none worth it",
            &with(&|plan| {
                none(plan);
                (plan.decision, plan.now, plan.actions) =
                    (Decision::Season, 0, vec![Action::Stock(35), Action::Stock(60)]);
                plan.season = Some(Stocked { carts: 12.0, running: 500.0 * HOUR });
            }),
        ),
        sentences("how to measure", &how),
    ]
}

#[test]
fn parts_are_to_be_looked_at_before_the_first_of_them_is_worn_out() {
    let said = |low: f64| {
        let mut plan = shop::measure();
        (plan.best, plan.quickest, plan.pair) = (None, None, None);
        (plan.decision, plan.actions, plan.now) = (Decision::Life, vec![Action::Every(200.0 * HOUR); 2], 0);
        (plan.prior.low, plan.prior.high) = (low * HOUR, 1400.0 * HOUR);
        words::measuring::statement(&plan)[0].text().replace('\u{a0}', " ")
    };
    assert!(said(120.0).contains("every 60 h of riding"), "{}", said(120.0));
    assert!(said(300.0).contains("every 150 h of riding"), "{}", said(300.0));
    assert!(said(500.0).contains("every 200 h of riding"), "{}", said(500.0));
}

#[test]
fn what_is_left_out_of_lives_and_of_a_season_and_which_way_that_errs_is_said() {
    for (decision, errs) in [(Decision::Life, "are too long"), (Decision::Season, "the number of bushings is too low")]
    {
        let mut plan = shop::measure();
        plan.decision = decision;
        let said: String = words::measuring::statement(&plan).iter().map(Words::text).collect();
        let left = "Loss of oil is left out, in riding and at rest";
        assert!(said.contains(left) && said.contains(&format!("{errs} where oil is lost")), "{said}");
    }
}

/// The table used to state such as "−5458 ± 4443 %", and that the advice changes in 0 %.
#[test]
fn gains_and_changes_that_do_not_stand_out_from_chance_are_not_stated() {
    let page = |gain: f64, change: f64| {
        let mut plan = shop::measure();
        plan.candidates.iter_mut().for_each(|c| (c.gain, c.error, c.change) = (gain, 0.002, change));
        Page::of(&plan.into()).text(160, true)
    };
    let row = |page: &str| {
        let row = page.lines().find(|line| line.contains("pull of the springs")).map(str::to_owned);
        row.expect("a row").split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let sure = page(0.02, 0.3);
    assert!(sure.contains("80 ± 8") && row(&sure).contains(" 30 80 ± 8 "), "{sure}");
    for gain in [0.005, -0.02] {
        let unsure = page(gain, 0.0);
        assert!(!unsure.contains("± 8") && row(&unsure).contains(" – – "), "{unsure}");
        let plain = unsure.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            plain.contains("–: the advice changes too rarely") && plain.contains("in 127 sampled clutches"),
            "{plain}"
        );
    }
}

/// What would be measured on rides that must not be ridden is neither listed nor drawn.
#[test]
fn nothing_to_measure_is_listed_of_a_machine_that_must_not_be_ridden() {
    let page = |against: Vec<Reason>| {
        let mut plan = shop::measure();
        plan.against = against;
        let saved: Saved = plan.into();
        (Page::of(&saved).html(), figures(&saved).len())
    };
    let (ridden, drawn) = page(vec![NEAR]);
    assert!(ridden.contains("The measurements") && drawn == 1);
    let (forbidden, drawn) = page(vec![DRAGS]);
    assert!(!["The measurements", "How to measure", "Sheet to fill in"].iter().any(|head| forbidden.contains(head)));
    assert_eq!(drawn, 0);
}
