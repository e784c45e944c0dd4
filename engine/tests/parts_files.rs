//! Parts files read by the engine alone.

use slipsoak_engine::parts::{Invalid, Machine, settings};
use slipsoak_engine::parts_file::{MachineError, QuantityError, read, set};
use std::fs;
use std::path::Path;

#[test]
fn every_shipped_parts_file_is_a_machine_of_its_own() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scripts/parts");
    let mut seen = 0;
    for entry in fs::read_dir(folder).expect("the shipped parts") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("text");
        if path.extension().is_some_and(|kind| kind == "json") && !text.contains("\"springs\"") {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            let machine = read(&name, &text).unwrap_or_else(|e| panic!("{e}"));
            assert_ne!(Machine { name: machine.name.clone(), ..Machine::default() }, machine, "{name}");
            seen += 1;
        }
    }
    assert!(seen > 1, "only {seen} machines were found");
}

#[test]
fn a_refusal_names_the_file_the_field_and_the_value() {
    let refused = |text: &str| read("cart.json", text).expect_err(text);
    let field = |path: &str| (String::from("cart.json"), String::from(path));
    let MachineError::Key { file, path } = refused(r#"{"vehicle": {"wieght": "90 kg"}}"#) else { panic!("a key") };
    assert_eq!((file, path), field("vehicle.wieght"));
    let MachineError::Part { file, part } = refused(r#"{"vehcle": {}}"#) else { panic!("a part") };
    assert_eq!((file, part), field("vehcle"));
    let MachineError::Quantity { file, path, source } = refused(r#"{"drum": {"radius": "39"}}"#) else {
        panic!("a quantity")
    };
    assert_eq!((file, path), field("drum.radius"));
    assert!(matches!(source, QuantityError::Missing { ref text, unit: "mm", .. } if text == "39"), "{source}");
    let MachineError::Invalid(Invalid::Range { setting, value }) = refused(r#"{"vehicle": {"mass": "1 g"}}"#) else {
        panic!("a range")
    };
    assert_eq!((setting, value), (&settings::vehicle::mass, 0.001));
    let MachineError::Json { line, why, .. } = refused("{\n\"vehicle\": {\"mass\": 90,5}}") else { panic!("JSON") };
    assert!(line == 2 && why.contains("decimal point"), "line {line}: {why}");
}

#[test]
fn capacities_areas_and_inertias_are_those_of_the_solid_bodies() {
    // A steel disc of 50.8 mm and 3.59 mm, 490 J/(kg·K); four shoes of 110 g less 22.66 g of lining at 460 J/(kg·K); a thin
    // ring and a disc. Worked by hand.
    let m = Machine::default();
    for (what, value, want) in [
        ("shoes", m.heat.shoes, 191.98),
        ("web", m.heat.web, 111.95),
        ("drum", m.drum.inertia * 1e3, 1.1015),
        ("web area", m.drum.web_area * 1e4, 78.22),
        ("motor", m.motor.inertia, 0.021_004),
        ("washer", m.heat.washer, 0.781_88),
        ("bushing", m.heat.bushing, 18.80),
        ("rim", m.washer.rim_area * 1e6, 76.60),
    ] {
        assert!((value / want - 1.0).abs() < 1e-4, "{what}: {value}");
    }
}

#[test]
fn what_follows_from_a_radius_or_a_mass_moves_with_it_and_what_is_set_by_hand_stays() {
    let bigger =
        read("cart.json", r#"{"drum": {"radius": "60 mm"}, "clutch": {"shoe_mass": "120 g"}}"#).expect("a cart");
    let plain = Machine::default();
    assert!((bigger.heat.web / plain.heat.web - (60.0_f64 / 50.8).powi(2)).abs() < 1e-9);
    assert!((bigger.motor.inertia - plain.motor.inertia - 4.0 * 0.010 * 0.040 * 0.040).abs() < 1e-12);
    assert!(bigger.drum.inertia > plain.drum.inertia && bigger.drum.web_area > plain.drum.web_area);
    assert!(bigger.heat.shoes > plain.heat.shoes && bigger.by_hand().is_empty());
    // By hand in one file, whatever the order.
    for text in [
        r#"{"heat": {"web": "112 J/K"}, "drum": {"radius": "60 mm"}}"#,
        r#"{"drum": {"radius": "60 mm"}, "heat": {"web": "112 J/K"}}"#,
    ] {
        let mut machine = read("cart.json", text).expect("a cart");
        set(&mut machine, &settings::drum::radius, 0.055).expect("a radius");
        let by_hand: Vec<_> = machine.by_hand().iter().map(|s| (s.setting.path, s.value)).collect();
        assert_eq!(by_hand, [("heat.web", 112.0)]);
    }
}
