//! Every sentence that can be said, with example values: in a snapshot, and held to rules of language.
//!
//! After a wanted change: `SLIPSOAK_SNAPSHOTS=write cargo test -p slipsoak-plots --test sentences`, and read what changed.

mod made_up;
mod plain;

use made_up::fleet::fleets;
use made_up::learned::{retraced, told};
use made_up::{NAMES, documents, record, shop};
use plain::PLAINER;
use slipsoak_engine::calendar::Date;
use slipsoak_engine::document::Saved;
use slipsoak_engine::document::finding::{Assumed, Beyond, Sag, Slipping};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::Direction;
use slipsoak_engine::measure_plan::{Action, MeasurePlan, Stocked};
use slipsoak_engine::names::{Channel, Decision, Entry, IdleKind, LeakCase, LiningKind, Method, Part, TaskName};
use slipsoak_engine::oil_plan::{Advice, Advised, OilPlan, Weighing};
use slipsoak_engine::parts::{Invalid, settings};
use slipsoak_engine::record::{Halt, Horizon, Ledger, Record, Warned, Warning};
use slipsoak_engine::season::{Amount, Chosen, Course, Difference, Followed, Oiling, Policy, Season, ServiceDays};
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Ranking};
use slipsoak_engine::simulate::Failure;
use slipsoak_engine::spring_choice::{Choice, Heated, Judged, MadeOf, Reason, Verdict};
use slipsoak_engine::stack_up::{Clearance, Fails, Gaps};
use slipsoak_engine::statistics::Fit;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_plots::page::{Block, Head, Page, Table, Unit};
use slipsoak_plots::words::terms::TERMS;
use slipsoak_plots::words::text::Words;
use slipsoak_plots::words::{self, cautions, warnings};
use slipsoak_plots::{Figure, Look};
use std::fmt::Write as _;

const RPM: f64 = std::f64::consts::PI / 30.0;
const HOUR: f64 = 3600.0;
const SAG: Sag = Sag { settled: 1690.0 * RPM, new: 1900.0 * RPM, idle: 1750.0 * RPM, within: 300.0 * HOUR };
const SLIPPING: Slipping = Slipping { held: 4.2, lock: 5.5 };

/// What is said of one subject: whole sentences, or clauses without capital and full stop.
struct Said {
    subject: &'static str,
    clauses: bool,
    texts: Vec<String>,
}

fn sentences(subject: &'static str, said: &[Words]) -> Said {
    Said { subject, clauses: false, texts: said.iter().map(Words::text).collect() }
}

fn clauses(subject: &'static str, said: &[Words]) -> Said {
    Said { subject, clauses: true, texts: said.iter().map(Words::text).collect() }
}

/// The reason after another: a new one has to find its place here.
fn next_reason(last: Option<&Reason>) -> Option<Reason> {
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
            Reason::Drags { settled, highest, share: 0.29, power: 30.0, creep: 0.0, stalls: false, idle_kind }
        }
        Reason::Drags { .. } => Reason::TooNear { margin: 45.0 * RPM, floor: 90.0 * RPM, share: 0.32 },
        Reason::TooNear { .. } => Reason::NeverLocks,
        Reason::NeverLocks => Reason::TooSteep { grade: 0.1, steepest: 0.062 },
        Reason::TooSteep { .. } => Reason::LocksLate { grade: 0.0 },
        Reason::LocksLate { .. } => Reason::TooHot { part, peak, limit },
        Reason::TooHot { .. } => Reason::CrawlTooHot { speed: 2.8, peak, limit },
        Reason::CrawlTooHot { .. } => Reason::Beyond { peak: 650.0 },
        Reason::Beyond { .. } => Reason::NoLife { peak: 800.0, limit: 773.15 },
        Reason::NoLife { .. } => Reason::OilGone { fill: 0.12, after: 2400.0 },
        Reason::OilGone { .. } => Reason::Grabs { after: 1620.0 },
        Reason::Grabs { .. } => Reason::WearsOut { part: Part::Lining, after: 1500.0 },
        Reason::WearsOut { part: Part::Lining, .. } => Reason::WearsOut { part: Part::Charring, after: 1500.0 },
        Reason::WearsOut { .. } => Reason::Hot { part, peak: 460.0, limit: 423.15 },
        Reason::Hot { part: Heated::Lining, .. } => Reason::Hot { part: Heated::Bushing, peak: 397.0, limit: 363.15 },
        Reason::Hot { part: Heated::Bushing, .. } => Reason::Hot { part: Heated::Washer, peak: 403.0, limit: 378.15 },
        Reason::Hot { part: Heated::Washer, .. } => Reason::Hot { part: Heated::DryWasher, peak: 403.0, limit: 358.15 },
        Reason::Hot { part: Heated::DryWasher, .. } => {
            Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 }
        }
        Reason::Hot { part: Heated::Springs, .. } => Reason::HeldSlipping { speed: 4.2, lock },
        Reason::HeldSlipping { .. } => Reason::CrawlSlips { speed: 2.8, power: 240.0, lining: 500.0, lock },
        Reason::CrawlSlips { .. } => Reason::RollsBack { grade, distance: 0.31, speed: 0.5 },
        Reason::RollsBack { .. } => Reason::Clear { settled: 1907.0 * RPM, margin: 132.0 * RPM, highest: 1775.0 * RPM },
        Reason::Clear { .. } => Reason::Locks { motor: 2621.0 * RPM, torque: 11.2, speed: 7.5, steepest: Some(0.118) },
        Reason::Locks { steepest: Some(_), .. } => {
            Reason::Locks { motor: 2621.0 * RPM, torque: 11.2, speed: 7.5, steepest: None }
        }
        Reason::Locks { .. } => Reason::Launch { grade, speed, time: 6.4, locks: 5.7, heat: 7500.0 },
        Reason::Launch { .. } => Reason::Peaks { lining: 459.0, drum: 457.0, power: 129.0 },
        Reason::Peaks { .. } => Reason::Steady { lock },
        Reason::Steady { .. } => Reason::CrawlLocked { speed: 2.8 },
        Reason::CrawlLocked { .. } => Reason::Lasts { part: Part::Lining, after: 432.0 * HOUR },
        Reason::Lasts { part: Part::Lining, .. } => Reason::Lasts { part: Part::Charring, after: 432.0 * HOUR },
        Reason::Lasts { .. } => return None,
    })
}

