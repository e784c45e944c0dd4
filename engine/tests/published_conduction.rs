//! Conduction and slip heat compared with published examples and exact solutions.

use crate::published_air::rows;
use crate::textbook::conduction as textbook;
use crate::textbook::conduction::in_series;
use crate::textbook::slip::{Side, constant_torque};
use approx::assert_relative_eq;
use slipsoak_engine::laws::conduction::{ring_capacity, ring_conductance};
use slipsoak_engine::laws::vehicle;
use slipsoak_engine::units::RPM;
use std::f64::consts::{FRAC_PI_2, PI};

// Incropera et al., ex. 5.10. 4 and 3 digits: half a unit of the last.
#[test]
fn copper_under_a_constant_flux_reaches_120_degrees_at_its_face_and_45_4_within() {
    let rise = |depth| textbook::semi_infinite(3e5, 401.0, 117e-6, depth, 120.0);
    assert_relative_eq!(20.0 + rise(0.0), 120.0, epsilon = 0.05);
    assert_relative_eq!(20.0 + rise(0.15), 45.4, epsilon = 0.05);
}

// Cengel, 2nd ed., ex. 4.7. Whole degrees: half a degree.
#[test]
fn wood_in_the_sun_reaches_149_degrees_and_aluminium_22() {
    assert_relative_eq!(20.0 + textbook::semi_infinite(1250.0, 1.26, 1.1e-5, 0.0, 1200.0), 149.0, epsilon = 0.5);
    assert_relative_eq!(20.0 + textbook::semi_infinite(1250.0, 237.0, 9.71e-5, 0.0, 1200.0), 22.0, epsilon = 0.5);
}

// Bhandari, Design of Machine Elements, ex. 12.1. Half a unit of the last digit of the energy.
#[test]
fn stopping_a_disc_in_1_5_seconds_takes_94_956_72_joules() {
    let mass = 7200.0 * PI * 0.25 * 0.2;
    let disc = Side { inertia: 0.5 * mass * 0.25, speed: 350.0 * RPM, outside: 0.0 };
    let brake = Side { inertia: f64::INFINITY, speed: 0.0, outside: 0.0 };
    let slip = constant_torque(disc, brake, disc.inertia * disc.speed / 1.5);
    assert_relative_eq!(slip.heat, 94_956.72, epsilon = 0.005);
    assert_relative_eq!(constant_torque(disc, brake, 3454.36).time, 1.5, epsilon = 1e-5);
}

// OpenStax, College Physics, ex. 14.2. Two digits: half a kelvin.
#[test]
fn ten_tonnes_braked_down_75_metres_heat_their_brakes_by_92_kelvin() {
    assert_relative_eq!(vehicle::grade(1e4, FRAC_PI_2) * 75.0 / (100.0 * 800.0), 92.0, epsilon = 0.5);
}

// Exact series (Carslaw & Jaeger, section 3.8), tabulated with 4000 terms: the table's 8 digits, absolute 5e-9 for terms cut.
#[test]
fn a_slab_under_constant_flux_follows_the_series_at_every_depth() {
    for row in rows(include_str!("published/slab_constant_flux.csv")) {
        for (place, theta) in [(1.0, row[1]), (0.75, row[2]), (0.5, row[3]), (0.25, row[4]), (0.0, row[5])] {
            assert_relative_eq!(textbook::slab(row[0], place), theta, max_relative = 1e-7, epsilon = 5e-9);
        }
        // equivalent to a half-space: L = k = α = q = 1
        assert_relative_eq!(textbook::semi_infinite(1.0, 1.0, 1.0, 0.0, row[0]), row[6], max_relative = 1e-7);
    }
}

// Exact. The six digits given, half a unit of the last and the last one's rounding in the source.
#[test]
fn the_heated_face_of_a_slab_takes_the_known_values() {
    let values =
        [(0.05, 0.252313), (0.1, 0.356826), (0.2, 0.505165), (0.5, 0.831876), (1.0, 1.333323), (2.0, 2.333333)];
    for (fourier, theta) in values {
        assert_relative_eq!(textbook::slab(fourier, 1.0), theta, epsilon = 6e-7);
    }
}

