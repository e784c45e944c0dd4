//! Springs: every reason for and against one, and the answer of a choice.

use super::said::{HOUR, RPM, Said, all, clauses, sentences};
use crate::made_up::shop;
use slipsoak_engine::finding::Weak;
use slipsoak_engine::fleet::Known;
use slipsoak_engine::hill_start::HillStart;
use slipsoak_engine::names::{IdleKind, Part};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Choice, EachStart, Found, Heated, Judged, MadeOf, Reason, Verdict};
use slipsoak_plots::page::Page;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

/// What a stop-and-go may warn of besides, in the order of the warnings of a run.
pub const IN_USE: [Warning; 15] = {
    const fn warning(kind: Warned, value: f64, limit: f64) -> Warning {
        Warning { kind, value, limit }
    }
    [
        warning(Warned::Fire, 640.0, 633.15),
        warning(Warned::Vapour, 500.0, 493.15),
        warning(Warned::Smokes, 460.0, 453.15),
        warning(Warned::Additive, 0.4, 1e-3),
        warning(Warned::LetGo, 2600.0, 2000.0),
        warning(Warned::Glaze, 0.42, 0.3),
        warning(Warned::BushingLoad, 2.4e6, 1.8e6),
        warning(Warned::Squeals, 1500.0, 0.0),
        warning(Warned::Grabs, 1620.0, 0.0),
        warning(Warned::Seizes, 1900.0, 0.0),
        warning(Warned::OutOfReach, 8.2, 9.0),
        warning(Warned::Overrun, 8.2, 3.3),
        warning(Warned::Launch, 3.0, 40.0),
        warning(Warned::Brake, 2.0, 0.0),
        warning(Warned::Stall, 6.0, 0.0),
    ]
};

/// A start on a slope that burns the clutch and overheats its lining.
const BURNING: HillStart =
    HillStart { grade: 0.1, locks: Some(31.4), heat: 38_000.0, lining: 556.0, shoes: 390.0, burns: Some(2300.0) };

