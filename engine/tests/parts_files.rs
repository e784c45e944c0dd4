//! Parts files read by the engine alone.

use slipsoak_engine::parts::{Invalid, Machine};
use slipsoak_engine::parts_file::{MachineError, QuantityError, read};
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
    assert!(matches!(source, QuantityError::Missing { value: 39.0, ref unit, .. } if unit == "mm"), "{source}");
    let MachineError::Invalid(Invalid::Range { path, value, unit, .. }) = refused(r#"{"vehicle": {"mass": "1 g"}}"#)
    else {
        panic!("a range")
    };
    assert_eq!((path, value, unit), ("vehicle.mass", 0.001, "kg"));
    let MachineError::Json { line, why, .. } = refused("{\n\"vehicle\": {\"mass\": 90,5}}") else { panic!("JSON") };
    assert!(line == 2 && why.contains("decimal point"), "line {line}: {why}");
}
