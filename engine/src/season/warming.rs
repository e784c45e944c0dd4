//! The gauges of a cart at one temperature: how its bushing warms, and what moves its oil.

use super::gauge::{Gauge, Gauges, NODES, SPEEDS};

/// The gauges of a cart at one temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Now {
    pub temperature: f64,
    pub warmth: f64,
    pub gauges: Gauges,
}

impl Now {
    pub fn of(&self, gauge: Gauge) -> f64 {
        self.gauges[gauge as usize]
    }

    /// Means of the speeds that move oil.
    pub fn stirring(&self) -> [f64; SPEEDS] {
        std::array::from_fn(|k| self.gauges[Gauge::Stirred as usize + k])
    }

    /// The bushing's temperature after riding for a time from the cold, between the nodes in proportion, K.
    pub fn bushing(&self, time: f64) -> f64 {
        let (mut before, mut low) = (0.0, 0.0);
        for (k, node) in NODES.into_iter().enumerate() {
            let high = self.gauges[Gauge::Rise as usize + k];
            if time <= node {
                return self.temperature + low + (high - low) * (time - before) / (node - before);
            }
            (before, low) = (node, high);
        }
        self.temperature + low
    }

    /// The kelvins by which it has warmed and cooled by then, all added up.
    pub fn way(&self, time: f64) -> f64 {
        let (mut before, mut way) = (0.0, 0.0);
        for (k, node) in NODES.into_iter().enumerate() {
            let until = if k + 1 == NODES.len() { time } else { time.min(node) };
            way += self.gauges[Gauge::Ripple as usize + k] * (until - before).max(0.0);
            before = node;
        }
        way
    }
}