/// The reason after another: a new one has to find its place here.
pub fn next_reason(last: Option<&Reason>) -> Option<Reason> {
    let (part, peak, limit) = (Heated::Lining, 545.0, 523.15);
    let (grade, speed, lock) = (0.04, 8.3, 5.5);
    let Some(last) = last else {
        return Some(Reason::NeverEngages { engagement: 3900.0 * RPM, top: 3800.0 * RPM });
    };
    Some(match last {
        Reason::NeverEngages { .. } => Reason::NoPreload { engagement: 1200.0 * RPM, preload: -12.0 },
        Reason::NoPreload { .. } => {
            let (settled, highest, idle_kind) = (1617.0 * RPM, 1775.0 * RPM, IdleKind::Unstated);
            Reason::Drags { settled, highest, share: 1.0, power: 257.0, creep: 1.5, stalls: true, idle_kind }
        }
        Reason::Drags { idle_kind: IdleKind::Unstated, .. } => {
            let (settled, highest, idle_kind) = (1732.0 * RPM, 1775.0 * RPM, IdleKind::Governed);
            Reason::Drags { settled, highest, share: 0.29, power: 0.5, creep: 0.0, stalls: false, idle_kind }
        }
        Reason::Drags { settled, highest, idle_kind: IdleKind::Governed, .. } => {
            let (settled, highest, idle_kind) = (*settled, *highest, IdleKind::ThrottleStop);
            Reason::Drags { settled, highest, share: 0.002, power: 30.0, creep: 0.0, stalls: false, idle_kind }
        }
        Reason::Drags { .. } => Reason::TooNear { margin: 45.0 * RPM, floor: 90.0 * RPM, share: 0.32 },
        Reason::TooNear { .. } => Reason::SpringsUnknown { peak: 503.0, limit: 473.15 },
        Reason::SpringsUnknown { .. } => Reason::NeverLocks,
        Reason::NeverLocks => Reason::TooSteep { grade: 0.1, steepest: 0.062 },
        Reason::TooSteep { .. } => Reason::LocksLate { grade: 0.0, warm: false },
        Reason::LocksLate { warm: false, .. } => Reason::LocksLate { grade: 0.1, warm: true },
        Reason::LocksLate { .. } => Reason::StartBurns { start: BURNING, bears: Some(0.07) },
        Reason::StartBurns { bears: Some(_), .. } => Reason::StartBurns { start: BURNING, bears: None },
        Reason::StartBurns { .. } => Reason::StartTooHot { start: BURNING, limit, bears: Some(0.07) },
        Reason::StartTooHot { .. } => Reason::TooHot { part, peak, limit },
        Reason::TooHot { .. } => Reason::CrawlTooHot { speed: 2.8, part, peak, limit },
        Reason::CrawlTooHot { part: Heated::Lining, .. } => {
            Reason::CrawlTooHot { speed: 2.8, part: Heated::Washer, peak, limit }
        }
        Reason::CrawlTooHot { .. } => Reason::Beyond { peak: 650.0 },
        Reason::Beyond { .. } => Reason::NoLife { peak: 800.0, limit: 773.15 },
        Reason::NoLife { .. } => Reason::OilGone { fill: 0.12, after: 2400.0 },
        Reason::OilGone { .. } => Reason::InUse(IN_USE[0]),
        Reason::InUse(warning) => IN_USE
            .iter()
            .skip_while(|w| w.kind != warning.kind)
            .nth(1)
            .map_or(Reason::WearsOut { part: Part::Lining, after: 1500.0 }, |next| Reason::InUse(*next)),
        Reason::WearsOut { part: Part::Lining, .. } => Reason::WearsOut { part: Part::Charring, after: 1500.0 },
        Reason::WearsOut { .. } => Reason::Hot { part, peak: 460.0, limit: 423.15 },
        Reason::Hot { part: Heated::Lining, .. } => Reason::Hot { part: Heated::Bushing, peak: 397.0, limit: 363.15 },
        Reason::Hot { part: Heated::Bushing, .. } => Reason::Hot { part: Heated::Washer, peak: 403.0, limit: 378.15 },
        Reason::Hot { part: Heated::Washer, .. } => Reason::Hot { part: Heated::DryWasher, peak: 403.0, limit: 358.15 },
        Reason::Hot { part: Heated::DryWasher, .. } => {
            Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 }
        }
        Reason::Hot { part: Heated::Springs, .. } => Reason::HeldSlipping { speed: 4.2, lock },
        Reason::HeldSlipping { .. } => {
            Reason::CrawlSlips { speed: 2.8, power: 240.0, lining: 500.0, limit: 423.15, lock }
        }
        Reason::CrawlSlips { lining: 500.0, .. } => {
            Reason::CrawlSlips { speed: 2.8, power: 24.0, lining: 400.0, limit: 423.15, lock }
        }
        Reason::CrawlSlips { .. } => Reason::CrawlHot { speed: 2.8, part: Heated::Bushing, peak: 397.0, limit: 363.15 },
        Reason::CrawlHot { .. } => Reason::StartHot { start: HillStart { lining: 500.0, ..BURNING }, limit: 423.15 },
        Reason::StartHot { .. } => {
            Reason::EachStart { grade, lining: 682.0, limit, lasts: Some((Part::Lining, 3.3 * HOUR)) }
        }
        Reason::EachStart { lasts: Some(_), .. } => Reason::EachStart { grade, lining: 500.0, limit, lasts: None },
        Reason::EachStart { .. } => Reason::RollsBack { grade, distance: 0.31, speed: 0.5 },
        Reason::RollsBack { .. } => Reason::Clear { settled: 1907.0 * RPM, margin: 132.0 * RPM, highest: 1775.0 * RPM },
        Reason::Clear { .. } => {
            Reason::Locks { motor: 2621.0 * RPM, torque: 11.2, speed: 7.5, steepest: Some(0.118), bears: Some(0.09) }
        }
        Reason::Locks { steepest: Some(_), .. } => {
            Reason::Locks { motor: 2621.0 * RPM, torque: 11.2, speed: 7.5, steepest: None, bears: None }
        }
        Reason::Locks { .. } => Reason::Launch { grade, speed, time: 6.4, locks: 5.7, heat: 7500.0 },
        Reason::Launch { .. } => Reason::Starts(HillStart { lining: 410.0, locks: None, ..BURNING }),
        Reason::Starts(_) => Reason::Peaks { lining: 459.0, drum: 457.0, power: 129.0 },
        Reason::Peaks { .. } => Reason::Steady { lock },
        Reason::Steady { .. } => Reason::CrawlLocked { speed: 2.8 },
        Reason::CrawlLocked { .. } => Reason::Lasts { part: Part::Lining, after: 432.0 * HOUR },
        Reason::Lasts { part: Part::Lining, .. } => Reason::Lasts { part: Part::Charring, after: 432.0 * HOUR },
        Reason::Lasts { .. } => return None,
    })
}

