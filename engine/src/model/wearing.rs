//! What wears: by depth, and in a book of its own by volume.

use super::assembly::Assembly;
use super::mechanics::read;
use super::names::{Contact, slow, state};
use crate::integrate::Step;
use crate::laws::{bearing, wear};
use crate::names::{Entry, Happening};
use std::f64::consts::PI;

/// The pairs that wear: name, depth and volume among the slow quantities.
pub(crate) const PAIRS: [(Entry, usize, usize); 4] = [
    (Entry::Lining, slow::LINING, slow::LINING_VOLUME),
    (Entry::BushingBore, slow::BORE, slow::BORE_VOLUME),
    (Entry::Washer, slow::WASHER, slow::WASHER_VOLUME),
    (Entry::BushingFace, slow::FACE, slow::FACE_VOLUME),
];

/// What is noted when a pair is worn through.
pub(crate) const THROUGH: [Happening; PAIRS.len()] =
    [Happening::LiningThrough, Happening::BushingThrough, Happening::WasherThrough, Happening::FaceGone];

impl Assembly {
    /// Depth at which nothing of each pair is left, m: lining, wall of the bushing, washer, length of the bushing.
    pub(crate) fn thickness(&self) -> [f64; PAIRS.len()] {
        let (m, b) = (&self.machine, &self.machine.bushing);
        [m.lining.thickness, 0.5 * (b.outside - b.bore), m.washer.thickness, b.length]
    }

    /// For which share of a step each pair wears, and whether it is worn through by then. The bushing's face bears the thrust
    /// from when the washer is gone.
    fn shares(&self, slow: &[f64], mean: &[f64], length: f64) -> [(f64, bool); PAIRS.len()] {
        let thickness = self.thickness();
        let of = |k: usize, share: f64| {
            let (there, worn) = ((thickness[k] - slow[PAIRS[k].1]).max(0.0), mean[PAIRS[k].1] * length * share);
            if worn > there { (share * there / worn, true) } else { (share, false) }
        };
        let washer = of(2, 1.0);
        [of(0, 1.0), of(1, 1.0), washer, of(3, 1.0 - washer.0)]
    }

    /// Notes which pairs a step wore through, and when.
    pub(super) fn note_through(&mut self, step: &Step<'_>) {
        let thickness = self.thickness();
        let shares = self.shares(step.slow_before, step.slow_rates, step.length);
        for (k, (share, through)) in shares.into_iter().enumerate() {
            if through && step.slow_before[PAIRS[k].1] < thickness[k] {
                let before = if k == 3 { shares[2].0 } else { 0.0 };
                let passed = (before + share) * step.length;
                let ran = step.slow_before[slow::RUNNING_TIME] + step.slow_rates[slow::RUNNING_TIME] * passed;
                self.through[k] = self.through[k].or(Some(ran));
                self.note(step.start + passed, THROUGH[k]);
            }
        }
    }

    /// Rates of depths and volumes, and whether anything slides. Washer and bushing face wear as if each bore the thrust:
    /// `share_out` says for how long it did.
    pub(super) fn wear_rates(&self, y: &[f64], slow: &[f64], out: &mut [f64]) {
        let m = &self.machine;
        let (b, l) = (&m.bushing, &m.lining);
        let grip = self.gripping(read(y), slow);
        let locked = self.contact == Contact::Locked;
        let sliding = if locked { 0.0 } else { grip.slip.abs() };
        let pull = if locked { 0.0 } else { grip.capacity / self.sprocket_pitch_radius };
        let w = wear::lining_constant(l.wear, l.wear_slope, l.wear_knee, l.wear_energy, grip.face);
        let fill = self.fill(y[state::FILM], y[state::BUSHING]);
        let saturation = self.saturation(y[state::PORES], y[state::BUSHING]);
        let a = bearing::lubrication(saturation, fill) * (1.0 - 0.5 * slow[slow::OXIDATION]);
        let k = wear::log_interpolate(b.wear_dry, b.wear_starved, b.wear_oiled, a);
        let load = pull + b.weight;
        let thrust = m.washer.preload + pull * self.misalignment_slope;
        let soaked = (y[state::SOAKED] / self.washer_full).clamp(0.0, 1.0);
        let kw =
            wear::washer_constant(m.washer.wear_oiled, m.washer.wear_dry, soaked, slow[slow::AGE], m.washer.age_life);
        out[slow::LINING] = wear::lining_rate(w, grip.heat, self.lining_area);
        out[slow::BORE] = wear::bushing_rate(k, load, b.bore, b.length, sliding * 0.5 * b.bore);
        out[slow::WASHER] = wear::face_rate(kw, thrust, sliding, 0.5 * m.washer.inside, 0.5 * m.washer.outside);
        out[slow::FACE] = wear::face_rate(b.wear_dry, thrust, sliding, 0.5 * b.bore, 0.5 * b.outside);
        out[slow::SLIDING_TIME] = f64::from(u8::from(sliding > 1.0));

        // The book takes force and path; the depths above never enter it.
        let turned = if locked { 0.0 } else { y[state::MOTOR] - y[state::DRUM] };
        // Signed, so that a step that ends just past the meeting of both speeds is booked as it is counted.
        let slipping = if let Contact::Slip(sign) = self.contact { turned * sign } else { 0.0 };
        let turned = turned.abs();
        let middle = |inside: f64, outside: f64| 0.25 * (inside + outside);
        out[slow::LINING_VOLUME] = wear::volume_rate(w, grip.capacity / m.drum.radius, slipping * m.drum.radius);
        out[slow::BORE_VOLUME] = wear::volume_rate(k, wear::pressed(load), turned * 0.5 * b.bore);
        out[slow::WASHER_VOLUME] = wear::volume_rate(kw, thrust, turned * middle(m.washer.inside, m.washer.outside));
        out[slow::FACE_VOLUME] = wear::volume_rate(b.wear_dry, thrust, turned * middle(b.bore, b.outside));
    }

    /// Wears each pair over a step for as long as there is anything left of it.
    pub(super) fn share_out(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        let thickness = self.thickness();
        for (k, (share, through)) in self.shares(slow, mean, length).into_iter().enumerate() {
            let (depth, volume) = (PAIRS[k].1, PAIRS[k].2);
            slow[depth] += mean[depth] * length * share;
            slow[volume] += mean[volume] * length * share;
            if through {
                // Worn through is worn through, whatever the last digit says.
                slow[depth] = slow[depth].max(thickness[k]);
            }
        }
    }

    /// Volume that each pair lacks by its depth, m³.
    pub(crate) fn worn_volumes(&self, worn: &[f64]) -> [f64; PAIRS.len()] {
        let (b, w) = (&self.machine.bushing, &self.machine.washer);
        let ring = |inside: f64, outside: f64| PI / 4.0 * (outside * outside - inside * inside);
        let areas = [self.lining_area, b.bore * b.length, ring(w.inside, w.outside), ring(b.bore, b.outside)];
        std::array::from_fn(|k| worn[PAIRS[k].1] * areas[k])
    }
}
