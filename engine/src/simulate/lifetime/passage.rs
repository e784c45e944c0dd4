//! Passage through the pieces of a block, level by level.

use super::quantities::SLOW;
use super::{Before, FED, Lifetime, PRACTICE, Place, Seen};
use crate::document::record::LifePoint;
use crate::duty::{Segment, Service};
use crate::horizon::Pieced;
use crate::model::slow;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::Range;

impl Lifetime<'_> {
    /// Where the repetition is, in the innermost piece that was entered.
    pub(super) fn place(&self) -> &Place {
        &self.way.places[self.way.places.len() - 1]
    }

    fn place_mut(&mut self) -> &mut Place {
        let last = self.way.places.len() - 1;
        &mut self.way.places[last]
    }

    /// Segments of the next piece.
    fn segments(&self) -> Range<usize> {
        let (piece, start) = (&self.level().pieces[self.place().at].segments, self.place().start);
        start + piece.start..start + piece.end
    }

    /// Begins the next piece.
    fn begin(&mut self) {
        let integral = self.sim.watch.recorder.block();
        let (time, mode, fed) = (self.sim.time, self.sim.assembly.mode_number(), self.sim.assembly.washer_fed);
        self.place_mut().before = Before { time, mode, fed, integral };
    }

    /// Ends a piece that was simulated.
    fn end(&mut self) {
        let (kind, inner) = (self.kind(), self.way.places.len() > 1);
        if let Some(kind) = kind {
            let before = self.place().before.clone();
            let (until, mut integral) = self.sim.watch.recorder.block();
            integral.iter_mut().zip(&before.integral.1).for_each(|(after, before)| *after -= before);
            let (time, mode) = (self.sim.time, self.sim.assembly.mode_number());
            let fed = self.sim.assembly.washer_fed - before.fed;
            self.way.touched = true;
            self.way.seen[kind] = Some(Seen {
                modes: [before.mode, mode],
                integral: (until - before.integral.0, integral),
                lasted: time - before.time,
                fed,
            });
            let place = self.place_mut();
            place.fed = fed > FED[usize::from(!place.fed)];
        }
        self.move_on(self.sim.time);
        if !inner && (kind.is_some() || self.place().at == 0) {
            let whole = self.place().at == 0;
            self.sim.note_piece(&mut self.way.log, self.until, whole);
            (self.watch)(self.way.log.done(self.until));
        }
    }

    /// Moves on to the next piece, at this time, s.
    fn move_on(&mut self, time: f64) {
        let inner = self.way.places.len() > 1;
        let place = self.place_mut();
        place.at += 1;
        if !inner && place.at == self.pieces() {
            self.place_mut().at = 0;
            let way = &mut self.way;
            (way.block_time, way.begun) = (time - way.begun, time);
            let blocks = &mut way.blocks;
            *(if way.touched { &mut blocks.run } else { &mut blocks.skipped }) += 1;
            way.touched = false;
        }
    }

    /// Whether this block may be the last one.
    fn last_block(&self) -> bool {
        let way = &self.way;
        way.block_time <= 0.0 || way.begun + way.block_time >= self.until - 1e-3 * way.block_time
    }
}

impl Pieced for Lifetime<'_> {
    fn kinds(&self) -> usize {
        self.levels.inside.len()
    }

    fn kind(&self) -> Option<usize> {
        self.level().pieces.get(self.place().at).and_then(|piece| piece.kind)
    }

    fn inside(&self) -> usize {
        let level = self.kind().and_then(|kind| self.levels.inside[kind]);
        level.map_or(0, |level| self.levels.levels[level].recurring)
    }

    fn enter(&mut self) {
        let Some(level) = self.kind().and_then(|kind| self.levels.inside[kind]) else { return };
        self.begin();
        let start = self.segments().start;
        self.way.places.push(Place { level, at: 0, start, fed: self.place().fed, before: Before::default() });
    }

    fn leave(&mut self) {
        self.way.places.pop();
        self.end();
    }

    fn perform(&mut self) -> Result<(), Self::Error> {
        // Foretold one by one, a piece bears what differs from block to block; long jumps would lengthen it.
        if let Some(kind) = self.kind().filter(|_| !self.one_by_one) {
            let (times, steps) = &mut self.first_steps[kind];
            *times += 1;
            if *times > PRACTICE {
                self.sim.stepper.begin_with(steps.get_or_insert_with(|| self.sim.stepper.first_steps()));
            }
        }
        self.begin();
        for index in self.segments() {
            self.sim.perform(&self.block[index]).map_err(|failure| (index, failure))?;
            if let Segment::Service(Service::Adjust(setting, value)) = self.block[index] {
                self.way.settings.insert(setting.path, value.to_bits());
            }
        }
        self.end();
        Ok(())
    }

    fn pass(&mut self, values: &[f64]) {
        let seen = self.kind().and_then(|kind| self.way.seen[kind].as_ref());
        let inner = self.way.places.len() > 1;
        // A block that is skipped as a whole is an equal part of the mean, simulated or not.
        if let Some(seen) = seen.filter(|_| inner || self.pieces() > 1) {
            self.sim.watch.recorder.count(seen.integral.0, &seen.integral.1, inner);
            if inner {
                self.sim.assembly.washer_fed += seen.fed;
            }
        }
        let time = values.last().copied().unwrap_or_default();
        self.move_on(time);
        if !inner && self.place().at == 0 {
            let running = values[SLOW + slow::RUNNING_TIME];
            self.way.log.mark(LifePoint { time, running, used: self.uses(values).to_vec() });
        }
    }

    fn setting(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.way.settings.hash(&mut hasher);
        hasher.finish()
    }

    fn steady(&self) -> bool {
        let seen = self.kind().and_then(|kind| self.way.seen[kind].as_ref());
        let mode = self.sim.assembly.mode_number();
        // Only the last adjustment of a setting counts.
        let mut ends = BTreeMap::new();
        for segment in &self.block[self.segments()] {
            if let Segment::Service(Service::Adjust(setting, value)) = segment {
                ends.insert(setting.path, value.to_bits());
            }
        }
        seen.is_some_and(|seen| seen.modes == [mode; 2])
            && ends.iter().all(|(path, bits)| self.way.settings.get(*path) == Some(bits))
    }

    fn closes(&self) -> bool {
        let (level, at) = (self.level(), self.place().at);
        level.closing[at] || (level.last[at] && (self.way.places.len() > 1 || self.last_block()))
    }
}
