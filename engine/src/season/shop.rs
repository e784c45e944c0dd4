//! The sampled seasons of a shop, and what they say of a policy.

use super::clutch::Clutch;
use super::day::Day;
use super::map::Map;
use super::needs::{Demands, amount, enough, need, suffices};
use super::service_days::services;
use super::wish::Wish;
use super::workshop::{self, Log, Stock};
use crate::calendar::Date;
use crate::document::season::{FirstStop, Happened, Need, Outcome, Policy, Prices, SPARES, Week, WornBefore};
use crate::names::{Part, distinct};
use crate::parallel::each;
use crate::simulate::Failure;
use crate::spread::Levels;
use crate::statistics::percentile;

/// Days of a week.
const WEEK: usize = 7;

/// One sampled season by one policy.
pub struct Sampled {
    demands: [Demands; SPARES.len()],
    pub down: Vec<f64>,
    renewed: Vec<f64>,
    pub total: f64,
    pub cost: f64,
    oilings: f64,
    lacked: Vec<f64>,
    due: f64,
    grabbed: f64,
    first: Option<(f64, Part)>,
}

/// The season of a wish.
pub struct Shop<'a> {
    pub wish: &'a Wish,
    pub map: &'a Map,
    pub days: Vec<Day>,
}

/// Every part in stock, so that no cart waits.
pub const ENOUGH: Stock = Stock { parts: [None; SPARES.len()], lead: 0 };

/// Number of the sampled season whose renewals are the median number.
pub fn typical(seasons: &[Sampled]) -> u64 {
    let mut order: Vec<usize> = (0..seasons.len()).collect();
    order.sort_by(|a, b| seasons[*a].total.total_cmp(&seasons[*b].total).then(a.cmp(b)));
    order.get(seasons.len() / 2).copied().unwrap_or(0) as u64
}

