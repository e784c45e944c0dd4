//! A season of a shop's carts.

use crate::made_up::shop;
use crate::said::{HOUR, Said, sentences};
use slipsoak_engine::calendar::Date;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::season::{Amount, Chosen, Course, Difference, Followed, Oiling, Policy, Season, ServiceDays};
use slipsoak_engine::spring_choice::Reason;
use slipsoak_plots::words;

pub fn seasons() -> Vec<Said> {
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
    // Bushing after bushing by the rule asked for, and so many by another.
    let again = |daily: u64| {
        with(&|season| {
            let often = Oiling { drops: 4.0, on: ServiceDays::Every(1), before_opening: false };
            let mut other = season.policies[0].clone();
            other.policy = Policy { oiling: Some(often), preventive: None };
            season.policies.push(other);
            for (outcome, half) in season.policies.iter_mut().zip([20, 20, daily]) {
                outcome.needs[2].half = half;
            }
        })
    };
    vec![
        sentences("season, bushing after bushing, and another rule mends it", &again(2)),
        sentences("season, bushing after bushing, and another rule lessens it", &again(10)),
        sentences("season, bushing after bushing, and no rule mends it", &again(19)),
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
            &with(&|season| {
                season.against =
                    vec![Reason::NeverLocks, Reason::InUse(Warning { kind: Warned::Grabs, value: 1620.0, limit: 0.0 })];
            }),
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

#[test]
fn linings_worn_out_in_hundreds_of_hours_are_no_wrong_use_but_in_a_hundred_they_are() {
    let said = |lasts: f64| {
        let mut season = shop::season();
        (season.question.hours, season.question.days) = (6.0 * HOUR, 200);
        let need = season.policies[0].needs.iter_mut().find(|need| need.part == Part::Lining).expect("a lining");
        need.half = (1200.0 / lasts * season.question.carts as f64) as u64;
        words::season::statement(&season).into_iter().map(|said| said.text()).collect::<String>()
    };
    let wrong = "The use or the service is wrong";
    assert!(!said(300.0).contains(wrong) && said(100.0).contains(wrong), "{}\n{}", said(300.0), said(100.0));
}
