//! The end of a simulation: its ledgers are checked and its record is made.

use super::engagement::{engagement, settled};
use super::failure::Failure;
use super::simulation::Simulation;
use crate::document::finding::Weak;
use crate::document::record::{Engagement, Run, Setting};
use crate::laws::margin::SEASON;
use crate::life;
use crate::model::{BEYOND, slow};
use crate::names::{Channel, Part, Supply};
use crate::observe::warnings::Rubbed;
use crate::observe::{Watch, channels};
use crate::parts::Machine;

impl Simulation {
    /// Checks the ledgers and returns the record of the run.
    pub fn finish(mut self, variant: &str, duty: &str) -> Result<Run, Failure> {
        let ledgers = self.books.close(&self.assembly, &self.y, &self.slow);
        self.check(&ledgers)?;
        let oil_since = self.books.oil_since(&self.y);
        self.watch.listen(&mut self.assembly);
        let (a, Watch { recorder, events, .. }) = (&self.assembly, &self.watch);
        let windows = recorder.windows();
        let (close_up, moments) = (recorder.close_up(), recorder.moments());
        let overall = recorder.overall();
        let now = channels::values(a, &self.y, &self.slow);
        let ran = self.running();
        let shoes = overall.most.get(Channel::Shoes as usize).copied();
        let after_season = |machine: &Machine| shoes.map(|hottest| settled(machine, hottest, SEASON));
        let mut whole = a.machine.clone();
        whole.fit_set();
        let renewed = Weak::of(&a.machine).and_then(|_| after_season(&whole));
        let settled = after_season(&a.machine);
        let length = life::Length { calendar: self.time, running: ran, reached: Part::ALL.map(|part| a.reached(part)) };
        let mut parts = life::parts(&a.machine, &windows, &self.segments, &now, &length, self.oil_brought);
        if let Some(horizon) = &self.horizon {
            life::simulated(&mut parts, horizon, &self.blocks);
        }
        // Wear goes on after a clutch has come to its end, but only within the last block of a repeated duty.
        let peaks = Channel::ALL.into_iter().filter(|channel| channel.is_temperature());
        let peaks = peaks.filter(|_| self.horizon.is_none()).map(|channel| channel.of(&overall.most));
        let hottest = peaks.fold(a.hottest_peak, f64::max);
        // A motor that never ran gives no hours of running.
        if hottest > BEYOND || ran <= 0.0 {
            life::unknown(&mut parts, self.horizon.as_mut());
        }
        // A repeated duty ends at a part's limit; only its last block may go beyond.
        let whole = self.horizon.is_none();
        let rubbed = Rubbed {
            through: if whole { a.through } else { Default::default() },
            scored: if whole { a.scored } else { Default::default() },
            hazards: recorder.hazards,
            hottest,
            loaded: recorder.loaded.over(a.machine.limits.bushing_load),
        };
        let warnings = self.noticed.warnings(a, events, &overall, &parts, &rubbed, self.halt);
        let settings = Setting::all(&a.machine);
        let grip = recorder.grip.map(|least| [least, a.grip(&self.y)]);
        let (distance, launches) = (channels::distance(&self.y), a.launches);
        let (events, events_left_out) = self.watch.events.list(self.most_events);
        Ok(Run {
            variant: variant.to_owned(),
            duty: duty.to_owned(),
            settings,
            idle_kind: a.machine.idle_kind,
            lining_kind: a.machine.lining_kind,
            learned: vec![],
            duration: self.time,
            sliding_time: self.slow[slow::SLIDING_TIME],
            running_time: ran,
            distance,
            launches: launches as u64,
            windows,
            close_up,
            moments,
            engagement: Engagement { settled, renewed, ..engagement(&self.assembly.machine) },
            segments: self.segments,
            segments_left_out: self.segments_left_out,
            events,
            events_left_out,
            overall,
            ledgers,
            oil_since,
            parts,
            horizon: self.horizon,
            supplies: Supply::ALL.into_iter().zip(self.supplies).filter(|used| used.1 > 0.0).collect(),
            warnings,
            grip,
            halt: self.halt,
            work: self.stepper.work,
        })
    }
}
