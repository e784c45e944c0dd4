//! Springs one by one, the washer's dose, the lining's past and oil in it, against tables and closed forms.

use approx::assert_relative_eq;
use slipsoak_engine::laws::deviates::normal_scores;
use slipsoak_engine::laws::friction::{oiled, wet_share_over};
use slipsoak_engine::laws::history::{bedded, glaze_rate, glazed, smoking_time};
use slipsoak_engine::laws::springs::touching;
use slipsoak_engine::laws::wear::{fibre_dose_rate, fibre_reference};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::units::RPM;

// H. L. Harter, Biometrika 48 (1961), table 1 (from memory), six digits.
#[test]
fn normal_scores_are_those_of_the_table() {
    let table: [(u32, &[f64]); 4] =
        [(2, &[0.564190]), (3, &[0.846284, 0.0]), (4, &[1.029375, 0.297011]), (6, &[1.267206, 0.641755, 0.201547])];
    for (n, published) in table {
        let scores = normal_scores(n);
        for (k, score) in published.iter().enumerate() {
            assert_relative_eq!(scores[n as usize - 1 - k], *score, epsilon = 6e-7);
            assert_relative_eq!(scores[k], -*score, epsilon = 6e-7);
        }
    }
    assert_eq!(normal_scores(1), [0.0]);
}

// Exact: sum over shoes of what centrifugal force leaves over springs that touch at the normal scores of 3 %.
#[test]
fn a_set_of_scattered_springs_engages_shoe_by_shoe_and_ends_at_the_torque_of_equal_springs() {
    let (mass, radius, friction, drum) = (0.110, 0.040, 0.40, 0.0508);
    let spring = mass * radius * (2000.0 * RPM).powi(2);
    let least = normal_scores(4).windows(2).map(|w| 0.03 * spring * (w[1] - w[0])).fold(f64::INFINITY, f64::min);
    let rounding = (0.01 * spring).min(0.5 * least);
    let torque = |rpm: f64, scatter: f64, rounding: f64| -> f64 {
        let pull = mass * radius * (rpm * RPM).powi(2);
        let over = normal_scores(4).iter().map(|score| pull - spring * (1.0 + scatter * score));
        friction * drum * over.map(|over| touching(over, rounding)).sum::<f64>()
    };
    for (rpm, published) in [(1980.0, 0.043067), (2000.0, 0.156058), (2050.0, 0.794179)] {
        assert_relative_eq!(torque(rpm, 0.03, 0.0), published, epsilon = 5e-6);
        // Rounding the touch errs by less than a quarter of its width a shoe.
        assert!((torque(rpm, 0.03, rounding) - published).abs() < friction * drum * rounding);
    }
    assert_relative_eq!(torque(2050.0, 0.0, 0.0), 0.794179, epsilon = 5e-6);
}

// Exact with the classes of IEC 60085 and the ten-degree rule of IEC 60216 (abstracts).
#[test]
fn fibre_is_spent_in_a_day_of_200_degrees_in_oil_and_in_ten_hours_dry() {
    let hours = |celsius: f64, soaked: f64| 1.0 / fibre_dose_rate(celsius + 273.15, fibre_reference(soaked), 20_000.0);
    for (celsius, published) in [(180.0, 110.485), (200.0, 27.621), (224.0, 5.2333), (250.0, 0.86317)] {
        assert_relative_eq!(hours(celsius, 1.0), published, max_relative = 3e-5);
    }
    assert_relative_eq!(hours(300.0, 1.0) * 3600.0, 97.106, max_relative = 1e-5);
    assert_relative_eq!(hours(200.0, 0.0), 9.7656, max_relative = 1e-5);
    let mean = (hours(200.0, 1.0).recip() + 5.0 * hours(120.0, 1.0).recip()) / 6.0;
    assert_relative_eq!(mean.recip(), 162.55, max_relative = 1e-4);
}

