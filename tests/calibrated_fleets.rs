//! A fleet of a calibrated machine is sampled with the spreads and correlations of the calibration.

use crate::studies;
use slipsoak::Script;
use slipsoak::language::interpreter::Interpreter;
use slipsoak::language::limits::Limits;
use slipsoak::language::plan::Variant;
use slipsoak_engine::calibrate::Calibration;
use slipsoak_engine::fleet::{Spread, Uncertain, sample};
use slipsoak_engine::parts::{LiningKind, Machine, parameter};
use std::collections::BTreeMap;
use std::fs;

const NINETY_FIVE: f64 = 1.644_853_626_951_472;
const WASHER: usize = 0;
const LINING: usize = 1;
const LEAK: usize = 2;

/// The shipped calibration, its first three constants correlated.
fn correlated() -> Calibration {
    let shipped = fs::read_to_string("scripts/duty/trail-cart-calibration.json").expect("shipped");
    let mut made: Calibration = serde_json::from_str(&shipped).expect("a calibration");
    for (i, j, r) in [(WASHER, LINING, -0.85), (LINING, LEAK, 0.5), (WASHER, LEAK, -0.2)] {
        made.correlation[i][j] = r;
        made.correlation[j][i] = r;
    }
    made
}

/// The machine of a script with this calibration, with words before and after.
fn machine(calibration: &Calibration, before: &str, after: &str) -> Variant {
    let folder = studies::folder(&format!(
        "let cart = machine(\"example\"){before}.calibrated(\"c\"){after};
        compare(cart, duty(\"d\", |ride| ride.idle(1.s)).repeated(1.hours)); fleet(8, 1);"
    ));
    fs::write(folder.path().join("c.json"), serde_json::to_string(calibration).expect("JSON")).expect("written");
    let script = Script::read(&folder.path().join("study.rhai")).expect("a script");
    let settings = BTreeMap::new();
    let interpreter = Interpreter::new(&script, &settings, Limits::default()).expect("it compiles");
    interpreter.plan().expect("a plan").pairs[0].variant.clone()
}

/// Logarithm of a constant relative to the learned value, for many clutches.
fn drawn(variant: &Variant, constant: usize, calibration: &Calibration, clutches: u64) -> Vec<f64> {
    let learned = &calibration.constants[constant];
    let (of, uncertain) = (parameter(&learned.path).expect("a setting").of, variant.uncertain());
    (0..clutches).map(|k| (of(&sample(&variant.machine, &uncertain, 4, k)) / learned.value).ln()).collect()
}

fn mean(x: impl Iterator<Item = f64>, n: usize) -> f64 {
    x.sum::<f64>() / n as f64
}

fn correlation(a: &[f64], b: &[f64]) -> f64 {
    let both = |a: &[f64], b: &[f64]| mean(a.iter().zip(b).map(|(a, b)| a * b), a.len());
    both(a, b) / (both(a, a) * both(b, b)).sqrt()
}

#[test]
fn sampled_clutches_have_the_correlation_of_the_file_and_unchanged_spreads() {
    const CLUTCHES: u64 = 4000;
    let mut calibration = correlated();
    // If all of the spread is error, its correlation is that of the clutches.
    calibration.constants.iter_mut().for_each(|c| c.factor = c.spread);
    let variant = machine(&calibration, "", "");
    let all = [WASHER, LINING, LEAK].map(|k| drawn(&variant, k, &calibration, CLUTCHES));
    for (i, j, r) in [(WASHER, LINING, -0.85), (LINING, LEAK, 0.5), (WASHER, LEAK, -0.2)] {
        let seen = correlation(&all[i], &all[j]);
        // The standard error of a normal sample's correlation is (1 − r²)/√n; four of it.
        assert!((seen - r).abs() < 4.0 * (1.0 - r * r) / (CLUTCHES as f64).sqrt(), "{i} and {j}: {seen}");
    }
    for (k, own) in all.iter().enumerate() {
        let deviation = calibration.constants[k].spread.ln() / NINETY_FIVE;
        let seen = mean(own.iter().map(|x| x * x), own.len()).sqrt() / deviation;
        // √(1/2n) of a deviation; four of it.
        assert!((seen - 1.0).abs() < 4.0 / (2.0 * CLUTCHES as f64).sqrt(), "{k}: {seen}");
    }
}

#[test]
fn the_spread_between_clutches_is_uncorrelated() {
    let calibration = correlated();
    let variant = machine(&calibration, "", "");
    let share = |k: usize| calibration.constants[k].factor.ln() / calibration.constants[k].spread.ln();
    let lining = variant.uncertain().into_iter().find(|u| u.path == "lining.wear").expect("it is spread");
    let told = lining.correlated["washer.wear_oiled"];
    assert!((told - -0.85 * share(WASHER) * share(LINING)).abs() < 1e-12 && told.abs() < 0.85, "{told}");
}

#[test]
fn a_spread_defined_in_the_script_is_not_correlated_with_learned_constants() {
    let calibration = correlated();
    let of = |variant: &Variant, path: &str| -> Uncertain {
        variant.uncertain().into_iter().find(|u| u.path == path).expect("it is spread")
    };
    let own = ".spread(\"washer.wear_oiled\", factor(3))";
    for variant in [machine(&calibration, own, ""), machine(&calibration, "", own)] {
        assert!(of(&variant, "washer.wear_oiled").correlated.is_empty());
        let lining = of(&variant, "lining.wear").correlated;
        assert!(!lining.contains_key("washer.wear_oiled"), "{lining:?}");
        let leak = of(&variant, "oiling.leak").correlated;
        assert!(leak.contains_key("lining.wear") && !leak.contains_key("washer.wear_oiled"), "{leak:?}");
    }
}

#[test]
fn a_clutch_is_the_same_in_a_fleet_of_any_size_and_correlations_are_reported() {
    let calibration = serde_json::to_string(&correlated()).expect("JSON");
    let lives = |clutches: u64, threads: &str| -> serde_json::Value {
        let folder = studies::folder(&format!(
            "fn round(ride) {{ ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }}
            compare(machine(\"example\").calibrated(\"c\"), duty(\"d\", Fn(\"round\")).repeated(0.5.hours));
            fleet({clutches}, 1);"
        ));
        fs::write(folder.path().join("c.json"), &calibration).expect("written");
        studies::run(folder.path(), &["--no-pictures", "--quiet", "--report", "--out", "out", "--threads", threads]);
        let page = fs::read_to_string(folder.path().join("out/report.html")).expect("a page");
        assert!(page.contains("correlated with washer.wear_oiled, correlation -0."), "the page tells it");
        serde_json::from_slice(&fs::read(folder.path().join("out/fleet.json")).expect("a fleet")).expect("JSON")
    };
    let (few, many) = (lives(3, "1"), lives(6, "2"));
    let outcomes = |of: &serde_json::Value| of["fleets"][0]["outcomes"].as_array().expect("clutches").clone();
    assert_eq!(outcomes(&few)[..], outcomes(&many)[..3]);
    assert_ne!(outcomes(&many)[0]["left"], outcomes(&many)[1]["left"]);
}

#[test]
fn invalid_correlations_are_refused() {
    for (change, expected) in [
        ((|c| c.correlation[0][1] = 0.9) as fn(&mut Calibration), "no correlation matrix of its 4 constants"),
        (|c| drop(c.correlation.pop()), "no correlation matrix of its 4 constants"),
        (|c| c.correlation[2][2] = 0.5, "no correlation matrix of its 4 constants"),
        (|c| c.constants[1].factor = 9.0, "the factor of lining.wear is 9"),
        (|c| c.lining_kind = LiningKind::Sintered, "learned on the sintered lining"),
    ] {
        let mut made = correlated();
        change(&mut made);
        let text = serde_json::to_string(&made).expect("JSON");
        let told = slipsoak::read::calibration::read("c.json", &text, LiningKind::Woven)
            .expect_err("it cannot be")
            .to_string();
        assert!(told.contains(expected) && told.starts_with("c.json"), "{told}");
    }
}

#[test]
fn a_new_lining_of_another_kind_brings_its_own_wear_and_spread_and_leaves_the_rest_learned() {
    let calibration = correlated();
    let learned = |k: usize| calibration.constants[k].value;
    let spread = |variant: &Variant, path: &str| {
        variant.uncertain().into_iter().find(|u| u.path == path).unwrap_or_else(|| panic!("{path} is sampled"))
    };
    let mut moulded = Machine::default();
    moulded.line_with(LiningKind::Moulded);
    for word in [".lined(\"moulded\")", ".relined(\"moulded\")"] {
        let variant = machine(&calibration, "", word);
        assert_eq!(variant.machine.lining.wear, moulded.lining.wear, "{word}");
        assert_eq!(variant.machine.washer.wear_oiled, learned(WASHER), "{word}");
        // Alone, with the spread of moulded linings: 8 to 75 mm³/MJ.
        assert_eq!(spread(&variant, "lining.wear"), Uncertain::alone("lining.wear", Spread::Factor(3.1)), "{word}");
        assert!(spread(&variant, "oiling.leak").correlated.keys().all(|path| path != "lining.wear"), "{word}");
    }
    // A new set of the same kind is what was learned of.
    let same = machine(&calibration, "", ".lined(\"woven\")");
    assert_eq!(same.machine.lining.wear, learned(LINING));
}