/// The assumption after another.
fn next_assumed(last: Option<&Assumed>) -> Option<Assumed> {
    let Some(last) = last else { return Some(Assumed::WasherWear { factor: 10.0 }) };
    Some(match last {
        Assumed::WasherWear { .. } => Assumed::Misalignment { angle: 0.0087 },
        Assumed::Misalignment { .. } => Assumed::EvenSizes,
        Assumed::EvenSizes => Assumed::BronzeOnSteel { factor: 7.0 },
        Assumed::BronzeOnSteel { .. } => {
            Assumed::EndLeakage { leak: 0.1 / HOUR, least: 0.0056 / HOUR, most: 1.8 / HOUR, hundredth: 1.056e-5 }
        }
        Assumed::EndLeakage { .. } => Assumed::Soaking { time: 75.0, least: 4.4, most: 1275.0 },
        Assumed::Soaking { .. } => Assumed::OilOnLining { share: 0.03 },
        Assumed::OilOnLining { .. } => Assumed::WearConstants,
        Assumed::WearConstants => Assumed::Relaxation { per_decade: 0.02 },
        Assumed::Relaxation { .. } => Assumed::IdleVariation { half: 75.0 * RPM },
        Assumed::IdleVariation { .. } => Assumed::SpringScatter { springs: 0.03, tachometer: 0.01 },
        Assumed::SpringScatter { .. } => Assumed::KindOfIdle,
        Assumed::KindOfIdle => Assumed::SketchedTorque { power: 4850.0, speed: 3600.0 * RPM },
        Assumed::SketchedTorque { .. } => return None,
    })
}

fn all<T>(next: fn(Option<&T>) -> Option<T>) -> Vec<T> {
    let mut all = vec![];
    while let Some(one) = next(all.last()) {
        all.push(one);
    }
    all
}

fn springs() -> Vec<Said> {
    let reasons = all(next_reason);
    let said: Vec<Words> = reasons.iter().map(words::choice::reason).collect();
    let fits = shop::choice();
    let with = |change: &dyn Fn(&mut Choice)| {
        let mut choice = shop::choice();
        change(&mut choice);
        words::choice::statement(&choice)
    };
    let warned = with(&|choice| {
        let hot = Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 };
        for spring in choice.springs.iter_mut().filter(|s| s.verdict == Verdict::Fits) {
            (spring.verdict, spring.reasons) = (Verdict::Warned, vec![hot.clone()]);
        }
        choice.best_steady = Some("1700 rpm".to_owned());
        choice.trade.made_of = Some(MadeOf { idle: 75.0 * RPM, tolerances: 90.0 * RPM, settling: 80.0 * RPM });
    });
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
    let hot = Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 };
    let charring = with(&|choice| {
        "2000 rpm".clone_into(&mut choice.trade.spring);
        for spring in &mut choice.springs {
            let Some(found) = &mut spring.found else { continue };
            (found.ended_by, found.drag) = (Some(Part::Charring), None);
        }
    });
    let lasting = with(&|choice| {
        choice.springs.iter_mut().filter_map(|s| s.found.as_mut()).for_each(|f| (f.life, f.ended_by) = (None, None));
    });
    vec![
        clauses("reason", &said),
        clauses(
            "why a spring fits or not",
            &fits.springs.iter().map(words::choice::why).filter(|w| !w.is_empty()).collect::<Vec<_>>(),
        ),
        sentences("choose, one fits", &words::choice::statement(&fits)),
        sentences("choose, with warnings", &warned),
        sentences("choose, none fits", &none),
        sentences("choose, all too near to the idle", &dragging(None)),
        sentences("choose, a spring to look for", &dragging(Some((Verdict::Fits, Reason::Steady { lock: 6.0 })))),
        sentences("choose, a spring to look for, with warnings", &dragging(Some((Verdict::Warned, hot)))),
        sentences("choose, no stiffer spring fits", &dragging(Some((Verdict::Unfit, Reason::Beyond { peak: 700.0 })))),
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
fn the_range_of_a_spring_s_life_is_that_of_its_own_lining_s_wear() {
    // Bare metal: 3 to 200 mm³/MJ, a factor of 8.2 either way; 2000 h.
    let said = |lining_kind| words::choice::statement(&Choice { lining_kind, ..shop::choice() })[0].text();
    let (woven, bare) = (said(LiningKind::Woven), said(LiningKind::BareMetal));
    assert!(woven.contains("710 to 5600") && bare.contains("(240 to 16"), "{woven}\n{bare}");
}

/// A spring of no stock that stays clear of the idle.
fn to_look_for(verdict: Verdict) -> Judged {
    let reasons = vec![match verdict {
        Verdict::Unfit => Reason::Beyond { peak: 700.0 },
        _ => Reason::Hot { part: Heated::Springs, peak: 403.0, limit: 394.15 },
    }];
    let found = shop::choice().spring("2000 rpm").cloned().expect("it is of the stock");
    Judged { verdict, reasons, ..found }
}

fn covers() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut Gaps)| {
        let mut gaps = shop::gaps();
        gaps.head.seeds = vec![1];
        (gaps.stack.below_limit, gaps.stack.below_zero) = (0.031, 0.002);
        change(&mut gaps);
        words::gaps::statement(&gaps)
    };
    vec![
        sentences("gaps, clear", &with(&|_| ())),
        sentences(
            "gaps, tight, the springs sag, a held speed slips",
            &with(&|gaps| {
                (gaps.clearance, gaps.sag, gaps.slipping) = (Clearance::Tight, Some(SAG), Some(SLIPPING));
                gaps.courses[0].tight.time = Some(900.0 * HOUR);
                gaps.courses[0].bronze_on_steel.time = Some(1100.0 * HOUR);
            }),
        ),
        sentences("gaps, a spring is broken", &with(&|gaps| gaps.sag = Some(Sag { settled: 0.0, new: 0.0, ..SAG }))),
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
            "gaps, nothing wears",
            &with(&|gaps| {
                for course in &mut gaps.courses {
                    (course.washer_due.time, course.bronze_on_steel.time) = (None, None);
                }
            }),
        ),
    ]
}

