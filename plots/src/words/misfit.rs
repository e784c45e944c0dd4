//! Sentences on how far a machine as it is lies from its readings.

use crate::words::measuring::unit;
use crate::words::number::figures;
use crate::words::say::time;
use crate::words::text::{Words, listed};
use slipsoak_engine::calibrate::{Compared, Misfit, When};

/// Standard deviations up to which a machine agrees with its readings.
const AGREES: f64 = 1.5;

/// What was read.
pub fn name(of: Compared) -> String {
    match of {
        Compared::Inspected(quantity) => quantity.name().to_owned(),
        Compared::Logged(node) => format!("{} (log)", node.name()),
    }
}

/// A size in the unit of what was read.
pub fn size(of: Compared, value: f64) -> String {
    let (unit, size) = match of {
        Compared::Inspected(quantity) => unit(quantity),
        Compared::Logged(_) => ("K", 1.0),
    };
    format!("{}\u{a0}{unit}", figures(value / size, 2))
}

/// A difference with its sign.
pub fn off(of: Compared, difference: f64) -> String {
    format!("{}{}", if difference < 0.0 { "−" } else { "+" }, size(of, difference.abs()))
}

/// When a reading was taken.
pub fn when(when: When) -> String {
    match when {
        When::Running(seconds) => time(seconds),
        When::Launches(count) => format!("{count:.0} launches"),
    }
}

/// Standard deviations, with their sign.
pub fn by(deviations: f64) -> String {
    let sign = if deviations < 0.0 { "−" } else { "+" };
    format!("{sign}{} standard deviations", figures(deviations.abs(), 2))
}

/// The answer: whether machine and readings agree, and what to do.
pub fn answer(misfits: &[Misfit]) -> Vec<Words> {
    let off: Vec<&Misfit> = misfits.iter().filter(|m| m.deviations > AGREES).collect();
    let Some(worst) = off.first() else {
        return vec![
            Words::default()
                .strong("The machine as it is agrees with its readings")
                .plain(": none is farther off than its gauge explains. There is nothing to fit."),
        ];
    };
    let mut named: Vec<String> = off.iter().map(|m| name(m.of)).collect();
    named.dedup();
    vec![
        Words::default().strong("The machine as it is does not agree with its readings").plain(format!(
            " of {}. Check units, duty and hours first, then leave out --compare to learn the constants.",
            listed(&named)
        )),
        format!(
            "Farthest off is the {}: by {}, {} standard deviations of a reading.",
            name(worst.of),
            size(worst.of, worst.size),
            figures(worst.deviations, 2)
        )
        .into(),
    ]
}
