//! The gauges of the map: what it gives of a clutch in its use, each with its place.

use crate::document::season::Rate;
use crate::parts::settings::{clutch, lining, oiling, washer};
use crate::parts::{Machine, Parameter};

/// Times at which the bushing's rise in temperature is read, s, the last when it is warm. Between them it is taken as even, and oil that
/// warming drives out of the pores within minutes is thrown off: of 5 nodes, 27 minutes apart at the end of the warming, the bushing was
/// up to 15 K too cold and the oil lost 14 % too low in the median.
pub const NODES: [f64; 9] = [60.0, 120.0, 240.0, 420.0, 720.0, 1200.0, 1800.0, 2700.0, 4500.0];
/// Number of means that move oil.
pub const SPEEDS: usize = 5;
/// Ease of the engagement in the middle of the map, and from there to its ends.
const EASE: (f64, f64) = (0.03, 0.03);

/// What the map is fitted to: logarithms. Of several of a kind the place is that of the first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gauge {
    /// wear of the lining, m/s
    Lining,
    /// wear of the washer over its wear constant, N/(m·s)
    Washer,
    /// load of the bushing times sliding speed over its shadow, Pa·m/s
    Pressed,
    Oxidation,
    Charring,
    Ageing,
    /// of springs, per decade
    Relaxation,
    WasherRise,
    /// time in which the bushing cools at rest, s
    Cooling,
    /// swing of the bushing's temperature within a block over the mean size of its rate, s
    Swing,
    /// means of the speeds that move oil
    Stirred,
    /// mean size of the rate of the bushing's temperature before each node, K/s
    Ripple = Gauge::Stirred as isize + SPEEDS as isize,
    /// rise of the bushing's temperature at the nodes, K
    Rise = Gauge::Ripple as isize + NODES.len() as isize,
}

/// Number of places.
pub const PLACES: usize = Gauge::Rise as usize + NODES.len();
/// A value for each place.
pub type Gauges = [f64; PLACES];

/// A constant to which a rate is proportional, and its power.
type Proportional = (&'static Parameter, i32);

/// Rates whose error an answer states, with their places; what a rate is proportional to is divided out exactly.
static RATES: [(usize, Rate, Option<Proportional>); 7] = [
    (Gauge::Lining as usize, Rate::Lining, Some((&lining::wear, 1))),
    (Gauge::Washer as usize, Rate::Washer, None),
    (Gauge::Oxidation as usize, Rate::Oxidation, Some((&oiling::oxidation_life, -1))),
    (Gauge::Charring as usize, Rate::Charring, Some((&washer::heat_life, -1))),
    (Gauge::Ageing as usize, Rate::Ageing, None),
    (Gauge::Relaxation as usize, Rate::Relaxation, Some((&clutch::relaxation, 1))),
    (PLACES - 1, Rate::Warming, None),
];

/// The rate at a place, if it is one whose error is stated.
pub fn rate(place: usize) -> Option<Rate> {
    RATES.iter().find(|row| row.0 == place).map(|row| row.1)
}

/// What the value at a place is proportional to, for a machine.
pub fn scale(place: usize, machine: &Machine) -> f64 {
    let constant = RATES.iter().find(|row| row.0 == place).and_then(|row| row.2);
    constant.map_or(1.0, |(p, power)| (p.of)(machine).max(1e-300).powi(power))
}

/// The constants that are divided out.
pub fn divided_out() -> impl Iterator<Item = &'static Parameter> {
    RATES.iter().filter_map(|row| Some(row.2?.0))
}

/// By how much springs that have relaxed and a worn lining have moved the engagement towards the idle, as a variable of the map:
/// −1 to 1 for 0 to 6 % of the speed. Beyond it is held at its ends.
pub fn ease(machine: &Machine, relaxation: f64, worn: f64) -> f64 {
    let moved = 1.0 - machine.cold_engagement(relaxation, worn) / machine.first_touch().max(1.0);
    ((moved - EASE.0) / EASE.1).clamp(-1.5, 1.5)
}
