//! Time covered by steps: least, mean and greatest values of each channel.

use crate::document::record::Extremes;
use crate::names::{Channel, Row};

/// Means and extremes over a time.
#[derive(Clone, Debug)]
pub(super) struct Span {
    /// s
    pub time: f64,
    /// s
    pub end: f64,
    /// running time at the end, s
    pub running: f64,
    pub least: Row,
    pub sum: Row,
    pub most: Row,
}

impl Span {
    pub const fn empty() -> Self {
        Self {
            time: 0.0,
            end: 0.0,
            running: 0.0,
            least: [f64::INFINITY; Channel::COUNT],
            sum: [0.0; Channel::COUNT],
            most: [f64::NEG_INFINITY; Channel::COUNT],
        }
    }
    pub fn touch(&mut self, v: &Row) {
        self.reach(v, v);
    }
    pub fn reach(&mut self, low: &Row, high: &Row) {
        for k in 0..Channel::COUNT {
            self.least[k] = if low[k] < self.least[k] { low[k] } else { self.least[k] };
            self.most[k] = if high[k] > self.most[k] { high[k] } else { self.most[k] };
        }
    }
    pub fn add(&mut self, time: f64, integral: &Row) {
        self.time += time;
        for (sum, more) in self.sum.iter_mut().zip(integral) {
            *sum += more;
        }
    }
    pub fn join(&mut self, other: &Self) {
        self.add(other.time, &other.sum);
        self.end = self.end.max(other.end);
        self.running = self.running.max(other.running);
        self.reach(&other.least, &other.most);
    }
    pub fn mean(&self) -> Vec<f64> {
        (0..Channel::COUNT).map(|k| (self.sum[k] / self.time).max(self.least[k]).min(self.most[k])).collect()
    }
    pub fn extremes(&self) -> Extremes {
        if self.time > 0.0 {
            Extremes { least: self.least.to_vec(), mean: self.mean(), most: self.most.to_vec() }
        } else {
            Extremes::default()
        }
    }
}
