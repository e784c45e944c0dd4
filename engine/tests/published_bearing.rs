//! The bushing from film to dry friction: shear heating, mixed friction, the chain's pull and scoring, against closed forms and
//! published tables.

use approx::assert_relative_eq;
use slipsoak_engine::laws::bearing::{
    chain_loop, film_factor, film_torque, nahme, pressure_speed, score_rate, sommerfeld, tip_friction, tip_share,
    wear_constant,
};
use slipsoak_engine::laws::oil::{Walther, density};
use slipsoak_engine::units::RPM;

/// Bore's radius, length and clearance of the example bushing, m.
const RADIUS: f64 = 9.525e-3;
const LENGTH: f64 = 30e-3;
const CLEARANCE: f64 = 25e-6;
/// Pitch radius of a sprocket of 10 teeth at 9.525 mm, m.
fn sprocket() -> f64 {
    9.525e-3 / (2.0 * (std::f64::consts::PI / 10.0).sin())
}

fn thirty_weight() -> Walther {
    Walther::through(313.15, 100e-6, 373.15, 11.2e-6)
}

// Exact: Couette flow with walls of one temperature, after Gavis & Laurence 1968 (from memory). Six digits.
#[test]
fn shear_heating_thins_a_film_as_the_exact_solution_says() {
    for (na, factor) in [(0.1, 0.991749), (1.0, 0.924196), (20.0, 0.418840), (100.0, 0.152069)] {
        assert_relative_eq!(film_factor(na), factor, epsilon = 5e-7);
    }
    // The series and the formula meet.
    assert_relative_eq!(film_factor(8e-4 - 1e-9), film_factor(8e-4 + 1e-9), epsilon = 1e-9);
}

// The same by shooting through the boundary-value problem of film temperature: Runge–Kutta with 2000 steps from the middle.
#[test]
fn shear_heating_agrees_with_its_boundary_value_problem() {
    // With viscosity e^(−θ) and stress s: u′ = s e^θ, θ″ = −Na s² e^θ, θ = 0 at both walls, u(1) − u(0) = 1; symmetric.
    // For m = Na s² and the temperature in the middle: that at the wall, and the integral of e^θ over the film.
    let shoot = |m: f64, middle: f64| {
        let h = 0.5 / 2000.0;
        let rate = |y: [f64; 3]| [y[1], -m * y[0].exp(), y[0].exp()];
        let mut y = [middle, 0.0, 0.0];
        for _ in 0..2000 {
            let at = |k: [f64; 3], share: f64| std::array::from_fn(|i| y[i] + share * h * k[i]);
            let k1 = rate(y);
            let k2 = rate(at(k1, 0.5));
            let k3 = rate(at(k2, 0.5));
            let k4 = rate(at(k3, 1.0));
            y = std::array::from_fn(|i| y[i] + h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]));
        }
        (y[0], 2.0 * y[2])
    };
    for middle in [0.01, 0.1, 0.5, 1.0, 2.0, 3.0] {
        let (mut low, mut high) = (0.0, 10.0);
        for _ in 0..60 {
            let m = 0.5 * (low + high);
            if shoot(m, middle).0 > 0.0 { low = m } else { high = m }
        }
        let stress = 1.0 / shoot(low, middle).1;
        assert_relative_eq!(film_factor(low / (stress * stress)), stress, max_relative = 1e-9);
    }
}

// Exact slope of ASTM D341's line through 100 cSt at 40 °C and 11.2 cSt at 100 °C, with the expansion of table 54D (density).
#[test]
fn the_viscosity_falls_by_a_tenth_per_kelvin_in_frost_and_by_a_fortieth_when_hot() {
    for (celsius, published) in [(0.0, 0.097995), (20.0, 0.071390), (100.0, 0.025792)] {
        let t = celsius + 273.15;
        let expansion = (density(885.0, t - 1e-3).ln() - density(885.0, t + 1e-3).ln()) / 2e-3;
        assert_relative_eq!(thirty_weight().falling(t).1 + expansion, published, epsilon = 2e-6);
    }
}