impl Shop<'_> {
    /// Deviates of a cart of a sampled season.
    pub fn levels(&self, sample: u64, cart: u64) -> Levels {
        Levels { seed: self.wish.seed, shop: sample, clutch: cart }
    }

    /// A cart at the start of a sampled season.
    pub fn cart(&self, sample: u64, cart: u64) -> Result<Clutch<'_>, Failure> {
        let mut cart = Clutch::new(self.map, &self.wish.machine, self.levels(sample, cart))?;
        cart.ridden(&self.wish.used, self.days.first().map_or(0.0, |day| day.temperature));
        Ok(cart)
    }

    /// The kinds of parts that most carts would have worn out before the season by the running that is given of them.
    pub fn worn_before(&self) -> Result<Vec<WornBefore>, Failure> {
        let temperature = self.days.first().map_or(0.0, |day| day.temperature);
        let one = |(part, used): &(Part, f64)| {
            let life = |sample: u64, cart: u64| {
                let mut cart = Clutch::new(self.map, &self.wish.machine, self.levels(sample, cart))?;
                Ok::<_, Failure>(cart.life(*part, temperature, *used).unwrap_or(f64::INFINITY))
            };
            let carts = self.wish.carts;
            let lives = each((self.wish.samples * carts) as usize, |k| life(k as u64 / carts, k as u64 % carts));
            let mut lives = lives.into_iter().collect::<Result<Vec<f64>, Failure>>()?;
            lives.sort_by(f64::total_cmp);
            let worn = lives.iter().filter(|life| life.is_finite()).count();
            let share = worn as f64 / lives.len().max(1) as f64;
            let life = lives.get(lives.len().saturating_sub(1) / 2).copied();
            let life = life.filter(|life| life.is_finite() && share >= 0.5);
            Ok(life.map(|life| WornBefore { part: *part, used: *used, life, share }))
        };
        Ok(self.wish.used.iter().map(one).collect::<Result<Vec<_>, Failure>>()?.into_iter().flatten().collect())
    }

    fn carts(&self, sample: u64) -> Result<Vec<Clutch<'_>>, Failure> {
        (0..self.wish.carts).map(|cart| self.cart(sample, cart)).collect()
    }

    /// A sampled season by a policy.
    pub fn log(&self, sample: u64, policy: &Policy, stock: &Stock) -> Result<Log, Failure> {
        Ok(workshop::season(&mut self.carts(sample)?, &self.days, policy, stock))
    }

    /// The number of a day, from 0.
    fn day(&self, date: Date) -> u64 {
        (date.0 - self.wish.dates.0.0).max(0) as u64
    }

    /// The parts that were fitted, each demanded on the day on which its cart stopped, or on which it was renewed early.
    fn demands(&self, log: &Log) -> [Demands; SPARES.len()] {
        let carts = self.wish.carts as usize;
        let mut all = SPARES.map(|_| Demands { days: vec![], carts: vec![0.0; carts] });
        let mut stopped = vec![0; carts];
        for event in &log.events {
            let cart = event.cart as usize - 1;
            if event.what == Happened::Stopped {
                stopped[cart] = self.day(event.date);
            }
            let fitted = SPARES.iter().position(|spare| event.what.fits() && event.part == Some(*spare));
            let Some(demands) = fitted.map(|k| &mut all[k]) else { continue };
            let early = event.what == Happened::RenewedEarly;
            demands.days.push(if early { self.day(event.date) } else { stopped[cart] });
            demands.carts[cart] += 1.0;
        }
        for demands in &mut all {
            demands.days.sort_unstable();
        }
        all
    }

    /// A sampled season: needs of parts and oil with every part in stock, days lost with the stock as given.
    pub fn sampled(&self, sample: u64, policy: &Policy) -> Result<Sampled, Failure> {
        let free = self.log(sample, policy, &ENOUGH)?;
        let stock = self.wish.shelf();
        let held = stock.parts.iter().any(Option::is_some).then(|| self.log(sample, policy, &stock)).transpose()?;
        let log = held.as_ref().unwrap_or(&free);
        let demands = self.demands(&free);
        let mut renewed = vec![0.0; self.days.len().div_ceil(WEEK)];
        for event in log.events.iter().filter(|event| event.what.fits()) {
            renewed[self.day(event.date) as usize / WEEK] += 1.0;
        }
        let grabbed = log.events.iter().filter(|e| e.what == Happened::Stopped && e.part == Some(Part::Seized)).count();
        let due = log.events.iter().filter(|event| event.what == Happened::OilDue).map(|event| event.cart);
        Ok(Sampled {
            total: demands.iter().map(|one| one.days.len() as f64).sum(),
            demands,
            down: log.down.clone(),
            renewed,
            cost: self.wish.prices.as_ref().map_or(0.0, |prices| cost(prices, log)),
            oilings: free.oilings as f64,
            lacked: free.lacked.clone(),
            due: distinct(due).len() as f64,
            grabbed: grabbed as f64,
            first: log.first_stop,
        })
    }

    /// What the seasons of each policy say; the events are those of one sampled season, typical of the first policy, by each.
    pub fn outcomes(&self, seasons: &[Vec<Sampled>]) -> Result<Vec<Outcome>, Failure> {
        let shown = seasons.first().map_or(0, |first| typical(first));
        let each = self.wish.policies.iter().zip(seasons);
        each.map(|(policy, seasons)| self.outcome(policy, seasons, shown)).collect()
    }

    /// What the seasons say of a policy, with the events of one of them.
    pub fn outcome(&self, policy: &Policy, seasons: &[Sampled], shown: u64) -> Result<Outcome, Failure> {
        let n = seasons.len() as f64;
        let over = |of: &dyn Fn(&Sampled) -> f64| seasons.iter().map(of).collect::<Vec<f64>>();
        let needs = SPARES.into_iter().enumerate().map(|(k, part)| {
            let demands: Vec<&Demands> = seasons.iter().map(|one| &one.demands[k]).collect();
            need(part, &demands, self.wish.lead)
        });
        let needs: Vec<Need> = needs.collect();
        let all: Vec<&[Demands]> = seasons.iter().map(|one| &one.demands[..]).collect();
        let together = |number: fn(&Need) -> u64| suffices(&all, &needs.iter().map(number).collect::<Vec<u64>>());
        let together = (together(|need| need.half), together(|need| need.nine_tenths));
        let oiled = over(&|one| one.oilings).iter().sum::<f64>() / n;
        let lacked: Vec<f64> = seasons.iter().flat_map(|one| &one.lacked).copied().collect();
        let oilings = services(policy, &self.days);
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
        Ok(Outcome {
            policy: *policy,
            needs,
            together,
            oil: (oilings * self.wish.carts) as f64 * drops * self.wish.machine.oiling.drop,
            oilings,
            oiled: oiled / self.wish.carts as f64,
            lacked: amount(&lacked).mean,
            lacked_most: enough(&lacked, 0.95),
            down: amount(&over(&|one| one.down.iter().sum())),
            due: over(&|one| one.due).iter().sum::<f64>() / n,
            grabbed: over(&|one| one.grabbed).iter().sum::<f64>() / n,
            first_stop,
            weeks: self.weeks(seasons),
            cost: self.wish.prices.as_ref().map(|_| amount(&over(&|one| one.cost))),
            events: self.log(shown, policy, &self.wish.shelf())?.events,
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
}

/// Cost of what has a price in a season.
fn cost(prices: &Prices, log: &Log) -> f64 {
    let price = |part: Part| prices.parts.iter().find(|known| known.0 == part).map_or(0.0, |known| known.1);
    let parts: f64 = SPARES.into_iter().zip(log.renewed).map(|(part, n)| price(part) * n as f64).sum();
    let down: f64 = log.down.iter().sum();
    let [visit, oiling, day] = [prices.visit, prices.oiling, prices.day_down].map(|price| price.unwrap_or(0.0));
    parts + visit * log.visits as f64 + oiling * log.oilings as f64 + day * down
}
