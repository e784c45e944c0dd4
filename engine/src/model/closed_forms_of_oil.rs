//! Tests: flows of oil in states where the answer follows from a balance or a definition.

use super::closed_forms::{flows, made, near};
use super::*;
use crate::laws::oil;
use std::f64::consts::LN_2;

/// What a group adds, summed by row.
struct Sums([f64; state::COUNT + counter::COUNT]);

impl Sink<f64> for Sums {
    fn add(&mut self, row: usize, value: f64) {
        self.0[row] += value;
    }
}

/// Flows of the oil for pores, film and washer, kg, the bushing's temperature, K, its rate, K/s, and both speeds.
fn oil_flows(a: &Assembly, [pores, film, soaked]: [f64; 3], t: f64, warming: f64, speed: f64) -> Sums {
    let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
    Oil(a).flows([pores, film, soaked, 0.0, t, warming, speed, speed, t], &mut sums);
    sums
}

/// Its time constant holds at 80 °C for a washer wholly wetted; a tenth of a full clearance wets half of it.
#[test]
fn a_washer_fills_from_the_film_in_its_time() {
    let (a, ..) = made(|m| (m.oiling.evaporation, m.washer.fling) = (0.0, 0.0));
    let full = a.density(353.15) * a.clearance_volume;
    let time = a.machine.washer.feed_time;
    for (film, wetted) in [(0.1 * full, 0.5), (0.3 * full, 0.75)] {
        near(a.feeding(film, 353.15), wetted / time);
        near(
            oil_flows(&a, [0.0, film, 0.25 * a.washer_full], 353.15, 0.0, 0.0).0[state::WASHER_OIL],
            0.75 * a.washer_full * wetted / time,
        );
        // Cold, both are as much slower.
        let cold = oil_flows(&a, [0.0, film, 0.0], 293.15, 0.0, 0.0).0[state::WASHER_OIL];
        near(a.feeding(film, 293.15), cold / a.washer_full);
        assert!(cold < 0.2 * a.washer_full * wetted / time);
    }
}

#[test]
fn warm_oil_swells_out_of_its_pores_and_is_drawn_in_again_as_far_as_film_is_there() {
    let (a, ..) = made(|m| m.oiling.evaporation = 0.0);
    let t = 330.0;
    let (rho, held) = (a.density(t), a.pore_volume(t));
    let full = rho * held;
    let swells = held * (oil::expansion(a.machine.oil.density_15, t) - a.machine.bushing.expansion);
    let film = 0.1 * rho * a.clearance_volume;
    let leaves = |pores: f64, film: f64, warming: f64, speed: f64| {
        -oil_flows(&a, [pores, film, 0.0], t, warming, speed).0[state::PORES]
    };
    // Turning together, nothing else comes out of the pores.
    near(leaves(full, 0.0, 1.0, 100.0), rho * swells);
    near(leaves(full, film, -1.0, 100.0), -0.5 * rho * swells);
    assert_eq!(leaves(full, 0.0, -1.0, 0.0), 0.0);
    // Half full, air that warms drives it too; two sevenths of the pores that swell bleed.
    near(leaves(0.5 * full, 0.0, 1.0, 0.0), rho * (0.5 * swells + 0.5 * held / t) * (0.2 / 0.7));
    // What no pore holds leaves within five seconds.
    near(leaves(1.1 * full, 0.0, 0.0, 0.0), 0.1 * full / 5.0);
}

#[test]
fn oil_on_the_lining_evaporates_from_what_it_wets_is_wiped_by_friction_and_soaks_in_and_out_in_its_times() {
    let (mut a, mut y, slow) = made(|_| {});
    let m = a.machine.clone();
    let area = m.lining_area();
    let half = LN_2 * m.lining.oil_film * area * oil::density(m.oil.density_15, 293.15);
    let rates = |a: &Assembly, y: &[f64]| flows(a, Mechanics::NAME, y, &slow);
    // At 80 °C it soaks in by its time constant, and half of the face evaporates.
    (y[state::LINING], y[state::WALL], y[state::LINING_OIL]) = (353.15, 353.15, half);
    let (found, soaks) = (rates(&a, &y), half / m.lining.soak_time);
    let dries = 0.5 * area * oil::evaporation(m.oiling.evaporation, m.oiling.evaporation_energy, 353.15);
    near(found[state::SOAKED], soaks);
    near(found[state::LINING_OIL], -soaks - dries);
    near(found[counter::EVAPORATED], dries);
    // Half full it soaks half as fast; overfull, as after a change of parts, not at all, and nothing is drawn back.
    (y[state::LINING], y[state::WALL]) = (373.15, 373.15);
    let at = |share: f64| {
        let mut y = y.clone();
        y[state::SOAKED] = share * a.soak_full;
        // It smokes out in its time at 100 °C.
        rates(&a, &y)[state::SOAKED] + y[state::SOAKED] / m.lining.smoke_time
    };
    near(at(0.5), 0.5 * at(0.0));
    assert!(at(0.0) > soaks && at(1.5).abs() < 1e-12 * at(0.0));
    // Rubbed, it goes by an e-fold per energy that wipes.
    let dry = rates(&a, &y)[counter::EVAPORATED];
    a.contact = Contact::Slip(1.0);
    a.machine.oiling.evaporation = 0.0;
    a.derive();
    (y[state::MOTOR], y[state::DRUM]) = (300.0, 200.0);
    let heat = a.gripping(read(&y), &slow).heat;
    let wiped = rates(&a, &y)[counter::EVAPORATED];
    assert!(heat > 0.0 && dry > 0.0);
    near(wiped, half * heat / (m.lining.wipe * area));
    let (a, mut y, slow) = made(|m| m.lining.pores = 0.0);
    (y[state::LINING_OIL], y[state::LINING]) = (half, 353.15);
    assert_eq!(flows(&a, Mechanics::NAME, &y, &slow)[state::SOAKED], 0.0);
}

