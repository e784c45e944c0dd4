//! Gaps and oiling.

use super::said::{HOUR, RPM, Said, sentences};
use super::springs::to_look_for;
use crate::made_up::shop;
use slipsoak_engine::document::finding::{Beyond, Sag, Slipping, Weak};
use slipsoak_engine::fleet::Known;
use slipsoak_engine::names::{LeakCase, Part};
use slipsoak_engine::oil_plan::{Advice, Advised, Grip, OilPlan, Weighing};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Heated, Reason, Renewed, Verdict};
use slipsoak_engine::stack_up::{Clearance, Fails, Gaps};
use slipsoak_plots::words;

pub const SAG: Sag =
    Sag { settled: 1690.0 * RPM, new: 1900.0 * RPM, idle: 1750.0 * RPM, highest: 1825.0 * RPM, within: 300.0 * HOUR };

/// A margin over the idle that is short of its tolerances.
pub const NEAR: Reason = Reason::TooNear { margin: 57.0 * RPM, floor: 90.0 * RPM, share: 0.22 };

pub const SLIPPING: Slipping = Slipping { held: 4.2, lock: 5.5 };

/// A new set in place of springs of which one has this share of the others' force.
pub fn renewed(weakest: f64, others: f64, verdict: Verdict) -> Renewed {
    Renewed { weak: Weak { weakest, others }, set: to_look_for(verdict) }
}

pub fn covers() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut Gaps)| {
        let mut gaps = shop::gaps();
        gaps.head.seeds = vec![1];
        (gaps.stack.below_limit, gaps.stack.below_zero) = (0.031, 0.002);
        change(&mut gaps);
        words::gaps::statement(&gaps)
    };
    vec![
        sentences("gaps, clear", &with(&|_| ())),
        sentences("gaps, the wrong oil", &with(&|gaps| gaps.wrong_oil = true)),
        sentences(
            "gaps, learned wear constants",
            &with(&|gaps| {
                let known = |path: &str, factor| Known { path: path.to_owned(), factor };
                gaps.learned = vec![known("washer.wear_oiled", 1.2), known("bushing.wear_face", 2.0)];
            }),
        ),
        sentences(
            "gaps, tight, the springs sag, a held speed slips",
            &with(&|gaps| {
                (gaps.clearance, gaps.sag, gaps.slipping) = (Clearance::Tight, Some(SAG), Some(SLIPPING));
                gaps.courses[0].tight.time = Some(900.0 * HOUR);
                gaps.courses[0].bronze_on_steel.time = Some(1100.0 * HOUR);
            }),
        ),
        sentences(
            "gaps, the springs are too near to the idle",
            &with(&|gaps| (gaps.against, gaps.sought) = (vec![NEAR], Some(to_look_for(Verdict::Fits)))),
        ),
        sentences(
            "gaps, the springs are weak and too near to the idle",
            &with(&|gaps| (gaps.against, gaps.renewed) = (vec![NEAR], Some(renewed(0.85, 0.85, Verdict::Warned)))),
        ),
        sentences(
            "gaps, the lining overheats and the motor stalls, no spring is the remedy",
            &with(&|gaps| {
                let stalls = Warning { kind: Warned::Stall, value: 600.0, limit: 0.0 };
                let hot = Reason::TooHot { part: Heated::Lining, peak: 580.0, limit: 523.15 };
                gaps.against = vec![hot, Reason::InUse(stalls), NEAR];
                gaps.sought = Some(to_look_for(Verdict::Unfit));
            }),
        ),
        sentences(
            "gaps, the springs sag below the highest idle alone",
            &with(&|gaps| {
                let sag = Sag { settled: 1790.0 * RPM, ..SAG };
                (gaps.sag, gaps.sought) = (Some(sag), Some(to_look_for(Verdict::Fits)));
            }),
        ),
        sentences(
            "gaps, a spring is broken",
            &with(&|gaps| {
                gaps.sag = Some(Sag { settled: 0.0, new: 0.0, ..SAG });
                gaps.renewed = Some(renewed(0.0, 1.0, Verdict::Fits));
            }),
        ),
        sentences(
            "gaps, a weak spring, and no spring is the remedy",
            &with(&|gaps| {
                (gaps.sag, gaps.sought) = (Some(SAG), Some(to_look_for(Verdict::Unfit)));
                gaps.renewed = Some(renewed(0.7, 1.0, Verdict::Unfit));
            }),
        ),
        sentences(
            "gaps, a spring somewhat weaker, and no speed is clear",
            &with(&|gaps| {
                gaps.sag = Some(SAG);
                gaps.renewed = Some(renewed(0.95, 1.0, Verdict::Unfit));
            }),
        ),
        sentences(
            "gaps, springs below the idle as given",
            &with(&|gaps| {
                (gaps.sag, gaps.sought) = (Some(Sag { new: 1720.0 * RPM, ..SAG }), Some(to_look_for(Verdict::Fits)));
            }),
        ),
        sentences(
            "gaps, the springs sag and no spring is the remedy",
            &with(&|gaps| (gaps.sag, gaps.sought) = (Some(SAG), Some(to_look_for(Verdict::Unfit)))),
        ),
        sentences(
            "gaps, touching, the washer chars",
            &with(&|gaps| {
                gaps.clearance = Clearance::Touches;
                gaps.courses
                    .iter_mut()
                    .for_each(|course| course.fails = Some(Fails { part: Part::Charring, after: 1500.0 }));
            }),
        ),
        sentences(
            "gaps, the bushing grabs and the springs sag",
            &with(&|gaps| {
                gaps.sag = Some(SAG);
                gaps.courses[0].fails = Some(Fails { part: Part::Seized, after: 1500.0 });
            }),
        ),
        sentences(
            "gaps, a part is too hot for the model",
            &with(&|gaps| {
                gaps.courses.iter_mut().for_each(|c| c.beyond = Some(Beyond { peak: 780.0, limit: 773.15 }));
            }),
        ),
        sentences(
            "gaps, the washer is too thin when new",
            &with(&|gaps| {
                gaps.layers[0].size = 2e-4;
                for course in &mut gaps.courses {
                    (course.washer_due.time, course.washer_due.early) = (Some(0.0), Some(0.0));
                }
            }),
        ),
        sentences(
            "gaps, some washers are too thin when new",
            &with(&|gaps| {
                gaps.layers[0].tolerance = 6e-4;
                gaps.courses.iter_mut().for_each(|course| course.washer_due.early = Some(0.0));
            }),
        ),
        sentences(
            "gaps, nothing wears",
            &with(&|gaps| {
                for course in &mut gaps.courses {
                    (course.washer_due.time, course.bronze_on_steel.time) = (None, None);
                }
            }),
        ),
    ]
}

