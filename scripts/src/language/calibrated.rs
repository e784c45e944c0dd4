//! A machine with learned constants.

use crate::language::context::ScriptContext;
use crate::language::plan::Variant;
use crate::read::calibration::{apply, of_another, read, spreads};
use crate::read::refusal::Refusal;
use slipsoak_engine::calibrate::Calibration;

/// The machine with the constants of a calibration. Where machines are sampled they are spread as the data leave them, with
/// correlated errors. A spread defined in the script stays as it is, without correlation.
pub fn applied(variant: &Variant, calibration: &Calibration) -> Variant {
    let mut variant = variant.clone();
    apply(&mut variant.machine, calibration);
    let own: Vec<String> = variant.spreads.iter().map(|u| u.path.clone()).collect();
    variant.spreads.extend(spreads(calibration, &own));
    variant.learned = calibration.constants.iter().filter(|c| !own.contains(&c.path)).cloned().collect();
    variant
}

/// The machine with the calibration file of that name beside the script; a note says if it was learned on another.
pub(crate) fn calibrated(own: &ScriptContext, variant: &Variant, name: &str) -> Result<Variant, Refusal> {
    let file = format!("{}.json", name.trim_end_matches(".json"));
    let known = read(&file, &own.parts.read("calibration", name, ".json")?, variant.machine.lining_kind)?;
    if let Some(note) = of_another(&file, &known, &variant.machine) {
        own.print_once(note);
    }
    Ok(applied(variant, &known))
}
