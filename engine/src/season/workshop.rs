//! A season in a workshop: carts ride, are oiled, stop and are renewed, day by day. Knows neither clutches nor constants.

use super::day::Day;
use super::service_days::Calendar;
use crate::calendar::Date;
use crate::document::season::{Event, Happened, Policy, SPARES};
use crate::names::Part;
use std::collections::VecDeque;

/// A cart as the workshop sees it.
pub trait Cart {
    /// Rides on a day until a part is at its limit; returns that part, and the share of the day ridden.
    fn ride(&mut self, day: &Day) -> Option<(Part, f64)>;
    /// Use of a spare part, 1 at its limit.
    fn used(&self, spare: Part) -> f64;
    /// Puts in a new spare part.
    fn renew(&mut self, spare: Part);
    /// Puts on drops of oil on a day, before opening or after closing; also on days on which it does not ride.
    fn oil(&mut self, drops: f64, day: &Day, before_opening: bool);
    /// Drops that its bushing lacks of a full one.
    fn lacked(&self) -> f64 {
        0.0
    }
    /// Whether its oil is at the service level.
    fn oil_due(&self) -> bool;
}

/// The spare part that renews what is at its limit.
///
/// A charred washer and a cover that comes too near need a washer, a bushing that grabs its shaft a bushing.
/// ```
/// use slipsoak_engine::{names::Part, season::spare};
/// assert_eq!([spare(Part::Charring), spare(Part::Seized), spare(Part::Lining)], [Part::Washer, Part::Bushing, Part::Lining]);
/// ```
pub fn spare(part: Part) -> Part {
    match part {
        Part::CoverGap | Part::Charring => Part::Washer,
        Part::Seized | Part::Oil => Part::Bushing,
        part => part,
    }
}

/// Index of a spare part.
fn index(spare: Part) -> usize {
    SPARES.iter().position(|one| *one == spare).unwrap_or(0)
}

/// Parts on the shelf of a shop, reordered one for one.
#[derive(Clone, Debug)]
struct Shelf {
    /// parts there; none if there are always enough
    there: Option<u64>,
    /// days on which ordered parts arrive
    ordered: VecDeque<usize>,
    /// carts that wait
    queue: VecDeque<usize>,
}

/// Stock and its reordering.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// parts at the start, in the order of `SPARES`; none if there are always enough
    pub parts: [Option<u64>; SPARES.len()],
    /// days until a reordered part arrives
    pub lead: u64,
}

/// What happened in a season.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Log {
    /// events in the order of days
    pub events: Vec<Event>,
    /// carts down on each day, partial days in proportion; 0 on closed days
    pub down: Vec<f64>,
    /// demands of each spare part, and how many were met at once
    pub demands: [(u64, u64); SPARES.len()],
    /// renewals of each spare part
    pub renewed: [u64; SPARES.len()],
    /// visits in which parts were renewed
    pub visits: u64,
    /// oilings of carts
    pub oilings: u64,
    /// drops that the bushing lacked before each of them
    pub lacked: Vec<f64>,
    /// first day on which a cart stopped, with the part
    pub first_stop: Option<(f64, Part)>,
}

/// A season under way.
struct Season<'a, C> {
    carts: &'a mut [C],
    shelves: [Shelf; SPARES.len()],
    lead: usize,
    /// parts that each cart waits for; empty if it rides
    waits: Vec<Vec<Part>>,
    /// whether the oil of each cart was noted as due
    due: Vec<bool>,
    log: Log,
    /// parts that were there for a cart that waits for another
    put_by: Vec<Vec<Part>>,
}