fn oils() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut OilPlan)| {
        let mut plan = shop::oiling();
        change(&mut plan);
        words::oiling::statement(&plan)
    };
    let habit = Advised { outings: 4, riding: 2.7 * HOUR, fill: 0.9, drops: 3.9, dose: 4.0, warm: 2.0 };
    let often = Advised { outings: 1, riding: 2400.0, fill: 0.88, drops: 4.6, dose: 5.0, warm: 0.0 };
    let weighing = Weighing { outings: 3, riding: 2.1 * HOUR, lost: 9.8e-5, lost_at_most_leak: 2.6e-4 };
    vec![
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
                plan.advised = Advice::Every(Advised { warm: 4.0, ..habit });
                (plan.advised_at_most_leak, plan.sag) = (Advice::Never, Some(SAG));
                plan.sought = Some(to_look_for(Verdict::Warned));
            }),
        ),
        sentences(
            "oiling, a habit put on cold",
            &with(&|plan| {
                plan.advised = Advice::Every(Advised { outings: 1, dose: 1.0, ..often });
            }),
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

fn measurements() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut MeasurePlan)| {
        let mut plan = shop::measure();
        change(&mut plan);
        [words::measuring::statement(&plan), words::measuring::sure(&plan)].concat()
    };
    let none = |plan: &mut MeasurePlan| (plan.best, plan.quickest, plan.pair) = (None, None, None);
    let how: Vec<Words> = Method::ALL.into_iter().map(words::measuring::how).collect();
    vec![
        sentences("measuring for the oiling", &with(&|_| ())),
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
                plan.against = vec![Reason::NeverLocks, Reason::Grabs { after: 1620.0 }];
            }),
        ),
        sentences("how to measure", &how),
    ]
}

/// What a moment of a ride shows.
fn of_a_ride() -> Said {
    let row = |values: &[(Channel, f64)]| {
        let mut row = vec![0.0; Channel::COUNT];
        for (channel, value) in values {
            row[*channel as usize] = *value;
        }
        row
    };
    let (idle, engages) = ((Channel::MotorSpeed, 1700.0 * RPM), (Channel::Engagement, 1900.0 * RPM));
    let (fast, moves) = ((Channel::MotorSpeed, 2400.0 * RPM), (Channel::VehicleSpeed, 5.0));
    let running = [
        row(&[idle, engages]),
        row(&[idle, (Channel::Engagement, 1600.0 * RPM)]),
        row(&[idle, engages, (Channel::SlipPower, 340.0)]),
        row(&[fast, engages, moves, (Channel::SlipPower, 1900.0)]),
        row(&[fast, engages, moves]),
        row(&[idle, engages, moves]),
    ];
    let rest = |lining: f64, bushing: f64, fill: f64| {
        row(&[(Channel::LiningSurface, lining), (Channel::Bushing, bushing), (Channel::OilFill, fill)])
    };
    let stop = rest(420.0, 360.0, 0.903);
    let rests = [
        rest(390.0, 368.0, 0.903),
        rest(390.0, 348.0, 0.903),
        rest(390.0, 360.0, 0.903),
        rest(330.0, 330.0, 0.918),
        rest(330.0, 330.0, 0.895),
        stop.clone(),
    ];
    let said = running.iter().map(|now| words::ride::moment(now, None));
    let said = said.chain(rests.iter().map(|now| words::ride::moment(now, Some(&stop))));
    let said: Vec<Words> = said.chain([words::ride::moment(&stop, None)]).map(|text| text.as_str().into()).collect();
    sentences("a moment of a ride", &said)
}

