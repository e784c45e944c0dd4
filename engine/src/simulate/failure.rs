//! Reasons why a run cannot continue, with values in SI; sentences for readers are made where units are chosen.

use super::culprit::Culprit;
use crate::document::record::Halt;
use crate::integrate::Stuck;
use crate::names::Book;
use crate::parts::Invalid;
use thiserror::Error;

/// Reason why a run cannot continue.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Failure {
    /// the machine cannot be built
    #[error(transparent)]
    Invalid(#[from] Invalid),
    /// the integrator failed
    #[error("the simulation cannot go on: {why} ({state}); settings far from their defaults: {far}")]
    Stuck {
        /// reason
        why: Stuck,
        /// name of the state
        state: &'static str,
        /// settings far from their defaults
        far: String,
    },
    /// an impossible result
    #[error("at {time:.3} s the result stops making sense: {what}; settings far from their defaults: {far}")]
    Nonsense {
        /// description
        what: String,
        /// time, s
        time: f64,
        /// settings far from their defaults
        far: String,
    },
    /// a part became too hot for the model
    #[error(
        "{} reached {:.2} K after {:.3} s, in segment {} ({}), above all laws of the model",
        .0.part, .0.temperature, .0.time, .0.segment, .0.task
    )]
    TooHot(Halt),
    /// a part became hotter than the model reaches, so that no life can be given
    #[error("a part reached {peak:.2} K, above {limit:.2} K, up to which the model is valid: no life can be given")]
    Beyond {
        /// its temperature, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// with its shoes off and a sound bushing the motor stalls at its own idle
    #[error("the motor stalls at its own idle after {after:.3} s, with its shoes off the drum and a sound bushing")]
    NoIdle {
        /// time until then, s
        after: f64,
    },
    /// a number of the duty is out of range
    #[error("{what} is {value} {unit}; it must lie between {least} and {most} {unit}")]
    Duty {
        /// name of the number
        what: &'static str,
        /// value, SI
        value: f64,
        /// unit
        unit: &'static str,
        /// least
        least: f64,
        /// most
        most: f64,
    },
    /// a ledger does not close
    #[error(
        "the {ledger} ledger does not close: {residual:.3e} {unit} is missing, {relative:.1e} of its largest entry, allowed {allowed:.0e}; {culprit}"
    )]
    Ledger {
        /// name of the ledger
        ledger: Book,
        /// residual
        residual: f64,
        /// unit
        unit: String,
        /// residual relative to the largest entry
        relative: f64,
        /// allowed relative residual
        allowed: f64,
        /// the term at fault
        culprit: Box<Culprit>,
    },
}
