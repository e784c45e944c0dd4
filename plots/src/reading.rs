//! Channels of a record by name, in the units of an axis.

use crate::DrawError;
use slipsoak_engine::record::{Record, Run};

/// Column of a channel.
pub fn column(record: &Record, name: &str) -> Result<usize, DrawError> {
    record.channels.iter().position(|c| c.name == name).ok_or_else(|| DrawError::Channel(name.to_owned()))
}

/// A setting of a run's machine, SI.
pub fn setting(run: &Run, path: &str) -> Option<f64> {
    run.settings.iter().find(|s| s.path == path).map(|s| s.value)
}

/// Name of a run among the others: the variant, the duty, or both, whichever tells them apart.
pub fn name(record: &Record, run: &Run) -> String {
    let first = &record.runs[0];
    let same_duty = record.runs.iter().all(|r| r.duty == first.duty);
    let same_variant = record.runs.iter().all(|r| r.variant == first.variant);
    match (same_variant, same_duty) {
        (_, true) => run.variant.clone(),
        (true, false) => run.duty.clone(),
        (false, false) => format!("{}, {}", run.variant, run.duty),
    }
}

/// K to °C.
pub fn celsius(kelvin: f64) -> f64 {
    kelvin - 273.15
}

/// Unit of time for an axis of so many seconds: seconds in it and its name.
pub fn clock(longest: f64) -> (f64, &'static str) {
    if longest <= 7200.0 {
        (60.0, "minutes")
    } else if longest <= 5.0 * 86400.0 {
        (3600.0, "hours")
    } else {
        (86400.0, "days")
    }
}

/// The part that ends the clutch, and after how many hours. Oil is left out: it is service, not wear.
pub fn ended_by(run: &Run) -> Option<(&str, f64)> {
    run.parts
        .iter()
        .filter(|p| p.part != "oil")
        .filter_map(|p| Some((p.part.as_str(), p.life? / 3600.0)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A duration in hours, in the words a shop would use.
pub fn hours(h: f64) -> String {
    if h < 1.0 {
        format!("{:.0} min", h * 60.0)
    } else if h < 10.0 {
        format!("{h:.1} h")
    } else if h < 1e5 {
        format!("{h:.0} h")
    } else {
        "over 100 000 h".to_owned()
    }
}
