//! The answer on a season: many sampled seasons of the shop's carts, the same for every policy.

use super::clutch::{Clutch, sampled};
use super::map::{Map, uncertain};
use super::needs::{Demands, amount, difference, enough, need};
use super::probe::{Probe, directly};
use super::surface::error_of;
use super::wish::Wish;
use super::workshop::{self, Day, Log, Stock, serves, spare};
use crate::document::record::Setting;
use crate::document::season::{
    Asked, Direct, FirstStop, Happened, MapError, Outcome, Paired, Policy, Prices, Rate, SPARES, Season, Split, Week,
};
use crate::document::{Head, Is};
use crate::names::{Part, distinct};
use crate::parts::parameter;
use crate::simulate::Failure;
use crate::spread::{Levels, common_share};
use crate::spring_choice;
use crate::statistics::percentile;
use crate::units::RPM;
use rayon::prelude::*;

/// Carts followed directly, and days of that.
const FOLLOWED: u64 = 3;
const FOLLOWED_DAYS: usize = 14;
/// Engagement closer to the idle than this makes rates steep, rad/s.
const NEAR: f64 = 100.0 * RPM;
/// Days of a week.
const WEEK: usize = 7;

/// Number of trials of an answer.
pub fn trials(wish: &Wish) -> u64 {
    wish.clutches + FOLLOWED.min(wish.carts) + wish.samples * wish.policies.len() as u64
}

/// One sampled season by one policy.
struct Sampled {
    demands: [Demands; SPARES.len()],
    down: Vec<f64>,
    renewed: Vec<f64>,
    total: f64,
    cost: f64,
    oilings: f64,
    due: f64,
    grabbed: f64,
    first: Option<(f64, Part)>,
}

/// The season of a wish.
struct Shop<'a> {
    wish: &'a Wish,
    map: &'a Map,
    days: Vec<Day>,
}