fn ridden(oil: &str, least: f64) -> Grip {
    Grip { oil: oil.to_owned(), least, after: least + 0.001 }
}

pub fn oils() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut OilPlan)| {
        let mut plan = shop::oiling();
        change(&mut plan);
        words::oiling::statement(&plan)
    };
    let habit = Advised { outings: 4, riding: 2.7 * HOUR, fill: 0.9, drops: 2.9, dose: 3.0, warm: 3.0 };
    let often = Advised { outings: 1, riding: 2400.0, fill: 0.88, drops: 4.6, dose: 5.0, warm: 3.0 };
    let weighing = Weighing { outings: 3, riding: 2.1 * HOUR, lost: 9.8e-5, lost_at_most_leak: 2.6e-4 };
    vec![
        sentences("oiling, the wrong oil", &with(&|plan| plan.wrong_oil = true)),
        sentences(
            "oiling, once a year",
            &with(&|plan| {
                plan.lasts.iter_mut().for_each(|lasts| lasts.due = None);
                plan.slipping = Some(SLIPPING);
            }),
        ),
        sentences(
            "oiling, a habit",
            &with(&|plan| {
                (plan.advised, plan.advised_at_most_leak) = (Advice::Every(habit), Advice::Every(often));
                plan.weighing = Some(weighing);
            }),
        ),
        sentences(
            "oiling, a habit put on warm, none at the greatest leakage, the springs sag",
            &with(&|plan| {
                plan.advised = Advice::Every(Advised { dose: 4.0, warm: 4.0, ..habit });
                plan.dose = 4.0;
                (plan.advised_at_most_leak, plan.sag) = (Advice::Never, Some(SAG));
                plan.sought = Some(to_look_for(Verdict::Warned));
            }),
        ),
        sentences(
            "oiling, a weak spring, relaxed below the idle",
            &with(&|plan| {
                (plan.advised, plan.sag) = (Advice::Every(habit), Some(SAG));
                plan.renewed = Some(renewed(0.85, 1.0, Verdict::Warned));
            }),
        ),
        sentences(
            "oiling, springs of a weak lot below the idle, of which a new set does not fit",
            &with(&|plan| {
                plan.advised = Advice::Every(habit);
                (plan.sag, plan.sought) = (Some(Sag { new: 1720.0 * RPM, ..SAG }), Some(to_look_for(Verdict::Fits)));
                plan.renewed = Some(renewed(1.0, 0.8, Verdict::Unfit));
            }),
        ),
        sentences(
            "oiling, a rest of a minute",
            &with(&|plan| {
                (plan.advised, plan.advised_at_most_leak, plan.rest) =
                    (Advice::Every(habit), Advice::Every(often), 60.0);
            }),
        ),
        sentences(
            "oiling, a habit put on cold",
            &with(&|plan| {
                plan.advised = Advice::Every(Advised { outings: 1, dose: 1.0, warm: 1.0, ..often });
            }),
        ),
        sentences(
            "oiling, hardly any oil on the lining",
            &with(&|plan| {
                plan.doses.iter_mut().for_each(|dose| dose.grip = 0.998);
                plan.oils = vec![ridden("SAE 30", 0.999), ridden("SAE 30 with PTFE", 0.997)];
            }),
        ),
        sentences(
            "oiling, oil of the largest dose on the lining",
            &with(&|plan| {
                plan.doses[0].grip = 0.998;
                plan.oils = vec![ridden("SAE 30", 0.999), ridden("SAE 30 with PTFE", 0.96)];
            }),
        ),
        sentences(
            "oiling, oil on the lining",
            &with(&|plan| plan.oils = vec![ridden("SAE 30", 0.9), ridden("SAE 30 with PTFE", 0.87)]),
        ),
        sentences(
            "oiling, gone within the first outing",
            &with(&|plan| {
                (plan.advised, plan.advised_at_most_leak, plan.sag) = (Advice::Never, Advice::Never, Some(SAG));
                plan.beyond = Some(Beyond { peak: 780.0, limit: 773.15 });
                for lasts in plan.lasts.iter_mut().filter(|lasts| lasts.name != LeakCase::Least) {
                    (lasts.due, lasts.end) = (Some(1000.0), Some(1200.0));
                }
            }),
        ),
        sentences(
            "oiling, due within the first outing",
            &with(&|plan| {
                (plan.advised, plan.advised_at_most_leak) = (Advice::Never, Advice::Never);
                plan.lasts.iter_mut().for_each(|lasts| lasts.due = Some(1000.0));
            }),
        ),
    ]
}

