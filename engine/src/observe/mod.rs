//! Observation of a machine while it is stepped: windows, extremes, moments, events, ledgers. It reads the model; the
//! model does not depend on it.

mod bushing_load;
pub(crate) mod channels;
mod crests;
mod events;
mod hazards;
mod kept_windows;
mod launch_detail;
mod launches;
pub(crate) mod ledgers;
mod moments;
mod recorder;
mod rest_clock;
mod span;
pub(crate) mod warnings;

pub(crate) use events::Events;
pub(crate) use hazards::Hazards;
pub(crate) use launches::Launches;
pub(crate) use recorder::Recorder;

use crate::integrate::{Observer, Step};
use crate::model::{Assembly, counter, state};

/// Recorder, event list and launches of one machine.
#[derive(Clone, Debug)]
pub(crate) struct Watch {
    pub recorder: Recorder,
    pub events: Events,
    pub launches: Launches,
}

impl Watch {
    /// Takes over the machine's new events.
    pub fn listen(&mut self, assembly: &mut Assembly) {
        for (time, what) in assembly.unheard.drain(..) {
            self.recorder.hear(time, what);
            self.events.note(time, what);
            self.launches.hear(time, what);
        }
    }
}

impl Observer<Assembly> for Watch {
    fn saw(&mut self, assembly: &mut Assembly, step: &Step<'_>) {
        let slip = |counters: &[f64]| counters[counter::SLIP - state::COUNT];
        let ends = [(step.start, slip(step.counters_before)), (step.start + step.length, slip(step.counters))];
        self.launches.see(ends, step.after[state::DRUM] * assembly.speed_per_drum);
        self.listen(assembly);
        self.recorder.see(assembly, step);
    }
}
