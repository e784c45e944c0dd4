//! Recorder of windows and extremes while the machine runs; single steps are not stored.

use super::bushing_load::BushingLoad;
use super::channels::values;
use super::crests::crests;
use super::hazards::Hazards;
use super::launch_detail::CloseUps;
use super::moments::Moments;
use super::rest_clock::RestClock;
use super::span::Span;
use crate::document::record::{CloseUp, Extremes, Moment, Windows};
use crate::integrate::Step;
use crate::model::{Assembly, Contact, MotorState, slow};
use crate::names::{Channel, Happening, Row};

/// Windows of a run and extremes of its present segment.
#[derive(Clone, Debug)]
pub(crate) struct Recorder {
    /// largest number of windows; with 0, nothing is recorded
    most_windows: usize,
    /// window length on the clock, s
    length: f64,
    clock: RestClock,
    /// whether oiled since the last step
    served: bool,
    by_block: bool,
    windows: Vec<Span>,
    segment: Span,
    /// extremes of the run; like those of the block, without the present segment
    overall: Span,
    block: Span,
    last: Option<Row>,
    /// the last values before a sudden change
    seen: Option<Row>,
    /// whether the last row is included in its window; not after a step too short to advance the clock
    in_window: bool,
    /// end of the last step, s
    now: f64,
    close_ups: CloseUps,
    moments: Moments,
    /// load of the bushing
    pub loaded: BushingLoad,
    pub hazards: Hazards,
    /// least share of the lining's dry friction that oil on it left
    pub grip: Option<f64>,
    /// the first channel with a value that is not finite, and the time, s
    pub odd: Option<(Channel, f64)>,
}

impl Recorder {
    /// A recorder with at most this number of windows; 0 records nothing.
    pub fn new(most_windows: usize) -> Self {
        let records = most_windows > 0;
        Self {
            most_windows: if records { most_windows.max(2) } else { 0 },
            length: if records { 0.25 } else { 0.0 },
            clock: RestClock::default(),
            served: false,
            by_block: false,
            windows: vec![],
            segment: Span::empty(),
            overall: Span::empty(),
            block: Span::empty(),
            last: None,
            seen: None,
            in_window: false,
            now: 0.0,
            close_ups: CloseUps::default(),
            moments: Moments::default(),
            loaded: BushingLoad::default(),
            hazards: Hazards::default(),
            grip: None,
            odd: None,
        }
    }

    /// Adds an event.
    pub fn hear(&mut self, time: f64, what: Happening) {
        if self.most_windows == 0 {
            return;
        }
        match (what, self.last.or(self.seen)) {
            (Happening::SetsOff, _) => self.close_ups.set_off(time),
            (Happening::Stops, Some(row)) => self.moments.halt(time, &row),
            (Happening::Stalls | Happening::SwitchedOff, Some(row)) => self.moments.switch_off(time, &row),
            (Happening::MotorStarts, _) => self.moments.begin(),
            (Happening::Oiled | Happening::Greased, _) => self.served = true,
            _ => {}
        }
    }

    /// The launch with the highest lining temperature.
    pub fn close_up(&self) -> Option<CloseUp> {
        self.close_ups.kept()
    }

    /// Moments: the hottest lining, the stop after it, and the rest.
    pub fn moments(&self) -> Vec<Moment> {
        self.moments.kept()
    }

    /// From now on each window is a block.
    pub fn keep_blocks(&mut self) {
        self.by_block = true;
        self.windows.clear();
        self.block = Span::empty();
    }

    /// Extremes since the last call; begins a new segment.
    pub fn close_segment(&mut self) -> Extremes {
        let segment = std::mem::replace(&mut self.segment, Span::empty());
        self.overall.reach(&segment.least, &segment.most);
        self.block.reach(&segment.least, &segment.most);
        segment.extremes()
    }

    /// Extremes over the whole run.
    pub fn overall(&self) -> Extremes {
        let mut overall = self.overall.clone();
        overall.reach(&self.segment.least, &self.segment.most);
        overall.extremes()
    }

    /// Discards the last values after a sudden change.
    pub fn interrupt(&mut self) {
        self.seen = self.last.take().or(self.seen);
        self.in_window = false;
    }

