//! A torque curve sketched from a motor's rated power and speed.

use super::Sketched;
use crate::parts::Machine;

/// Gives a machine the torque curve of the built-in motor, scaled to a rated power, W, at a rated speed, rad/s, where
/// its top governor begins to close.
/// ```text
/// T(ω) = T0(ω ω0/ω_r) · (P/ω_r)/T0(ω0),   ω0 the built-in motor's governed speed
/// ```
/// The shape is that of one small four-stroke; another motor's torque below its rated speed may differ by 15 %
/// (assumed).
/// ```
/// use slipsoak_engine::{spring_choice::sketch, laws::motor::torque_full, parts::Machine};
/// let mut m = Machine::default();
/// sketch(&mut m, 3000.0, 300.0);
/// assert!((torque_full(&m.torque_curve, 300.0) - 10.0_f64).abs() < 1e-9);
/// ```
pub fn sketch(machine: &mut Machine, power: f64, speed: f64) -> Sketched {
    let known = Machine::default();
    let from = known.motor.full_load;
    let torque = crate::laws::motor::torque_full(&known.torque_curve, from);
    let (faster, stronger) = (speed / from, power / speed / torque);
    machine.torque_curve = known.torque_curve.iter().map(|(w, t)| (w * faster, t * stronger)).collect();
    machine.motor.full_load = speed;
    machine.motor.no_load = speed * known.motor.no_load / from;
    Sketched { power, speed }
}
