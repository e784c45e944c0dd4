//! Tests: a shop with four standard carts, its clutches and their map.

use super::check::mapped;
use super::clutch::Clutch;
use super::day::Day;
use super::map::Map;
use super::wish::Wish;
use crate::calendar::Date;
use crate::document::season::{Oiling, Policy, ServiceDays};
use crate::parts::Machine;
use crate::spread::Levels;
use crate::usage::Usage;
use std::sync::OnceLock;

pub(super) fn wish() -> Wish {
    let machine = Machine::default();
    let usage = Usage::named("moderate", &machine).expect("a use");
    let date = |text| Date::read(text).expect("a date");
    let weekly = Oiling { drops: 4.0, on: ServiceDays::Weekday(0), before_opening: false };
    let dates = (date("2027-05-01"), date("2027-08-31"));
    let policies = [Some(weekly), None].map(|oiling| Policy { oiling, preventive: None });
    Wish {
        carts: 4,
        hours: 14_400.0,
        temperatures: vec![(5, 283.15), (6, 293.15), (7, 298.15), (8, 293.15)],
        samples: 20,
        clutches: 150,
        ..Wish::new(machine, usage, dates, policies.into())
    }
}

pub(super) fn map() -> &'static Map {
    static MAP: OnceLock<Map> = OnceLock::new();
    MAP.get_or_init(|| mapped(&wish(), &|| {}).expect("a map"))
}

pub(super) fn clutch(machine: &Machine) -> Clutch<'static> {
    Clutch::new(map(), machine, Levels { seed: 1, shop: 3, clutch: 0 }).expect("a cart")
}

pub(super) fn day(hours: f64) -> Day {
    Day { date: Date(0), open: true, hours, temperature: 293.15 }
}
