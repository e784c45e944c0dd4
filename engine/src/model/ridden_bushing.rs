//! Tests: the bushing on its shaft, and two laws it shares with the rest, in states worked by hand.

use super::bearing::bushing_of;
use super::closed_forms::{flows, made, near};
use super::*;
use crate::integrate::Step;
use crate::laws::{bearing, deviates, wear};
use crate::names::Happening;
use std::f64::consts::{LN_2, TAU};

const WARM: f64 = 330.0;

fn within(found: f64, wanted: f64, share: f64) {
    assert!((found - wanted).abs() <= share * wanted.abs(), "{found} for {wanted}");
}

/// Pores 45 % full wet half of the faces, as does a clearance half full; old oil wets half as much.
#[test]
fn a_bushing_half_wetted_has_the_mean_of_both_frictions_and_spins_down_by_it() {
    let (a, mut y, mut slow) = made(|_| {});
    let b = a.machine.bushing.clone();
    let (pores, film) = (0.45 * a.density(WARM) * a.pore_volume(WARM), 0.5 * a.density(WARM) * a.clearance_volume);
    let grip = a.gripping(read(&y), &slow);
    for (pores, film) in [(pores, 0.0), (0.0, film)] {
        (y[state::PORES], y[state::FILM], y[state::BUSHING]) = (pores, film, WARM);
        for (old, wetted) in [(0.0, 0.5), (1.0, 0.25)] {
            slow[slow::OXIDATION] = old;
            near(a.ridden(&y, &slow, &grip).lubricated, wetted);
            if film == 0.0 {
                // Dry friction of one coefficient: t = J ω/(μ W R).
                let friction = wetted * b.friction_oiled + (1.0 - wetted) * b.friction_dry;
                let wanted = a.machine.drum.inertia * 150.0 / (friction * b.weight * 0.5 * b.bore);
                near(a.spin_down([pores, film, WARM, 0.0], old, 150.0), wanted);
            }
        }
    }
}

/// At a score of three quarters a dry bushing grabs with half of its torque.
#[test]
fn a_scored_drum_spins_down_against_friction_and_grabbing() {
    let (a, ..) = made(|_| {});
    let b = &a.machine.bushing;
    let friction = (0.25 * b.friction_dry + 0.75 * b.friction_scored) * b.weight * 0.5 * b.bore;
    let wanted = a.machine.drum.inertia * 150.0 / (friction + 0.5 * b.grab_torque);
    near(a.spin_down([0.0, 0.0, WARM, 0.75], 0.0, 150.0), wanted);
}

/// Constant friction and a film that neither lifts nor warms: J ω′ = −(T0 + c ω), t = J/c ln(1 + c ω/T0).
#[test]
fn a_drum_spins_down_against_friction_and_film_as_the_linear_equation_says() {
    let (mut a, ..) = made(|_| {});
    (a.machine.bushing.mixed_number, a.machine.bushing.oil_conductivity) = (1e30, 1e30);
    let b = a.machine.bushing.clone();
    let radius = 0.5 * b.bore;
    let c = TAU * radius.powi(3) * b.length * a.viscosity(WARM) / b.clearance;
    let friction = b.friction_oiled * b.weight * radius;
    let film = a.density(WARM) * a.clearance_volume;
    let wanted = a.machine.drum.inertia / c * (1.0 + c * 400.0 / friction).ln();
    within(a.spin_down([0.0, film, WARM, 0.0], 0.0, 400.0), wanted, 1e-6);
}

