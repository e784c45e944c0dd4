//! Wear: by depth, and separately by volume.

use super::assembly::Assembly;
use super::grip::read;
use super::names::{Contact, Motion, MotorState, slow, state};
use crate::integrate::Step;
use crate::laws::{bearing, history, wear};
use crate::life::Pair;

impl Assembly {
    /// Depth of a pair, m, and its rate, where it will be worn deepest at the end of a step.
    fn deepest(&self, pair: Pair, slow: &[f64], mean: &[f64], length: f64) -> (f64, f64) {
        let at = |k: usize| (slow[k], mean[k]);
        let later = |(worn, rate): (f64, f64)| worn + rate * length;
        if pair == Pair::Lining && self.shoes.differ {
            let shoes = (slow::SHOES..slow::COUNT).map(at);
            return shoes.fold((0.0, 0.0), |a, b| if later(b) > later(a) { b } else { a });
        }
        at(slow::depth(pair))
    }

    /// Depth worn off a pair, m: of the lining where it is thinnest.
    pub(crate) fn depth(&self, pair: Pair, slow: &[f64]) -> f64 {
        if pair == Pair::Lining { self.lining_worn(slow) } else { slow[slow::depth(pair)] }
    }

    /// Part of a step in which each pair wears, and whether it is worn through at its end.
    fn shares(&self, slow: &[f64], mean: &[f64], length: f64) -> [Share; Pair::COUNT] {
        let mut all = [Share { from: 0.0, length: 1.0, through: false }; Pair::COUNT];
        for pair in Pair::ALL {
            let row = pair.row();
            let from = row.after.map_or(0.0, |before| all[before as usize].length);
            let (worn, rate) = self.deepest(pair, slow, mean, length);
            let there = ((row.thickness)(&self.machine) - worn).max(0.0);
            let (share, wears) = (1.0 - from, rate * length * (1.0 - from));
            all[pair as usize] = if wears > there {
                Share { from, length: share * there / wears, through: true }
            } else {
                Share { from, length: share, through: false }
            };
        }
        all
    }

    /// Records the pairs that a step wore through, and the time.
    pub(super) fn note_through(&mut self, step: &Step<'_>) {
        let shares = self.shares(step.slow_before, step.slow_rates, step.length);
        for (pair, Share { from, length: share, through }) in Pair::ALL.into_iter().zip(shares) {
            let row = pair.row();
            if through && self.depth(pair, step.slow_before) < (row.thickness)(&self.machine) {
                let passed = (from + share) * step.length;
                let ran = step.slow_before[slow::RUNNING_TIME] + step.slow_rates[slow::RUNNING_TIME] * passed;
                let first = &mut self.through[pair as usize];
                *first = first.or(Some(ran));
                self.note(step.start + passed, row.through);
            }
        }
    }

