//! Windows of a run: even on the recorder's clock, or blocks. Neighbours are joined when there are too many.

use super::rest_clock::RestClock;
use super::span::Span;
use crate::document::record::Windows;
use crate::integrate::Step;
use crate::model::{MotorState, slow};
use crate::names::Row;

/// Length of the first windows on the clock, s.
const FIRST: f64 = 0.25;

/// The windows so far.
#[derive(Clone, Debug)]
pub(super) struct KeptWindows {
    /// largest number
    most: usize,
    /// length of each on the clock, s; 0 if nothing is recorded
    length: f64,
    clock: RestClock,
    by_block: bool,
    windows: Vec<Span>,
    /// whether the last row is included in its window; not after a step too short to advance the clock
    joined: bool,
}

impl KeptWindows {
    /// None yet, of at most this number; 0 if nothing is recorded.
    pub fn new(most: usize) -> Self {
        Self {
            most: if most > 0 { most.max(2) } else { 0 },
            length: if most > 0 { FIRST } else { 0.0 },
            clock: RestClock::default(),
            by_block: false,
            windows: vec![],
            joined: false,
        }
    }

    /// From now on each window is a block.
    pub fn keep_blocks(&mut self) {
        self.by_block = true;
        self.windows.clear();
    }

    /// Whether each window is a block.
    pub fn are_blocks(&self) -> bool {
        self.by_block
    }

    /// The next row does not continue the last one.
    pub fn interrupt(&mut self) {
        self.joined = false;
    }

    /// Adds a step by its rows at start, middle and end and at crests between them; `anew` if a service began a new rest.
    pub fn see(&mut self, step: &Step<'_>, (motor, anew): (MotorState, bool), rows: [&Row; 3], crests: &[(f64, Row)]) {
        self.clock.rest(step.start, motor == MotorState::Stopped, anew);
        let ran = (step.slow[slow::RUNNING_TIME], motor == MotorState::Running);
        self.spread((step.start, step.length), ran, rows);
        for (share, row) in crests {
            let reading = self.clock.reading(step.start + share * step.length);
            if let Some(window) = self.windows.get_mut((reading / self.length) as usize) {
                window.touch(row);
            }
        }
    }

    /// Adds a block.
    pub fn push(&mut self, block: Span) {
        self.windows.push(block);
        if self.windows.len() > self.most {
            self.halve();
        }
    }

    fn spread(&mut self, (from, length): (f64, f64), (ran, runs): (f64, bool), [start, middle, end]: [&Row; 3]) {
        let until = from + length;
        while self.clock.reading(until) > self.length * self.most as f64 {
            self.halve();
        }
        // The parabola through the three rows, within their range.
        let at = |t: f64| -> Row {
            let s = (t - from) / length;
            let (a, b, c) = ((2.0 * s - 1.0) * (s - 1.0), 4.0 * s * (1.0 - s), s * (2.0 * s - 1.0));
            std::array::from_fn(|k| {
                let (low, high) = (start[k].min(middle[k]).min(end[k]), start[k].max(middle[k]).max(end[k]));
                (a * start[k] + b * middle[k] + c * end[k]).max(low).min(high)
            })
        };
        let half = from + 0.5 * length;
        let mut a = from;
        let (mut va, mut joins) = (*start, self.joined);
        let mut index = (self.clock.reading(a) / self.length + 1e-9) as usize;
        loop {
            let edge = self.clock.time((index + 1) as f64 * self.length);
            let b = if edge < until { edge.max(a) } else { until };
            let (vm, vb) = (at(f64::midpoint(a, b)), if b == until { *end } else { at(b) });
            while self.windows.len() <= index {
                self.windows.push(Span::empty());
            }
            let window = &mut self.windows[index];
            if !joins || window.time == 0.0 {
                window.touch(&va);
            }
            if a <= half && half <= b {
                window.touch(middle);
            }
            window.touch(&vm);
            window.touch(&vb);
            let weight = (b - a) / 6.0;
            window.add(b - a, &std::array::from_fn(|k| weight * (va[k] + 4.0 * vm[k] + vb[k])));
            window.end = b;
            window.running = if runs { ran - (until - b) } else { ran };
            if b >= until {
                break;
            }
            index += usize::from(b >= edge);
            (a, va, joins) = (b, vb, true);
        }
        self.joined = until > from;
    }

    fn halve(&mut self) {
        self.length *= 2.0;
        let old = std::mem::take(&mut self.windows);
        for pair in old.chunks(2) {
            let mut joined = pair[0].clone();
            if let Some(second) = pair.get(1) {
                joined.join(second);
            }
            self.windows.push(joined);
        }
    }

    /// The windows as a record holds them.
    pub fn kept(&self) -> Windows {
        let kept: Vec<&Span> = self.windows.iter().filter(|w| w.time > 0.0).collect();
        Windows {
            length: if self.by_block { kept.first().map_or(0.0, |w| w.time) } else { self.length },
            end: kept.iter().map(|w| w.end).collect(),
            running: kept.iter().map(|w| w.running).collect(),
            least: kept.iter().map(|w| w.least.to_vec()).collect(),
            mean: kept.iter().map(|w| w.mean()).collect(),
            most: kept.iter().map(|w| w.most.to_vec()).collect(),
        }
    }
}