impl<C: Cart> Season<'_, C> {
    fn note(&mut self, cart: usize, date: Date, what: Happened, part: Option<Part>, used: f64) {
        self.log.events.push(Event { cart: cart as u64 + 1, date, what, part, used });
    }

    /// Takes a part off the shelf and reorders one.
    fn take(&mut self, spare: Part, today: usize) -> bool {
        let (shelf, lead) = (&mut self.shelves[index(spare)], self.lead);
        let Some(there) = &mut shelf.there else { return true };
        if *there == 0 {
            return false;
        }
        *there -= 1;
        shelf.ordered.push_back(today + lead);
        true
    }

    /// Demands the parts of a cart that stopped: what is there is put by, for the others it waits in line.
    fn demand(&mut self, cart: usize, stopped_by: Part, today: usize) {
        for spare in SPARES {
            if spare != stopped_by && self.carts[cart].used(spare) < 1.0 {
                continue;
            }
            let k = index(spare);
            self.log.demands[k].0 += 1;
            if self.take(spare, today) {
                self.log.demands[k].1 += 1;
                self.put_by[cart].push(spare);
            } else {
                let lead = self.lead;
                let shelf = &mut self.shelves[k];
                // The part for this cart is ordered at once.
                shelf.ordered.push_back(today + lead);
                shelf.queue.push_back(cart);
                self.waits[cart].push(spare);
            }
        }
    }

    /// Parts that arrive: for the carts in line first, then for the shelf.
    fn arrive(&mut self, today: usize) {
        for (shelf, spare) in self.shelves.iter_mut().zip(SPARES) {
            while shelf.ordered.front().is_some_and(|day| *day <= today) {
                shelf.ordered.pop_front();
                if let Some(cart) = shelf.queue.pop_front() {
                    self.waits[cart].retain(|part| *part != spare);
                    self.put_by[cart].push(spare);
                } else if let Some(there) = &mut shelf.there {
                    *there += 1;
                }
            }
        }
    }

    /// Renews the parts of the carts that stopped, where all are there.
    fn open(&mut self, date: Date) {
        for cart in 0..self.carts.len() {
            if self.put_by[cart].is_empty() || !self.waits[cart].is_empty() {
                continue;
            }
            self.log.visits += 1;
            for spare in std::mem::take(&mut self.put_by[cart]) {
                self.renew(cart, spare, date, Happened::Renewed);
            }
        }
    }

    fn renew(&mut self, cart: usize, spare: Part, date: Date, what: Happened) {
        let used = self.carts[cart].used(spare);
        self.carts[cart].renew(spare);
        self.log.renewed[index(spare)] += 1;
        self.note(cart, date, what, Some(spare), used);
    }

    fn down(&self, cart: usize) -> bool {
        !self.put_by[cart].is_empty() || !self.waits[cart].is_empty()
    }

    /// Service of a cart: oil, and parts whose use has reached a share.
    fn serve(&mut self, cart: usize, today: usize, day: &Day, policy: &Policy, before_opening: bool) {
        if self.down(cart) {
            return;
        }
        if let Some(oiling) = policy.oiling.filter(|oiling| oiling.before_opening == before_opening) {
            self.log.lacked.push(self.carts[cart].lacked());
            self.carts[cart].oil(oiling.drops, day, before_opening);
            self.due[cart] = false;
            self.log.oilings += 1;
            self.note(cart, day.date, Happened::Oiled, None, 0.0);
        }
        let Some(share) = policy.preventive.filter(|_| !before_opening) else { return };
        let mut visited = false;
        for spare in SPARES {
            if self.carts[cart].used(spare) >= share && self.take(spare, today) {
                visited = true;
                self.renew(cart, spare, day.date, Happened::RenewedEarly);
            }
        }
        self.log.visits += u64::from(visited);
    }

    fn ride(&mut self, cart: usize, today: usize, day: &Day) {
        if self.down(cart) {
            self.log.down[today] += 1.0;
            return;
        }
        if let Some((part, share)) = self.carts[cart].ride(day) {
            let used = self.carts[cart].used(spare(part));
            self.log.down[today] += 1.0 - share;
            self.log.first_stop.get_or_insert((today as f64 + share, part));
            self.note(cart, day.date, Happened::Stopped, Some(part), used);
            self.demand(cart, spare(part), today);
        }
        if self.carts[cart].oil_due() && !std::mem::replace(&mut self.due[cart], true) {
            self.note(cart, day.date, Happened::OilDue, None, 0.0);
        }
    }
}

/// Carries carts through a season. On a day: parts arrive, carts that stopped are renewed at opening if their parts are there,
/// service before opening, the ride, service after closing. A cart that stops within a day is down from then on. One that stopped on the
/// last is renewed after closing: what is demanded in a season is fitted in it.
pub fn season<C: Cart>(carts: &mut [C], days: &[Day], policy: &Policy, stock: &Stock) -> Log {
    let shelf = |there| Shelf { there, ordered: VecDeque::new(), queue: VecDeque::new() };
    let n = carts.len();
    let mut season = Season {
        carts,
        shelves: stock.parts.map(shelf),
        lead: stock.lead as usize,
        waits: vec![vec![]; n],
        put_by: vec![vec![]; n],
        due: vec![false; n],
        log: Log { down: vec![0.0; days.len()], ..Log::default() },
    };
    let mut calendar = Calendar::new(policy, days);
    for (today, day) in days.iter().enumerate() {
        season.arrive(today);
        if day.open {
            season.open(day.date);
        }
        let service = calendar.serves(today, day);
        for cart in 0..n {
            if service {
                season.serve(cart, today, day, policy, true);
            }
            if day.open {
                season.ride(cart, today, day);
            }
            if service {
                season.serve(cart, today, day, policy, false);
            }
        }
    }
    if let Some(last) = days.last() {
        season.open(last.date);
    }
    season.log
}
