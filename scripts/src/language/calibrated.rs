//! A machine with learned constants.

use crate::language::plan::Variant;
use crate::read::calibration::read;
use crate::read::parts_folder::PartsFolder;
use crate::read::refusal::Refusal;
use slipsoak_engine::calibrate::{Calibration, Learned};
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::parts::parameter;

/// The machine with the constants of a calibration. In a fleet they are spread as the data leave them, with correlated
/// errors. A spread defined in the script stays as it is, without correlation.
pub fn applied(variant: &Variant, calibration: &Calibration) -> Variant {
    let mut variant = variant.clone();
    variant.machine.idle_kind = calibration.idle_kind.unwrap_or(variant.machine.idle_kind);
    let own: Vec<String> = variant.spreads.iter().map(|u| u.path.clone()).collect();
    // The spread between clutches is assumed independent from constant to constant; only the share of the error is
    // correlated.
    let share = |c: &Learned| if c.spread > 1.0 { c.factor.ln() / c.spread.ln() } else { 0.0 };
    let earlier = |k: usize| calibration.constants.iter().take(k).enumerate().filter(|(_, c)| !own.contains(&c.path));
    for (k, c) in calibration.constants.iter().enumerate() {
        if let Some(p) = parameter(&c.path) {
            variant.machine.change(|m| (p.put)(m, c.value));
        }
        if !own.contains(&c.path) {
            let of = |(j, other): (usize, &Learned)| {
                (other.path.clone(), calibration.correlation[k][j] * share(c) * share(other))
            };
            let correlated = earlier(k).map(of).filter(|(_, r)| *r != 0.0).collect();
            variant.spreads.push(Uncertain { correlated, ..Uncertain::alone(&c.path, Spread::Factor(c.spread)) });
        }
    }
    variant
}

/// The machine with the calibration file of that name beside the script.
pub fn calibrated(parts: &PartsFolder, variant: &Variant, name: &str) -> Result<Variant, Refusal> {
    let file = format!("{}.json", name.trim_end_matches(".json"));
    Ok(applied(variant, &read(&file, &parts.read("calibration", name, ".json")?)?))
}