fn seasons() -> Vec<Said> {
    let with = |change: &dyn Fn(&mut Season)| {
        let mut season = shop::season();
        change(&mut season);
        words::season::statement(&season)
    };
    let prices = |season: &mut Season| {
        for outcome in &mut season.policies {
            outcome.cost = Some(Amount { mean: 1240.0, error: 15.0, nine_tenths: 1900.0 });
        }
        season.pairs[0].cost = Some(Difference { mean: -210.0, error: 20.0, first_less: 0.1, other_less: 0.9 });
    };
    vec![
        sentences("season, a weekly service", &with(&|_| {})),
        sentences(
            "season, few parts in stock that are reordered, at prices, and another rule is better",
            &with(&|season| {
                (season.question.stock, season.question.lead) = (vec![(Part::Washer, 1)], Some(5));
                season.near_idle = 0.12;
                prices(season);
            }),
        ),
        sentences(
            "season, carts simulated through: one agrees, one does not, one cannot be simulated",
            &with(&|season| {
                let course = |stop: i64, linings: u64| Course {
                    stop: Some(Date(season.question.first.0 + stop)),
                    part: Some(Part::Lining),
                    demands: vec![0, linings, 1, 0],
                };
                let one =
                    |cart, chosen, simulated| Followed { cart, chosen, margin: 25.0, map: course(20, 2), simulated };
                season.map.followed = vec![
                    one(2, Chosen::Median, Some(course(22, 3))),
                    one(3, Chosen::First, Some(course(14, 4))),
                    one(1, Chosen::Nearest, None),
                ];
            }),
        ),
        sentences(
            "season, a cart simulated through that agrees",
            &with(&|season| {
                let course = Course { stop: None, part: None, demands: vec![0; 4] };
                let simulated = Some(course.clone());
                season.map.followed =
                    vec![Followed { cart: 1, chosen: Chosen::Median, margin: 25.0, map: course, simulated }];
            }),
        ),
        sentences(
            "season, needs that one unknown constant spreads",
            &with(&|season| {
                season.policies.iter_mut().for_each(|one| {
                    (one.needs[2].half, one.needs[2].nine_tenths, one.needs[2].common) = (3, 40, 0.9);
                });
            }),
        ),
        sentences(
            "season, carts that do not fit the use",
            &with(&|season| season.against = vec![Reason::NeverLocks, Reason::Grabs { after: 1620.0 }]),
        ),
        sentences(
            "season, bushing after bushing for every cart",
            &with(&|season| season.policies.iter_mut().for_each(|one| one.needs[2].half = 5 * season.question.carts)),
        ),
        sentences(
            "season, a stock too small, bushings again and again, before opening, every two weeks",
            &with(&|season| {
                season.question.stock = vec![(Part::Washer, 1)];
                let outcome = &mut season.policies[0];
                let rule = Oiling { drops: 1.0, on: ServiceDays::Every(14), before_opening: true };
                outcome.policy = Policy { oiling: Some(rule), preventive: None };
                (outcome.needs[2].half, outcome.needs[2].nine_tenths, outcome.needs[2].most) = (9, 20, 30);
                season.map.errors[1].median = 0.12;
            }),
        ),
        sentences(
            "season, nothing fails, and oiling changes nothing",
            &with(&|season| {
                season.policies.rotate_left(1);
                season.policies.truncate(1);
                season.pairs.clear();
                season.map.direct.clear();
                let outcome = &mut season.policies[0];
                (outcome.oil, outcome.oilings, outcome.due, outcome.grabbed) = (0.0, 0, 0.0, 0.0);
                outcome.down = Amount::default();
                outcome.first_stop.share = 0.0;
                outcome.first_stop.half.estimate = None;
                for need in &mut outcome.needs {
                    (need.half, need.nine_tenths, need.most) = (0, 0, 0);
                }
            }),
        ),
        sentences(
            "season, few carts stop, and rules do not differ",
            &with(&|season| {
                season.policies[0].first_stop.share = 0.2;
                season.policies[0].first_stop.half.estimate = None;
                season.pairs[0].parts = Difference { mean: 0.1, error: 0.3, ..Difference::default() };
                season.pairs[0].down = Difference { mean: 0.2, error: 0.3, ..Difference::default() };
                season.policies[0]
                    .needs
                    .iter_mut()
                    .for_each(|need| (need.half, need.nine_tenths, need.most) = (0, 0, 0));
            }),
        ),
    ]
}

fn of_fleets() -> Vec<Said> {
    let mut report = fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0), ("2000 rpm", 60.0, 0.7)]);
    let failed = |n: u64| Failed { item: n, what: format!("clutch {n}"), why: "the motor stalls".to_owned() };
    report.failed = (0..5).map(failed).collect();
    let several = words::fleet::answer(&report);
    let one = words::fleet::answer(&fleets(&[("1900 rpm", 145.0, 2.0)]));
    let long = words::fleet::answer(&fleets(&[("1900 rpm", 1e6, 2.0), ("2000 rpm", 1e6, 2.0)]));
    let mut hot = fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0), ("2000 rpm", 60.0, 0.7)]);
    hot.fleets[1].beyond = Some((2, 800.0));
    let some_hot = words::fleet::answer(&hot);
    hot.fleets.truncate(2);
    hot.fleets[0].beyond = Some((20, 900.0));
    hot.fleets[0].outcomes.clear();
    let all_hot = words::fleet::answer(&hot);
    let mut fleet = report.fleets[0].clone();
    let tested = [
        Some(Fit::Untested),
        Some(Fit::Accepted { statistic: 0.45, critical: 0.76 }),
        Some(Fit::Rejected { statistic: 0.95, critical: 0.76 }),
        None,
    ];
    let mut distributions = tested.map(|fit| {
        fleet.fit = fit;
        words::fleet::distribution(&fleet)
    });
    let mut pair = report.pairs[0].end.clone();
    let gains = [Direction::Longer, Direction::Shorter, Direction::Unclear, Direction::TooFew, Direction::Undecided];
    let gains = gains.map(|verdict| {
        (pair.verdict, pair.unknown) = (verdict, 3);
        words::fleet::gain(&pair)
    });
    distributions.sort_by_key(Words::text);
    vec![
        sentences("fleets", &several),
        sentences("fleets of which one is beyond the model", &some_hot),
        sentences("fleets that are beyond the model", &all_hot),
        sentences("a fleet", &one),
        sentences("fleets that last", &long),
        clauses("a fleet against another", &gains),
        Said { clauses: true, ..sentences("distribution of a fleet", &distributions) },
    ]
}

