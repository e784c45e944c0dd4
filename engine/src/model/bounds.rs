//! Limits for every step: no energy from nothing, and no negative oil mass.

use super::assembly::Assembly;
use super::grip::read;
use super::names::{counter, state};
use crate::names::Channel;
use crate::units::ZERO_C;

/// Relative residual at which the mechanical ledgers fail a run. Shipped duties stay below 1e-6; a machine that creeps
/// for minutes at a hundredth of its usual power reaches twice that by the integrator's error alone. Runs with a larger
/// allowed error of speeds have a proportionally larger limit.
pub(crate) const MECHANICS: f64 = 3e-6;
/// Relative residual that the larger steps of runs and lives may leave: a third of the wear that they may miss. A wrong law is found
/// above the close residual all the same, since its terms do not balance.
pub(crate) const COARSE: f64 = 3e-4;
/// Residual of a mechanical ledger that is negligible, J: a launch takes thousands.
pub(crate) const NOTHING: f64 = 1e-3;

/// Temperature up to which the laws of air, lining and oil are valid, K. Air is fitted up to there.
pub(crate) const BEYOND: f64 = 500.0 + ZERO_C;
/// Temperature of any part at which a run is stopped, K: steel glows, and no law here holds. Assumed.
pub(crate) const STOPS: f64 = 700.0 + ZERO_C;
/// Parts with a temperature, by state, with their channels.
pub(crate) const PARTS: [(usize, Channel); 11] = [
    (state::LINING, Channel::LiningSurface),
    (state::WALL, Channel::DrumFace),
    (state::BAND, Channel::Band),
    (state::WEB, Channel::Web),
    (state::SPROCKET, Channel::Sprocket),
    (state::BUSHING, Channel::Bushing),
    (state::WASHER, Channel::Washer),
    (state::SHOES, Channel::Shoes),
    (state::CARRIER, Channel::Carrier),
    (state::SHAFT, Channel::Shaft),
    (state::BLOCK, Channel::Block),
];
/// The rubbed face is taken for itself where its first cell is within this much of the limit of validity, K: elsewhere it
/// cannot be beyond it.
const NEAR: f64 = 150.0;

/// Share of a mechanical ledger's allowed residual above which steps are made shorter.
const NEARLY: f64 = 0.5;
/// Energy residual that a step may have even then: relative to the largest entry of what it moves, and in J.
const MISSING: f64 = 1e-6;
const LITTLE: f64 = 1e-5;
/// Rounding of a counter, relative to its value.
const ROUNDING: f64 = 1e-15;

/// For each oil store, the places where its oil goes. The fullest of them balances a step error in the store.
const OUT_OF: [(usize, &[usize]); 7] = [
    (state::PORES, &[state::FILM, counter::EVAPORATED, counter::FLUNG, counter::LEAKED, counter::RUN_OFF]),
    (state::FILM, &[state::PORES, counter::EVAPORATED, counter::FLUNG, counter::LEAKED, counter::RUN_OFF]),
    (state::WASHER_OIL, &[counter::EVAPORATED, counter::FLUNG]),
    (state::GREASE, &[state::PORES, state::FILM]),
    (state::LINING_OIL, &[counter::EVAPORATED]),
    (state::LINING_RESIDUE, &[counter::FLUNG]),
    (state::SOAKED, &[counter::EVAPORATED]),
];

/// A mechanical ledger over one step.
struct Books {
    /// residual: input less what was stored and what went out, J
    missing: f64,
    /// largest entry of the step, J
    moved: f64,
    /// largest entry of the run so far, J
    counted: f64,
}

impl Assembly {
    /// The hottest part, and its temperature, K.
    pub(crate) fn hottest(&self, y: &[f64], slow: &[f64]) -> (Channel, f64) {
        let parts = PARTS.into_iter().map(|(k, channel)| (channel, y[k]));
        let face =
            (y[state::LINING] > BEYOND - NEAR).then(|| (Channel::LiningSurface, self.gripping(read(y), slow).face));
        parts.chain(face).fold((Channel::Block, 0.0), |most, part| if part.1 > most.1 { part } else { most })
    }

