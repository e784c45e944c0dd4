//! Times that a figure is asked for: since the start of the duty, or before or after an event.

/// An event of a run from which a time counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// the start of the duty
    Start,
    /// the vehicle sets off for the recorded launch
    Launch,
    /// the hottest lining of the recorded ride
    Hottest,
    /// the end of the recorded ride: motor off, or standstill
    Stop,
    /// the last time that the motor is switched off, or that the vehicle stops
    LastStop,
    /// the end of the run
    End,
}

impl Anchor {
    /// Every event.
    pub const ALL: [Self; 6] = [Self::Start, Self::Launch, Self::Hottest, Self::Stop, Self::LastStop, Self::End];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Launch => "launch",
            Self::Hottest => "hottest",
            Self::Stop => "stop",
            Self::LastStop => "last stop",
            Self::End => "end",
        }
    }
}

/// A time of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct When {
    /// the event from which it counts
    pub anchor: Anchor,
    /// after the event, s; before it if below zero
    pub after: f64,
}

impl When {
    /// A time since the start of the duty, s.
    pub const fn since_start(after: f64) -> Self {
        Self { anchor: Anchor::Start, after }
    }
}