// Exact. FMVSS 105/135: burnish by 200 stops (abstract), here of 1600 kg from 64 km/h on 0.1 m² at 40 mm³/MJ.
#[test]
fn a_burnish_of_200_stops_beds_a_lining_by_its_depth() {
    assert_relative_eq!(bedded(20e-6, 20e-6, 0.6), 0.77927, epsilon = 5e-6);
    let stop = 0.5 * 1600.0 * (40.0 * 0.44704_f64).powi(2);
    assert_relative_eq!(stop, 255.80e3, max_relative = 1e-3);
    let depth = 200.0 * stop / 0.1 * 40e-15;
    assert_relative_eq!(depth, 20.464e-6, max_relative = 1e-3);
    assert!(bedded(depth, 20e-6, 0.6) > 0.77);
}

/// Glaze after a time at a temperature, wearing at a rate.
fn after(z: f64, celsius: f64, seconds: f64, wear: f64) -> f64 {
    glazed(z, glaze_rate(celsius + 273.15, 573.15), wear / 10e-6, seconds)
}

// Exact: 1 − e^(−t/τ) at a constant temperature, e^(−x/h) while cool.
#[test]
fn two_minutes_at_300_degrees_glaze_a_lining_and_20_micrometres_of_wear_clean_it() {
    let hot = after(0.0, 300.0, 120.0, 0.0);
    assert_relative_eq!(hot, 0.86466, epsilon = 5e-6);
    assert_relative_eq!(after(hot, 20.0, 1000.0, 20e-9), 0.11702, epsilon = 5e-6);
    assert_relative_eq!(after(0.0, 200.0, 3600.0, 0.0), 0.16975, epsilon = 5e-6);
}

// Exact; E. W. Washburn, Phys. Rev. 17 (1921) 273: pores of 2 µm, tortuosity squared 3, 3 mm deep.
#[test]
fn oil_soaks_through_a_lining_in_a_quarter_of_a_minute_when_warm() {
    let time = |viscosity: f64, tension: f64| 2.0 * viscosity * 0.003_f64.powi(2) * 3.0 / (tension * 2e-6);
    // Of a 30-weight oil at 80 and 20 °C, viscosity Pa·s and tension N/m.
    let oil = slipsoak_engine::laws::oil::Walther::through(313.15, 100e-6, 373.15, 11.2e-6);
    let viscosity = |t: f64| oil.kinematic(t) * slipsoak_engine::laws::oil::density(885.0, t);
    let ratio = viscosity(293.15) / viscosity(353.15);
    assert!(ratio > 10.0 && time(viscosity(353.15), 0.027) < 25.0);
    let cover = 0.16 / 0.15;
    let over = wet_share_over(cover);
    assert_relative_eq!(cover * over, 0.65585, epsilon = 5e-6);
    assert_relative_eq!(oiled(1.0, [cover, 0.0], [0.25, 0.1], over), 0.50811, epsilon = 1e-5);
    assert_relative_eq!(smoking_time(36_000.0, 423.15) / 3600.0, 0.99213, epsilon = 5e-6);
}

// Exact, from the properties of fibre (ρc 2.029 MJ/m³K, k 0.291 W/mK), steel and bronze: the fibre's share of the heat by effusivity,
// and the washer of 19.5 × 32 × 0.762 mm with 500 W/m²K at each face.
#[test]
fn a_fibre_washer_takes_a_twentieth_of_its_own_friction_heat() {
    let machine = Machine::default();
    let w = &machine.washer;
    let (fibre, steel) = ((0.291_f64 * 2.0295e6).sqrt(), (48.0_f64 * 7850.0 * 490.0).sqrt());
    assert_relative_eq!(fibre, 768.49, max_relative = 1e-3);
    assert_relative_eq!(fibre / (fibre + steel), w.heat_share, max_relative = 0.01);
    let ring = |outside: f64| std::f64::consts::FRAC_PI_4 * (outside * outside - w.inside * w.inside);
    assert_relative_eq!(ring(w.outside) * w.thickness * 2.0295e6, 0.78188, max_relative = 1e-3);
    assert_relative_eq!(machine.heat.washer, 0.78188, max_relative = 5e-3);
    let (carrier, bushing) =
        (machine.washer_conductance(w.outside), machine.washer_conductance(machine.bushing.outside));
    assert_relative_eq!(carrier, 0.15278, max_relative = 1e-3);
    assert_relative_eq!(bushing, 0.06287, max_relative = 1e-3);
}