// Exact for a lump. All digits given.
#[test]
fn repeated_launches_approach_a_rise_of_128_9469_kelvin() {
    let peaks = [
        (1, 7.8125),
        (2, 15.1517),
        (5, 34.6073),
        (10, 59.9266),
        (20, 92.0030),
        (50, 123.2814),
        (100, 128.6980),
        (100_000, 128.9469),
    ];
    for (n, peak) in peaks {
        assert_relative_eq!(textbook::repeated_bursts(3000.0, 384.0, 1.2, 20.0, n), peak, epsilon = 5e-5);
    }
}

/// Slowest decay of a chain of cells that is insulated at one end and loses heat to still air at the other: its rate,
/// and the temperature at the insulated end relative to a uniform start, once only this decay remains.
fn slowest_decay(capacity: &[f64], link: &[f64], lost: f64) -> (f64, f64) {
    let n = capacity.len();
    let (mut shape, mut rate) = (vec![1.0; n], 0.0);
    for _ in 0..60 {
        // inverse iteration: a tridiagonal system by elimination
        let mut diagonal = vec![0.0; n];
        for (i, g) in link.iter().enumerate() {
            diagonal[i] += g;
            diagonal[i + 1] += g;
        }
        diagonal[n - 1] += lost;
        let mut right: Vec<f64> = (0..n).map(|i| capacity[i] * shape[i]).collect();
        for i in 1..n {
            let g = link[i - 1] / diagonal[i - 1];
            diagonal[i] -= g * link[i - 1];
            right[i] += g * right[i - 1];
        }
        right[n - 1] /= diagonal[n - 1];
        for i in (0..n - 1).rev() {
            right[i] = (right[i] + link[i] * right[i + 1]) / diagonal[i];
        }
        rate = shape[0] / right[0];
        shape = right.iter().map(|x| x / right[0]).collect();
    }
    let (first, second) =
        (0..n).fold((0.0, 0.0), |(a, b), i| (a + capacity[i] * shape[i], b + capacity[i] * shape[i].powi(2)));
    (rate, first / second)
}

// Exact first terms of the series for a wall and a rod that cool in a stream (Heisler's charts), roots by SciPy to 8 digits.
// k = ρc = L = 1, so that the film's coefficient is Bi and the rate ζ². 400 even cells: the error of a cell's own shape, π²/12 n⁻²
// or 5e-6, doubled for the half cell at the edge.
#[test]
fn our_rings_cool_like_a_wall_and_like_a_rod_at_the_rate_of_the_series() {
    const CELLS: usize = 400;
    // a wall is a ring whose radius is a million times its thickness
    let cooled = |inside: f64, biot: f64| {
        let edge = |i: usize| inside + i as f64 / CELLS as f64;
        let middle = |i: usize| 0.5 * (edge(i) + edge(i + 1));
        let share = 1.0 / (edge(CELLS) * 2.0 * PI);
        let capacity: Vec<f64> = (0..CELLS).map(|i| ring_capacity(edge(i), edge(i + 1), 1.0, share, 1.0)).collect();
        let ring = |a, b| ring_conductance(a, b, 1.0, share, 1.0);
        let link: Vec<f64> =
            (1..CELLS).map(|i| in_series(ring(middle(i - 1), edge(i)), ring(edge(i), middle(i)))).collect();
        slowest_decay(&capacity, &link, in_series(biot, ring(middle(CELLS - 1), edge(CELLS))))
    };
    let table = rows(include_str!("published/one_term_coefficients.csv"));
    assert_eq!(table.len(), 13);
    for row in table {
        for (inside, zeta, start) in [(1e6, row[1], row[2]), (0.0, row[3], row[4])] {
            let (rate, amplitude) = cooled(inside, row[0]);
            assert_relative_eq!(rate.sqrt(), zeta, max_relative = 1e-5);
            assert_relative_eq!(amplitude, start, max_relative = 1e-5);
        }
    }
}
