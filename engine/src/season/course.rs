//! The course of the bushing's temperature over a ride: its means, its turns and how far it swings.

use super::gauge::NODES;
use crate::names::Channel;
use crate::simulate::{Failure, Simulation};
use crate::usage::Usage;

/// Riding time for which wear is measured once it is warm, s.
pub(super) const MEASURED: f64 = 1800.0;

/// The bushing's temperature at the ends and turns of segments of a ride, and the number of its blocks.
pub(super) struct Course {
    points: Vec<(f64, f64)>,
    blocks: f64,
}

impl Course {
    pub fn new(sim: &Simulation) -> Self {
        Self { points: vec![(sim.clock(), sim.reading(Channel::Bushing))], blocks: 0.0 }
    }

    /// Rides on for at least a time, s.
    pub fn ride(&mut self, sim: &mut Simulation, usage: &Usage, time: f64) -> Result<(), Failure> {
        let start = sim.clock();
        while sim.clock() - start < time {
            let before = sim.clock();
            for segment in &usage.block {
                sim.perform(segment)?;
                self.follow(sim);
            }
            sim.going()?;
            self.blocks += 1.0;
            if sim.clock() <= before {
                break;
            }
        }
        Ok(())
    }

    /// The segment that has ended. A launch heats the bushing until the clutch locks, and cools it from then on: turns between its
    /// ends are put at even times.
    fn follow(&mut self, sim: &Simulation) {
        let (time, now) = (sim.clock(), sim.reading(Channel::Bushing));
        let (since, before) = self.points.last().copied().unwrap_or((time, now));
        let mut turns: Vec<f64> = sim.ended().map_or_else(Vec::new, |all| {
            let [least, most] = [&all.least, &all.most].map(|row| Channel::Bushing.of(row));
            let low = (least < before.min(now)).then_some(least);
            low.into_iter().chain((most > before.max(now)).then_some(most)).collect()
        });
        if now < before {
            turns.reverse();
        }
        let step = (time - since) / (turns.len() + 1) as f64;
        for turn in turns {
            let last = self.points.last().map_or(since, |last| last.0);
            self.points.push((last + step, turn));
        }
        self.points.push((time, now));
    }

    /// The mean between two times, even between its points.
    fn mean(&self, from: f64, to: f64) -> f64 {
        let (mut area, mut time) = (0.0, 0.0);
        for pair in self.points.windows(2) {
            let ((t0, a), (t1, b)) = (pair[0], pair[1]);
            let (low, high) = (from.max(t0), to.min(t1));
            if high > low {
                let at = |t: f64| a + (b - a) * (t - t0) / (t1 - t0);
                area += 0.5 * (at(low) + at(high)) * (high - low);
                time += high - low;
            }
        }
        if time > 0.0 { area / time } else { self.points.last().map_or(0.0, |last| last.1) }
    }

    /// The mean size of its rate before each node, K/s.
    pub fn ripples(&self) -> [f64; NODES.len()] {
        let start = self.points.first().map_or(0.0, |first| first.0);
        let mut from = start;
        NODES.map(|node| {
            let mean = self.rate(from, start + node);
            from = start + node;
            mean
        })
    }

    /// The mean size of its rate between two times, K/s.
    fn rate(&self, from: f64, to: f64) -> f64 {
        let way = |pair: &[(f64, f64)]| {
            let ((t0, a), (t1, b)) = (pair[0], pair[1]);
            (b - a).abs() * ((to.min(t1) - from.max(t0)) / (t1 - t0).max(1e-9)).max(0.0)
        };
        self.points.windows(2).map(way).sum::<f64>() / (to - from)
    }

    /// How far it swings about its mean within a block once it is warm, over the mean size of its rate, s: between turns it counts as
    /// even, as of saw teeth.
    pub fn swing(&self) -> f64 {
        let since = self.points.last().map_or(0.0, |last| last.0 - MEASURED);
        let warm = self.points.iter().filter(|point| point.0 >= since);
        let mut turns: Vec<(f64, f64)> = vec![];
        for point in warm {
            if let [.., a, b] = turns[..]
                && (b.1 - a.1) * (point.1 - b.1) >= 0.0
            {
                turns.pop();
            }
            turns.push(*point);
        }
        let (mut way, mut square) = (0.0, 0.0);
        for pair in turns.windows(2) {
            let (time, step) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            way += step.abs();
            square += step * step / 12.0 * time;
        }
        let time = turns.last().zip(turns.first()).map_or(0.0, |(last, first)| last.0 - first.0);
        if way > 0.0 { (square * time).sqrt() / way } else { 0.0 }
    }

    /// The temperature at the nodes, each the mean of a block about it.
    pub fn nodes(&self) -> [f64; NODES.len()] {
        let start = self.points.first().map_or(0.0, |first| first.0);
        let block = self.points.last().map_or(0.0, |last| last.0 - start) / self.blocks.max(1.0);
        NODES.map(|node| {
            let half = 0.5 * block.min(node);
            self.mean(start + node - half, start + node + half)
        })
    }
}
