//! Variants that do not cover the same ground in an hour: their lives by distance.

use crate::words::clutches::milestone;
use crate::words::compared::{ALIKE, longest_first};
use crate::words::reading::end;
use crate::words::say;
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::Quantile;
use slipsoak_engine::record::Run;

/// Factor between the distances covered in an hour of running above which hours do not compare what variants do.
const UNEQUAL: f64 = 1.1;
/// Distance in an hour of running below which a machine stands for the most part, and hours are what counts, m. Assumed.
const STANDS: f64 = 1000.0;

/// What a fit variant covers, and how long it lasts.
pub(crate) struct Ground {
    /// its name
    pub name: String,
    /// distance in an hour of running, m
    pub hourly: f64,
    /// running time that it lasts, s
    pub lasts: f64,
}

impl Ground {
    /// Distance until it is worn out, m.
    fn way(&self) -> f64 {
        self.lasts / 3600.0 * self.hourly
    }
}

/// The other variant that covers the longest distance because it covers more in an hour than the longest-lived, the first of all; none
/// if hours rank them as distances do. A rider who waits for a lining to cool, or launches that take long, make the difference.
pub(crate) fn by_distance(all: &[Ground]) -> Option<String> {
    let first = all.first()?;
    let best = all.iter().filter(|one| one.way().is_finite()).max_by(|a, b| a.way().total_cmp(&b.way()))?;
    if first.hourly < STANDS || best.hourly < UNEQUAL * first.hourly || best.way() < ALIKE * first.way() {
        return None;
    }
    let [own, other] = [first, best].map(|one| say::distance(one.hourly));
    let [short, long] = [first, best].map(|one| say::distance(one.way()));
    let (first, best) = (&first.name, &best.name);
    Some(format!(
        "But in an hour of running “{first}” covers {own}, “{best}” {other}: by distance “{best}” lasts longest, about {long}, against {short}."
    ))
}

/// Of the fit runs of one duty.
pub(crate) fn of_runs(runs: &[&Run]) -> Option<String> {
    let one = |run: &Run| {
        let lasts = end(run).map_or(f64::INFINITY, |end| end.running);
        Ground { name: run.variant.clone(), hourly: run.hourly(), lasts }
    };
    let fit = longest_first(runs).into_iter().filter(|run| run.fault().is_none());
    by_distance(&fit.map(one).collect::<Vec<_>>())
}

/// Of fleets from the longest-lived, those of its duty, until a tenth of the clutches have a part worn out.
pub(crate) fn of_fleets(report: &Report, fleets: &[&Fleet]) -> Option<String> {
    let duty = &fleets.first()?.duty;
    let one = |fleet: &&Fleet| {
        let lasts = milestone(&fleet.end_running, Quantile::B10).estimate.unwrap_or(f64::INFINITY);
        Ground { name: fleet.variant.clone(), hourly: fleet.hourly, lasts }
    };
    let fit = fleets.iter().filter(|fleet| fleet.duty == *duty && !report.refuses(fleet));
    by_distance(&fit.map(one).collect::<Vec<_>>())
}