/// A sweep of springs and idles, with the lining's peak by the margin, rpm.
fn sweep(peaks: &dyn Fn(f64) -> f64, drags: bool) -> Sweep {
    let axis = |name: &str, values: &[f64]| Axis {
        name: name.to_owned(),
        meaning: String::new(),
        unit: "rad/s".to_owned(),
        values: values.iter().map(|rpm| rpm * RPM).collect(),
        labels: values.iter().map(|rpm| format!("{rpm} rpm")).collect(),
    };
    let axes = vec![axis("clutch.engagement", &[1700.0, 1900.0]), axis("motor.idle", &[1600.0, 1700.0, 1800.0])];
    let row = |place: [usize; 2]| {
        let at = |axis: usize| axes[axis].values[place[axis]];
        let over = at(0) - at(1);
        let summary = Summary {
            lining_peak: peaks(over / RPM),
            lining_limit: Some(523.15),
            engagement: Some(at(0)),
            idle: Some(at(1)),
            life: Some((1000.0 - 100.0 * place[1] as f64) * HOUR),
            running: Some((600.0 - 100.0 * place[1] as f64) * HOUR),
            ended_by: Some(Part::Lining),
            warnings: match peaks(over / RPM) {
                _ if drags && over <= 0.0 => vec![Warned::Drag],
                peak if peak > 773.15 => vec![Warned::Beyond],
                _ => vec![],
            },
            ..Summary::default()
        };
        Row { place: place.to_vec(), variant: String::new(), duty: String::new(), summary }
    };
    let rows = (0..2).flat_map(|a| (0..3).map(move |b| [a, b])).map(row).collect();
    let (kind, head) = Default::default();
    Sweep { kind, head, axes, rows, failed: vec![] }
}

fn sweeps() -> Vec<Said> {
    let of = |peaks: &dyn Fn(f64) -> f64, drags: bool| words::sweep::answer(&sweep(peaks, drags));
    let mut but_one = sweep(&|over| 640.0 - 0.3 * over, false);
    but_one.rows[0].summary.lining_peak = 400.0;
    vec![
        sentences(
            "sweep, the limit exceeded at every margin, not in every combination",
            &words::sweep::answer(&but_one),
        ),
        sentences("sweep, the limit exceeded near the idle", &of(&|over| 540.0 - 0.3 * over, true)),
        sentences("sweep, the limit exceeded everywhere", &of(&|over| 640.0 - 0.3 * over, false)),
        sentences("sweep, beyond the model at one end", &of(&|over| 640.0 - 1.5 * over, false)),
        sentences("sweep, cool", &of(&|_| 400.0, false)),
        sentences("sweep, hot in the middle alone", &of(&|over| if over.abs() < 150.0 { 560.0 } else { 400.0 }, true)),
    ]
}

fn runs() -> Vec<Said> {
    let limit = 523.15;
    let mut record = record(&NAMES[..1]);
    let mut each = vec![];
    for (kind, _) in warnings::SIGNS {
        let hot = words::warnings::is_temperature(kind);
        let value = if hot { 560.0 } else { 12.0 };
        each.push(warnings::sentence(
            &record.runs[0],
            &Warning { kind, value, limit: if hot { limit } else { 0.003 } },
        ));
        record.runs[0].warnings.push(Warning { kind, value, limit: if hot { limit } else { 0.003 } });
    }
    let all_warnings = std::mem::take(&mut record.runs[0].warnings);
    let weakest = [0.0, 0.5, 0.96].map(|limit| {
        let warning = Warning { kind: Warned::WeakShoe, value: 181.0, limit };
        record.runs[0].warnings = vec![warning];
        (warnings::sentence(&record.runs[0], &warning), words::answer::answer(&record))
    });
    let (weak_shoes, weak_answers): (Vec<Words>, Vec<Vec<Words>>) = weakest.into_iter().unzip();
    record.runs[0].warnings = all_warnings;
    let lines: Vec<Words> = warnings::lines(&record).into_iter().map(|(_, words)| words).collect();
    let doubts: Vec<Words> = warnings::DOUBTS.iter().map(|(_, text)| (*text).into()).collect();
    let several = made_up::record(&["1800 rpm", "1900 rpm", "2000 rpm"]);
    let mut ridden = retraced();
    for (k, launch) in ridden.launches.iter_mut().enumerate() {
        launch.locked = k > 3;
        launch.fastest = if k < 2 { 0.1 } else { 99.0 };
    }
    let mut habits = made_up::record(&["cart"]);
    habits.runs.push(habits.runs[0].clone());
    for (run, (duty, fill, worn, life)) in
        habits.runs.iter_mut().zip([("never oiled", 0.54, Part::Seized, 360.0), ("oiled", 0.91, Part::Lining, 640.0)])
    {
        run.duty = duty.to_owned();
        run.windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) = (worn, Some(life * HOUR), Some(life * HOUR));
    }
    let mut halted = several.clone();
    for run in &mut halted.runs[1..] {
        let (task, part, temperature) = (TaskName::Throttle, Channel::LiningSurface, 973.15);
        run.halt = Some(Halt { time: 723.0, task, segment: 14, part, temperature });
        run.warnings = vec![
            Warning { kind: Warned::TooHot, value: 973.15, limit: 973.15 },
            Warning { kind: Warned::Beyond, value: 973.15, limit: 773.15 },
        ];
    }
    let mut two_duties = made_up::record(&["1800 rpm", "1900 rpm", "2000 rpm", "1800 rpm", "1900 rpm", "2000 rpm"]);
    for (k, run) in two_duties.runs.iter_mut().enumerate() {
        run.duty = String::from(if k < 3 { "flat" } else { "hill" });
        if k > 2 {
            run.warnings = vec![Warning { kind: Warned::Beyond, value: 919.15, limit: 773.15 }];
        }
    }
    let warning = Warning { kind: Warned::Springs, value: 410.0, limit: 394.15 };
    two_duties.runs[2..4].iter_mut().for_each(|run| run.warnings.push(warning));
    let of_two = |duty| words::warnings::lines(duty).into_iter().map(|(_, words)| words).collect::<Vec<_>>();
    let mut due = made_up::record(&["cart"]);
    due.runs[0].horizon = Some(Horizon { service_running: Some(100.0 * HOUR), ..Horizon::default() });
    let mut one_halted = halted.clone();
    one_halted.runs.remove(0);
    one_halted.runs.truncate(1);
    let where_halted = [warnings::sentence(&halted.runs[1], &halted.runs[1].warnings[0])];
    let cautions: Vec<Words> = cautions::Caution::all().map(|c| c.text().into()).collect();
    vec![
        clauses("warning of a run", &each),
        clauses("a weak spring", &weak_shoes),
        sentences("runs with a weak spring", &weak_answers.concat()),
        clauses("warnings of runs", &lines),
        sentences("doubt", &doubts),
        sentences("caution", &cautions),
        sentences("habits of which one lets the bushing grab", &words::answer::answer(&habits)),
        sentences("a run with all warnings", &words::answer::answer(&record)),
        sentences("runs", &words::answer::answer(&several)),
        sentences("runs of which two were stopped", &words::answer::answer(&halted)),
        sentences("a run whose oil is due", &words::answer::answer(&due)),
        sentences("machines under two duties", &words::answer::answer(&two_duties)),
        clauses("warnings under two duties", &of_two(&two_duties)),
        sentences("a run that was stopped", &words::answer::answer(&one_halted)),
        clauses("where a run was stopped", &where_halted),
        sentences("a recorded ride", &words::retraced::answer(&ridden)),
        sentences(
            "how sure answers are",
            &[
                words::answer::sure(&record),
                words::answer::sure(&several),
                words::answer::brief(&several),
                words::fleet::sure(),
                words::sweep::SURE.into(),
                words::retraced::SURE.into(),
            ],
        ),
    ]
}

