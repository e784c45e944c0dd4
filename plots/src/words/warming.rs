//! Runs from a cold start that end long before the machine is warm.

use crate::words::number::figures;
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::record::Run;

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
        let tens = 10.0 * (0.1 * rise).round();
        format!("about {tens:.0}\u{a0}°C ({}\u{a0}°F) hotter", figures(1.8 * tens, 2))
    };
    Some(
        Words::from(format!("Only {} from cold: ridden on, the bushing gets {hotter}, ", say::time(duration)))
            .strong("so that what fits here may not. Repeat the duty (`.repeated(300.hours)`) before you choose."),
    )
}

/// That the washer chars sooner than the run says, which ends while it chars ever faster; of several the first to char, by its name.
pub(crate) fn chars_sooner<'a>(
    runs: impl Iterator<Item = &'a Run>,
    name: impl Fn(&Run) -> Option<String>,
) -> Option<Words> {
    let sooner = runs.filter_map(|run| Some((run, run.chars_sooner()?)));
    let (run, after) = sooner.min_by(|a, b| a.1.total_cmp(&b.1))?;
    let whose = name(run).map_or_else(|| "The washer".to_owned(), |name| format!("“{name}”: the washer"));
    Some(
        Words::from(format!(
            "{whose} chars faster the longer this is ridden: at the rate of the last quarter after about "
        ))
        .strong(format!("{} of running", say::time(after)))
        .plain(", sooner than its life says. Repeat the duty (`.repeated(300.hours)`) before you go by that life."),
    )
}
