//! The table of saved results: each is one document, which states its kind, has a head, and checks itself when it is read.

pub mod calibration;
mod close_up;
mod columns;
mod engagement;
pub mod failed;
pub mod fault;
pub mod finding;
pub mod fleet;
mod gain;
mod halt;
mod head;
pub mod hill_start;
mod judged;
mod kind;
mod ledgers;
mod life;
pub mod measure_plan;
pub mod oil_plan;
pub mod reason;
pub mod record;
pub mod retraced;
mod run;
mod saved;
pub mod season;
mod segments;
pub mod sensitivity;
mod setting;
pub mod sheet;
pub mod sound;
pub mod spring_choice;
pub mod stack_up;
pub mod sweep;
pub mod verdict;
mod warming;
mod warning;
mod windows;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

pub use head::Head;
pub use kind::{Document, Is, Keys};

use saved::documents;

documents! {
    /// runs: every machine under every duty
    Record = "record", record::Record;
    /// fleets: many clutches sampled over the uncertain settings
    Fleet = "fleet", fleet::Report;
    /// sweep: combinations of settings
    Sweep = "sweep", sweep::Sweep;
    /// sensitivities: effect of each uncertain setting
    Influence = "influence", sensitivity::Influences;
    /// choice of a spring
    Choice = "choice", spring_choice::Choice;
    /// gap under the cover, and its life
    Gaps = "gaps", stack_up::Gaps;
    /// oiling plan
    Oiling = "oiling", oil_plan::OilPlan;
    /// what a shop's carts need in a season
    Season = "season", season::Season;
    /// what to measure for a decision
    Measure = "measure", measure_plan::MeasurePlan;
    /// learned constants, for scripts
    Calibration = "calibration", calibration::Calibration;
    /// learned constants with the data against the fit
    Told = "told", calibration::Told, calibration.head;
    /// a recorded ride
    Retraced = "retraced", retraced::Retraced;
    /// the sheet of a machine
    Sheet = "sheet", sheet::Sheet;
}
