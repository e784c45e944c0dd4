//! Torques, speeds and frictional heat.

use super::assembly::Assembly;
use super::grip::{READ, read};
use super::group::{Group, Sink};
use super::names::{Ask, Contact, Motion, MotorState, counter, state};
use crate::laws::{history, motor, oil, vehicle};
use crate::real::Real;

/// Rates and torques of the drive from motor to vehicle.
pub(crate) struct Drive<R> {
    pub motor_rate: R,
    pub drum_rate: R,
    pub motor_torque: R,
    pub chain: R,
    pub brake: R,
    /// torque through the locked clutch, N·m
    pub locked: R,
}

impl Assembly {
    /// Torque through the locked clutch, N·m.
    pub(crate) fn locked_torque(&self, y: &[f64]) -> f64 {
        self.drive(read(y), 0.0).locked
    }

    /// Torque of the motor, N·m.
    pub(crate) fn motor_torque<R: Real>(&self, motor: R, throttle: R) -> R {
        let m = &self.machine;
        match self.motor {
            MotorState::Running => {
                let drag = m.motor_drag(motor);
                motor::torque(throttle, m.indicated_full(self.air_share, drag, motor) - drag, drag)
            }
            MotorState::Coasting => -m.motor_drag(motor),
            MotorState::Stopped => R::from(0.0),
        }
    }

    /// Resistance of road and air at the drum, N·m, for a direction of motion.
    pub(crate) fn road<R: Real>(&self, drum: R, direction: f64) -> R {
        let air = vehicle::air(self.air_density, self.machine.vehicle.drag_area, drum * self.speed_per_drum);
        (air + (self.rolling * direction + self.grade)) * self.speed_per_drum
    }

    /// Rates of both speeds, and the corresponding torques; friction on the drum has no effect while locked.
    pub(crate) fn drive<R: Real>(&self, x: [R; 13], on_drum: R) -> Drive<R> {
        let m = &self.machine;
        let (motor, drum, throttle) = (x[0], x[1], x[2]);
        let eta = m.vehicle.chain_efficiency;
        let zero = R::from(0.0);
        let motor_torque = self.motor_torque(motor, throttle);
        let locked = self.contact == Contact::Locked;
        let (torque, inertia) =
            if locked { (motor_torque, m.motor.inertia + m.drum.inertia) } else { (on_drum, m.drum.inertia) };
        let (drum_rate, chain, brake) = match self.motion {
            Motion::Held => (zero, torque, zero),
            Motion::Moving(direction) => {
                let road = self.road(drum, direction);
                if let Some(slowing) = self.braking {
                    let rate = R::from(-direction * slowing / self.speed_per_drum);
                    let chain = torque - rate * inertia;
                    let onward = if chain.value() * direction >= 0.0 { chain * eta } else { chain / eta };
                    (rate, chain, (onward - road - rate * self.reduced_mass) * direction)
                } else {
                    let drives = (torque * self.reduced_mass + road * inertia).value() * direction >= 0.0;
                    let e = if drives { 1.0 / eta } else { eta };
                    let rate = (torque - road * e) / (inertia + self.reduced_mass * e);
                    (rate, torque - rate * inertia, zero)
                }
            }
        };
        let motor_rate = match (self.motor, locked) {
            (MotorState::Stopped, _) => zero,
            (_, true) => drum_rate,
            (_, false) => (motor_torque - on_drum) / m.motor.inertia,
        };
        let through = motor_torque - motor_rate * m.motor.inertia;
        Drive { motor_rate, drum_rate, motor_torque, chain, brake, locked: through }
    }

    /// Throttle opening requested by rider and governors.
    pub(crate) fn opening<R: Real>(&self, t: f64, motor: R, drum: R) -> R {
        let m = &self.machine;
        if self.motor != MotorState::Running {
            return R::from(0.0);
        }
        let drag = m.motor_drag(motor);
        let indicated = m.indicated_full(self.air_share, drag, motor);
        let rider = match self.ask {
            Ask::Opening(u) => R::from(u),
            Ask::Speed { speed, slope, at } => {
                let target = speed + slope * (t - at);
                let v = &m.vehicle;
                let push = slope * (v.mass + v.wheel_inertia / (v.wheel_radius * v.wheel_radius));
                let road: f64 = self.road(target / self.speed_per_drum, 1.0);
                let needed = (road + push * self.speed_per_drum) / v.chain_efficiency;
                let forward = (drag + needed) / indicated;
                (forward + (-(drum * self.speed_per_drum) + target) * v.rider_gain).clamp(0.0, 1.0)
            }
        };
        let idle = m.idle_opening(indicated, self.stop_power, (self.idle, self.idle_opening), motor);
        rider.max(idle).min(motor::governor_top(m.motor.no_load, m.motor.full_load, motor))
    }
}

