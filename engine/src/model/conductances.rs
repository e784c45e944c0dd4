//! Heat capacities of all parts, and the conductances between them.

use super::assembly::Assembly;
use super::heat::{Interface, LINKS, Link};
use super::names::state;
use crate::laws::conduction;

const N: usize = state::COUNT;

impl Assembly {
    pub(super) fn derive_heat(&mut self) {
        let m = &self.machine;
        let (l, d, h) = (&m.lining, &m.drum, &m.heat);
        let mut capacity = [1.0; N];
        // In the order of the links.
        let mut conductances = vec![];
        // Lining: rings inward from the rubbed face; drum: rings outward from it.
        let lay = |thickness: f64,
                   cells: usize,
                   ratio: f64,
                   outward: f64,
                   first: usize,
                   width,
                   share,
                   k,
                   rho_c,
                   capacity: &mut [f64; N],
                   conductances: &mut Vec<f64>| {
            let widths = conduction::graded(thickness, cells, ratio);
            let ring = |a: f64, b: f64| conduction::ring_conductance(a.min(b), a.max(b), width, share, k);
            let mut edge = d.radius;
            let mut before: Option<f64> = None;
            let (mut half_first, mut half_last) = (0.0, 0.0);
            for (i, w) in widths.iter().enumerate() {
                let (next, middle) = (edge + outward * w, edge + outward * 0.5 * w);
                capacity[first + i] = conduction::ring_capacity(edge.min(next), edge.max(next), width, share, rho_c);
                match before {
                    None => half_first = ring(edge, middle),
                    Some(b) => conductances.push(ring(b, middle)),
                }
                half_last = ring(middle, next);
                before = Some(middle);
                edge = next;
            }
            (half_first, half_last)
        };
        let (lining_half, lining_back) = lay(
            l.thickness,
            state::LINING_CELLS,
            1.6,
            -1.0,
            state::LINING,
            l.width,
            l.arc_share,
            l.conductivity,
            l.density * l.specific_heat,
            &mut capacity,
            &mut conductances,
        );
        let (wall_half, band_half) = lay(
            d.wall,
            state::WALL_CELLS,
            1.2,
            1.0,
            state::WALL,
            d.band,
            1.0,
            d.conductivity,
            d.density * d.specific_heat,
            &mut capacity,
            &mut conductances,
        );
        let series = |a: f64, b: f64| 1.0 / (1.0 / a + 1.0 / b);
        self.halves = [lining_half, wall_half];
        self.band_half = 1.0 / band_half;
        for (node, value) in [
            (state::WEB, h.web),
            (state::SPROCKET, h.sprocket),
            (state::BUSHING, h.bushing),
            (state::WASHER, h.washer),
            (state::SHOES, h.shoes),
            (state::CARRIER, h.carrier),
            (state::SHAFT, h.shaft),
            (state::BLOCK, h.block),
        ] {
            capacity[node] = value;
        }
        conductances.extend([
            series(h.lining_shoes, lining_back),
            h.band_web,
            h.web_sprocket,
            h.sprocket_bushing,
            m.washer_conductance(m.bushing.outside),
            m.washer_conductance(m.washer.outside),
            h.shoes_carrier,
            h.carrier_shaft,
            h.shaft_block,
            h.drum_shoes,
        ]);
        self.capacity = capacity;
        for ((link, ends), g) in self.links.iter_mut().zip(LINKS).zip(conductances) {
            *link = Link::between(ends, g, &capacity);
        }
        self.touch(self.bedded);
    }

    /// Sets the conductances of the rubbed faces for the share of the lined area that touches.
    pub(super) fn touch(&mut self, bedded: f64) {
        let l = &self.machine.lining;
        let series = |a: f64, b: f64| 1.0 / (1.0 / a + 1.0 / b);
        let [lining_half, wall_half] = self.halves;
        let side = 2.0 * l.contact * self.lining_area * bedded;
        let (into_lining, into_wall) = (series(side, lining_half), series(side, wall_half));
        self.bedded = bedded;
        self.interface = Interface {
            lining_half,
            closed: series(into_lining, into_wall),
            open: series(series(lining_half, wall_half), (l.open_gap * self.lining_area).max(1e-9)),
            lining_share: into_lining / (into_lining + into_wall),
        };
    }
}