fn learned() -> Vec<Said> {
    let mut told = told();
    let sure = words::calibration::answer(&told);
    (told.calibration.quality.widened, told.forecast) = (1.4, None);
    let all = told.calibration.constants.iter().cycle().take(6).cloned().collect();
    told.calibration.constants = all;
    vec![
        sentences("learned constants", &sure),
        sentences("learned constants, many, readings scatter more than stated", &words::calibration::answer(&told)),
        sentences("what data leave undetermined", &words::calibration::open(&told.calibration)),
    ]
}

/// Sensitivities of three machines.
fn rankings() -> Influences {
    let at = |hours: f64| Answer {
        end: Some(hours * HOUR),
        ended_by: Some(Part::Lining),
        service_due: None,
        lining_peak: 460.0,
    };
    let influence = |low: f64, high: f64| Influence {
        draw: "lining.wear".to_owned(),
        by_script: false,
        settings: vec![],
        low: at(low),
        high: at(high),
        end: None,
        service_due: None,
        lining_peak: None,
    };
    let of = |influences: Vec<Influence>| Ranking {
        variant: "1900 rpm".to_owned(),
        duty: "day".to_owned(),
        horizon: Some(600.0 * HOUR),
        nominal: at(430.0),
        influences,
        beyond: 3,
    };
    let rankings =
        [of(vec![influence(700.0, 200.0), influence(430.0, 430.0)]), of(vec![influence(430.0, 430.0)]), of(vec![])];
    let (kind, head) = Default::default();
    Influences { kind, head, rows: 64, rankings: rankings.into(), runs: 200, failed: vec![] }
}

fn influences() -> Vec<Said> {
    let Influences { rankings, .. } = rankings();
    let verdicts: Vec<Words> = rankings.iter().map(words::influence::verdict).collect();
    let note = words::influence::note(&rankings[0], 64);
    vec![
        sentences("what matters", &verdicts),
        sentences("what matters, how to read it", &[note.into(), words::influence::SURE.into()]),
    ]
}

/// The reason why a machine cannot be built after another: a new one has to find its place here.
fn next_invalid(last: Option<&Invalid>) -> Option<Invalid> {
    let Some(last) = last else { return Some(Invalid::Range { setting: &settings::drum::teeth, value: 2.5 }) };
    Some(match last {
        Invalid::Range { .. } => Invalid::SelfLocking { friction: 0.5, lever: 2.5 },
        Invalid::SelfLocking { .. } => Invalid::Jams {
            gain: 1.12,
            friction: 0.9,
            setting: "bushing.friction_scored",
            bore_radius: 0.02,
            pitch_radius: 0.016,
            teeth: 8.0,
            pitch: 0.0127,
            bore_most: 0.0356,
            teeth_least: 9.0,
            friction_most: 0.8,
        },
        Invalid::Jams { .. } => Invalid::NeverEngages { engagement: 3900.0 * RPM, top: 3800.0 * RPM },
        Invalid::NeverEngages { .. } => Invalid::NoPreload { engagement: 1200.0 * RPM, preload: -12.0 },
        Invalid::NoPreload { .. } => Invalid::Curve { problem: "there are fewer than two points".to_owned() },
        Invalid::Curve { .. } => {
            Invalid::Contradiction { what: "lining.thickness must be less than drum.radius".to_owned() }
        }
        Invalid::Contradiction { .. } => return None,
    })
}

/// Failures of a run that are not errors of the program, nor a number of a duty, of which the script's word speaks.
fn failures() -> Vec<Failure> {
    let (task, part, temperature) = (TaskName::Throttle, Channel::LiningSurface, 973.15);
    let hot = Halt { time: 723.0, task, segment: 14, part, temperature };
    let invalid = all(next_invalid).into_iter().map(Failure::Invalid);
    invalid.chain([Failure::TooHot(hot), Failure::Beyond { peak: 790.0, limit: 773.15 }]).collect()
}