pub fn springs() -> Vec<Said> {
    let reasons = all(next_reason);
    let said: Vec<Words> = reasons.iter().map(words::reason::reason).collect();
    let fits = shop::choice();
    let with = |change: &dyn Fn(&mut Choice)| {
        let mut choice = shop::choice();
        change(&mut choice);
        words::choice::statement(&choice)
    };
    let weak = with(&|choice| choice.weak = Some(Weak { weakest: 0.7, others: 1.0 }));
    let known = Known { path: settings::lining::wear.path.to_owned(), factor: 1.6 };
    let learned = with(&|choice| choice.learned = vec![known.clone()]);
    let warned = with(&|choice| {
        let hot = Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 };
        for spring in choice.springs.iter_mut().filter(|s| s.verdict == Verdict::Fits) {
            (spring.verdict, spring.reasons) = (Verdict::Warned, vec![hot.clone()]);
        }
        choice.best_steady = Some("1700 rpm".to_owned());
        choice.trade.made_of = Some(MadeOf { idle: 75.0 * RPM, tolerances: 90.0 * RPM, settling: 80.0 * RPM });
    });
    let unknown = with(&|choice| choice.trade.too_hot = Some((520.0, 473.15)));
    let none = with(&|choice| {
        for (spring, against) in choice.springs.iter_mut().zip(all(next_reason).into_iter().cycle()) {
            (spring.verdict, spring.reasons) = (Verdict::Unfit, vec![against, Reason::NeverLocks]);
        }
        (choice.best, choice.best_steady) = (None, None);
        choice.least_unsuitable = Some("1900 rpm".to_owned());
    });
    let dragging = |sought: Option<(Verdict, Reason)>| {
        with(&|choice| {
            for spring in &mut choice.springs {
                spring.verdict = Verdict::Unfit;
                spring.reasons = vec![Reason::TooNear { margin: 5.0 * RPM, floor: 90.0 * RPM, share: 0.4 }];
            }
            (choice.best, choice.best_steady) = (None, None);
            choice.least_unsuitable = Some("1900 rpm".to_owned());
            let found = choice.spring("2000 rpm").cloned().expect("it is of the stock");
            choice.sought = sought.clone().map(|(verdict, reason)| Judged { verdict, reasons: vec![reason], ..found });
        })
    };
    let wrong_oil = with(&|choice| {
        choice.springs.iter_mut().for_each(|spring| spring.reasons.push(Reason::InUse(IN_USE[3])));
    });
    let uphill = |each: Option<EachStart>| {
        with(&|choice| {
            choice.springs.iter_mut().filter_map(|s| s.found.as_mut()).for_each(|f| f.each_start = each);
        })
    };
    let hot = EachStart { lining: 682.0, life: Some(3.3 * HOUR), ended_by: Some(Part::Lining) };
    let starts = [
        uphill(Some(hot)),
        uphill(Some(EachStart { lining: 480.0, ..hot })),
        uphill(Some(EachStart { lining: 780.0, life: None, ended_by: None })),
    ];
    let steep = Reason::TooSteep { grade: 0.4, steepest: 0.18 };
    let lives_alike = with(&|choice| {
        choice.best_steady = Some("1700 rpm".to_owned());
        choice.springs.iter_mut().filter_map(|s| s.found.as_mut()).for_each(|f| f.life = Some(1200.0 * HOUR));
    });
    let hot = Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 };
    let charring = with(&|choice| {
        "2000 rpm".clone_into(&mut choice.trade.spring);
        for spring in &mut choice.springs {
            let Some(found) = &mut spring.found else { continue };
            (found.ended_by, found.range, found.drag) = (Some(Part::Charring), None, None);
        }
    });
    let lasting = with(&|choice| {
        choice.springs.iter_mut().filter_map(|s| s.found.as_mut()).for_each(|f| (f.life, f.ended_by) = (None, None));
    });
    vec![
        clauses("reason", &said),
        clauses(
            "why a spring fits or not",
            &fits.springs.iter().map(words::verdict::why).filter(|w| !w.is_empty()).collect::<Vec<_>>(),
        ),
        sentences("choose, one fits", &words::choice::statement(&fits)),
        sentences("choose, a learned wear constant", &learned),
        sentences("choose, a weak spring in the machine", &weak),
        sentences("choose, with warnings", &warned),
        sentences("choose, the wrong oil", &wrong_oil),
        sentences("choose, the trade's margin unknown", &unknown),
        sentences("choose, none fits", &none),
        sentences("choose, all too near to the idle", &dragging(None)),
        sentences("choose, a spring to look for", &dragging(Some((Verdict::Fits, Reason::Steady { lock: 6.0 })))),
        sentences("choose, a spring to look for, with warnings", &dragging(Some((Verdict::Warned, hot)))),
        sentences("choose, no stiffer spring fits", &dragging(Some((Verdict::Unfit, Reason::Beyond { peak: 700.0 })))),
        sentences("choose, every start on the slope overheats", &starts[0]),
        sentences("choose, every start on the slope", &starts[1]),
        sentences("choose, every start on the slope, beyond the model", &starts[2]),
        sentences("choose, no spring starts on the slope", &dragging(Some((Verdict::Unfit, steep)))),
        sentences("choose, a margin that costs no life", &lives_alike),
        sentences("choose, the washer chars first", &charring),
        sentences("choose, nothing wears", &lasting),
        sentences(
            "choose, no springs",
            &with(&|choice| {
                choice.springs.clear();
                (choice.best, choice.best_steady) = (None, None);
            }),
        ),
    ]
}

