//! What holds the motor's idle, as the drops under a known drag show it.

use super::learnable::known;
use super::{Condition, Quantity, Read};
use crate::names::IdleKind;
use crate::parts::{Machine, settings};

/// Difference of the sums of squares of both kinds above which the drops tell them apart: three standard deviations.
const TELLS: f64 = 9.0;
/// Places of a constant at which a kind is tried, about its value, and the reach in deviations of its prior.
const PLACES: i32 = 60;
const REACH: f64 = 3.0;

/// The kind of idle that the drops among these readings show; none without drops, or if both kinds could give them.
///
/// Each kind is given its best constant: a governor its speed range, a throttle stop the motor's friction, both with the prior
/// of [`learnable`](super::learnable()).
///
/// ```
/// use slipsoak_engine::calibrate::{Condition, Quantity, Read, Under, When, idle_shown};
/// use slipsoak_engine::{names::IdleKind, parts::Machine, units::rpm};
/// let drop = |value| Read {
///     clutch: "A".into(),
///     when: When::Running(0.0),
///     quantity: Quantity::Drop,
///     under: Under::default().with(Condition::Drag, 0.4),
///     value,
///     gauge: rpm(15.0),
///     line: 0,
/// };
/// // Closed forms: 0.4 N·m take 169 rpm off a motor on its stop, 12 rpm off a governed one.
/// assert_eq!(idle_shown(&Machine::default(), [&drop(rpm(169.0))]), Some(IdleKind::ThrottleStop));
/// assert_eq!(idle_shown(&Machine::default(), [&drop(rpm(12.0))]), Some(IdleKind::Governed));
/// assert_eq!(idle_shown(&Machine::default(), [&drop(rpm(80.0))]), None); // a wide governor, or a motor with much friction
/// ```
pub fn idle_shown<'a>(machine: &Machine, reads: impl IntoIterator<Item = &'a Read>) -> Option<IdleKind> {
    let drops: Vec<&Read> = reads.into_iter().filter(|r| r.quantity == Quantity::Drop).collect();
    let (stop, governed) =
        (misfit(machine, IdleKind::ThrottleStop, &drops)?, misfit(machine, IdleKind::Governed, &drops)?);
    let better = if stop < governed { IdleKind::ThrottleStop } else { IdleKind::Governed };
    ((stop - governed).abs() > TELLS).then_some(better)
}

/// Least sum of squares of the drops with an idle of this kind, and of its constant about its prior.
fn misfit(machine: &Machine, idle_kind: IdleKind, drops: &[&Read]) -> Option<f64> {
    let p = if idle_kind.is_governed() { &settings::motor::idle_band } else { &settings::motor::drag };
    let known = known(p)?;
    let of = |k: i32| {
        let z = REACH * f64::from(k) / f64::from(PLACES);
        let mut tried = Machine { idle_kind, ..machine.clone() };
        (p.put)(&mut tried, ((p.of)(machine) * libm::exp(known * z)).clamp(p.least, p.most));
        let off = |read: &&Read| {
            let fell = (Quantity::Drop.row().reads)(&tried, &super::Worn::default(), &read.under);
            ((fell - read.value) / read.gauge).powi(2)
        };
        z * z + drops.iter().map(off).sum::<f64>()
    };
    (!drops.is_empty() && drops.iter().all(|d| d.under.given(Condition::Drag).is_some()))
        .then(|| (-PLACES..=PLACES).map(of).fold(f64::INFINITY, f64::min))
}
