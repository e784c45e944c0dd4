//! The motor of a machine: its torque and friction, and what holds its idle.

use super::machine::Machine;
use crate::curve::edge;
use crate::laws::motor;
use crate::real::Real;

/// Number of speeds at which a dragged motor's balance is looked for between idle and stall.
const SOUGHT: u32 = 200;

impl Machine {
    /// Friction torque of the motor at a speed, N·m.
    pub fn motor_drag<R: Real>(&self, w: R) -> R {
        motor::torque_drag(self.motor.drag, self.motor.drag_slope, w)
    }

    /// Torque of the motor at full throttle in the air around it, N·m, its top governor left out.
    pub fn motor_full<R: Real>(&self, w: R) -> R {
        let drag = self.motor_drag(w);
        self.indicated_full(motor::air_share(self.surroundings.pressure, self.surroundings.ambient), drag, w) - drag
    }

    /// Indicated torque of the motor at full throttle, N·m, in air in which it keeps this share.
    pub(crate) fn indicated_full<R: Real>(&self, air_share: f64, drag: R, w: R) -> R {
        (motor::torque_full(&self.torque_curve, w) + drag) * air_share
    }

    /// Indicated power of the throttle on its stop with the motor set to idle at a speed, W; beneath a governor the stop lies
    /// lower.
    pub fn stop_power(&self, idle: f64) -> f64 {
        let below = if self.idle_kind.is_governed() { self.motor.stop_below } else { 0.0 };
        let w = (idle - below).max(0.0);
        if w == 0.0 { 0.0 } else { motor::stop_power(self.motor_full(w), self.motor_drag(w), w) }
    }

    /// Opening of what holds the idle of a motor of this indicated torque, N·m: the stop of this indicated power, W, and a
    /// governor that is balanced at a speed by an opening.
    pub(crate) fn idle_opening<R: Real>(&self, indicated: R, power: f64, (idle, balanced): (f64, f64), w: R) -> R {
        let stop = motor::stop_opening(power, indicated, w);
        if self.idle_kind.is_governed() {
            motor::governor_idle(balanced, idle, self.motor.idle_band, w).max(stop)
        } else {
            stop
        }
    }

    /// Opening that balances the motor's friction at a speed.
    pub(crate) fn balanced(&self, w: f64) -> f64 {
        motor::balance_opening(self.motor_full(w), self.motor_drag(w))
    }

    /// Speed to which a torque on its shaft pulls the idling motor down, rad/s; none if it stalls.
    ///
    /// ```
    /// use slipsoak_engine::{names::IdleKind, parts::Machine, units::in_rpm};
    /// let machine = |idle_kind| Machine { idle_kind, ..Machine::default() };
    /// let falls = |m: Machine| 1700.0 - in_rpm(m.dragged_idle(0.4).unwrap());
    /// assert!((falls(machine(IdleKind::ThrottleStop)) - 169.37).abs() < 0.05);
    /// assert!((falls(machine(IdleKind::Governed)) - 11.53).abs() < 0.05);
    /// assert!(Machine::default().dragged_idle(4.0).is_none());
    /// ```
    pub fn dragged_idle(&self, drag: f64) -> Option<f64> {
        let idle = self.motor.idle;
        let (power, balanced) = (self.stop_power(idle), self.balanced(idle));
        let left = |w: f64| {
            let (full, friction) = (self.motor_full(w), self.motor_drag(w));
            let opening = self.idle_opening(full + friction, power, (idle, balanced), w);
            motor::torque(opening, full, friction) - drag
        };
        // The torque rises as the motor slows, to a peak beyond which it stalls.
        let least = self.motor.stall;
        let steps = (0..=SOUGHT).map(|k| idle + (least - idle) * f64::from(k) / f64::from(SOUGHT));
        let below = steps.into_iter().find(|w| left(*w) >= 0.0)?;
        let above = (below + (idle - least) / f64::from(SOUGHT)).min(idle);
        Some(edge(|w| left(w) >= 0.0, below, above))
    }
}