    /// Adds one accepted step.
    pub fn see(&mut self, assembly: &Assembly, step: &Step<'_>) {
        if self.most_windows == 0 {
            return;
        }
        let joins = self.last.is_some();
        let start = self.last.unwrap_or_else(|| values(assembly, step.before, step.slow));
        let middle = values(assembly, step.middle, step.slow);
        let end = values(assembly, step.after, step.slow);
        // The start of the step equals the end of the last, so it adds nothing, except to a new segment.
        if !joins || self.segment.time == 0.0 {
            self.segment.touch(&start);
        }
        self.segment.touch(&end);
        if (step.start - self.now).abs() > 1e-6 {
            self.close_ups.cut();
            self.moments.begin();
        }
        self.now = step.start + step.length;
        let crests = crests(assembly, step, [&start, &middle, &end], &self.segment.most);
        if !joins {
            self.look(step.start, &start);
        }
        let half = (0.5, middle);
        let rows = crests.iter().filter(|c| c.0 < 0.5).chain([&half]).chain(crests.iter().filter(|c| c.0 > 0.5));
        for (share, row) in rows {
            self.segment.touch(row);
            self.look(step.start + share * step.length, row);
        }
        self.look(self.now, &end);
        let weight = step.length / 6.0;
        if self.odd.is_none() {
            let odd = |row: &Row| Channel::ALL.into_iter().find(|channel| !channel.of(row).is_finite());
            self.odd = [&start, &middle, &end].into_iter().find_map(odd).map(|channel| (channel, self.now));
        }
        let integral = std::array::from_fn(|k| weight * (start[k] + 4.0 * middle[k] + end[k]));
        let slips = matches!(assembly.contact, Contact::Slip(_));
        let half = 0.5 * assembly.machine.limits.bushing_load;
        self.loaded.see(step.length, Channel::BushingLoad.of(&integral) / step.length, slips, half);
        let rows = crests.iter().map(|c| &c.1).chain([&start, &middle, &end]);
        self.hazards.see(assembly, step.length, rows, &end, &integral);
        let grip = assembly.grip(step.after);
        self.grip = Some(self.grip.map_or(grip, |least| least.min(grip)));
        self.segment.add(step.length, &integral);
        self.overall.add(step.length, &integral);
        if self.by_block {
            self.block.add(step.length, &integral);
        } else {
            let anew = std::mem::take(&mut self.served);
            self.clock.rest(step.start, assembly.motor == MotorState::Stopped, anew);
            let runs = assembly.motor == MotorState::Running;
            let until = step.slow[slow::RUNNING_TIME];
            self.spread((step.start, step.length), (until, runs), [&start, &middle, &end]);
            for (share, row) in &crests {
                let reading = self.clock.reading(step.start + share * step.length);
                if let Some(window) = self.windows.get_mut((reading / self.length) as usize) {
                    window.touch(row);
                }
            }
        }
        self.last = Some(end);
    }

    fn look(&mut self, time: f64, row: &Row) {
        self.close_ups.see(time, row);
        self.moments.see(time, row);
    }

    fn spread(&mut self, (from, length): (f64, f64), (ran, runs): (f64, bool), [start, middle, end]: [&Row; 3]) {
        let until = from + length;
        while self.clock.reading(until) > self.length * self.most_windows as f64 {
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
        let (mut va, mut joins) = (*start, self.in_window);
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
        self.in_window = until > from;
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

    /// Stores the block that ends here as a window, with the running time at its end. Neighbours are joined if there
    /// are too many.
    pub fn close_block(&mut self, end: f64, running: f64) {
        let mut block = std::mem::replace(&mut self.block, Span::empty());
        if !self.by_block || block.time <= 0.0 {
            return;
        }
        (block.end, block.running) = (end, running);
        self.windows.push(block);
        if self.windows.len() > self.most_windows {
            self.halve();
        }
    }

    /// Recorded time and integrals of the present block.
    pub fn block(&self) -> (f64, Row) {
        (self.block.time, self.block.sum)
    }

    /// Counts the time and the integrals of a part that was not simulated in the mean over the run, and in that of the present block
    /// if it is inside one that is simulated.
    pub fn count(&mut self, time: f64, integral: &Row, inside: bool) {
        self.overall.add(time, integral);
        if inside {
            self.block.add(time, integral);
        }
    }

    /// The windows so far.
    pub fn windows(&self) -> Windows {
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
