//! Runs from a cold start that end long before the machine is warm.

use crate::words::number::figures;
use crate::words::say;
use crate::words::text::Words;

/// Rise still to come above which a run says of itself that it is not yet warm, K.
pub(crate) const WARMING: f64 = 3.0;
/// Rise still to come above which its answer may change if the machine is ridden on, K. Assumed.
const COLD: f64 = 15.0;
/// Rise still to come above which there is no telling how hot it gets, K.
const FAR: f64 = 150.0;

/// That what fits in runs of these durations, s, may not fit in longer ones, by the rises still to come, K.
pub(crate) fn cold(runs: impl Iterator<Item = (f64, f64)>) -> Option<Words> {
    let (duration, rise) = runs.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, rise)| *rise > COLD)?;
    let hotter = if rise > FAR {
        "far hotter".to_owned()
    } else {
        format!("about {}\u{a0}°C ({}\u{a0}°F) hotter", figures(rise, 1), figures(1.8 * rise, 1))
    };
    Some(
        Words::from(format!("Only {} from cold: ridden on, the bushing gets {hotter}, ", say::time(duration)))
            .strong("so that what fits here may not. Repeat the duty (`.repeated(300.hours)`) before you choose."),
    )
}
