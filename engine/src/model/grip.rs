//! The lining on the drum: friction, torque capacity, and the heat of slip.

use super::assembly::Assembly;
use super::bearing::bushing_of;
use super::names::{Contact, slow, state};
use crate::laws::{friction, history, shoe};
use crate::real::Real;

/// States that the mechanics depend on.
pub(super) const READ: [usize; 13] = [
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
}

#[cfg(test)]
mod tests {
    use crate::model::{Assembly, Contact, Motion, MotorState, read, slow, state};
    use crate::parts::{Form, Machine};

    // Exact: G = 1/(1 − s μ a) with μ a = 0.2 is 1.25 where the motor drives, 0.8333 where the drum does.
    #[test]
    fn shoes_that_gain_grip_driving_lose_it_overrunning_slipping_and_locked() {
        let mut machine = Machine { form: Form::Leading, ..Machine::default() };
        (machine.clutch.lever, machine.lining.friction, machine.lining.speed_slope) = (0.5, 0.4, 0.0);
        let mut a = Assembly::new(machine).expect("a machine");
        (a.motion, a.motor) = (Motion::Moving(1.0), MotorState::Running);
        let mut y = a.fresh();
        (y[state::MOTOR], y[state::DRUM]) = (300.0, 300.0);
        let mut capacity = |contact: Contact, throttle: f64| {
            (a.contact, y[state::THROTTLE]) = (contact, throttle);
            a.torque_capacity(read(&y), &[0.0; slow::COUNT])
        };
        let (driving, overrunning) = (capacity(Contact::Slip(1.0), 1.0), capacity(Contact::Slip(-1.0), 1.0));
        assert!((driving / overrunning - 1.25 / 0.83333).abs() < 1e-5, "{driving} and {overrunning} N·m");
        let locked = [1.0, 0.0].map(|throttle| capacity(Contact::Locked, throttle));
        assert_eq!(locked, [driving, overrunning]);
    }
}