#[test]
fn grease_that_lengthens_no_oiling_is_said_to_do_so() {
    let said = |due: f64| {
        let mut plan = shop::oiling();
        let set = plan.case(LeakCase::AsSet).and_then(|set| set.due).expect("it is due");
        plan.lasts
            .iter_mut()
            .filter(|lasts| lasts.name == LeakCase::Greased)
            .for_each(|lasts| lasts.due = Some(due * set));
        let all = words::oiling::statement(&plan);
        all.iter().map(words::text::Words::text).find(|text| text.starts_with("Grease")).expect("grease is told")
    };
    assert!(said(2.0).contains("instead of"), "{}", said(2.0));
    assert!(said(1.001).contains("hardly lengthens that"), "{}", said(1.001));
}

#[test]
fn a_weak_spring_is_answered_by_a_new_set_of_the_same_and_by_another_spring_only_where_that_does_not_fit() {
    let first = |verdict| {
        let (mut gaps, mut plan) = (shop::gaps(), shop::oiling());
        let below = Sag { new: 1720.0 * RPM, ..SAG };
        (gaps.sag, gaps.renewed) = (Some(below), Some(renewed(0.7, 1.0, verdict)));
        gaps.sought = (verdict == Verdict::Unfit).then(|| to_look_for(Verdict::Fits));
        (plan.sag, plan.renewed, plan.sought) = (gaps.sag, gaps.renewed.clone(), gaps.sought.clone());
        [words::gaps::statement(&gaps), words::oiling::statement(&plan)].map(|said| said[0].text())
    };
    for said in first(Verdict::Fits) {
        assert!(
            said.starts_with("Replace all springs first, by a new set of the same (it fits, and keeps a margin of"),
            "{said}"
        );
        assert!(said.contains("one spring is weak") && !said.contains("another"), "{said}");
    }
    for said in first(Verdict::Unfit) {
        assert!(said.starts_with("Choose another spring first"), "{said}");
        assert!(said.contains("as a whole set: a new set of the same does not fit (too hot)"), "{said}");
    }
}

#[test]
fn oil_is_left_to_stand_no_longer_than_the_machine_rests() {
    let said = |rest: f64| {
        let habit = Advised { outings: 4, riding: 2.7 * HOUR, fill: 0.9, drops: 3.9, dose: 4.0, warm: 2.0 };
        let advised = Advice::Every(habit);
        let plan = OilPlan { rest, advised, advised_at_most_leak: advised, ..shop::oiling() };
        let all = words::oiling::statement(&plan);
        let wall = all.iter().map(words::text::Words::text).find(|text| text.starts_with("For the wall"));
        wall.expect("a rule for the wall").replace('\u{a0}', " ")
    };
    assert!(said(84_000.0).contains("let it stand overnight"), "{}", said(84_000.0));
    let short = said(600.0);
    assert!(short.contains("let it stand for its rest of 10 min") && !short.contains("overnight"), "{short}");
}

#[test]
fn a_rest_in_which_a_dose_does_not_soak_in_is_refused_with_the_grip_that_is_lost() {
    let said = |rest: f64| {
        let mut plan = shop::oiling();
        let habit = Advised { outings: 4, riding: 2.7 * HOUR, fill: 0.9, drops: 2.9, dose: 3.0, warm: 3.0 };
        (plan.advised, plan.advised_at_most_leak, plan.rest) = (Advice::Every(habit), Advice::Every(habit), rest);
        words::oiling::statement(&plan)[0].text().replace('\u{a0}', " ")
    };
    // Four drops of the table, the next that was tried: 1 − 0.03 · 4 of the friction is left.
    let words = "A rest of 1 min is too short to oil in: ridden 30 s later, 3 drops can take up to 12 % of the lining's grip. Oil before a long rest instead";
    assert!(said(60.0).contains(words), "{}", said(60.0));
    assert!(!said(600.0).contains("too short"), "{}", said(600.0));
}
