//! Heat flow between the parts and to the air.

use super::assembly::Assembly;
use super::group::{Group, Sink};
use super::names::{MotorState, counter, state};
use crate::integrate::Jacobian;
use crate::laws::convection;
use crate::real::Real;

/// Pairs of nodes between which heat is conducted at a constant conductance.
pub(super) const LINKS: [(usize, usize); 18] = [
    (state::LINING, state::LINING + 1),
    (state::LINING + 1, state::LINING + 2),
    (state::LINING + 2, state::LINING + 3),
    (state::LINING + 3, state::LINING + 4),
    (state::LINING + 4, state::LINING + 5),
    (state::WALL, state::WALL + 1),
    (state::WALL + 1, state::WALL + 2),
    (state::WALL + 2, state::BAND),
    (state::LINING + 5, state::SHOES),
    (state::BAND, state::WEB),
    (state::WEB, state::SPROCKET),
    (state::SPROCKET, state::BUSHING),
    (state::WASHER, state::BUSHING),
    (state::WASHER, state::CARRIER),
    (state::SHOES, state::CARRIER),
    (state::CARRIER, state::SHAFT),
    (state::SHAFT, state::BLOCK),
    (state::WALL, state::SHOES),
];
/// The rubbed faces, whose conductance depends on whether they touch.
pub(super) const RUBBED: (usize, usize) = (state::LINING, state::WALL);

/// A conductance between two nodes over the capacity of each, 1/s.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Link {
    pub per_from: f64,
    pub per_to: f64,
}

impl Link {
    pub fn between((from, to): (usize, usize), conductance: f64, capacity: &[f64]) -> Self {
        Self { per_from: conductance / capacity[from], per_to: conductance / capacity[to] }
    }

    pub fn add_slopes(self, (from, to): (usize, usize), out: &mut Jacobian) {
        for (node, g) in [(from, -self.per_from), (to, self.per_to)] {
            out.states.add(node, from, g);
            out.states.add(node, to, -g);
        }
    }
}

/// Conductances of the rubbed interface: a heat source on a massless node between lining and drum.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Interface {
    /// first lining cell to its own face, W/K
    pub lining_half: f64,
    /// cell to cell through the closed contact, W/K
    pub closed: f64,
    /// cell to cell across the open gap, W/K
    pub open: f64,
    /// share of the slip power that enters the lining while the first cells have the same temperature
    pub lining_share: f64,
}

fn exchange<R: Real>(a: &Assembly, from: usize, to: usize, heat: R, out: &mut impl Sink<R>) {
    out.add(from, -heat / a.capacity[from]);
    out.add(to, heat / a.capacity[to]);
}

fn lose<R: Real>(a: &Assembly, node: usize, heat: R, out: &mut impl Sink<R>) {
    out.add(node, -heat / a.capacity[node]);
    out.add(counter::LOST, heat);
}

/// Heat from a face of the drum to the air, in a convected and a radiated part.
fn lose_from_drum<R: Real>(
    a: &Assembly,
    node: usize,
    stirred: usize,
    [h, radiated]: [R; 2],
    heat: R,
    out: &mut impl Sink<R>,
) {
    lose(a, node, heat, out);
    let shining = heat * radiated / (h + radiated);
    out.add(stirred, heat - shining);
    out.add(counter::RADIATED, shining);
}

/// The drum's band to the air.
pub(crate) struct Band<'a>(pub &'a Assembly);
impl Group<2> for Band<'_> {
    const NAME: &'static str = "band to the air";
    const VARIABLES: [usize; 2] = [state::BAND, state::DRUM];
    fn flows<R: Real>(&self, [band, drum]: [R; 2], out: &mut impl Sink<R>) {
        let a = self.0;
        let m = &a.machine;
        let ambient = m.surroundings.ambient;
        let outside = m.drum.radius + m.drum.wall;
        let speed = (drum * a.speed_per_drum).abs() + m.surroundings.wind;
        let h =
            convection::band(m.surroundings.pressure, 2.0 * outside, drum, speed, band, ambient) * m.heat.convection;
        let radiated = convection::radiation(m.drum.emissivity, band, ambient);
        let area = 2.0 * std::f64::consts::PI * outside * m.drum.band;
        let conductance = R::from(1.0) / (R::from(1.0) / ((h + radiated) * area) + a.band_half);
        lose_from_drum(a, state::BAND, counter::BAND_AIR, [h, radiated], (band - ambient) * conductance, out);
    }
}

