//! The answer on a season: many sampled seasons of the shop's carts, the same for every policy.

use super::check::{beside, mapped};
use super::constants::Constants;
use super::needs::difference;
use super::shop::{Sampled, Shop, typical};
use super::wish::Wish;
use crate::document::record::Setting;
use crate::document::season::{Asked, Mapped, Paired, Season};
use crate::document::{Head, Is};
use crate::parallel::each;
use crate::simulate::Failure;
use crate::spring_choice::{self, InPlace, in_place_of_own};
use crate::units::RPM;

/// Engagement closer to the idle than this makes rates steep, rad/s.
const NEAR: f64 = 100.0 * RPM;
/// Carts simulated through if that is asked for.
const THROUGH: u64 = 3;

/// Number of trials of an answer.
pub fn trials(wish: &Wish) -> u64 {
    let through = if wish.direct { THROUGH.min(wish.carts) } else { 0 };
    wish.clutches + beside(wish.carts) + wish.samples * wish.policies.len() as u64 + through
}

/// Computes the answer; `done` is called for each trial. Of carts that must not be ridden in the use nothing is simulated but the use:
/// parts to have would be the wrong advice.
pub fn plan(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Season, Failure> {
    let season = begun(wish)?;
    if !season.may_ride() {
        return Ok(season);
    }
    let map = mapped(wish, done)?;
    let shop = Shop { wish, map: &map, days: wish.days() };
    let direct = each(beside(wish.carts) as usize, |cart| {
        let direct = shop.beside(cart as u64);
        done();
        direct
    });
    let direct = direct.into_iter().flatten().collect();
    let seasons: Vec<Vec<Sampled>> = wish
        .policies
        .iter()
        .map(|policy| {
            let seasons = each(wish.samples as usize, |sample| {
                let one = shop.sampled(sample as u64, policy);
                done();
                one
            });
            seasons.into_iter().collect::<Result<_, Failure>>()
        })
        .collect::<Result<_, Failure>>()?;
    let over = |k: usize, of: fn(&Sampled) -> f64| seasons[k].iter().map(of).collect::<Vec<f64>>();
    let pair = |other: usize| {
        let compared = |of: fn(&Sampled) -> f64| difference(&over(0, of), &over(other, of));
        Paired {
            other: other as u64,
            parts: compared(|one| one.total),
            down: compared(|one| one.down.iter().sum()),
            cost: wish.prices.as_ref().map(|_| compared(|one| one.cost)),
        }
    };
    let near = |sample: u64| {
        let engages = |cart| map.constants.sampled(&wish.machine, shop.levels(sample, cart)).0;
        (0..wish.carts).map(engages).filter(|machine| machine.first_touch() - machine.motor.idle < NEAR).count()
    };
    let near: usize = each(wish.samples as usize, |sample| near(sample as u64)).into_iter().sum();
    let followed = if wish.direct { shop.through(typical(&seasons[0]), done) } else { vec![] };
    Ok(Season {
        policies: shop.outcomes(&seasons)?,
        pairs: (1..wish.policies.len()).map(pair).collect(),
        samples: wish.samples,
        split: map.constants.split(),
        map: map.account(direct, followed),
        near_idle: near as f64 / (wish.samples * wish.carts).max(1) as f64,
        worn_before: shop.worn_before()?,
        ..season
    })
}

/// The answer before anything is sampled: the question, and whether the carts may be ridden so.
fn begun(wish: &Wish) -> Result<Season, Failure> {
    let asked = spring_choice::Wish::new(wish.hottest(), wish.usage.clone());
    let asked = spring_choice::Wish { wander: wish.wander, ..asked };
    let InPlace { against, renewed, sought } = in_place_of_own(&asked, false)?;
    Ok(Season {
        kind: Is::default(),
        head: Head { seeds: vec![wish.seed], ..Head::default() },
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        oil: wish.machine.oil.name.clone(),
        wrong_oil: wish.machine.oil.is_wrong(),
        drop: wish.machine.oiling.drop,
        question: Asked {
            carts: wish.carts,
            wander: wish.wander,
            first: wish.dates.0,
            last: wish.dates.1,
            weekdays: wish.weekdays,
            hours: wish.hours,
            days: wish.days().iter().filter(|day| day.open).count() as u64,
            temperatures: wish.temperatures.clone(),
            used: wish.used.clone(),
            stock: wish.stock.clone(),
            lead: wish.lead,
            prices: wish.prices.clone(),
        },
        policies: vec![],
        pairs: vec![],
        samples: 0,
        split: Constants::of(wish).split(),
        map: Mapped::default(),
        against,
        renewed,
        sought,
        near_idle: 0.0,
        worn_before: vec![],
        settings: Setting::all(&wish.machine),
    })
}