// Petroff's law, exact; with the film's own heating the torque of a freshly oiled bushing in frost falls to a quarter.
#[test]
fn a_cold_film_pulls_less_than_petroff_says() {
    for (celsius, petroff, torque) in
        [(-20.0, 19.1204, 4.6573), (0.0, 1.85494, 1.45498), (20.0, 0.347009, 0.333963), (100.0, 0.0107931, 0.0107883)]
    {
        let (t, w) = (celsius + 273.15, 1700.0 * RPM);
        let viscosity = thirty_weight().kinematic(t) * density(885.0, t);
        let film = |heated: f64| film_torque([RADIUS, LENGTH, CLEARANCE], viscosity, w, 1.0, heated);
        let plain = film(1.0);
        assert_relative_eq!(plain, petroff, max_relative = 1e-5);
        let expansion = (density(885.0, t - 1e-3).ln() - density(885.0, t + 1e-3).ln()) / 2e-3;
        let factor = film_factor(nahme(thirty_weight().falling(t).1 + expansion, viscosity, w, RADIUS, 0.13));
        assert_relative_eq!(film(factor), torque, max_relative = 2e-5);
    }
}

/// Friction coefficient at a Sommerfeld number: the tips' and that of Petroff's film.
fn friction(number: f64) -> f64 {
    let film = 2.0 * std::f64::consts::PI.powi(2) * number * CLEARANCE / RADIUS;
    tip_friction(0.11, 0.25, 0.6, 1.0, 0.0) * tip_share(number, 0.1) + film
}

// Exact. The shape is that of Kaneko & Hashimoto, J. Tribology 117 (1995) 291 (abstract): falling in mixed friction, rising with the
// film, flat in boundary friction.
#[test]
fn friction_over_the_sommerfeld_number_is_flat_then_falls_steeply_then_rises() {
    for (number, coefficient) in [(0.01, 0.109429), (0.1, 0.060181), (0.3, 0.026543), (1.0, 0.052898)] {
        assert_relative_eq!(friction(number), coefficient, epsilon = 1e-6);
    }
    let least = (1..200_000).map(|k| f64::from(k) * 1e-5).min_by(|a, b| friction(*a).total_cmp(&friction(*b)));
    let least = least.expect("numbers");
    assert_relative_eq!(least, 0.32891, epsilon = 1e-4);
    assert_relative_eq!(friction(least), 0.026348, epsilon = 1e-6);
    assert!((friction(1e-3) - friction(1e-4)).abs() < 1e-4, "flat below");
}

// The number itself: a launch at 80 °C under 700 N lies in mixed friction, idling at 100 °C under 30 N on the film.
#[test]
fn a_launch_rubs_on_the_tips_and_an_idle_floats() {
    let at = |celsius: f64, load: f64, rpm: f64| {
        let t = celsius + 273.15;
        let viscosity = thirty_weight().kinematic(t) * density(885.0, t);
        sommerfeld(1.0, RADIUS / CLEARANCE, viscosity, rpm * RPM, load / (2.0 * RADIUS * LENGTH))
    };
    assert_relative_eq!(at(80.0, 700.0, 900.0), 0.05, epsilon = 0.03);
    assert_relative_eq!(at(100.0, 30.0, 1700.0), 0.7, epsilon = 0.3);
}

// Exact for a chain across the load.
#[test]
fn the_bushings_own_torque_pulls_the_chain_that_loads_it() {
    for (mu, factor) in [(0.11, 1.07294), (0.25, 1.18274), (0.6, 1.58937)] {
        assert_relative_eq!(chain_loop(mu * RADIUS, sprocket()), factor, epsilon = 5e-6);
    }
    assert_relative_eq!(sprocket() / RADIUS, 1.61803, epsilon = 5e-6);
}

// Mott, Machine Elements in Mechanical Design, table 16-1: porous bronze stands 1.75 MPa·m/s.
#[test]
fn seven_hundred_newtons_at_150_radians_per_second_reach_the_handbooks_limit() {
    assert_relative_eq!(pressure_speed(700.0, 19.05e-3, 30e-3, 150.0 * RADIUS), 1.75e6, max_relative = 1e-3);
}

