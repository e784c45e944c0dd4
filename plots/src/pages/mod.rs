//! Pages, one file for each kind of result.

mod by_run;
pub(crate) mod calibration;
pub(crate) mod changed;
mod changed_inputs;
mod changed_numbers;
pub(crate) mod choice;
mod comparison;
mod computed;
pub mod fleet;
pub(crate) mod gaps;
pub(crate) mod influence;
pub(crate) mod ledger;
pub(crate) mod matrix;
pub(crate) mod measure;
pub(crate) mod oiling;
pub(crate) mod origin;
pub(crate) mod question;
pub(crate) mod record;
pub(crate) mod retraced;
pub(crate) mod season;
mod settings;
pub(crate) mod sheet;
pub mod sweep;

use crate::figures::{Drawn, drawn_for_page};
use crate::page::Page;
use slipsoak_engine::document::Saved;

impl Page {
    /// The page of a result.
    pub fn of(saved: &Saved) -> Self {
        Self::with(saved, drawn_for_page(saved))
    }

    /// The page of a result with its drawn figures; empty for learned constants without their data.
    pub fn with(saved: &Saved, figures: Drawn) -> Self {
        match saved {
            Saved::Record(record) => Self::of_study(record, figures),
            Saved::Fleet(report) => Self::of_fleets(report, figures),
            Saved::Sweep(sweep) => Self::of_sweep(sweep, figures),
            Saved::Influence(influences) => Self::of_influences(influences, figures),
            Saved::Choice(choice) => Self::of_choice(choice, figures),
            Saved::Gaps(gaps) => Self::of_gaps(gaps, figures),
            Saved::Oiling(plan) => Self::of_oiling(plan, figures),
            Saved::Season(season) => Self::of_season(season, figures),
            Saved::Measure(plan) => Self::of_measure(plan, figures),
            Saved::Told(told) => Self::of_calibration(told, figures),
            Saved::Retraced(ridden) => Self::of_retraced(ridden, figures),
            Saved::Sheet(sheet) => Self::of_sheet(sheet),
            Saved::Calibration(_) => Self::default(),
        }
    }
}