/// β of the film's own heating is the fall of its dynamic viscosity, here by a difference.
#[test]
fn a_sheared_film_thins_by_the_fall_of_its_dynamic_viscosity_and_its_drag_loads_the_bushing_through_the_chain() {
    let (mut a, mut y, slow) = made(|_| {});
    a.machine.bushing.mixed_number = 1e30;
    let b = a.machine.bushing.clone();
    (y[state::MOTOR], y[state::BUSHING]) = (400.0, 290.0);
    y[state::FILM] = 1.5 * a.density(290.0) * a.clearance_volume;
    let grip = a.gripping(read(&y), &slow);
    let (eta, radius) = (a.viscosity(290.0), 0.5 * b.bore);
    let fall = (a.viscosity(289.99) / a.viscosity(290.01)).ln() / 0.02;
    let x = (fall * eta * (400.0 * radius).powi(2) / b.oil_conductivity / 8.0).sqrt();
    let cool = TAU * radius.powi(3) * b.length * eta * 400.0 / b.clearance;
    let film = cool * x.asinh() / (x * (1.0 + x * x).sqrt());
    let free = a.machine.clone();
    (a.machine.bushing.friction_oiled, a.machine.bushing.friction_dry) = (0.0, 0.0);
    within(a.bearing(bushing_of(&y), &slow, &grip).bushing, film, 1e-5);
    // Friction of tips under weight, slack strand and all that turns the drum, which pulls the chain.
    a.machine = free;
    let w = &a.machine.washer;
    let washer = w.friction * w.preload * 0.25 * (w.inside + w.outside);
    let pitch = a.sprocket_pitch_radius;
    let along = b.weight + b.chain_pull + (film + washer) / pitch;
    let lever = b.friction_oiled * radius;
    let tips = lever * along.hypot(b.shake) / (1.0 - lever / pitch);
    within(a.bearing(bushing_of(&y), &slow, &grip).bushing, film + tips, 1e-5);
    assert!(bearing::film_factor(8.0 * x * x) < 0.95);
}

/// From 0.05 to 0.55 in 1000 s: squealing at 0.1 after 100 s and grabbing at 0.5 after 900 s, of which it ran half.
#[test]
fn a_score_is_heard_and_grabs_at_its_moments_within_a_step() {
    let (mut a, y, mut slow) = made(|_| {});
    let mut mean = vec![0.0; slow::COUNT];
    (mean[slow::RUNNING_TIME], slow[slow::RUNNING_TIME]) = (0.5, 50.0);
    let (mut before, mut after) = (y.clone(), y);
    (before[state::SCORE], after[state::SCORE]) = (0.05, 0.55);
    let step = Step {
        start: 10.0,
        length: 1000.0,
        before: &before,
        after: &after,
        middle: &after,
        counters_before: &[],
        counters: &[],
        dense: [&[], &[]],
        slow_before: &slow,
        slow_rates: &mean,
        slow_ends: [&mean; 2],
        slow: &slow,
    };
    a.note_score(&step);
    assert_eq!(a.unheard.iter().map(|u| u.1).collect::<Vec<_>>(), [Happening::Squeals, Happening::Grabs]);
    near(a.unheard[0].0, 110.0);
    near(a.unheard[1].0, 910.0);
    near(a.scored[0].expect("heard"), 100.0);
    near(a.scored[1].expect("grabs"), 500.0);
    assert_eq!(a.scored[2], None);
}

#[test]
fn wind_adds_to_the_speed_at_which_a_band_meets_the_air() {
    let (mut a, mut y, slow) = made(|_| {});
    (y[state::BAND], y[state::DRUM]) = (a.machine.surroundings.ambient + 80.0, 200.0);
    let calm = flows(&a, Band::NAME, &y, &slow)[counter::LOST];
    a.machine.surroundings.wind = 0.6 * 200.0 * a.speed_per_drum;
    assert!(flows(&a, Band::NAME, &y, &slow)[counter::LOST] > 1.05 * calm);
}

/// Below the knee twice the wear every 20 K; beyond it twice for each ln 2 of E/R (1/T_k − 1/T).
#[test]
fn a_lining_wears_twice_as_fast_at_each_doubling_of_both_laws() {
    let constant = |t: f64| {
        let energy = LN_2 * wear::GAS / (1.0 / 473.15 - 1.0 / 523.15);
        wear::lining_constant(3.0, LN_2 / 20.0, 473.15, energy, t)
    };
    near(constant(353.15), 1.5);
    near(constant(393.15), 6.0);
    near(constant(473.15), 96.0);
    near(constant(523.15), 192.0);
}

/// H. L. Harter, Biometrika 48 (1961), table 1, n = 6 (from memory).
#[test]
fn six_normal_deviates_lie_where_the_table_puts_them() {
    for (found, wanted) in deviates::normal_scores(6)[3..].iter().zip([0.20155, 0.64176, 1.26721]) {
        assert!((found - wanted).abs() < 1e-5, "{found} for {wanted}");
    }
}