// Exact: dry friction under the weight and the chain, with and without the chain's loop.
#[test]
fn a_dry_idle_scores_the_bushing_through_in_a_quarter_of_an_hour() {
    let (force, w) = (29.732, 1700.0 * RPM);
    let run = |looped: bool| {
        let (mut score, mut time, step) = (0.0, 0.0, 0.05);
        let mut first = None;
        while score < 1.0 {
            let at = |score: f64| {
                let lever = tip_friction(0.11, 0.25, 0.6, 0.0, score) * RADIUS;
                let pull = if looped { chain_loop(lever, sprocket()) } else { 1.0 };
                let power = lever * force * pull * w;
                (power, score_rate(0.0, 0.9, power, 2.0 * RADIUS * LENGTH, 40e6))
            };
            let (power, slope) = at(score);
            first.get_or_insert(power);
            score += step * at(score + 0.5 * step * slope).1;
            time += step;
        }
        (first.expect("a step"), time)
    };
    let (power, time) = run(false);
    assert_relative_eq!(power, 12.604, epsilon = 5e-3);
    assert_relative_eq!(time, 1134.2, epsilon = 0.2);
    assert_relative_eq!(run(true).1, 853.9, epsilon = 0.2);
    for (a, share) in [(0.95, 0.0), (0.9, 0.0), (0.675, 0.0625), (0.45, 0.25), (0.0, 1.0)] {
        assert_relative_eq!(score_rate(a, 0.9, 1.0, 1.0, 1.0), share, epsilon = 1e-12);
    }
}

// Shigley, Mechanical Engineering Design, 8th ed., table 12-8 (from memory): 102e-10 in³·min/(lbf·ft·h) is 2.05e-15 m²/N, within
// the dry decades; the law runs through its corners.
#[test]
fn wear_runs_through_its_three_regimes() {
    let shigley = 102e-10 * 0.0254_f64.powi(3) * 60.0 / (4.448_221_6 * 0.3048 * 3600.0);
    assert_relative_eq!(shigley, 2.0547e-15, max_relative = 1e-4);
    let k = |tips, a| wear_constant(1.7e-19, 1.7e-16, 1e-14, tips, a);
    assert_relative_eq!(k(0.0, 1.0), 1.7e-19, max_relative = 1e-12);
    assert_relative_eq!(k(1.0, 1.0), 1.7e-16, max_relative = 1e-12);
    assert_relative_eq!(k(1.0, 0.0), 1e-14, max_relative = 1e-12);
    assert!((2e-15..2e-13).contains(&shigley));
}

// Exact: (1 − a/a_0)², none while oil is there.
#[test]
fn scoring_begins_below_nine_tenths_of_full_lubrication() {
    for (lubricated, factor) in [(0.95, 0.0), (0.9, 0.0), (0.675, 0.0625), (0.45, 0.25), (0.0, 1.0)] {
        assert_relative_eq!(score_rate(lubricated, 0.9, 1.0, 1.0, 1.0), factor, epsilon = 1e-12);
    }
}

// A. A. Raimondi & J. Boyd, ASLE Trans. 1 (1958), table for L/D = 1 (from memory): friction over that of Petroff's centred shaft.
// It is what the film's torque neglects.
#[test]
fn a_centred_shaft_misses_the_friction_of_an_eccentric_one_by_up_to_a_third_where_the_tips_carry() {
    for (number, friction, missed) in [(0.631, 12.8, 0.03), (0.264, 5.79, 0.11), (0.121, 3.22, 0.35)] {
        let petroff = 2.0 * std::f64::consts::PI.powi(2) * number;
        assert_relative_eq!(friction / petroff - 1.0, missed, epsilon = 0.006);
        assert!(missed < 0.05 || tip_share(number, 0.1) > 0.1, "where it misses most, tips carry too");
    }
}

// Exact statics of a sagging chain, 0.41 kg/m over 0.4 m with a sag of 2 %: 10.0518 N a strand. Two strands pull; half a per cent.
#[test]
fn the_chain_pulls_without_torque_as_two_strands_that_sag_by_a_fiftieth() {
    let strand = 0.41 * 9.80665 * 0.4 / (8.0 * 0.02);
    assert_relative_eq!(strand, 10.0518, epsilon = 5e-5);
    assert_relative_eq!(
        slipsoak_engine::parts::Machine::default().bushing.chain_pull,
        2.0 * strand,
        max_relative = 6e-3
    );
}