#[test]
fn a_life_that_no_assumed_constant_changes_has_no_range() {
    let said = |range: Option<[f64; 2]>| {
        let mut choice = shop::choice();
        for spring in &mut choice.springs {
            spring.found = spring.found.take().map(|found| Found { range, ..found });
        }
        words::choice::statement(&choice).iter().map(Words::text).collect::<Vec<_>>().join(" ")
    };
    let (known, ranged) = (said(None), said(Some([100.0 * HOUR, 3000.0 * HOUR])));
    assert!(ranged.contains("(100 to 3000") && ranged.contains("Hours in brackets"), "{ranged}");
    assert!(!known.contains("Hours in brackets") && known.contains("of running on level ground, until"), "{known}");
}

/// A spring of no stock that stays clear of the idle.
pub fn to_look_for(verdict: Verdict) -> Judged {
    let reasons = vec![match verdict {
        Verdict::Unfit => Reason::Beyond { peak: 700.0 },
        _ => Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 },
    }];
    let found = shop::choice().spring("2000 rpm").cloned().expect("it is of the stock");
    Judged { verdict, reasons, ..found }
}

#[test]
fn a_peak_that_reads_as_its_limit_is_said_to_be_just_over_it() {
    let said = |peak| words::reason::reason(&Reason::Hot { part: Heated::Washer, peak, limit: 378.15 }).text();
    assert!(said(378.2).starts_with("the washer reaches just over its limit of 105"), "{}", said(378.2));
    let load = Warning { kind: Warned::BushingLoad, value: 1.81e6, limit: 1.8e6 };
    let load = words::reason::reason(&Reason::InUse(load)).text();
    assert!(load.contains("reached just over 1.8") && load.matches("1.8").count() == 1, "{load}");
    assert!(said(388.2).contains("115") && said(388.2).contains("above its limit of 105"), "{}", said(388.2));
}

#[test]
fn level_ground_is_named_only_where_the_use_is_ridden_on_it() {
    let said = |ground: [f64; 2], grade: f64| {
        let choice = Choice { ground, grade, ..shop::choice() };
        let page = Page::of(&choice.clone().into()).html();
        let text = words::choice::statement(&choice).into_iter().map(|words| words.text()).collect::<String>();
        format!("{page} {text}").replace('\u{a0}', " ")
    };
    let level = said([0.0; 2], 0.0);
    assert!(level.contains("stop-and-go on level ground") && !level.contains("slope of 8"), "{level}");
    let climbing = said([0.08; 2], 0.08);
    assert!(!climbing.contains("level ground") && climbing.contains("stop-and-go on a slope of 8 %"), "{climbing}");
    let terraces = said([-0.04, 0.04], 0.06);
    assert!(terraces.contains("slopes from −4 % to 4 %"), "{terraces}");
    assert!(terraces.contains("it must start on slopes of 6 %"), "{terraces}");
}

#[test]
fn a_life_on_level_ground_is_not_that_of_starts_on_the_slope() {
    let each = EachStart { lining: 682.0, life: Some(3.3 * HOUR), ended_by: Some(Part::Lining) };
    let mut choice = shop::choice();
    choice.springs.iter_mut().filter_map(|s| s.found.as_mut()).for_each(|f| f.each_start = Some(each));
    let said = words::choice::statement(&choice).iter().map(Words::text).collect::<String>().replace('\u{a0}', " ");
    assert!(said.contains("of running on level ground") && said.contains("about 3.3 h"), "{said}");
    assert!(said.contains("409 °C") && said.contains("over its limit"), "{said}");
}