fn refused() -> Vec<Said> {
    let range = |f: &&Failure| matches!(f, Failure::Invalid(Invalid::Range { .. }));
    let all = failures();
    let said: Vec<Words> = all.iter().filter(|f| !range(f)).map(|f| words::failure::failure(f).into()).collect();
    vec![clauses("why a run cannot continue", &said)]
}

/// An error of the engine is for programs: a reader's units are put to it where sentences are.
#[test]
fn the_engine_gives_its_errors_in_si_only() {
    for failure in failures() {
        let text = failure.to_string();
        for unit in ["rpm", "°", " mm", " min", "km/h"] {
            assert!(!text.contains(unit), "“{unit}” in {text}");
        }
    }
}

fn every() -> Vec<Said> {
    let assumed = clauses("assumed", &words::granted::clauses(&all(next_assumed)));
    let measured = clauses("what to measure", &words::measure::hints().map(Words::from).collect::<Vec<_>>());
    [
        springs(),
        covers(),
        oils(),
        measurements(),
        seasons(),
        of_fleets(),
        sweeps(),
        runs(),
        refused(),
        learned(),
        influences(),
        compared(),
        vec![of_a_ride(), assumed, measured, headings()],
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Two results beside each other.
fn compared() -> Vec<Said> {
    let of = |names: &[&str], longer: f64| {
        let first = made_up::record(names);
        let mut second = first.clone();
        for part in second.runs.iter_mut().flat_map(|run| &mut run.parts) {
            [&mut part.life, &mut part.running].into_iter().flatten().for_each(|life| *life *= longer);
        }
        let answer =
            Page::of_two(["a", "b"], [&Saved::Record(Box::new(first)), &Saved::Record(Box::new(second))]).answer;
        sentences(if names.len() > 1 { "compare, several runs" } else { "compare, one run" }, &answer)
    };
    vec![
        of(&["1900 rpm"], 0.6),
        of(&["1900 rpm"], 1.0),
        of(&["1900 rpm", "2100 rpm", "2300 rpm"], 1.3),
        of(&["1900 rpm"], 1.01),
    ]
}

/// Headings of the figures of every document, which say what the figures show.
fn headings() -> Said {
    let title = |svg: &str| {
        let words = svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").to_owned();
        [("&lt;", "<"), ("&gt;", ">"), ("&apos;", "'"), ("&amp;", "&")]
            .iter()
            .fold(words, |all, (a, b)| all.replace(a, b))
    };
    let look = Look::default();
    // Of sweeps and rankings also those that find nothing.
    let more: [Saved; 2] = [sweep(&|over| 540.0 - 0.3 * over, true).into(), rankings().into()];
    let all = documents().into_iter().chain(more).flat_map(|saved| {
        let drawings = slipsoak_plots::drawn(&saved, &look);
        drawings.into_iter().map(|(_, drawing)| Words::from(title(&drawing.expect("it draws").svg))).collect::<Vec<_>>()
    });
    let mut all: Vec<Words> = all.collect();
    for record in bounds_of_headings() {
        let figures = [
            Figure::Cutaway,
            Figure::Temperatures,
            Figure::Heat,
            Figure::Oil,
            Figure::Life,
            Figure::Engagement,
            Figure::Gap,
        ];
        all.extend(figures.map(|figure| Words::from(title(&figure.draw(&record, &look).expect("it draws").svg))));
    }
    clauses("headings of figures", &all)
}

/// Records on which a heading has to stay true: one run, fifteen, several duties, ties, nothing that wears, no rest, no oil.
fn bounds_of_headings() -> Vec<Record> {
    let one = record(&NAMES[..1]);
    let mut hot = record(&["1900 rpm"; 15]);
    for (k, run) in hot.runs.iter_mut().enumerate() {
        run.variant = format!("{} rpm", 1600 + 100 * k);
        run.overall.most[Channel::LiningSurface as usize] = 500.0 + 5.0 * k as f64;
        run.windows.most.iter_mut().for_each(|row| row[Channel::WasherWear as usize] *= k as f64);
        run.parts[k % 2].part = if k % 2 == 0 { Part::Charring } else { Part::Lining };
    }
    let mut duties = record(&["cart"; 3]);
    for (run, duty) in duties.runs.iter_mut().zip(["flat", "hills", "town"]) {
        duty.clone_into(&mut run.duty);
        run.warnings = vec![Warning { kind: Warned::Beyond, value: 919.15, limit: 773.15 }];
    }
    let mut idle = record(&["a", "b"]);
    for run in &mut idle.runs {
        run.moments.clear();
        run.parts.iter_mut().for_each(|part| (part.life, part.running, part.used) = (None, None, 0.0));
        run.ledgers.oil.inward.insert(Entry::PutOn, 0.0);
        run.ledgers.clutch = Ledger::default();
        run.windows.most.iter_mut().for_each(|row| row[Channel::WasherWear as usize] = 0.0);
    }
    vec![one, hot, duties, idle]
}

#[test]
fn every_sentence_is_as_it_was_last_read() {
    let mut text = String::new();
    for said in every() {
        let _ = writeln!(text, "{}", said.subject);
        for one in &said.texts {
            let _ = writeln!(text, "  {}", one.replace('\u{a0}', " "));
        }
    }
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/snapshots/sentences.txt");
    if std::env::var("SLIPSOAK_SNAPSHOTS").is_ok_and(|word| word == "write") {
        std::fs::write(&path, &text).expect("it is written");
    }
    let before = std::fs::read_to_string(&path).expect("a snapshot");
    for (now, was) in text.lines().zip(before.lines()) {
        assert_eq!(now, was);
    }
    assert_eq!(text.lines().count(), before.lines().count());
}

/// Places of a word or words in a text, whole.
fn holds(text: &str, word: &str) -> bool {
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
    text.match_indices(word)
        .any(|(at, found)| edge(text[..at].chars().next_back()) && edge(text[at + found.len()..].chars().next()))
}

/// Words in a text that readers stumble over, each with what to write instead.
fn stumbles(text: &str) -> Vec<String> {
    let terms = TERMS.iter().flat_map(|t| t.instead_of.iter().map(|word| (*word, t.term)));
    // A kind of document has this name, so that helps hold it.
    let told = [("told", "known, shown")];
    let held = PLAINER.iter().copied().chain(terms).chain(told).filter(|(word, _)| holds(text, word));
    held.map(|(word, better)| format!("“{word}”, better “{better}”")).collect()
}

/// Figures of the numbers before a unit, leading and closing zeros apart.
fn figures_before(text: &str, unit: &str) -> Vec<usize> {
    let places = text
        .match_indices(unit)
        .filter(|(at, _)| text[at + unit.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric()));
    let number = |at: usize| {
        let start = text[..at]
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == '\u{a0}'))
            .map_or(0, |k| k + text[k..].chars().next().map_or(1, char::len_utf8));
        text[start..at].chars().filter(char::is_ascii_digit).collect::<String>()
    };
    places.map(|(at, _)| number(at).trim_matches('0').len()).collect()
}

