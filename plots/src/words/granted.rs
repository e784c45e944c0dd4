//! Assumptions behind an answer.

use crate::words::number::figures;
use crate::words::say::{self, temperature, turns};
use crate::words::text::Words;
use slipsoak_engine::finding::Assumed;
use slipsoak_engine::units::HOUR;

/// Reference temperature of leakage and soaking, 80 °C, in K.
const WARM: f64 = 353.15;
/// Reference temperature of the oil's life in heat, 100 °C, in K.
pub(crate) const BOILING: f64 = 373.15;
/// Reference temperature of spring relaxation, 120 °C, in K.
const RELAXES: f64 = 393.15;

/// Each assumption as a clause, without capital and full stop.
pub fn clauses(list: &[Assumed]) -> Vec<Words> {
    list.iter().map(|assumed| clause(assumed).into()).collect()
}

fn clause(assumed: &Assumed) -> String {
    match *assumed {
        Assumed::WasherWear { factor } => format!(
            "the wear constant of vulcanised fibre on steel, for which no value has been published: it may be off by a factor of {} either way, and that is nearly all of the range of hours",
            figures(factor, 2)
        ),
        Assumed::LearnedWasher { oiled, dry } => format!(
            "the wear constant of the washer, learned from measurements: it may be off by a factor of {} either way where oiled and {} where dry, and that is nearly all of the range of hours",
            figures(oiled, 2),
            figures(dry, 2)
        ),
        Assumed::Misalignment { angle } => {
            format!("{:.1}° of chain misalignment; more wears the washer faster", angle.to_degrees())
        }
        Assumed::EvenSizes => {
            "sizes evenly spread over their tolerance, which those of sorted or reworked parts are not".to_owned()
        }
        Assumed::BronzeOnSteel { factor } => format!(
            "in tables and figure only, the wear of bronze on steel: galling may make it {} times faster, so that those hours are no guide to riding on",
            figures(factor, 2)
        ),
        Assumed::EndLeakage { leak, least, most, hundredth } => {
            format!(
                "end leakage of {} per hour at {} and 2500 rpm ({} to {} is possible): it decides how long an oiling lasts; to measure it, weigh a drum before and after a season: one hundredth of the oil is about {} mg",
                figures(leak * HOUR, 2),
                temperature(WARM),
                figures(least * HOUR, 2),
                figures(most * HOUR, 2),
                figures(hundredth * 1e6, 2)
            )
        }
        Assumed::OilLife { life, least, most } => {
            format!(
                "life of the oil in heat of {}, at {} ({} to {} is possible): it decides how often fresh oil is needed where the bushing runs hot",
                say::lasts(life),
                temperature(BOILING),
                say::lasts(least),
                say::lasts(most)
            )
        }
        Assumed::Soaking { time, least, most } => {
            format!(
                "{} s for the pores to soak up oil at {} ({} to {} s is possible): it shifts every wait in minutes alike",
                figures(time, 2),
                temperature(WARM),
                figures(least, 2),
                figures(most, 2)
            )
        }
        Assumed::OilOnLining { share } => format!(
            "{:.0} % of thrown oil lands on the lining, and the rate at which slip wipes it off",
            100.0 * share
        ),
        Assumed::WearConstants => {
            "wear constants of lining, washer and bushing: use lives to compare, not to predict; they are those of the first worn part, oil apart".to_owned()
        }
        Assumed::OtherWearConstants => {
            "wear constants that were not learned from measurements: lives are those of the first worn part, oil apart".to_owned()
        }
        Assumed::Relaxation { per_decade } => format!(
            "relaxation of the springs, {:.1} % per decade of time at {}",
            100.0 * per_decade,
            temperature(RELAXES)
        ),
        Assumed::IdleVariation { half } => format!(
            "the idle varies by ± {}: measure it on the warm motor, with a tachometer, over some minutes",
            turns(half)
        ),
        Assumed::SpringScatter { springs, tachometer } => format!(
            "forces of springs scatter by {:.0} % within a clutch and from lot to lot, a tachometer by {:.0} % (standard deviations)",
            100.0 * springs,
            100.0 * tachometer
        ),
        Assumed::NewSet => {
            "each spring is judged as a whole new set that engages at its speed: a weak or broken spring of this machine, and the force of its lot, are gone with the old set".to_owned()
        }
        Assumed::KindOfIdle => {
            "what holds the motor's idle is not stated: drag and creep are given for the worse kind, lives for a throttle stop. On the warm idling motor press the throttle lever shut with a finger: if it does not move it rests on its stop; if it gives and the motor slows, a governor holds it".to_owned()
        }
        Assumed::SketchedTorque { power, speed } => format!(
            "the torque curve is sketched from {:.1} kW at {}: its shape is another motor's, torques may be 15 % off",
            power / 1e3,
            turns(speed)
        ),
    }
}
