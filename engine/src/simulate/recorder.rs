//! Keeps windows and extremes while the machine runs, never every step.

use super::channels::{COUNT, values};
use crate::integrate::Step;
use crate::model::Assembly;
use crate::record::{Extremes, Windows};

type Row = [f64; COUNT];

#[derive(Clone, Debug)]
struct Span {
    time: f64,
    /// end, where windows are blocks, s
    end: f64,
    least: Row,
    sum: Row,
    most: Row,
}

impl Span {
    const fn empty() -> Self {
        Self { time: 0.0, end: 0.0, least: [f64::INFINITY; COUNT], sum: [0.0; COUNT], most: [f64::NEG_INFINITY; COUNT] }
    }
    fn touch(&mut self, v: &Row) {
        for ((least, most), v) in self.least.iter_mut().zip(&mut self.most).zip(v) {
            *least = least.min(*v);
            *most = most.max(*v);
        }
    }
    fn join(&mut self, other: &Self) {
        self.time += other.time;
        self.end = other.end;
        self.touch(&other.least);
        self.touch(&other.most);
        for k in 0..COUNT {
            self.sum[k] += other.sum[k];
        }
    }
    fn mean(&self) -> Vec<f64> {
        (0..COUNT).map(|k| (self.sum[k] / self.time).clamp(self.least[k], self.most[k])).collect()
    }
    fn extremes(&self) -> Extremes {
        if self.time > 0.0 {
            Extremes { least: self.least.to_vec(), mean: self.mean(), most: self.most.to_vec() }
        } else {
            Extremes::default()
        }
    }
}

/// Windows of a run and the extremes of its present segment.
#[derive(Clone, Debug)]
pub struct Recorder {
    most_windows: usize,
    length: f64,
    by_block: bool,
    block: Span,
    windows: Vec<Span>,
    segment: Span,
    overall: Span,
    last: Option<Row>,
}

impl Default for Recorder {
    fn default() -> Self {
        Self::new(2)
    }
}

impl Recorder {
    /// A recorder that keeps at most so many windows.
    pub fn new(most_windows: usize) -> Self {
        Self {
            most_windows: most_windows.max(2),
            length: 0.25,
            by_block: false,
            block: Span::empty(),
            windows: vec![],
            segment: Span::empty(),
            overall: Span::empty(),
            last: None,
        }
    }

    /// Takes in one accepted step.
    pub(crate) fn see(&mut self, assembly: &Assembly, step: &Step<'_>) {
        let start = self.last.unwrap_or_else(|| values(assembly, step.before, step.slow));
        let middle = values(assembly, step.middle, step.slow);
        let end = values(assembly, step.after, step.slow);
        for span in [&mut self.segment, &mut self.overall, &mut self.block] {
            span.touch(&start);
            span.touch(&middle);
            span.touch(&end);
            span.time += step.length;
            for k in 0..COUNT {
                span.sum[k] += step.length / 6.0 * (start[k] + 4.0 * middle[k] + end[k]);
            }
        }
        if !self.by_block {
            self.spread(step.start, step.length, &start, &middle, &end);
        }
        self.last = Some(end);
    }

    fn spread(&mut self, from: f64, length: f64, start: &Row, middle: &Row, end: &Row) {
        let until = from + length;
        while until > self.length * self.most_windows as f64 {
            self.halve();
        }
        let at = |t: f64| -> Row {
            let s = (t - from) / length;
            let (a, b, share) = if s < 0.5 { (start, middle, 2.0 * s) } else { (middle, end, 2.0 * s - 1.0) };
            std::array::from_fn(|k| a[k] + share * (b[k] - a[k]))
        };
        let half = from + 0.5 * length;
        let mut a = from;
        let mut va = *start;
        while a < until {
            let index = (a / self.length + 1e-9) as usize;
            let edge = (index + 1) as f64 * self.length;
            let b = if edge < until { edge } else { until };
            let b = if a < half && half < b { half } else { b };
            let vb = if b == until { *end } else { at(b) };
            while self.windows.len() <= index {
                self.windows.push(Span::empty());
            }
            let window = &mut self.windows[index];
            window.touch(&va);
            window.touch(&vb);
            window.time += b - a;
            for k in 0..COUNT {
                window.sum[k] += 0.5 * (b - a) * (va[k] + vb[k]);
            }
            if b <= a {
                break;
            }
            (a, va) = (b, vb);
        }
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

    /// From here on a window is a block.
    pub(crate) fn keep_blocks(&mut self) {
        self.by_block = true;
        self.windows.clear();
        self.block = Span::empty();
    }

    /// Keeps the block that ends here as a window; neighbours are joined when there are too many.
    pub(crate) fn close_block(&mut self, end: f64) {
        let mut block = std::mem::replace(&mut self.block, Span::empty());
        if !self.by_block || block.time <= 0.0 {
            return;
        }
        block.end = end;
        self.windows.push(block);
        if self.windows.len() > self.most_windows {
            self.halve();
        }
    }

    /// Extremes since the last call.
    pub(crate) fn close_segment(&mut self) -> Extremes {
        std::mem::replace(&mut self.segment, Span::empty()).extremes()
    }

    /// Extremes over the whole run.
    pub(crate) fn overall(&self) -> Extremes {
        self.overall.extremes()
    }

    /// The windows so far.
    pub(crate) fn windows(&self) -> Windows {
        let kept: Vec<(usize, &Span)> = self.windows.iter().enumerate().filter(|(_, w)| w.time > 0.0).collect();
        Windows {
            length: if self.by_block { kept.first().map_or(0.0, |(_, w)| w.time) } else { self.length },
            end: kept
                .iter()
                .map(|(i, w)| if self.by_block { w.end } else { *i as f64 * self.length + w.time })
                .collect(),
            least: kept.iter().map(|(_, w)| w.least.to_vec()).collect(),
            mean: kept.iter().map(|(_, w)| w.mean()).collect(),
            most: kept.iter().map(|(_, w)| w.most.to_vec()).collect(),
        }
    }

    /// Forgets the last values, after something changed at once.
    pub(crate) fn interrupt(&mut self) {
        self.last = None;
    }
}
