//! What the figures of an answer on measuring hold for, what counts as a loss, and how sure they are.

use crate::words::measuring::{either_way, sampled};
use crate::words::say::time;
use crate::words::text::Words;
use slipsoak_engine::measure_plan::{Candidate, MeasurePlan, effort};
use slipsoak_engine::names::Decision;

/// How much wider a range may be than slopes foretell before that is said.
const BENT: f64 = 1.5;

/// That slopes would promise more.
pub(super) fn bent(plan: &MeasurePlan) -> Option<Words> {
    let best = plan.recommended()?;
    (best.deviation > BENT * best.by_slope).then(|| format!("Slopes at the middle would promise {}: that holds for a clutch near the middle alone, so the figure above is the mean over all sampled clutches.", either_way(best.by_slope)).into())
}

pub(super) fn limit(plan: &MeasurePlan) -> Option<Words> {
    let safe = plan.safe?;
    let twice = |c: &Candidate| effort(c.method).1;
    plan.recommended().is_some_and(twice).then(|| format!("Ride no longer than {} without oil between the readings: until then 19 of 20 clutches or more are above the level of service, and so is one with the greatest end leakage and the shortest life of its oil in heat.", time(safe)).into())
}

/// What a – among changes of advice and gains means.
pub fn untold(plan: &MeasurePlan) -> String {
    format!(
        "–: the advice changes too rarely, or gains too little by it, to stand out from chance by three standard errors in {} sampled clutches; more of them (--samples) may tell.",
        plan.samples - plan.failed
    )
}

/// Whose the hours of oil service are, and whose the factors.
pub(super) fn ranges(plan: &MeasurePlan) -> Option<Words> {
    plan.due?[0]?;
    Some(format!("The hours in brackets are those of `slipsoak oiling`: from the greatest end leakage with the shortest life of the oil in heat to the least with the longest. The factors hold nine of ten clutches that are sampled over all that is assumed, {}.", sampled(plan)).into())
}

/// What counts as a loss.
pub(super) fn counted(plan: &MeasurePlan) -> &'static str {
    match plan.decision {
        Decision::Oiling => "What counts: riding below the level of service, and an hour of riding for each oiling.",
        Decision::Life => {
            "What counts: an hour on a worn part weighs as much as nine hours of life thrown away, so that nine of ten clutches or more outlast the hours that are named. Loss of oil is left out, in riding and at rest: lives are those of wear with good oil in the bushing, and are too long where oil is lost or spoiled by heat (`slipsoak oiling` says when)."
        }
        Decision::Season => {
            "What counts: a part short weighs as much as nine left over, so that nine of ten seasons have enough. Loss of oil is left out, in riding and at rest: parts wear as new ones do with good oil in the bushing, and the number of bushings is too low where oil is lost or spoiled by heat (`slipsoak season` counts them). Where that answer is wide by its bushings, the oil is worth measuring all the same (`slipsoak measure --for oiling`)."
        }
        Decision::Spring => {
            "What counts: hours of running until the first part is worn out, as a mean over the sampled clutches, whose idles and springs differ; a spring that drags at idle, new or relaxed, counts as 19 lives lost. An idle that was read counts as steady. `slipsoak choose` is stricter: it keeps 19 of 20 clutches clear of the highest idle, and lets the idle vary about what was read. It may keep its advice where a change is counted here, so ask it again with the reading."
        }
    }
}

/// How sure the answer is.
pub fn sure(plan: &MeasurePlan) -> Vec<Words> {
    if !plan.may_ride() {
        return vec![];
    }
    let mut said = vec![format!(
        "From {} clutches sampled over the ranges of everything assumed, which nobody has measured; errors of the gauges are assumed too. Ranges hold 9 of 10.",
        plan.samples - plan.failed
    ).into()];
    if plan.failed > 0 {
        let is = if plan.failed == 1 { "is" } else { "are" };
        said.push(format!("{} more could not be computed and {is} left out.", plan.failed).into());
    }
    said
}
