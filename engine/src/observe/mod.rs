//! Observation of a machine while it is stepped: windows, extremes, moments, events, ledgers. It reads the model; the
//! model does not depend on it.

mod bushing_load;
pub(crate) mod channels;
mod events;
mod hazards;
mod launch_detail;
pub(crate) mod ledgers;
mod moments;
mod recorder;
mod rest_clock;
pub(crate) mod warnings;

pub(crate) use events::Events;
pub(crate) use recorder::Recorder;

use crate::integrate::{Observer, Step};
use crate::model::Assembly;

/// Recorder and event list of one machine.
#[derive(Clone, Debug)]
pub(crate) struct Watch {
    pub recorder: Recorder,
    pub events: Events,
}

impl Watch {
    /// Takes over the machine's new events.
    pub fn listen(&mut self, assembly: &mut Assembly) {
        for (time, what) in assembly.unheard.drain(..) {
            self.recorder.hear(time, what);
            self.events.note(time, what);
        }
    }
}

impl Observer<Assembly> for Watch {
    fn saw(&mut self, assembly: &mut Assembly, step: &Step<'_>) {
        self.listen(assembly);
        self.recorder.see(assembly, step);
    }
}
