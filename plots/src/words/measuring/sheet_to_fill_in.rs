//! A sheet to fill in with what is measured, as a calibration reads it.

use crate::words::number::figures;
use slipsoak_engine::calibrate::{Condition, Quantity};
use slipsoak_engine::measure_plan::{Candidate, MeasurePlan, quantity};

/// Unit in which a sheet asks for a quantity, and its size, SI.
pub const fn unit(quantity: Quantity) -> (&'static str, f64) {
    match quantity {
        Quantity::Washer | Quantity::Bushing | Quantity::Lining => ("mm", 1e-3),
        Quantity::Engagement | Quantity::Drop => ("rpm", slipsoak_engine::units::RPM),
        Quantity::Spring => ("N", 1.0),
        Quantity::Weight => ("g", 1e-3),
        Quantity::SpinDown => ("s", 1.0),
        Quantity::Charring => ("%", 0.01),
    }
}

/// Unit in which a sheet asks for a condition.
const fn unit_of_condition(condition: Condition) -> &'static str {
    match condition {
        Condition::Drag => "N·m",
        Condition::Spun => "rpm",
        Condition::Warm => "°C",
    }
}

/// The measurements of a sheet to fill in: the recommended ones, or if there are none the one that narrows most of those that an
/// inspection takes up.
fn wanted(plan: &MeasurePlan) -> Vec<&Candidate> {
    let all = plan.best.into_iter().chain(plan.pair.iter().flat_map(|p| p.of)).chain(plan.quickest);
    let mut places: Vec<u64> = all.collect();
    places.sort_unstable();
    places.dedup();
    if places.is_empty() {
        let inspected = plan.candidates.iter().filter(|c| quantity(c.method).is_some());
        return inspected.min_by(|a, b| a.deviation.total_cmp(&b.deviation)).into_iter().collect();
    }
    places.iter().filter_map(|k| plan.candidates.get(*k as usize)).collect()
}

/// A sheet to fill in: heads of columns as `calibrate --inspections` reads them, and its rows; none without a column.
pub fn sheet(plan: &MeasurePlan) -> Option<(Vec<String>, Vec<Vec<String>>)> {
    const CLUTCHES: usize = 3;
    let wanted = wanted(plan);
    let quantities: Vec<Quantity> = wanted.iter().filter_map(|c| quantity(c.method)).collect();
    if quantities.is_empty() {
        return None;
    }
    let mut heads = vec!["clutch".to_owned(), "hours [h]".to_owned()];
    for quantity in &quantities {
        let (unit, size) = unit(*quantity);
        let gauge = quantity.row().gauge;
        // A share of the reading is added when it is read.
        let error = if gauge.share == 0.0 { format!(" ± {}", figures(gauge.fixed / size, 2)) } else { String::new() };
        heads.push(format!("{} [{unit}]{error}", quantity.name()));
        heads.extend(
            Condition::ALL
                .into_iter()
                .filter(|c| c.row().of == *quantity)
                .map(|c| format!("{} [{}]", c.name(), unit_of_condition(c))),
        );
    }
    let mut hours: Vec<f64> =
        wanted.iter().filter(|c| quantity(c.method).is_some()).map(|c| c.wait).chain([0.0]).collect();
    hours.sort_by(f64::total_cmp);
    hours.dedup();
    let row = |clutch: usize, hours: f64| {
        let mut row = vec![String::new(); heads.len()];
        row[0] = format!("clutch {clutch}");
        row[1] = figures(hours / slipsoak_engine::units::HOUR, 2);
        row
    };
    let rows = (1..=CLUTCHES).flat_map(|clutch| hours.iter().map(move |hours| row(clutch, *hours))).collect();
    Some((heads, rows))
}
