//! Transitions: every change of mode is in this file.

use super::assembly::Assembly;
use super::grip::read;
use super::names::*;
use crate::integrate::Flow;
use crate::names::Happening;

/// Deceleration of the brake below which the slack of its bite shrinks no further, m/s²: it may let down at constant speed.
const LEVEL: f64 = 0.05;

/// Result of equalising the last difference in speed.
pub(super) struct Merged {
    /// common speed, rad/s
    both: f64,
    /// energy into the chain, J
    chain_work: f64,
    /// part of it that reaches the vehicle or its brake, J
    vehicle: f64,
    /// slip energy, J
    heat: f64,
}

impl Assembly {
    pub(crate) fn note(&mut self, time: f64, what: Happening) {
        if what == Happening::SetsOff {
            self.launches += 1.0;
        }
        self.unheard.push((time, what));
    }

    pub(crate) fn transit(&mut self, which: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        let mut what = guard::WHAT[which].ok();
        let mut flow = Flow::Continue;
        match which {
            guard::ENGAGE => {
                let slip = y[state::MOTOR] - y[state::DRUM];
                self.contact = Contact::Slip(if slip < 0.0 { -1.0 } else { 1.0 });
            }
            guard::RELEASE => self.contact = Contact::Free,
            guard::SPEEDS_EQUAL => what = Some(self.meet(y, slow)),
            guard::BREAKAWAY => {
                self.contact = Contact::Slip(if self.locked_torque(y) < 0.0 { -1.0 } else { 1.0 });
            }
            guard::STANDSTILL => {
                y[state::DRUM] = 0.0;
                self.motion = Motion::Held;
                self.braking = None;
                if self.contact == Contact::Locked {
                    self.contact = Contact::Slip(1.0);
                }
                if self.stop_when_still {
                    flow = Flow::Stop;
                }
            }
            guard::SET_OFF => self.motion = Motion::Moving(1.0),
            guard::ROLL_BACK => self.motion = Motion::Moving(-1.0),
            guard::STALL => self.motor = MotorState::Coasting,
            guard::MOTOR_STOPPED => {
                y[state::MOTOR] = 0.0;
                self.motor = MotorState::Stopped;
            }
            guard::BRAKE_EASES => self.braking = None,
            guard::BRAKE_BITES => self.bite(y, slow, 1e-9),
            _ => flow = Flow::Stop,
        }
        if let Some(what) = what {
            self.note(t, what);
        }
        if which != guard::RELEASE {
            self.settle(t, y, slow);
        }
        flow
    }

    fn meet(&mut self, y: &mut [f64], slow: &[f64]) -> Happening {
        let Contact::Slip(sign) = self.contact else { return Happening::Meets };
        if self.motion == Motion::Held {
            self.contact = Contact::Slip(-sign);
            return Happening::SlipsOver;
        }
        let before = (y[state::MOTOR], y[state::DRUM]);
        let Merged { both, chain_work, vehicle, heat } = self.merged(before.0, before.1);
        (y[state::MOTOR], y[state::DRUM]) = (both, both);
        self.contact = Contact::Locked;
        if self.grip_left(y, slow) >= 0.0 {
            y[counter::CHAIN_WORK] += chain_work;
            y[counter::CHAIN_LOSS] += chain_work - vehicle;
            if self.braking.is_some() {
                y[counter::BRAKE] += vehicle;
            }
            y[counter::SLIP] += heat;
            let share = self.interface.lining_share;
            y[state::LINING] += heat * share / self.capacity[state::LINING];
            y[state::WALL] += heat * (1.0 - share) / self.capacity[state::WALL];
            return Happening::Locks;
        }
        (y[state::MOTOR], y[state::DRUM]) = before;
        self.contact = Contact::Slip(-sign);
        Happening::SlipsOver
    }

    /// Equalises the last difference in speed by an impulse I through the clutch, shared by drum and chain:
    /// ```text
    /// ω = [J1 ω1 + (J2 + M′e) ω2]/(J1 + J2 + M′e),   e = 1/η driving, η overrunning;   ω = ω2 under the brake
    /// chain work M′e (ω − ω2)(ω + ω2)/2,   slip heat I (ω1 − ω2)/2,   I = J1 (ω1 − ω)
    /// ```
    fn merged(&self, motor: f64, drum: f64) -> Merged {
        let (j1, j2, eta) =
            (self.machine.motor.inertia, self.machine.drum.inertia, self.machine.vehicle.chain_efficiency);
        let ahead = if let Motion::Moving(direction) = self.motion { (motor - drum) * direction } else { 0.0 };
        let e = if ahead >= 0.0 { 1.0 / eta } else { eta };
        let braked = self.braking.is_some();
        let both = if braked {
            drum
        } else {
            let j2 = j2 + self.reduced_mass * e;
            (j1 * motor + j2 * drum) / (j1 + j2)
        };
        let impulse = j1 * (motor - both);
        let through_chain = if braked { impulse } else { self.reduced_mass * e * (both - drum) };
        let chain_work = through_chain * 0.5 * (both + drum);
        Merged { both, chain_work, vehicle: chain_work / e, heat: 0.5 * impulse * (motor - drum) }
    }