    /// Energy residual of a step in the mechanical ledgers, relative to the allowed one, and the speed responsible.
    ///
    /// Errors of speeds are controlled in rad/s. In a heavy or fast machine such an error is a larger energy than its
    /// ledgers allow. When a ledger approaches its limit, steps that would add more than their share are repeated with
    /// a shorter length.
    pub(super) fn energy_missing(&self, before: &[f64], after: &[f64]) -> (f64, usize) {
        let books = self.step_books(before, after);
        let over = |k: usize| {
            let Books { missing, moved, counted } = books[k];
            let whole = self.missing[k] + missing;
            let allowed = NEARLY * (MECHANICS * counted.max(self.counted[k]) * self.speeds).max(NOTHING);
            if whole.abs() <= allowed.max(self.missing[k].abs()) {
                return 0.0;
            }
            missing.abs() / ((MISSING * moved * self.speeds).max(LITTLE) + ROUNDING * counted)
        };
        let (turned, drawn) = (over(0), over(1));
        if turned > drawn { (turned, state::MOTOR) } else { (drawn, state::DRUM) }
    }

    /// Accumulates the residuals of the steps, and the largest entries.
    pub(super) fn keep_missing(&mut self, before: &[f64], after: &[f64]) {
        let books = self.step_books(before, after);
        for (k, book) in books.into_iter().enumerate() {
            self.missing[k] += book.missing;
            self.counted[k] = self.counted[k].max(book.counted);
        }
    }

    fn step_books(&self, before: &[f64], after: &[f64]) -> [Books; 2] {
        let gained = |k: usize| after[k] - before[k];
        let turning = |inertia: f64, k: usize| 0.5 * inertia * gained(k) * (after[k] + before[k]);
        let book = |inward: usize, outward: &[usize], held: f64| {
            let mut book = Books {
                missing: gained(inward) - held,
                moved: gained(inward).abs().max(held.abs()),
                counted: after[inward].abs(),
            };
            for &k in outward {
                book.missing -= gained(k);
                book.moved = book.moved.max(gained(k).abs());
                book.counted = book.counted.max(after[k].abs());
            }
            book
        };
        let (motor, drum) = (self.machine.motor.inertia, self.machine.drum.inertia);
        let turned = turning(motor, state::MOTOR) + turning(drum, state::DRUM);
        let drawn = turning(self.reduced_mass, state::DRUM);
        [
            book(counter::MOTOR_WORK, &[counter::CHAIN_WORK, counter::SLIP, counter::BEARING], turned),
            book(
                counter::CHAIN_WORK,
                &[counter::ROLLING, counter::AIR, counter::GRADE, counter::BRAKE, counter::CHAIN_LOSS],
                drawn,
            ),
        ]
    }
}

/// Corrects an oil store that a step's error made negative: the missing oil is taken back from where it went.
pub(super) fn none_below_nothing(after: &mut [f64], middle: &mut [f64]) {
    for (store, takers) in OUT_OF {
        middle[store] = middle[store].max(0.0);
        if after[store] < 0.0 {
            let fullest = takers.iter().copied().max_by(|a, b| after[*a].total_cmp(&after[*b]));
            if let Some(taker) = fullest {
                after[taker] += after[store];
            }
            after[store] = 0.0;
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::model::{Assembly, counter, state};
    use crate::parts::Machine;

    #[test]
    fn a_negative_oil_store_is_refilled_from_where_its_oil_went() {
        let a = Assembly::new(Machine::default()).expect("a machine");
        let mut y = a.fresh();
        let all =
            |y: &[f64]| y[state::PORES..=state::SOAKED].iter().chain(&y[counter::FLUNG..=counter::LEAKED]).sum::<f64>();
        let before = all(&y);
        let mut middle = y.clone();
        middle[state::FILM] = -1e-9;
        y[counter::EVAPORATED] = 2e-8 + y[state::LINING_OIL];
        y[state::LINING_OIL] = -2e-8;
        y[counter::EVAPORATED] += y[state::WASHER_OIL] + 3e-9;
        y[state::WASHER_OIL] = -3e-9;
        super::none_below_nothing(&mut y, &mut middle);
        assert_eq!([y[state::LINING_OIL], y[state::WASHER_OIL], middle[state::FILM]], [0.0; 3]);
        assert!((all(&y) - before).abs() < 1e-18, "{}", all(&y) - before);
    }
}
