//! Torques, speeds and frictional heat.

use super::assembly::Assembly;
use super::group::{Group, Sink};
use super::names::{Ask, Contact, Motion, MotorState, counter, state};
use crate::laws::{bearing, friction, motor, shoe, vehicle};
use crate::real::Real;

const READ: [usize; 11] = [
    state::MOTOR,
    state::DRUM,
    state::THROTTLE,
    state::LINING,
    state::WALL,
    state::SHOES,
    state::LINING_OIL,
    state::LINING_RESIDUE,
    state::PORES,
    state::FILM,
    state::BUSHING,
];

/// The lining on the drum: torque and heat.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gripping<R> {
    /// motor speed less drum speed, rad/s
    pub slip: R,
    /// torque capacity of the clutch, N·m
    pub capacity: R,
    /// torque of the lining on the drum, N·m (not when locked)
    pub clutch: R,
    /// heat of the slipping lining, W
    pub heat: R,
    /// rubbed face of the lining, K
    pub face: R,
    /// friction lost per mass of oil on the lining, 1/kg
    pub per_oil: R,
}

/// Friction of bushing and washer on the drum, N·m: zero while locked.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bearing<R> {
    pub bushing: R,
    pub washer: R,
}

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
    /// Share of the lining's friction that is an oiled one's, per mass of oil on it, 1/kg.
    pub(crate) fn wet_share_per_oil<R: Real>(&self, oil: R) -> R {
        let filling = self.density_20 * self.lining_area * self.machine.lining.oil_film;
        friction::wet_share_over(oil / filling) / filling
    }

    /// Torque and heat of the lining on the drum; independent of bushing and washer.
    pub(crate) fn gripping<R: Real>(&self, x: [R; 11], slow: &[f64]) -> Gripping<R> {
        let [motor, drum, _, lining, wall, shoes, wet, lasting, ..] = x;
        let m = &self.machine;
        let (l, c) = (&m.lining, &m.clutch);
        let slip = motor - drum;
        let zero = R::from(0.0);
        let per_oil = self.wet_share_per_oil(wet + lasting);
        let capacity = if self.contact == Contact::Free {
            zero.beside(motor + shoes)
        } else {
            let normal = self.pressed(motor, shoes, slow).mean;
            let dry = friction::dry(
                l.friction,
                l.fade_knee,
                l.fade_span,
                l.fade_share,
                l.speed_slope,
                lining,
                slip.abs() * m.drum.radius,
            );
            let frictions = [l.oiled_share * l.friction, m.oil.lasting_friction];
            let mu = friction::oiled(dry, [wet, lasting], frictions, per_oil);
            let gain = shoe::self_energising(m.form, c.lever, c.guide_angle, mu);
            shoe::capacity(c.shoes, mu, normal, m.drum.radius, gain) * c.arc_factor
        };
        let sign = if let Contact::Slip(s) = self.contact { s } else { 0.0 };
        let clutch = capacity * sign;
        let heat = clutch * slip;
        let i = &self.interface;
        let into_lining = if self.contact == Contact::Free {
            (wall - lining) * i.open
        } else {
            heat * i.lining_share + (wall - lining) * i.closed
        };
        let face = lining + into_lining / i.lining_half;
        Gripping { slip, capacity, clutch, heat, face, per_oil }
    }

    /// Friction of bushing and washer under the load of the lining's torque.
    pub(crate) fn bearing<R: Real>(&self, x: [R; 11], slow: &[f64], grip: &Gripping<R>) -> Bearing<R> {
        let [.., pores, film, bushing] = x;
        let m = &self.machine;
        let (slip, zero) = (grip.slip, R::from(0.0));
        if self.contact == Contact::Locked {
            return Bearing { bushing: zero, washer: zero };
        }
        let pull = grip.capacity / self.sprocket_pitch_radius;
        let fill = self.fill(film, bushing);
        let a = bearing::lubrication(self.saturation(pores, bushing), fill)
            * (1.0 - 0.5 * slow[super::names::slow::OXIDATION]);
        let mu = bearing::friction_mixed(m.bushing.friction_oiled, m.bushing.friction_dry, a);
        let radius = 0.5 * m.bushing.bore;
        let coulomb = bearing::coulomb(mu, pull + m.bushing.weight, radius, slip);
        let viscous = bearing::viscous(
            radius,
            m.bushing.length,
            m.bushing.clearance,
            m.bushing.viscous_most,
            self.viscosity(bushing),
            slip,
            fill,
        );
        let thrust = pull * self.misalignment_slope + m.washer.preload;
        let mean_radius = 0.25 * (m.washer.inside + m.washer.outside);
        let washer = bearing::coulomb(R::from(m.washer.friction), thrust, mean_radius, slip);
        Bearing { bushing: coulomb + viscous, washer }
    }

    /// All friction on the drum, N·m: zero while locked.
    pub(crate) fn on_drum(&self, y: &[f64], slow: &[f64]) -> f64 {
        if self.contact == Contact::Locked {
            return 0.0;
        }
        let x = read(y);
        let grip = self.gripping(x, slow);
        let bearing = self.bearing(x, slow, &grip);
        grip.clutch + bearing.bushing + bearing.washer
    }

    /// Torque through the locked clutch, N·m.
    pub(crate) fn locked_torque(&self, y: &[f64]) -> f64 {
        self.drive(read(y), 0.0).locked
    }

    /// Torque of the motor, N·m.
    pub(crate) fn motor_torque<R: Real>(&self, motor: R, throttle: R) -> R {
        let m = &self.machine;
        let drag = m.motor_drag(motor);
        match self.motor {
            MotorState::Running => motor::torque(throttle, m.motor_full(motor), drag),
            MotorState::Coasting => -drag,
            MotorState::Stopped => R::from(0.0),
        }
    }

    /// Resistance of road and air at the drum, N·m, for a direction of motion.
    pub(crate) fn road<R: Real>(&self, drum: R, direction: f64) -> R {
        let air = vehicle::air(self.air_density, self.machine.vehicle.drag_area, drum * self.speed_per_drum);
        (air + (self.rolling * direction + self.grade)) * self.speed_per_drum
    }

    /// Rates of both speeds, and the corresponding torques; friction on the drum has no effect while locked.
    pub(crate) fn drive<R: Real>(&self, x: [R; 11], on_drum: R) -> Drive<R> {
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
        let rider = match self.ask {
            Ask::Opening(u) => R::from(u),
            Ask::Speed { speed, slope, at } => {
                let target = speed + slope * (t - at);
                let v = &m.vehicle;
                let push = slope * (v.mass + v.wheel_inertia / (v.wheel_radius * v.wheel_radius));
                let road: f64 = self.road(target / self.speed_per_drum, 1.0);
                let needed = (road + push * self.speed_per_drum) / v.chain_efficiency;
                let (drag, full) = (m.motor_drag(motor), m.motor_full(motor));
                let forward = (drag + needed) / (full + drag);
                (forward + (-(drum * self.speed_per_drum) + target) * v.rider_gain).clamp(0.0, 1.0)
            }
        };
        let stop = motor::stop_opening(self.stop_power, m.motor_full(motor) + m.motor_drag(motor), motor);
        let idle = if m.idle_kind.is_governed() {
            motor::governor_idle(self.idle_opening, self.idle, m.motor.idle_band, motor).max(stop)
        } else {
            stop
        };
        rider.max(idle).min(motor::governor_top(m.motor.no_load, m.motor.full_load, motor))
    }
}