    fn bite(&mut self, y: &[f64], slow: &[f64], slack: f64) {
        if let (BrakeAsk::Slow(slowing), Motion::Moving(direction)) = (self.brake_ask, self.motion) {
            self.braking = None;
            let free = self.drive(read(y), self.on_drum(y, slow)).drum_rate;
            if -direction * free * self.speed_per_drum < slowing + slack * slowing.abs().max(LEVEL) {
                self.braking = Some(slowing);
            }
        }
    }

    /// Makes the modes consistent with the states and the rider's demands.
    pub(crate) fn settle(&mut self, t: f64, y: &mut [f64], slow: &[f64]) {
        if self.contact == Contact::Free && self.pressed(y[state::MOTOR], y[state::SHOES], slow).most > 0.0 {
            let slip = y[state::MOTOR] - y[state::DRUM];
            self.contact = Contact::Slip(if slip < 0.0 { -1.0 } else { 1.0 });
            self.note(t, Happening::Engages);
        }
        match (self.motion, self.brake_ask) {
            (Motion::Held, BrakeAsk::Off) => {
                let torque = self.on_drum(y, slow);
                let (forward, back) = self.holding();
                let direction = if torque > forward {
                    1.0
                } else if torque < back {
                    -1.0
                } else {
                    return;
                };
                self.motion = Motion::Moving(direction);
                self.note(t, if direction > 0.0 { Happening::SetsOff } else { Happening::RollsBack });
            }
            (Motion::Held, BrakeAsk::Slow(_)) | (Motion::Moving(_), BrakeAsk::Off) => self.braking = None,
            (Motion::Moving(_), BrakeAsk::Slow(_)) if self.braking.is_none() => self.bite(y, slow, -1e-9),
            (Motion::Moving(_), BrakeAsk::Slow(slowing)) => self.braking = Some(slowing),
        }
        if self.contact == Contact::Locked && self.grip_left(y, slow) < 0.0 {
            self.contact = Contact::Slip(if self.locked_torque(y) < 0.0 { -1.0 } else { 1.0 });
            self.note(t, Happening::Unlocks);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Merged;
    use crate::model::{Assembly, Motion};
    use crate::parts::Machine;

    #[test]
    fn the_last_slip_at_lock_up_becomes_heat_chain_work_and_motion_without_residue() {
        let mut a = Assembly::new(Machine::default()).expect("a machine");
        let (j1, j2, eta) = (a.machine.motor.inertia, a.machine.drum.inertia, a.machine.vehicle.chain_efficiency);
        for (motor, drum, direction) in [(210.0, 200.0, 1.0), (200.0, 210.0, 1.0), (-10.0, -12.0, -1.0)] {
            a.motion = Motion::Moving(direction);
            let Merged { both, chain_work, vehicle, heat } = a.merged(motor, drum);
            let kinetic = |j: f64, before: f64| 0.5 * j * (both * both - before * before);
            let vehicle_gained = kinetic(a.reduced_mass, drum);
            assert!((vehicle - vehicle_gained).abs() < 1e-9, "{vehicle} {vehicle_gained}");
            assert!((kinetic(j1, motor) + kinetic(j2, drum) + chain_work + heat).abs() < 1e-9);
            assert!(heat > 0.0 && chain_work >= vehicle);
            let (from, to) = if chain_work > 0.0 { (chain_work, vehicle) } else { (-vehicle, -chain_work) };
            assert!((to / from - eta).abs() < 1e-12);
        }
        a.braking = Some(1.5);
        assert_eq!(a.merged(210.0, 200.0).both, 200.0);
    }

    // Exact, momentum and energy: 0.021 and 0.0011 kg·m² at 280 and 279 rad/s, 0.146465 kg·m² behind a chain of 0.95. Six digits.
    #[test]
    fn motor_and_drum_meet_at_the_speed_that_their_momentum_gives() {
        let mut a = Assembly::new(Machine::default()).expect("a machine");
        (a.machine.motor.inertia, a.machine.drum.inertia, a.reduced_mass) = (0.021, 0.0011, 0.146_465);
        (a.machine.vehicle.chain_efficiency, a.motion) = (0.95, Motion::Moving(1.0));
        let Merged { both, chain_work, vehicle, heat } = a.merged(280.0, 279.0);
        assert!((both - 279.119_133).abs() < 5e-7, "{both}");
        let found = [chain_work, chain_work - vehicle, heat];
        for (found, exact) in found.into_iter().zip([5.12553, 0.25628, 0.00925]) {
            assert!((found - exact).abs() < 5e-6, "{found} for {exact}");
        }
    }
}
