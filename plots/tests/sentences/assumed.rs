//! Assumptions of the answers.

use super::said::{HOUR, RPM, Said, all, clauses};
use slipsoak_engine::document::finding::Assumed;
use slipsoak_plots::words;

/// The assumption after another.
pub fn next_assumed(last: Option<&Assumed>) -> Option<Assumed> {
    let Some(last) = last else { return Some(Assumed::WasherWear { factor: 10.0 }) };
    Some(match last {
        Assumed::WasherWear { .. } => Assumed::LearnedWasher { oiled: 1.2, dry: 10.0 },
        Assumed::LearnedWasher { .. } => Assumed::Misalignment { angle: 0.0087 },
        Assumed::Misalignment { .. } => Assumed::EvenSizes,
        Assumed::EvenSizes => Assumed::BronzeOnSteel { factor: 7.0 },
        Assumed::BronzeOnSteel { .. } => {
            Assumed::EndLeakage { leak: 0.1 / HOUR, least: 0.0056 / HOUR, most: 1.8 / HOUR, hundredth: 1.056e-5 }
        }
        Assumed::EndLeakage { .. } => {
            Assumed::OilLife { life: 1000.0 * HOUR, least: 111.0 * HOUR, most: 9000.0 * HOUR }
        }
        Assumed::OilLife { .. } => Assumed::Soaking { time: 75.0, least: 4.4, most: 1275.0 },
        Assumed::Soaking { .. } => Assumed::OilOnLining { share: 0.03 },
        Assumed::OilOnLining { .. } => Assumed::WearConstants,
        Assumed::WearConstants => Assumed::OtherWearConstants,
        Assumed::OtherWearConstants => Assumed::Relaxation { per_decade: 0.02 },
        Assumed::Relaxation { .. } => Assumed::IdleVariation { half: 75.0 * RPM },
        Assumed::IdleVariation { .. } => Assumed::SpringScatter { springs: 0.03, tachometer: 0.01 },
        Assumed::SpringScatter { .. } => Assumed::KindOfIdle,
        Assumed::KindOfIdle => Assumed::NewSet,
        Assumed::NewSet => Assumed::SketchedTorque { power: 4850.0, speed: 3600.0 * RPM },
        Assumed::SketchedTorque { .. } => return None,
    })
}

pub fn assumed() -> Said {
    clauses("assumed", &words::granted::clauses(&all(next_assumed)))
}
