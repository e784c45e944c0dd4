//! Guards and what follows when one is crossed: every change of mode stands here.

use super::assembly::Assembly;
use super::mechanics::read;
use super::names::*;
use crate::integrate::Flow;
use crate::record::Event;

/// Most events kept.
const MOST_EVENTS: usize = 100_000;

impl Assembly {
    /// A machine new and cold: oil full, washer soaked, everything at rest.
    pub(crate) fn fresh(&self) -> Vec<f64> {
        let mut y = vec![self.machine.surroundings.ambient; state::COUNT];
        y[state::MOTOR] = 0.0;
        y[state::DRUM] = 0.0;
        y[state::THROTTLE] = 0.0;
        y[state::HEAD] = 0.0;
        y[state::PORES] =
            self.density(self.machine.surroundings.ambient) * self.pore_volume(self.machine.surroundings.ambient);
        y[state::FILM] = self.density(self.machine.surroundings.ambient) * self.clearance_volume;
        y[state::SOAKED] = self.washer_full;
        y[state::GREASE] = 0.0;
        y[state::WET] = 0.0;
        y[state::LASTING] = 0.0;
        y.resize(state::COUNT + counter::COUNT, 0.0);
        y
    }

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

    /// Torques on the drum beyond which a held vehicle sets off forward and rolls back.
    fn holding(&self) -> (f64, f64) {
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
        let press = self.press(motor, y[state::SHOES], slow);
        match self.contact {
            Contact::Free => out[guard::ENGAGE] = -press,
            Contact::Slip(s) => {
                out[guard::RELEASE] = press;
                out[guard::MEET] = s * (motor - drum);
            }
            Contact::Locked => out[guard::BREAK] = self.grip_left(y, slow),
        }
        match self.motion {
            Motion::Moving(direction) => {
                out[guard::HALT] = direction * drum;
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
            MotorState::Coasting => out[guard::DEAD] = motor,
            MotorState::Stopped => {}
        }
        let speed = drum * self.speed_per_drum;
        match self.target {
            Some(Target::Faster(target)) => out[guard::TARGET] = target - speed,
            Some(Target::Slower(target)) => out[guard::TARGET] = speed - target,
            None => {}
        }
    }

    fn grip_left(&self, y: &[f64], slow: &[f64]) -> f64 {
        self.machine.clutch.peak * self.gripping(read(y), slow).capacity - self.locked_torque(y).abs()
    }

    pub(crate) fn note(&mut self, time: f64, what: &str) {
        if what == guard::NAMES[guard::SET_OFF] {
            self.launches += 1.0;
        }
        self.recorder.hear(time, what);
        if self.events.len() < MOST_EVENTS {
            self.events.push(Event { time, what: what.to_owned() });
        } else {
            self.events_left_out += 1;
        }
    }

    pub(crate) fn transit(&mut self, which: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        let mut what = guard::NAMES[which];
        let mut flow = Flow::Continue;
        match which {
            guard::ENGAGE => {
                let slip = y[state::MOTOR] - y[state::DRUM];
                self.contact = Contact::Slip(if slip < 0.0 { -1.0 } else { 1.0 });
            }
            guard::RELEASE => self.contact = Contact::Free,
            guard::MEET => what = self.meet(y, slow),
            guard::BREAK => {
                self.contact = Contact::Slip(if self.locked_torque(y) < 0.0 { -1.0 } else { 1.0 });
            }
            guard::HALT => {
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
            guard::DEAD => {
                y[state::MOTOR] = 0.0;
                self.motor = MotorState::Stopped;
            }
            guard::BRAKE_EASES => self.braking = None,
            guard::BRAKE_BITES => self.bite(y, slow, 1e-9),
            _ => flow = Flow::Stop,
        }
        if !matches!(which, guard::BRAKE_EASES | guard::BRAKE_BITES) {
            self.note(t, what);
        }
        if which != guard::RELEASE {
            self.settle(t, y, slow);
        }
        flow
    }

    fn meet(&mut self, y: &mut [f64], slow: &[f64]) -> &'static str {
        let Contact::Slip(sign) = self.contact else { return "meets" };
        let (j1, j2) = (self.machine.motor.inertia, self.machine.drum.inertia + self.reduced_mass);
        if self.motion == Motion::Held {
            self.contact = Contact::Slip(-sign);
            return "slips over";
        }
        let both = (j1 * y[state::MOTOR] + j2 * y[state::DRUM]) / (j1 + j2);
        let before = (y[state::MOTOR], y[state::DRUM]);
        (y[state::MOTOR], y[state::DRUM]) = (both, both);
        self.contact = Contact::Locked;
        if self.grip_left(y, slow) >= 0.0 {
            // The last difference in speed is evened out through the chain as well.
            y[counter::CHAIN_WORK] += 0.5 * self.reduced_mass * (both * both - before.1 * before.1);
            return "locks";
        }
        (y[state::MOTOR], y[state::DRUM]) = before;
        self.contact = Contact::Slip(-sign);
        "slips over"
    }

    fn bite(&mut self, y: &[f64], slow: &[f64], slack: f64) {
        if let (BrakeAsk::Slow(slowing), Motion::Moving(direction)) = (self.brake_ask, self.motion) {
            self.braking = None;
            let free = self.drive(read(y), self.on_drum(y, slow)).drum_rate;
            if -direction * free * self.speed_per_drum < slowing * (1.0 + slack) {
                self.braking = Some(slowing);
            }
        }
    }

    /// Brings the modes into line with the states and what the rider asks.
    pub(crate) fn settle(&mut self, t: f64, y: &mut [f64], slow: &[f64]) {
        if self.contact == Contact::Free && self.press(y[state::MOTOR], y[state::SHOES], slow) > 0.0 {
            let slip = y[state::MOTOR] - y[state::DRUM];
            self.contact = Contact::Slip(if slip < 0.0 { -1.0 } else { 1.0 });
            self.note(t, "engages");
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
                self.note(t, if direction > 0.0 { "sets off" } else { "rolls back" });
            }
            (Motion::Held, BrakeAsk::Slow(_)) | (Motion::Moving(_), BrakeAsk::Off) => self.braking = None,
            (Motion::Moving(_), BrakeAsk::Slow(_)) if self.braking.is_none() => self.bite(y, slow, -1e-9),
            (Motion::Moving(_), BrakeAsk::Slow(slowing)) => self.braking = Some(slowing),
        }
        if self.contact == Contact::Locked && self.grip_left(y, slow) < 0.0 {
            self.contact = Contact::Slip(if self.locked_torque(y) < 0.0 { -1.0 } else { 1.0 });
            self.note(t, "unlocks");
        }
    }
}