#[test]
fn every_sentence_is_plain_and_whole() {
    for said in every() {
        assert!(!said.texts.is_empty(), "{}", said.subject);
        for text in &said.texts {
            let at = format!("{}: {text}", said.subject);
            let plain = text.replace('\u{a0}', " ").to_lowercase();
            assert_eq!(stumbles(&plain), [""; 0], "{at}");
            assert!(!holds(&plain, "draw"), "“draw”, better “sample”, in {at}");
            for wrong in ["  ", " ,", " .", "..", ",.", ":.", "nan", "inf ", "()"] {
                assert!(!plain.contains(wrong), "“{wrong}” in {at}");
            }
            assert_eq!(text.matches("°C").count(), text.matches("°F").count(), "both scales: {at}");
            for unit in ["\u{a0}h", "\u{a0}min"] {
                assert!(figures_before(text, unit).iter().all(|n| *n <= 2), "more than two figures: {at}");
            }
            let first = text.chars().next().expect("it says something");
            if said.clauses {
                assert!(!text.ends_with(['.', ' ', ';', ':']), "a clause: {at}");
            } else {
                assert!(first.is_uppercase() || first.is_ascii_digit() || first == '“', "a sentence: {at}");
                assert!(text.ends_with('.'), "a sentence: {at}");
            }
        }
    }
}

/// The text of a page's HTML, without its style.
fn shown(html: &str) -> String {
    let body = html.split_once("</style>").map_or(html, |parts| parts.1);
    let pieces = body.split('<').filter_map(|piece| piece.split_once('>')).map(|(_, text)| text.trim());
    pieces.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ").replace('\u{a0}', " ").to_lowercase()
}

#[test]
fn every_kind_of_result_has_a_figure_of_what_differs_but_a_sheet_which_holds_no_answer() {
    for saved in documents() {
        let kind = saved.kind().name();
        let other =
            saved.clone().headed(slipsoak_engine::document::Head { program: "another".into(), ..<_>::default() });
        let page = Page::of_two(["a", "b"], [&saved, &other]);
        let answer = page.answer.iter().map(Words::text).collect::<Vec<_>>().join(" ");
        let drawn = page.html().contains("<svg");
        assert_eq!(drawn, kind != "sheet", "{kind}: {answer}");
        assert_eq!(answer.contains("There is no figure, since a machine's sheet"), !drawn, "{kind}: {answer}");
    }
}

#[test]
fn no_page_and_no_figure_holds_a_word_that_readers_stumble_over() {
    let mut all = vec![];
    for saved in documents() {
        let page = Page::of(&saved);
        for text in [shown(&page.html()), page.text(120, true).replace('\u{a0}', " ").to_lowercase()] {
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            all.extend(stumbles(&text).into_iter().map(|found| format!("{}: {found}", saved.kind().name())));
        }
    }
    all.dedup();
    assert!(all.is_empty(), "{all:#?}");
}

/// Tables among the blocks of a page.
fn tables(page: &Page) -> Vec<&Table> {
    fn table(block: &Block) -> Option<&Table> {
        match block {
            Block::Table(table) => Some(table),
            Block::Only(_, block) => table(block),
            _ => None,
        }
    }
    page.sections.iter().flat_map(|section| &section.blocks).filter_map(table).collect()
}

#[test]
fn no_two_columns_of_a_table_have_the_same_name_and_unit() {
    let pages = [
        Page::with(&told().into(), vec![]),
        Page::with(&shop::choice().into(), vec![]),
        Page::with(&shop::gaps().into(), vec![]),
        Page::with(&shop::oiling().into(), vec![]),
        Page::with(&shop::measure().into(), vec![]),
        Page::with(&shop::season().into(), vec![]),
        Page::with(&fleets(&[("1800 rpm", 90.0, 2.0), ("1900 rpm", 145.0, 2.0)]).into(), vec![]),
    ];
    for page in &pages {
        assert!(!tables(page).is_empty(), "{}", page.question);
        for table in tables(page) {
            // Bounds belong to the estimate in the column before; two numbers of one name may differ in their units.
            let named = |head: &Head| head.name != "90 % bounds";
            for (k, head) in table.heads.iter().enumerate().filter(|(_, head)| named(head)) {
                let same = |other: &Head| {
                    let units = matches!((&head.unit, &other.unit), (Unit::Of(a), Unit::Of(b)) if a != b);
                    head.name == other.name && head.of == other.of && !units
                };
                assert!(!table.heads[..k].iter().any(same), "{} in {}", head.name, table.caption.text());
            }
        }
    }
}
