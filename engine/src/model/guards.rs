//! Guards of events, and the number of the present mode.

use super::assembly::Assembly;
use super::bounds::STOPS;
use super::grip::read;
use super::names::*;
use crate::laws::bearing::SEIZED;

impl Assembly {
    pub(crate) fn mode_number(&self) -> u64 {
        let contact = match self.contact {
            Contact::Free => 0,
            Contact::Slip(s) if s > 0.0 => 1,
            Contact::Slip(_) => 2,
            Contact::Locked => 3,
        };
        let motion = match self.motion {
            Motion::Held => 0,
            Motion::Moving(d) if d > 0.0 => 1,
            Motion::Moving(_) => 2,
        };
        let ask = match self.ask {
            Ask::Opening(u) => (u * 100.0) as u64,
            Ask::Speed { speed, .. } => 200 + (speed * 10.0).abs() as u64,
        };
        contact + 4 * (motion + 3 * (self.motor as u64 + 3 * (u64::from(self.braking.is_some()) + 2 * ask)))
    }

    /// Torques on the drum above which a held vehicle sets off forward, and below which it rolls back.
    pub(super) fn holding(&self) -> (f64, f64) {
        let eta = self.machine.vehicle.chain_efficiency;
        let at = |force: f64, helps: bool| {
            let torque = force * self.speed_per_drum;
            if (torque >= 0.0) == helps { torque / eta } else { torque * eta }
        };
        (at(self.grade + self.rolling, true), at(self.grade - self.rolling, false))
    }

    pub(crate) fn guard_values(&self, y: &[f64], slow: &[f64], out: &mut [f64]) {
        out.fill(1.0);
        let (motor, drum) = (y[state::MOTOR], y[state::DRUM]);
        let press = self.pressed(motor, y[state::SHOES], slow).most;
        match self.contact {
            Contact::Free => out[guard::ENGAGE] = -press,
            Contact::Slip(s) => {
                out[guard::RELEASE] = press;
                out[guard::SPEEDS_EQUAL] = s * (motor - drum);
            }
            Contact::Locked => out[guard::BREAKAWAY] = self.grip_left(y, slow),
        }
        match self.motion {
            Motion::Moving(direction) => {
                out[guard::STANDSTILL] = direction * drum;
                if let BrakeAsk::Slow(slowing) = self.brake_ask {
                    let drive = self.drive(read(y), self.on_drum(y, slow));
                    if self.braking.is_some() {
                        out[guard::BRAKE_EASES] = drive.brake;
                    } else {
                        out[guard::BRAKE_BITES] = -direction * drive.drum_rate - slowing / self.speed_per_drum;
                    }
                }
            }
            Motion::Held => {
                if self.brake_ask == BrakeAsk::Off {
                    let torque = self.on_drum(y, slow);
                    let (forward, back) = self.holding();
                    out[guard::SET_OFF] = forward - torque;
                    out[guard::ROLL_BACK] = torque - back;
                }
            }
        }
        match self.motor {
            MotorState::Running => out[guard::STALL] = motor - self.machine.motor.stall,
            MotorState::Coasting => out[guard::MOTOR_STOPPED] = motor,
            MotorState::Stopped => {}
        }
        out[guard::TOO_HOT] = STOPS - self.hottest(y, slow).1;
        out[guard::SEIZED] = SEIZED - y[state::SCORE];
        let speed = drum * self.speed_per_drum;
        match self.target {
            Some(Target::Faster(target)) => out[guard::TARGET] = target - speed,
            Some(Target::Slower(target)) => out[guard::TARGET] = speed - target,
            None => {}
        }
    }

    pub(super) fn grip_left(&self, y: &[f64], slow: &[f64]) -> f64 {
        self.machine.clutch.peak * self.torque_capacity(read(y), slow) - self.locked_torque(y).abs()
    }
}