/// A disc of the drum, web or sprocket, to the air.
pub(crate) struct Disc<'a, const NODE: usize> {
    pub assembly: &'a Assembly,
    pub area: f64,
    pub radius: f64,
}
impl<const NODE: usize> Group<2> for Disc<'_, NODE> {
    const NAME: &'static str = if NODE == state::WEB { "web to the air" } else { "sprocket to the air" };
    const VARIABLES: [usize; 2] = [NODE, state::DRUM];
    fn flows<R: Real>(&self, [disc, drum]: [R; 2], out: &mut impl Sink<R>) {
        let a = self.assembly;
        let ambient = a.machine.surroundings.ambient;
        let spun = convection::disc(a.machine.surroundings.pressure, drum, (disc + ambient) * 0.5);
        let still = convection::natural_plate(a.machine.surroundings.pressure, 2.0 * self.radius, disc, ambient);
        let h = spun.max(still) * a.machine.heat.convection;
        let radiated = convection::radiation(a.machine.drum.emissivity, disc, ambient);
        let heat = (disc - ambient) * (h + radiated) * self.area;
        lose_from_drum(a, NODE, counter::DISC_AIR, [h, radiated], heat, out);
    }
}

/// The sprocket to the air through the chain.
pub(crate) struct Chain<'a>(pub &'a Assembly);
impl Group<2> for Chain<'_> {
    const NAME: &'static str = "chain to the air";
    const VARIABLES: [usize; 2] = [state::SPROCKET, state::DRUM];
    fn flows<R: Real>(&self, [sprocket, drum]: [R; 2], out: &mut impl Sink<R>) {
        let a = self.0;
        let heat = (sprocket - a.machine.surroundings.ambient) * convection::chain(a.machine.heat.chain, drum);
        lose(a, state::SPROCKET, heat, out);
        out.add(counter::DISC_AIR, heat);
    }
}

/// Heat from shoes and carrier to the air that they move.
pub(crate) struct Inner<'a>(pub &'a Assembly);
impl Group<3> for Inner<'_> {
    const NAME: &'static str = "shoes and carrier to the air";
    const VARIABLES: [usize; 3] = [state::SHOES, state::CARRIER, state::MOTOR];
    fn flows<R: Real>(&self, [shoes, carrier, motor]: [R; 3], out: &mut impl Sink<R>) {
        const REFERENCE: f64 = 1800.0 * std::f64::consts::PI / 30.0;
        let a = self.0;
        let h = &a.machine.heat;
        let ambient = a.machine.surroundings.ambient;
        let both = h.shoes_air + h.carrier_air;
        let stirred = ((motor / REFERENCE).squared() + 1e-6).sqrt().sqrt();
        let share = stirred.max(R::from(h.inner_least / both.max(1e-9)));
        for (node, rise, conductance) in
            [(state::SHOES, shoes - ambient, h.shoes_air), (state::CARRIER, carrier - ambient, h.carrier_air)]
        {
            let heat = rise * share * conductance;
            lose(a, node, heat, out);
            out.add(counter::INNER_AIR, heat);
        }
    }
}

/// The bushing to the shaft through its film.
pub(crate) struct Film<'a>(pub &'a Assembly);
impl Group<3> for Film<'_> {
    const NAME: &'static str = "bushing to shaft";
    const VARIABLES: [usize; 3] = [state::BUSHING, state::SHAFT, state::FILM];
    fn flows<R: Real>(&self, [bushing, shaft, film]: [R; 3], out: &mut impl Sink<R>) {
        let a = self.0;
        let h = &a.machine.heat;
        let fill = a.fill(film, bushing);
        let conductance = fill * (h.bushing_shaft_oiled - h.bushing_shaft_dry) + h.bushing_shaft_dry;
        exchange(a, state::BUSHING, state::SHAFT, (bushing - shaft) * conductance, out);
    }
}

/// The motor's block to the air, with the heat of its head.
pub(crate) struct Block<'a>(pub &'a Assembly);
impl Group<2> for Block<'_> {
    const NAME: &'static str = "block to the air";
    const VARIABLES: [usize; 2] = [state::BLOCK, state::HEAD];
    fn flows<R: Real>(&self, [block, head]: [R; 2], out: &mut impl Sink<R>) {
        let a = self.0;
        let (m, h) = (&a.machine.motor, &a.machine.heat);
        let rise = block - a.machine.surroundings.ambient;
        if a.motor == MotorState::Running {
            let held = rise.max(R::from(0.0)) * (m.head_heat / m.head_rise);
            out.add(state::HEAD, (held - head) / m.head_fill);
            lose(a, state::BLOCK, rise * h.block_running, out);
        } else {
            let soaking = head / m.head_drain;
            out.add(state::HEAD, -soaking);
            out.add(state::BLOCK, soaking / a.capacity[state::BLOCK]);
            out.add(counter::MOTOR_HEAT, soaking);
            lose(a, state::BLOCK, rise * h.block_stopped, out);
        }
    }
}