    /// Rates of depths and volumes, and whether the shoes slip and the bushing turns. Washer and bushing face are computed as if each
    /// carried the thrust alone; `share_out` accounts for the time that it did.
    pub(super) fn wear_rates(&self, y: &[f64], slow: &[f64], out: &mut [f64]) {
        let m = &self.machine;
        let (b, l) = (&m.bushing, &m.lining);
        let grip = self.gripping(read(y), slow);
        let locked = self.contact == Contact::Locked;
        let sliding = if locked { 0.0 } else { grip.slip.abs() };
        let rubs = matches!(self.contact, Contact::Slip(_));
        let w = if rubs {
            let touching = history::bedded(slow[slow::LINING], l.bedding_depth, l.bedding_share);
            wear::lining_constant(l.wear, l.wear_slope, l.wear_knee, l.wear_energy, grip.face) / touching
        } else {
            0.0
        };
        out[slow::GLAZE] = history::glaze_rate(grip.face, l.glaze_from);
        let (k, load, thrust) = if locked {
            (0.0, 0.0, m.washer.preload)
        } else {
            let on = self.ridden(y, slow, &grip);
            let k = bearing::wear_constant(b.wear_film, b.wear_boundary, b.wear_dry, on.tips, on.lubricated);
            (k, self.rubbing_load(&on), on.thrust)
        };
        let soaked = (y[state::WASHER_OIL] / self.washer_full).clamp(0.0, 1.0);
        let kw = if locked {
            0.0
        } else {
            wear::washer_constant(m.washer.wear_oiled, m.washer.wear_dry, soaked, slow[slow::AGE], m.washer.age_life)
        };
        let kf = b.wear_face.max(kw);
        let worn = wear::lining_rate(w, grip.heat, self.lining_area);
        out[slow::depth(Pair::Lining)] = worn;
        if self.shoes.differ && rubs {
            self.shoe_rates(worn, &self.pressed(y[state::MOTOR], y[state::SHOES], slow), out);
        } else {
            out[slow::SHOES..].fill(0.0);
        }
        out[slow::depth(Pair::Bore)] = wear::bushing_rate(k, load, b.bore, b.length, sliding * 0.5 * b.bore);
        out[slow::depth(Pair::Washer)] =
            wear::face_rate(kw, thrust, sliding, 0.5 * m.washer.inside, 0.5 * m.washer.outside);
        out[slow::depth(Pair::Face)] = wear::face_rate(kf, thrust, sliding, 0.5 * b.bore, 0.5 * b.outside);
        // By mode, so that neither jumps within a step.
        let rests = self.motor == MotorState::Stopped && self.motion == Motion::Held;
        out[slow::SLIDING_TIME] = f64::from(u8::from(rubs));
        out[slow::TURNING_TIME] = f64::from(u8::from(!locked && !rests));

        // The volumes follow from force and sliding path; the depths above are not used.
        let turned = if locked { 0.0 } else { y[state::MOTOR] - y[state::DRUM] };
        // Signed, so that a step that ends just beyond equal speeds is treated as in the counters.
        let slipping = if let Contact::Slip(sign) = self.contact { turned * sign } else { 0.0 };
        let turned = turned.abs();
        let middle = |inside: f64, outside: f64| 0.25 * (inside + outside);
        out[slow::volume(Pair::Lining)] = wear::volume_rate(w, grip.capacity / m.drum.radius, slipping * m.drum.radius);
        out[slow::volume(Pair::Bore)] = wear::volume_rate(k, wear::pressed(load), turned * 0.5 * b.bore);
        out[slow::volume(Pair::Washer)] =
            wear::volume_rate(kw, thrust, turned * middle(m.washer.inside, m.washer.outside));
        out[slow::volume(Pair::Face)] = wear::volume_rate(kf, thrust, turned * middle(b.bore, b.outside));
    }

    /// Advances the wear of each pair over a step, until it is worn through.
    pub(super) fn share_out(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        for (pair, Share { length: share, through, .. }) in Pair::ALL.into_iter().zip(self.shares(slow, mean, length)) {
            let (depth, volume) = (slow::depth(pair), slow::volume(pair));
            slow[depth] += mean[depth] * length * share;
            slow[volume] += mean[volume] * length * share;
            if pair == Pair::Lining {
                for shoe in slow::SHOES..slow::COUNT {
                    slow[shoe] += mean[shoe] * length * share;
                }
            }
            if through {
                // Rounding must not leave a worn-through pair with a remainder.
                let whole = (pair.row().thickness)(&self.machine);
                let deepest = if pair == Pair::Lining && self.shoes.differ {
                    (slow::SHOES..slow::COUNT).max_by(|a, b| slow[*a].total_cmp(&slow[*b])).unwrap_or(depth)
                } else {
                    depth
                };
                slow[deepest] = slow[deepest].max(whole);
            }
        }
    }

    /// Worn volume of each pair by its depth, m³.
    pub(crate) fn worn_volumes(&self, slow: &[f64]) -> [f64; Pair::COUNT] {
        Pair::ALL.map(|pair| slow[slow::depth(pair)] * (pair.row().area)(&self.machine))
    }
}

/// Part of a step in which a pair wears.
#[derive(Clone, Copy)]
struct Share {
    /// share of the step before it wears
    from: f64,
    /// share of the step in which it wears
    length: f64,
    /// whether it is worn through at the end of that
    through: bool,
}
