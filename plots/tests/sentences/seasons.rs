//! A season of a shop's carts.

use super::covers_and_oil::{NEAR, renewed};
use super::said::{HOUR, Said, sentences};
use super::season_rules::{all_prices, overdosed, rules};
use super::springs::to_look_for;
use crate::made_up::shop;
use slipsoak_engine::calendar::Date;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::season::{
    Amount, Chosen, Course, Difference, Followed, Oiling, Policy, Prices, Season, ServiceDays, WornBefore,
};
use slipsoak_engine::spring_choice::{Reason, Verdict};
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
        season.question.prices = Some(all_prices());
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
        sentences(
            "season, rules that overdose, of which one saves parts",
            &with(&|season| {
                let often = |drops| Some(Oiling { drops, on: ServiceDays::Every(1), before_opening: false });
                for drops in [12.0, 40.0, 100.0] {
                    let mut other = season.policies[0].clone();
                    other.policy = Policy { oiling: often(drops), preventive: None };
                    other.needs[0].half = 0;
                    season.policies.push(other);
                }
            }),
        ),
        sentences("season, twice the oilings save a part", &words::season::statement(&rules(-1.0, 80))),
        sentences("season, twice the oilings save many parts", &words::season::statement(&rules(-20.0, 80))),
        sentences("season, half the oilings need as many parts", &words::season::statement(&rules(0.1, 4))),
        sentences("season, an overdose, for which another rule is advised", &words::season::statement(&overdosed())),
        sentences("season, a weekly service", &with(&|_| {})),
        sentences(
            "season, linings and springs used longer than they last",
            &with(&|season| {
                let worn = |part, life, share| WornBefore { part, used: 2000.0 * HOUR, life: life * HOUR, share };
                season.worn_before = vec![worn(Part::Lining, 312.0, 1.0), worn(Part::Spring, 1540.0, 0.62)];
            }),
        ),
        sentences(
            "season, few parts in stock that are reordered, at prices, and another rule is better",
            &with(&|season| {
                (season.question.stock, season.question.lead) = (vec![(Part::Washer, 1)], Some(5));
                season.near_idle = 0.12;
                prices(season);
            }),
        ),
        sentences(
            "season, prices of washers alone",
            &with(&|season| {
                prices(season);
                season.question.prices = Some(Prices { parts: vec![(Part::Washer, 3.0)], ..Prices::default() });
            }),
        ),
        sentences(
            "season, prices of all but oiling",
            &with(&|season| {
                prices(season);
                season.question.prices = Some(Prices { oiling: None, ..all_prices() });
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
                season.sought = Some(to_look_for(Verdict::Unfit));
            }),
        ),
        sentences(
            "season, springs near to the idle",
            &with(&|season| (season.against, season.sought) = (vec![NEAR], Some(to_look_for(Verdict::Fits)))),
        ),
        sentences(
            "season, springs near to the idle, and bushing after bushing that one unknown constant spreads",
            &with(&|season| {
                (season.against, season.sought) = (vec![NEAR], Some(to_look_for(Verdict::Fits)));
                season.policies.iter_mut().for_each(|one| {
                    let need = &mut one.needs[2];
                    (need.half, need.nine_tenths, need.common) = (5 * season.question.carts, 60, 0.9);
                });
            }),
        ),
        sentences(
            "season, all springs weaker than a new set, near to the idle",
            &with(&|season| {
                (season.against, season.renewed) = (vec![NEAR], Some(renewed(0.85, 0.85, Verdict::Fits)));
            }),
        ),
        sentences(
            "season, carts for which another spring is to be chosen",
            &with(&|season| {
                (season.against, season.sought) = (vec![Reason::NeverLocks, NEAR], Some(to_look_for(Verdict::Warned)));
            }),
        ),
        sentences("season, the wrong oil", &with(&|season| season.wrong_oil = true)),
        sentences(
            "season, the wrong oil, and half of the seasons take no parts",
            &with(&|season| {
                season.wrong_oil = true;
                season.policies.iter_mut().flat_map(|one| &mut one.needs).for_each(|need| need.half = 0);
            }),
        ),
        sentences(
            "season, carts with a weak spring",
            &with(&|season| {
                season.against = vec![Reason::NeverLocks];
                season.renewed = Some(renewed(0.7, 1.0, Verdict::Warned));
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
        sentences("season, a rate that is not known", &with(&|season| season.map.errors[0].median = 1.96)),
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
