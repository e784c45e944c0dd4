//! Studies of a plan: runs, fleets, sweeps, sensitivities, and the shop's questions.

pub mod campaign;
pub mod fleet;
pub mod forecast;
pub mod frame;
pub(crate) mod head;
pub mod influence;
pub mod outline;
pub mod question;
pub mod request;
pub mod runs;
pub mod study_error;
pub mod sweep;

use crate::language::plan::Aim;
use campaign::LongStudy;
use fleet::FleetStudy;
use frame::Frame;
use influence::SensitivityStudy;
use request::{Planned, Request};
use runs::Runs;
use study_error::StudyError;
use sweep::SweepStudy;

/// The study of a script, ready to run.
pub enum Study<'a> {
    /// single runs, and the shop's questions
    Runs(Box<Runs<'a>>),
    /// a long study of many items
    Long(Box<dyn LongStudy + 'a>),
}

/// Plans a script and returns its study. `part`: number of the part of a long study, and number of parts; `heard`
/// receives the lines that the script prints.
pub fn asked<'a>(
    request: &Request<'a>,
    part: (u64, u64),
    heard: &mut dyn FnMut(Vec<String>),
) -> Result<Study<'a>, StudyError> {
    request.plan(heard, |planned| of(request, planned, part))
}

/// The study of a plan.
fn of<'a>(request: &Request<'a>, planned: &Planned<'a>, part: (u64, u64)) -> Result<Study<'a>, StudyError> {
    let plan = &planned.plan;
    let frame = |items| Frame::of(items, request, planned, part);
    Ok(match plan.aim {
        Aim::Runs => Study::Runs(Box::new(Runs::of(request, planned)?)),
        Aim::Fleet { clutches, seed } => {
            Study::Long(Box::new(FleetStudy::of(frame("clutches")?, plan, clutches, seed)?))
        }
        Aim::Sweep => Study::Long(Box::new(SweepStudy::of(frame("combinations")?, plan))),
        Aim::Influence { rows } => Study::Long(Box::new(SensitivityStudy::of(frame("runs")?, rows)?)),
    })
}