/// Speeds, frictional heat and their counters.
pub(crate) struct Mechanics<'a> {
    pub assembly: &'a Assembly,
    pub slow: &'a [f64],
    pub time: f64,
}

impl Group<11> for Mechanics<'_> {
    const NAME: &'static str = "rubbing and turning";
    const VARIABLES: [usize; 11] = READ;

    fn flows<R: Real>(&self, x: [R; 11], out: &mut impl Sink<R>) {
        let a = self.assembly;
        let m = &a.machine;
        let (motor, drum, throttle, wet) = (x[0], x[1], x[2], x[6]);
        let grip = a.gripping(x, self.slow);
        let bearing = a.bearing(x, self.slow, &grip);
        let drive = a.drive(x, grip.clutch + bearing.bushing + bearing.washer);
        out.add(state::MOTOR, drive.motor_rate);
        out.add(state::DRUM, drive.drum_rate);
        out.add(state::THROTTLE, (a.opening(self.time, motor, drum) - throttle) / m.motor.throttle_lag);

        let bushing = bearing.bushing * grip.slip;
        let washer = bearing.washer * grip.slip;
        out.add(state::LINING, grip.heat * (a.interface.lining_share / a.capacity[state::LINING]));
        out.add(state::WALL, grip.heat * ((1.0 - a.interface.lining_share) / a.capacity[state::WALL]));
        out.add(state::BUSHING, bushing * (0.5 / a.capacity[state::BUSHING]));
        out.add(state::SHAFT, bushing * (0.5 / a.capacity[state::SHAFT]));
        out.add(state::WASHER, washer / a.capacity[state::WASHER]);
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
    }
}

/// Selects the mechanics' variables from all states.
pub(crate) fn read(y: &[f64]) -> [f64; 11] {
    READ.map(|v| y[v])
}