/// Rider and governors on the throttle.
pub(crate) struct Governors<'a> {
    pub assembly: &'a Assembly,
    pub time: f64,
}

impl Group<3> for Governors<'_> {
    const NAME: &'static str = "rider and governors";
    const VARIABLES: [usize; 3] = [state::MOTOR, state::DRUM, state::THROTTLE];

    fn flows<R: Real>(&self, [motor, drum, throttle]: [R; 3], out: &mut impl Sink<R>) {
        let a = self.assembly;
        let opens = (a.opening(self.time, motor, drum) - throttle) / a.machine.motor.throttle_lag;
        out.add(state::THROTTLE, opens);
    }
}

/// Speeds, frictional heat and their counters.
pub(crate) struct Mechanics<'a> {
    pub assembly: &'a Assembly,
    pub slow: &'a [f64],
}

impl Group<13> for Mechanics<'_> {
    const NAME: &'static str = "rubbing and turning";
    const VARIABLES: [usize; 13] = READ;

    fn flows<R: Real>(&self, x: [R; 13], out: &mut impl Sink<R>) {
        let a = self.assembly;
        let m = &a.machine;
        let (motor, drum, wet) = (x[0], x[1], x[6]);
        let grip = a.gripping(x, self.slow);
        let [.., pores, film, warm, score] = x;
        let bearing = a.bearing([pores, film, warm, score], self.slow, &grip);
        let drive = a.drive(x, grip.clutch + bearing.bushing + bearing.washer);
        out.add(state::MOTOR, drive.motor_rate);
        out.add(state::DRUM, drive.drum_rate);
        out.add(state::SCORE, bearing.scoring);
        let bushing = bearing.bushing * grip.slip;
        let washer = bearing.washer * grip.slip;
        out.add(state::LINING, grip.heat * (a.interface.lining_share / a.capacity[state::LINING]));
        out.add(state::WALL, grip.heat * ((1.0 - a.interface.lining_share) / a.capacity[state::WALL]));
        out.add(state::BUSHING, bushing * (0.5 / a.capacity[state::BUSHING]));
        out.add(state::SHAFT, bushing * (0.5 / a.capacity[state::SHAFT]));
        // It rubs on the carrier's steel face, which takes most of the heat.
        let into_fibre = m.washer.heat_share;
        out.add(state::WASHER, washer * (into_fibre / a.capacity[state::WASHER]));
        out.add(state::CARRIER, washer * ((1.0 - into_fibre) / a.capacity[state::CARRIER]));
        if a.motor == MotorState::Running {
            let brake_power = (drive.motor_torque * motor).max(R::from(0.0));
            let heat = brake_power * m.motor.block_share + m.motor.block_heat;
            out.add(state::BLOCK, heat / a.capacity[state::BLOCK]);
            out.add(counter::MOTOR_HEAT, heat);
        }
        out.add(counter::MOTOR_WORK, drive.motor_torque * motor);
        out.add(counter::CHAIN_WORK, drive.chain * drum);
        out.add(counter::SLIP, grip.heat);
        out.add(counter::BEARING, bushing + washer);
        if let Motion::Moving(direction) = a.motion {
            let distance = drum * (direction * a.speed_per_drum);
            out.add(counter::DISTANCE, distance);
            out.add(counter::ROLLING, distance * a.rolling);
            out.add(counter::GRADE, drum * (a.speed_per_drum * a.grade));
            let v = drum * a.speed_per_drum;
            out.add(counter::AIR, vehicle::air(a.air_density, m.vehicle.drag_area, v) * v);
            out.add(counter::BRAKE, drive.brake * drum * direction);
            let eta = m.vehicle.chain_efficiency;
            let power = drive.chain * drum;
            out.add(counter::CHAIN_LOSS, power * if power.value() >= 0.0 { 1.0 - eta } else { 1.0 - 1.0 / eta });
        }
        let l = &m.lining;
        let evaporating = a.evaporation(grip.face) * grip.per_oil * a.lining_area * wet;
        let gone = evaporating + wet * grip.heat / (l.wipe * a.lining_area);
        out.add(state::LINING_OIL, -gone);
        out.add(counter::EVAPORATED, gone);
        if a.soak_full > 0.0 {
            let (lining, soaked) = (x[3], x[8]);
            let slow_by = a.viscosity(lining) / oil::tension(m.oil.tension_20, m.oil.tension_slope, lining);
            let ease = R::from(a.eta_over_gamma_80) / slow_by;
            let drawn = history::soaking(wet, a.soaked_share(soaked).min(R::from(1.0)), l.soak_time, ease);
            let smoked = soaked / history::smoking_time(l.smoke_time, lining);
            out.add(state::LINING_OIL, -drawn);
            out.add(state::SOAKED, drawn - smoked);
            out.add(counter::EVAPORATED, smoked);
        }
    }
}