impl Shop<'_> {
    fn carts(&self, sample: u64) -> Result<Vec<Clutch<'_>>, Failure> {
        let one = |clutch| {
            let levels = Levels { seed: self.wish.seed, shop: sample, clutch };
            let mut cart = Clutch::new(self.map, &self.wish.machine, levels)?;
            cart.ridden(&self.wish.used, self.days.first().map_or(0.0, |day| day.temperature));
            Ok(cart)
        };
        (0..self.wish.carts).map(one).collect()
    }

    fn log(&self, sample: u64, policy: &Policy, stock: &Stock) -> Result<Log, Failure> {
        Ok(workshop::season(&mut self.carts(sample)?, &self.days, policy, stock))
    }

    /// A sampled season: needs with every part in stock, days lost with the stock as given.
    fn sampled(&self, sample: u64, policy: &Policy) -> Result<Sampled, Failure> {
        let free = self.log(sample, policy, &Stock { parts: [None; SPARES.len()], lead: 0 })?;
        let stock = self.wish.shelf();
        let held = stock.parts.iter().any(Option::is_some).then(|| self.log(sample, policy, &stock)).transpose()?;
        let log = held.as_ref().unwrap_or(&free);
        let day = |date: crate::calendar::Date| (date.0 - self.wish.dates.0.0).max(0) as u64;
        let demand = |spare_part: Part| {
            let mut demands = Demands { days: vec![], carts: vec![0.0; self.wish.carts as usize] };
            let taken = free.events.iter().filter(|event| {
                event.part.is_some_and(|part| spare(part) == spare_part)
                    && matches!(event.what, Happened::Stopped | Happened::RenewedEarly)
            });
            for event in taken {
                demands.days.push(day(event.date));
                demands.carts[event.cart as usize - 1] += 1.0;
            }
            demands
        };
        let demands = SPARES.map(demand);
        let mut renewed = vec![0.0; self.days.len().div_ceil(WEEK)];
        for event in log.events.iter().filter(|e| matches!(e.what, Happened::Renewed | Happened::RenewedEarly)) {
            renewed[day(event.date) as usize / WEEK] += 1.0;
        }
        let grabbed = log.events.iter().filter(|e| e.what == Happened::Stopped && e.part == Some(Part::Seized)).count();
        let due = log.events.iter().filter(|event| event.what == Happened::OilDue).map(|event| event.cart);
        Ok(Sampled {
            total: demands.iter().map(|one| one.days.len() as f64).sum(),
            demands,
            down: log.down.clone(),
            renewed,
            cost: self.wish.prices.as_ref().map_or(0.0, |prices| cost(prices, log)),
            oilings: log.oilings as f64,
            due: distinct(due).len() as f64,
            grabbed: grabbed as f64,
            first: log.first_stop,
        })
    }

    fn outcome(&self, policy: &Policy, seasons: &[Sampled]) -> Result<Outcome, Failure> {
        let n = seasons.len() as f64;
        let over = |of: &dyn Fn(&Sampled) -> f64| seasons.iter().map(of).collect::<Vec<f64>>();
        let needs = SPARES.into_iter().enumerate().map(|(k, part)| {
            let demands: Vec<&Demands> = seasons.iter().map(|one| &one.demands[k]).collect();
            need(part, &demands, self.wish.lead)
        });
        let oilings = over(&|one| one.oilings).iter().sum::<f64>() / n;
        let drops = policy.oiling.map_or(0.0, |oiling| oiling.drops);
        let ends: Vec<Option<f64>> = seasons.iter().map(|one| one.first.map(|first| first.0)).collect();
        let stopped: Vec<Part> = seasons.iter().filter_map(|one| Some(one.first?.1)).collect();
        let often = |part: &Part| stopped.iter().filter(|other| *other == part).count();
        let first_stop = FirstStop {
            share: stopped.len() as f64 / n,
            tenth: percentile(&ends, 0.1, 0.9),
            half: percentile(&ends, 0.5, 0.9),
            part: distinct(stopped.iter().copied()).into_iter().max_by_key(often),
        };
        // The season whose renewals are the median number.
        let mut order: Vec<usize> = (0..seasons.len()).collect();
        order.sort_by(|a, b| seasons[*a].total.total_cmp(&seasons[*b].total).then(a.cmp(b)));
        let typical = order.get(seasons.len() / 2).copied().unwrap_or(0) as u64;
        Ok(Outcome {
            policy: *policy,
            needs: needs.collect(),
            oil: oilings * drops * self.wish.machine.oiling.drop,
            oilings: (oilings / self.wish.carts as f64).round() as u64,
            down: amount(&over(&|one| one.down.iter().sum())),
            due: over(&|one| one.due).iter().sum::<f64>() / n,
            grabbed: over(&|one| one.grabbed).iter().sum::<f64>() / n,
            first_stop,
            weeks: self.weeks(seasons),
            cost: self.wish.prices.as_ref().map(|_| amount(&over(&|one| one.cost))),
            events: self.log(typical, policy, &self.wish.shelf())?.events,
        })
    }

    fn weeks(&self, seasons: &[Sampled]) -> Vec<Week> {
        let one = |(k, days): (usize, &[Day])| {
            let open = days.iter().filter(|day| day.open).count().max(1) as f64;
            let from = k * WEEK;
            let down = |one: &Sampled| one.down[from..from + days.len()].iter().sum::<f64>() / open;
            let down: Vec<f64> = seasons.iter().map(down).collect();
            let renewed = seasons.iter().map(|one| one.renewed[k]).sum::<f64>() / seasons.len() as f64;
            Week { start: days[0].date, down: amount(&down).mean, worst: enough(&down, 0.9), renewed }
        };
        self.days.chunks(WEEK).enumerate().map(one).collect()
    }

    /// Errors of the oil lost and of the bore's wear over the rides of clutches held back.
    fn errors(&self) -> [MapError; 2] {
        let one = |(machine, normals, probe): &(crate::parts::Machine, Vec<f64>, Probe)| {
            let [lost, bore] = Clutch::followed(self.map, machine, normals, probe).ok()?;
            Some([(lost / probe.lost - 1.0).abs(), (bore / probe.bore - 1.0).abs()])
        };
        let all: Vec<[f64; 2]> = self.map.held_back.iter().filter_map(one).collect();
        let of = |k: usize| all.iter().map(|errors| errors[k]).collect();
        [error_of(Rate::Oil, of(0)), error_of(Rate::Bore, of(1))]
    }

    /// A cart by the map and simulated day by day, from the start of the season until it stops or for two weeks.
    fn direct(&self, cart: u64) -> Option<Direct> {
        let (wish, policy) = (self.wish, self.wish.policies.first()?);
        let levels = Levels { seed: wish.seed, shop: 0, clutch: cart };
        let days = &self.days[..self.days.len().min(FOLLOWED_DAYS)];
        let mut mapped = [Clutch::new(self.map, &wish.machine, levels).ok()?];
        let only = Policy { preventive: None, ..*policy };
        let log = workshop::season(&mut mapped, days, &only, &Stock { parts: [None; SPARES.len()], lead: 0 });
        if log.first_stop.is_some() {
            return None;
        }
        let drops = |k: usize, day: &Day| {
            let oiling = policy.oiling.filter(|_| serves(policy, k, day.date));
            oiling.map_or([0.0; 2], |o| if o.before_opening { [o.drops, 0.0] } else { [0.0, o.drops] })
        };
        let one = |(k, day): (usize, &Day)| (if day.open { day.hours } else { 0.0 }, day.temperature, drops(k, day));
        let plan: Vec<_> = days.iter().enumerate().map(one).collect();
        let exact = directly(mapped[0].machine(), &wish.usage, &plan).ok()?;
        let own = mapped[0].depths();
        let over = |k: usize| if exact[k] > 0.0 { own[k] / exact[k] } else { 1.0 };
        let open = days.iter().filter(|day| day.open).count() as u64;
        Some(Direct {
            cart: cart + 1,
            days: open,
            lining: over(0),
            bore: over(1),
            washer: over(2),
            fill: own[3] - exact[3],
        })
    }
}