/// Films of two and three times the least height, on a drum that turns: h³ − h_min³ is 7 and 26 of it.
#[test]
fn oil_is_flung_down_to_its_least_film_and_lands_on_the_lining_by_its_shares() {
    let (mut a, ..) = made(|m| {
        (m.oiling.evaporation, m.oiling.lining_share) = (0.0, 0.3);
    });
    (a.lasting_outside, a.machine.washer.feed_time) = (0.2, 1e12);
    let flung = |heights: f64| {
        let standing = heights * a.machine.oiling.fling_least * a.machine.oiling.fling_area;
        let film = a.density(330.0) * (a.clearance_volume + standing);
        let found = oil_flows(&a, [0.0, film, 0.0], 330.0, 0.0, 200.0).0;
        [counter::FLUNG, state::LINING_OIL, state::LINING_RESIDUE].map(|row| found[row])
    };
    let (none, two, three) = (flung(1.0), flung(2.0), flung(3.0));
    assert!(none[0].abs() < 1e-6 * two[0]);
    for (row, share) in [0.7, 0.24, 0.06].into_iter().enumerate() {
        assert!((three[row] / two[row] - 26.0 / 7.0).abs() < 1e-6);
        near(three[row], share * three.iter().sum::<f64>());
    }
}

#[test]
fn a_turning_bushing_gives_oil_to_an_empty_clearance_in_its_time() {
    let (a, ..) = made(|m| m.oiling.evaporation = 0.0);
    let (rho, t) = (a.density(353.15), 353.15);
    let found = oil_flows(&a, [0.9 * rho * a.pore_volume(t), 0.0, 0.0], t, 0.0, 0.0);
    assert_eq!(found.0[state::FILM], 0.0);
    let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
    let pores = 0.9 * rho * a.pore_volume(t);
    Oil(&a).flows([pores, 0.0, 0.0, 0.0, t, 0.0, 100.0, 0.0, t], &mut sums);
    near(sums.0[state::FILM], rho * 0.5 * a.clearance_volume / a.machine.oiling.imbibe_time);
}

/// A film of a fiftieth of the clearance covers half; pores a thousandth full give half of the rest.
#[test]
fn oil_evaporates_from_film_pores_and_washer_as_far_as_they_are_wetted() {
    let (mut a, ..) = made(|_| {});
    (a.machine.oiling.imbibe_time, a.machine.washer.feed_time, a.machine.washer.fling) = (1e30, 1e30, 0.0);
    let (t, o) = (383.15, &a.machine.oiling);
    let gone = oil::evaporation(o.evaporation, o.evaporation_energy, t);
    let film = 0.02 * a.density(t) * a.clearance_volume;
    let found = oil_flows(&a, [1e-3 * a.full_mass, film, 0.0], t, 0.0, 0.0).0;
    near(found[state::FILM], -0.5 * gone * a.end_area);
    near(found[state::PORES], -0.25 * gone * a.end_area);
    near(found[counter::EVAPORATED], 0.75 * gone * a.end_area);
    let rim = |share: f64| -oil_flows(&a, [0.0, 0.0, share * a.washer_full], t, 0.0, 0.0).0[state::WASHER_OIL];
    near(rim(0.5), 0.5 * gone * a.machine.washer.rim_area);
    near(rim(1.2), gone * a.machine.washer.rim_area);
}

/// Half of the rate where a hundredth of the charge is left, half again where the last two hundredths of the pores are half filled.
#[test]
fn grease_gives_its_oil_to_the_pores_in_its_time_and_twice_as_fast_15_k_warmer() {
    let (mut a, ..) = made(|m| m.oiling.evaporation = 0.0);
    a.grease_charge = 5e-4;
    a.machine.oiling.imbibe_time = 1e30;
    let released = |share: f64, grease: f64, t: f64| {
        let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
        let pores = share * a.density(t) * a.pore_volume(t);
        Oil(&a).flows([pores, 0.0, 0.0, grease, t, 0.0, 0.0, 0.0, t], &mut sums);
        near(sums.0[state::GREASE], -sums.0[state::PORES]);
        sums.0[state::PORES] * a.machine.oiling.grease_time / a.grease_charge
    };
    let close = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9 * wanted, "{found} for {wanted}");
    close(released(0.5, 5e-4, 343.15), 1.0 / 1.01);
    close(released(0.5, 5e-6, 343.15), 0.5);
    close(released(0.5, 5e-6, 358.15), 1.0);
    close(released(0.995, 5e-6, 343.15), 0.25);
}
