//! Recorder of windows and extremes while the machine runs; single steps are not stored.

use super::bushing_load::BushingLoad;
use super::channels::values;
use super::crests::crests;
use super::hazards::Hazards;
use super::kept_windows::KeptWindows;
use super::launch_detail::CloseUps;
use super::moments::Moments;
use super::span::Span;
use crate::document::record::{CloseUp, Extremes, Moment, Windows};
use crate::integrate::Step;
use crate::model::{Assembly, Contact};
use crate::names::{Channel, Happening, Row};

/// Windows of a run and extremes of its present segment.
#[derive(Clone, Debug)]
pub(crate) struct Recorder {
    /// whether anything is recorded
    records: bool,
    windows: KeptWindows,
    /// whether oiled since the last step
    served: bool,
    segment: Span,
    /// extremes of the run; like those of the block, without the present segment
    overall: Span,
    block: Span,
    last: Option<Row>,
    /// the last values before a sudden change
    seen: Option<Row>,
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
        Self {
            records: most_windows > 0,
            windows: KeptWindows::new(most_windows),
            served: false,
            segment: Span::empty(),
            overall: Span::empty(),
            block: Span::empty(),
            last: None,
            seen: None,
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
        if !self.records {
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
        self.windows.keep_blocks();
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
        self.windows.interrupt();
    }

    /// Adds one accepted step.
    pub fn see(&mut self, assembly: &Assembly, step: &Step<'_>) {
        if !self.records {
            return;
        }
        let joins = self.last.is_some();
        let start = self.last.unwrap_or_else(|| values(assembly, step.before, step.slow_before));
        let middle = values(assembly, step.middle, &step.slow_inside(0.5));
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
        if self.windows.are_blocks() {
            self.block.add(step.length, &integral);
        } else {
            let anew = std::mem::take(&mut self.served);
            self.windows.see(step, (assembly.motor, anew), [&start, &middle, &end], &crests);
        }
        self.last = Some(end);
    }

    fn look(&mut self, time: f64, row: &Row) {
        self.close_ups.see(time, row);
        self.moments.see(time, row);
    }

    /// Stores the block that ends here as a window, with the running time at its end. Neighbours are joined if there
    /// are too many.
    pub fn close_block(&mut self, end: f64, running: f64) {
        let mut block = std::mem::replace(&mut self.block, Span::empty());
        if self.windows.are_blocks() && block.time > 0.0 {
            (block.end, block.running) = (end, running);
            self.windows.push(block);
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
        self.windows.kept()
    }
}