/// Cost of a season.
fn cost(prices: &Prices, log: &Log) -> f64 {
    let price = |part: Part| prices.parts.iter().find(|known| known.0 == part).map_or(0.0, |known| known.1);
    let parts: f64 = SPARES.into_iter().zip(log.renewed).map(|(part, n)| price(part) * n as f64).sum();
    let down: f64 = log.down.iter().sum();
    parts + prices.visit * log.visits as f64 + prices.oiling * log.oilings as f64 + prices.day_down * down
}

/// Computes the answer; `done` is called for each trial.
pub fn plan(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Season, Failure> {
    let against = spring_choice::against(
        &spring_choice::Wish::new(wish.hottest(), wish.usage.clone()),
        &[spring_choice::own(&wish.machine)],
    )?;
    let map = Map::of(wish, done)?;
    let shop = Shop { wish, map: &map, days: wish.days() };
    let followed: Vec<u64> = (0..FOLLOWED.min(wish.carts)).collect();
    let direct = followed.par_iter().filter_map(|cart| shop.direct(*cart).inspect(|_| done())).collect();
    let seasons: Vec<Vec<Sampled>> = wish
        .policies
        .iter()
        .map(|policy| {
            let samples = (0..wish.samples).into_par_iter();
            samples
                .map(|sample| {
                    let one = shop.sampled(sample, policy);
                    done();
                    one
                })
                .collect::<Result<_, Failure>>()
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
    let constants = uncertain(&wish.machine);
    let split = constants.iter().filter_map(|u| {
        let common = common_share(parameter(&u.path)?, u.spread);
        Some(Split { path: u.path.clone(), spread: u.spread, common })
    });
    let near = |sample: u64| {
        let levels = |clutch| Levels { seed: wish.seed, shop: sample, clutch };
        let engages = |clutch| sampled(&wish.machine, &constants, levels(clutch)).0;
        (0..wish.carts).map(engages).filter(|machine| machine.first_touch() - machine.motor.idle < NEAR).count()
    };
    let near: usize = (0..wish.samples).into_par_iter().map(near).sum();
    Ok(Season {
        kind: Is::default(),
        head: Head { seeds: vec![wish.seed], ..Head::default() },
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        oil: wish.machine.oil.name.clone(),
        drop: wish.machine.oiling.drop,
        question: Asked {
            carts: wish.carts,
            first: wish.dates.0,
            last: wish.dates.1,
            weekdays: wish.weekdays,
            hours: wish.hours,
            days: shop.days.iter().filter(|day| day.open).count() as u64,
            temperatures: wish.temperatures.clone(),
            used: wish.used.clone(),
            stock: wish.stock.clone(),
            lead: wish.lead,
            prices: wish.prices.clone(),
        },
        policies: wish
            .policies
            .iter()
            .zip(&seasons)
            .map(|(policy, seasons)| shop.outcome(policy, seasons))
            .collect::<Result<_, _>>()?,
        pairs: (1..wish.policies.len()).map(pair).collect(),
        samples: wish.samples,
        split: split.collect(),
        map: shop.map.account(shop.errors(), direct),
        against,
        near_idle: near as f64 / (wish.samples * wish.carts).max(1) as f64,
        settings: Setting::all(&wish.machine),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::Date;
    use crate::document::season::{Oiling, ServiceDays};
    use crate::parts::Machine;
    use crate::season::Cart;
    use crate::simulate::{Options, Simulation};
    use crate::usage::Usage;
    use std::sync::OnceLock;

    fn wish() -> Wish {
        let machine = Machine::default();
        let usage = Usage::named("moderate", &machine).expect("a use");
        let date = |text| Date::read(text).expect("a date");
        let weekly = Oiling { drops: 4.0, on: ServiceDays::Weekday(0), before_opening: false };
        Wish {
            machine,
            usage,
            carts: 4,
            dates: (date("2027-05-01"), date("2027-08-31")),
            weekdays: [true; 7],
            hours: 14_400.0,
            temperatures: vec![(5, 283.15), (6, 293.15), (7, 298.15), (8, 293.15)],
            policies: vec![
                Policy { oiling: Some(weekly), preventive: None },
                Policy { oiling: None, preventive: None },
            ],
            used: vec![],
            stock: vec![],
            lead: None,
            prices: None,
            samples: 20,
            clutches: 300,
            seed: 1,
        }
    }

    fn map() -> &'static Map {
        static MAP: OnceLock<Map> = OnceLock::new();
        MAP.get_or_init(|| Map::of(&wish(), &|| {}).expect("a map"))
    }

    fn clutch(machine: &Machine) -> Clutch<'static> {
        Clutch::new(map(), machine, Levels { seed: 1, shop: 3, clutch: 0 }).expect("a cart")
    }

    fn day(hours: f64) -> Day {
        Day { date: Date(0), open: true, hours, temperature: 293.15 }
    }

    #[test]
    fn twice_the_washers_wear_constants_halve_its_life_in_the_map() {
        let worn = |factor: f64| {
            let mut machine = Machine::default();
            machine.washer.wear_oiled *= factor;
            machine.washer.wear_dry *= factor;
            let mut cart = clutch(&machine);
            assert_eq!(cart.ride(&day(3600.0)), None);
            cart.depths()[2]
        };
        assert!((worn(2.0) / worn(1.0) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_new_part_is_unused_and_the_others_stay_as_they_were() {
        let mut cart = clutch(&Machine::default());
        cart.ride(&day(36_000.0));
        let before = SPARES.map(|part| cart.used(part));
        cart.renew(Part::Lining);
        let after = SPARES.map(|part| cart.used(part));
        assert!(before[1] > 0.0 && after[1] == 0.0);
        assert_eq!([before[0], before[2]], [after[0], after[2]]);
    }

    #[test]
    fn drops_fill_a_bushing_and_refresh_its_oil() {
        let ride = |drops: f64| {
            let mut cart = clutch(&Machine::default());
            for k in 0..12 {
                cart.ride(&Day { date: Date(k), ..day(14_400.0) });
                cart.oil(if k == 10 { drops } else { 0.0 }, false);
            }
            cart
        };
        let (never, once) = (ride(0.0), ride(4.0));
        let full = Simulation::new(Machine::default(), Options::UNRECORDED).expect("a machine").full_mass();
        let dose = 4.0 * once.machine().drop_mass(&once.machine().oil) / full;
        let kept = (once.depths()[3] - never.depths()[3]) / dose;
        assert!((0.2..0.98).contains(&kept), "{kept}");
    }

    /// The map against simulations through, day by day: oil within 0.02 of a full bushing, bore within 10 %, washer within 3 %,
    /// lining, which slips the more the nearer a spring is to the idle, within 10 %.
    #[test]
    fn sampled_carts_wear_and_lose_oil_as_their_simulations_do() {
        let wish = wish();
        let shop = Shop { wish: &wish, map: map(), days: wish.days() };
        for cart in 0..3 {
            let direct = shop.direct(cart).expect("no part is at its limit in two weeks");
            assert!((direct.lining - 1.0).abs() < 0.1 && (direct.washer - 1.0).abs() < 0.03, "{direct:?}");
            assert!((direct.bore - 1.0).abs() < 0.1 && direct.fill.abs() < 0.02, "{direct:?}");
        }
        let [oil, bore] = shop.errors();
        assert!(oil.median < 0.15 && bore.median < 0.1, "{oil:?} {bore:?}");
    }

    #[test]
    fn the_answer_does_not_depend_on_the_number_of_threads_and_its_numbers_agree() {
        let wish = Wish { clutches: 60, dates: (Date(20_000), Date(20_030)), ..wish() };
        let on = |threads| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
            pool.install(|| plan(&wish, &|| {}).expect("an answer"))
        };
        let answer = on(2);
        assert_eq!(answer, on(1));
        for need in &answer.policies[0].needs {
            assert!(
                need.half <= need.nine_tenths && need.nine_tenths <= need.most && need.stock == need.nine_tenths,
                "{need:?}"
            );
        }
        // Thirty-one days have four Mondays or five.
        assert!((3..=5).contains(&answer.policies[0].oilings) && answer.policies[1].oilings == 0);
        assert!(answer.policies[1].due >= answer.policies[0].due, "oil is due less often where it is put on");
        assert_eq!(answer.map.failed, 0);
    }
}
