//! The map held against simulations: errors of clutches held back, and carts simulated launch by launch.

use super::clutch::Clutch;
use super::map::Map;
use super::probe::Probe;
use super::shop::{ENOUGH, Shop};
use super::simulated::Simulated;
use super::surface::error_of;
use super::wish::Wish;
use super::workshop::{Log, season};
use crate::document::season::{Chosen, Course, Direct, Followed, Happened, MapError, Policy, Rate, SPARES};
use crate::names::Part;
use crate::parallel::each;
use crate::parts::Machine;
use crate::simulate::Failure;

/// Carts of the first season that every answer simulates, and days of that.
const BESIDE: u64 = 3;
const BESIDE_DAYS: usize = 14;

/// Number of carts that every answer simulates.
pub fn beside(carts: u64) -> u64 {
    BESIDE.min(carts)
}

/// First stop and demands of a cart of a log.
fn course(log: &Log, cart: u64) -> Course {
    let own = || log.events.iter().filter(|event| event.cart == cart);
    let demand = |wanted: Part| own().filter(|event| event.what.fits() && event.part == Some(wanted)).count() as u64;
    let stop = own().find(|event| event.what == Happened::Stopped);
    Course {
        stop: stop.map(|event| event.date),
        part: stop.and_then(|event| event.part),
        demands: SPARES.map(demand).into(),
    }
}

/// The map of a question, held against clutches that were kept from it.
pub fn mapped(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Map, Failure> {
    let mut map = Map::of(wish, done)?;
    let errors = flows(&map);
    map.hold(errors);
    Ok(map)
}

/// Errors of the oil lost and of the bore's wear over the rides of clutches held back.
fn flows(map: &Map) -> [MapError; 2] {
    let one = |(machine, normals, probe): &(Machine, Vec<f64>, Probe)| {
        let [lost, bore] = Clutch::followed(map, machine, normals, probe).ok()?;
        Some([lost / probe.lost - 1.0, bore / probe.bore - 1.0])
    };
    let all: Vec<[f64; 2]> = map.held_back.iter().filter_map(one).collect();
    let of = |k: usize| all.iter().map(|errors| errors[k]).collect::<Vec<f64>>();
    [error_of(Rate::Oil, &of(0)), error_of(Rate::Bore, &of(1))]
}

impl Shop<'_> {
    fn simulated(&self, sample: u64, cart: u64) -> Option<Simulated<'_>> {
        let (of, levels) = (self.cart(sample, cart).ok()?, self.levels(sample, cart));
        Simulated::new(&of, &self.map.constants, levels, &self.wish.usage, self.days.first()?.date).ok()
    }

    /// A cart by the map and simulated launch by launch for two weeks; none if a part of it is at its limit by then.
    pub fn beside(&self, cart: u64) -> Option<Direct> {
        let only = Policy { preventive: None, ..*self.wish.policies.first()? };
        let days = &self.days[..self.days.len().min(BESIDE_DAYS)];
        let (mut mapped, mut simulated) = ([self.cart(0, cart).ok()?], [self.simulated(0, cart)?]);
        let stopped = season(&mut mapped, days, &only, &ENOUGH).first_stop;
        let exact_stopped = season(&mut simulated, days, &only, &ENOUGH).first_stop;
        if stopped.is_some() || exact_stopped.is_some() || simulated[0].failed().is_some() {
            return None;
        }
        let (own, exact) = (mapped[0].depths(), simulated[0].depths());
        let over = |k: usize| if exact[k] > 0.0 { own[k] / exact[k] } else { 1.0 };
        let open = days.iter().filter(|day| day.open).count() as u64;
        let [lining, bore, washer] = [0, 1, 2].map(over);
        Some(Direct { cart: cart + 1, days: open, lining, bore, washer, fill: own[3] - exact[3] })
    }

    /// Carts of a sampled season by the first policy, by the map and simulated launch by launch from its first day to its last:
    /// the one of the median number of demands, the first to stop, and the one that engages nearest to its idle.
    pub fn through(&self, sample: u64, done: &(dyn Fn() + Sync)) -> Vec<Followed> {
        let Some(policy) = self.wish.policies.first() else { return vec![] };
        let Ok(log) = self.log(sample, policy, &ENOUGH) else { return vec![] };
        let margin = |cart: u64| {
            let machine = self.map.constants.sampled(&self.wish.machine, self.levels(sample, cart)).0;
            machine.first_touch() - machine.motor.idle
        };
        let mut order: Vec<u64> = (0..self.wish.carts).collect();
        let demands = |cart: &u64| course(&log, cart + 1).demands.iter().sum::<u64>();
        order.sort_by_key(|cart| (demands(cart), *cart));
        let first = log.events.iter().find(|event| event.what == Happened::Stopped).map(|event| event.cart - 1);
        let nearest = order.iter().copied().min_by(|a, b| margin(*a).total_cmp(&margin(*b)));
        let wanted =
            [(Chosen::Median, Some(order[order.len() / 2])), (Chosen::First, first), (Chosen::Nearest, nearest)];
        let mut chosen: Vec<(Chosen, u64)> = vec![];
        for (why, cart) in wanted.into_iter().filter_map(|(why, cart)| Some((why, cart?))) {
            if chosen.iter().all(|known| known.1 != cart) {
                chosen.push((why, cart));
            }
        }
        let one = |&(chosen, cart): &(Chosen, u64)| {
            let simulated = self.simulated(sample, cart).and_then(|simulated| {
                let mut carts = [simulated];
                let log = season(&mut carts, &self.days, policy, &ENOUGH);
                carts[0].failed().is_none().then(|| course(&log, 1))
            });
            done();
            Followed { cart: cart + 1, chosen, margin: margin(cart), map: course(&log, cart + 1), simulated }
        };
        each(chosen.len(), |k| one(&chosen[k]))
    }
}
