//! What wears: by depth, and in a book of its own by volume.

use super::assembly::Assembly;
use super::mechanics::read;
use super::names::{Contact, slow, state};
use crate::laws::{bearing, wear};
use std::f64::consts::PI;

/// The pairs that wear: name, depth and volume among the slow quantities.
pub(crate) const PAIRS: [(&str, usize, usize); 4] = [
    ("lining", slow::LINING, slow::LINING_VOLUME),
    ("bushing bore", slow::BORE, slow::BORE_VOLUME),
    ("washer", slow::WASHER, slow::WASHER_VOLUME),
    ("bushing face", slow::FACE, slow::FACE_VOLUME),
];

impl Assembly {
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

    /// Advances what wears by mean rates: the washer bears the thrust until it is worn through, from then on the face.
    pub(super) fn share_out(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        let thickness = self.machine.washer.thickness;
        let left = (thickness - slow[slow::WASHER]).max(0.0);
        let wears = mean[slow::WASHER] * length;
        let bears = if wears > left { left / wears } else { 1.0 };
        let through = bears < 1.0;
        for (k, share) in [
            (slow::WASHER, bears),
            (slow::WASHER_VOLUME, bears),
            (slow::FACE, 1.0 - bears),
            (slow::FACE_VOLUME, 1.0 - bears),
        ] {
            slow[k] += mean[k] * length * share;
        }
        if through {
            // Worn through is worn through, whatever the last digit says.
            slow[slow::WASHER] = slow[slow::WASHER].max(thickness);
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
