//! Torques, speeds and frictional heat.

use super::assembly::Assembly;
use super::bearing::bushing_of;
use super::group::{Group, Sink};
use super::names::{Ask, Contact, Motion, MotorState, counter, slow, state};
use crate::laws::{friction, history, motor, oil, shoe, vehicle};
use crate::real::Real;

const READ: [usize; 13] = [
    state::MOTOR,
    state::DRUM,
    state::THROTTLE,
    state::LINING,
    state::WALL,
    state::SHOES,
    state::LINING_OIL,
    state::LINING_RESIDUE,
    state::SOAKED,
    state::PORES,
    state::FILM,
    state::BUSHING,
    state::SCORE,
];

/// The lining on the drum: torque and heat.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gripping<R> {
    /// motor speed less drum speed, rad/s
    pub slip: R,
    /// torque capacity of the clutch while it slips, N·m
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
    /// Share of the lining's pores that oil fills.
    pub(crate) fn soaked_share<R: Real>(&self, soaked: R) -> R {
        if self.soak_full > 0.0 { soaked / self.soak_full } else { R::from(0.0).beside(soaked) }
    }

    /// Oil that fills the film on the lining's face in which it is counted, kg.
    fn filling(&self) -> f64 {
        self.density_20 * self.lining_area * self.machine.lining.oil_film
    }

    /// Friction of the lining with oil on its face, plain and lasting, and in its pores, kg.
    pub(crate) fn oiled_friction<R: Real>(&self, dry: R, [wet, lasting, soaked]: [R; 3]) -> R {
        let (l, filling) = (&self.machine.lining, self.filling());
        let in_pores = self.soaked_share(soaked) / l.soak_spoils;
        let over = friction::wet_share_over((wet + lasting) / filling + in_pores);
        let frictions = [l.oiled_share * l.friction, self.machine.oil.lasting_friction];
        friction::oiled(dry, [wet / filling + in_pores, lasting / filling], frictions, over)
    }

    /// Friction of the oiled lining as a share of its dry friction, 0 to 1.
    pub(crate) fn grip(&self, y: &[f64]) -> f64 {
        let dry = self.machine.lining.friction;
        self.oiled_friction(dry, [state::LINING_OIL, state::LINING_RESIDUE, state::SOAKED].map(|k| y[k])) / dry
    }

    /// Oil that spoils the lining's face, per mass of oil on it, 1/kg.
    pub(crate) fn spoils<R: Real>(&self, [wet, lasting]: [R; 2]) -> R {
        let filling = self.filling();
        friction::wet_share_over((wet + lasting) / filling) / filling
    }

    /// Torque that the clutch can pass on, slipping or locked, N·m.
    pub(crate) fn torque_capacity<R: Real>(&self, x: [R; 13], slow: &[f64]) -> R {
        let [motor, drum, _, lining, _, shoes, wet, lasting, soaked, ..] = x;
        if self.contact == Contact::Free {
            return R::from(0.0);
        }
        let m = &self.machine;
        let (l, c) = (&m.lining, &m.clutch);
        let normal = self.pressed(motor, shoes, slow).mean;
        let speed = (motor - drum).abs() * m.drum.radius;
        let dry = friction::dry(l.friction, l.fade_knee, l.fade_span, l.fade_share, l.speed_slope, lining, speed);
        let mu = self.oiled_friction(dry * self.worn_in(slow), [wet, lasting, soaked]);
        let gain = shoe::self_energising(m.form, c.lever, c.guide_angle, mu, self.direction(x));
        shoe::capacity(c.shoes, mu, normal, m.drum.radius, gain) * c.arc_factor
    }

    /// Torque and heat of the lining on the drum; independent of bushing and washer.
    pub(crate) fn gripping<R: Real>(&self, x: [R; 13], slow: &[f64]) -> Gripping<R> {
        let [motor, drum, _, lining, wall, _, wet, lasting, ..] = x;
        let slip = motor - drum;
        let (capacity, sign) = match self.contact {
            Contact::Slip(sign) => (self.torque_capacity(x, slow), sign),
            Contact::Free | Contact::Locked => (R::from(0.0), 0.0),
        };
        let clutch = capacity * sign;
        let heat = clutch * slip;
        let i = &self.interface;
        let into_lining = if self.contact == Contact::Free {
            (wall - lining) * i.open
        } else {
            heat * i.lining_share + (wall - lining) * i.closed
        };
        let face = lining + into_lining / i.lining_half;
        Gripping { slip, capacity, clutch, heat, face, per_oil: self.spoils([wet, lasting]) }
    }

    /// +1 where the motor drives the drum, −1 where the drum drives the motor.
    fn direction<R: Real>(&self, x: [R; 13]) -> f64 {
        let drives = match self.contact {
            Contact::Slip(sign) => sign > 0.0,
            Contact::Locked => self.drive(x, R::from(0.0)).locked.value() >= 0.0,
            Contact::Free => true,
        };
        if drives { 1.0 } else { -1.0 }
    }

    /// Share of the lining's friction that bedding in and glaze leave.
    fn worn_in(&self, slow: &[f64]) -> f64 {
        let l = &self.machine.lining;
        let bedded = history::bedded(slow[slow::LINING], l.bedding_depth, l.bedding_share);
        (1.0 - 0.25 * (1.0 - bedded)) * (1.0 - l.glaze_share * slow[slow::GLAZE])
    }

    /// All friction on the drum, N·m: zero while locked.
    pub(crate) fn on_drum(&self, y: &[f64], slow: &[f64]) -> f64 {
        if self.contact == Contact::Locked {
            return 0.0;
        }
        let grip = self.gripping(read(y), slow);
        let bearing = self.bearing(bushing_of(y), slow, &grip);
        grip.clutch + bearing.bushing + bearing.washer
    }

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

/// Selects the mechanics' variables from all states.
pub(crate) fn read(y: &[f64]) -> [f64; 13] {
    let mut x = [f64::NAN; READ.len()];
    if let Some(y) = y.first_chunk::<{ state::COUNT }>() {
        for (x, &v) in x.iter_mut().zip(&READ) {
            *x = y[v];
        }
    }
    x
}
