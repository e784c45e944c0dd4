//! Errors that a step may make in each state.

use super::assembly::Assembly;
use super::names::state;

/// Allowed errors of the motor's speed, the drum's and the throttle while locked, over those with slip. Off the drum those
/// of motor and throttle hold.
const WITHOUT_SLIP: [(usize, f64); 3] = [(state::MOTOR, 15.0), (state::THROTTLE, 3.0), (state::DRUM, 3.0)];

impl Assembly {
    /// Sets the allowed errors of speeds and throttle, of what is followed more coarsely without slip, of speeds with slip, and
    /// of the film, relative to the default.
    pub(crate) fn follow(&mut self, speeds: f64, without_slip: f64, slipping: f64, film: f64) {
        (self.speeds, self.without_slip, self.slipping, self.film) = (speeds, without_slip, slipping, film);
        self.derive_abs_tol();
    }

    pub(super) fn derive_abs_tol(&mut self) {
        let mut all = vec![0.02; state::COUNT];
        // Slip power is torque times the difference of two speeds.
        all[state::MOTOR] = 1e-3 * self.speeds;
        all[state::DRUM] = 3e-4 * self.speeds;
        all[state::THROTTLE] = 1e-4 * self.speeds;
        // The web stores errors of the drum's heat longest: wear in hot duties is only as accurate as the web's
        // temperature, and the bushing's as its own.
        all[state::WEB] = 3e-4;
        all[state::BUSHING] = 6e-3;
        all[state::LINING] = 0.014;
        all[state::HEAD] = 200.0;
        all[state::PORES] = 2e-6 * self.full_mass;
        // Over a hundred outings errors of the oil add up: its service came 0.4 % early with five times as much allowed.
        // In a thick bushing the film is small compared with the oil in the pores, so its error scales with its own
        // size. A bore that is warm from ride to ride wears by 1.6 % less for each thousandth of a full bushing's oil more in it.
        all[state::FILM] = 2e-6 * self.film * self.full_mass.min(30.0 * self.clearance_volume * self.density_20);
        all[state::WASHER_OIL] = 1e-4 * self.washer_full;
        all[state::GREASE] = 1e-4 * self.full_mass;
        all[state::LINING_OIL] = 1e-9;
        all[state::LINING_RESIDUE] = 1e-9;
        all[state::SOAKED] = 1e-9;
        all[state::SCORE] = 1e-5;
        // Nothing that is reported depends as closely on speeds off the drum or locked to it as on those of a slip. What the
        // lining's first cell misses there is in the next cells, and is soon evened out; but blocks then differ by it.
        let mut locked = all.clone();
        for (k, times) in WITHOUT_SLIP {
            locked[k] *= times;
        }
        locked[state::DRUM] *= self.without_slip;
        locked[state::LINING] *= self.without_slip;
        let mut free = locked.clone();
        free[state::DRUM] = all[state::DRUM];
        for k in [state::MOTOR, state::DRUM, state::THROTTLE] {
            all[k] *= self.slipping;
        }
        self.abs_tol = [free, all, locked];
    }
}
