//! What the cells of a sweep show: a quantity, its place in the ramp of colours, and its words.

use crate::figures::reading::in_fahrenheit;
use crate::sheet::axis::Axis as Scale;
use crate::sheet::prelude::*;
use crate::words::fault::in_brief;
use crate::words::learned::{constants, of_sweep};
use crate::words::reading::{brief, celsius, fahrenheit};
use crate::words::{say, sweep as words};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::sweep::{Summary, Sweep};
use slipsoak_engine::units::HOUR;

/// Quantity that colours the cells of a sweep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cells {
    /// highest temperature of the lining
    LiningPeak,
    /// slip energy of a launch
    SlipEnergy,
    /// life, and the part that wears out first or why the machine does not fit
    Life,
}

impl Cells {
    pub(super) fn heading(self, sweep: &Sweep) -> String {
        match self {
            Self::LiningPeak => words::overheated(sweep),
            Self::SlipEnergy => words::energies(sweep),
            Self::Life => words::lives(sweep),
        }
    }

    pub(super) fn note(self, sweep: &Sweep) -> String {
        match self {
            Self::LiningPeak => "Greatest temperature of the lining's surface.".to_owned(),
            Self::SlipEnergy => "Slip energy per launch, kJ; – without a launch.".to_owned(),
            Self::Life => format!(
                "Running time until the first part is worn out, oil apart. Depends on {} wear constants.",
                constants(&of_sweep(sweep))
            ),
        }
    }

    /// The quantity of a combination, °C, kJ or h.
    pub(super) fn of(self, summary: &Summary) -> Option<f64> {
        match self {
            Self::LiningPeak => Some(celsius(summary.lining_peak)),
            Self::SlipEnergy => summary.slip_energy.map(|joules| joules / 1e3),
            Self::Life => summary.running.or(summary.life).map(|life| life / HOUR),
        }
        .filter(|value| value.is_finite())
    }

    /// Whether a combination is outlined.
    pub(super) fn outlined(self, summary: &Summary) -> bool {
        match self {
            Self::LiningPeak => words::too_hot(summary),
            Self::SlipEnergy | Self::Life => summary.fault().is_some(),
        }
    }

    /// What the outline means, as a sentence of the note.
    pub(super) const fn outline(self) -> &'static str {
        match self {
            Self::LiningPeak => " Outlined: over the lining's limit.",
            Self::SlipEnergy => " Outlined: does not fit.",
            Self::Life => " Outlined: does not fit; a cell with room gives the reason.",
        }
    }

    /// Place of a value in the ramp of colours, from good to bad.
    pub(super) fn share(self, scale: &Scale, value: f64) -> f64 {
        let share = scale.at(value);
        if self == Self::Life { 1.0 - share } else { share }
    }

    /// Place of a combination in the ramp of colours; what has no life since it does not fit is at the bad end.
    pub(super) fn shade(self, scale: &Scale, summary: &Summary) -> f64 {
        let unfit = self == Self::Life && summary.fault().is_some();
        self.of(summary).map_or(f64::from(u8::from(unfit)), |value| self.share(scale, value))
    }

    /// Text of a cell: the number, and a second line.
    pub(super) fn words(self, summary: &Summary) -> (String, String) {
        let Some(value) = self.of(summary) else {
            let why = summary.fault().filter(|_| self == Self::Life).map_or("", in_brief);
            return ("–".to_owned(), why.to_owned());
        };
        match self {
            Self::LiningPeak => {
                (scales::celsius_only(&format!("{value:.0}")), scales::fahrenheit_only(&in_fahrenheit(value)))
            }
            Self::SlipEnergy => (number(value, if value < 9.95 { 0.01 } else { 0.1 }), String::new()),
            Self::Life => {
                // That a life is short its number says.
                let fault = summary.fault().filter(|fault| *fault != Fault::Early).map(in_brief);
                let why = fault.or_else(|| summary.ended_by.map(brief));
                (say::time(HOUR * value), why.unwrap_or_default().to_owned())
            }
        }
    }

    /// What a cell says to a reader who points at it.
    pub(super) fn said(self, summary: &Summary) -> String {
        let Some(value) = self.of(summary) else {
            return match summary.fault().filter(|_| self == Self::Life) {
                Some(fault) => format!("no life: {}", in_brief(fault)),
                None if self == Self::Life => "no part worn".to_owned(),
                None => "no launch".to_owned(),
            };
        };
        match (self, self.words(summary)) {
            (Self::LiningPeak, _) => format!("lining up to {}", self.tick(value)),
            (Self::SlipEnergy, (words, _)) => format!("{words} kJ a launch"),
            (Self::Life, (words, part)) => [words, part].join(" "),
        }
    }

    /// Text of a value beside the colour bar.
    pub(super) fn tick(self, value: f64) -> String {
        match self {
            Self::LiningPeak => scales::pair(&format!("{value:.0} °C"), &format!("{:.0} °F", fahrenheit(value))),
            Self::SlipEnergy => format!("{} kJ", number(value, if value < 9.95 { 0.1 } else { 1.0 })),
            Self::Life => say::time(HOUR * value),
        }
    }

    /// Meaning of the ends of the bar.
    pub(super) const fn ends(self) -> [&'static str; 2] {
        match self {
            Self::LiningPeak => ["cold", "hot"],
            Self::SlipEnergy => ["little", "much"],
            Self::Life => ["short", "long"],
        }
    }
}
