//! Quantities as people write them: what is read, and what a refusal says.

use assert_cmd::Command;
use slipsoak::units::{read, read_near};
use slipsoak::variant;
use slipsoak_engine::parts::Dimension as D;

fn said(arguments: &[&str], code: i32) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    let output =
        command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn usual_spellings_are_read() {
    for (text, dimension, si) in [
        ("5.5:1", D::Ratio, 5.5),
        ("60:11", D::Ratio, 60.0 / 11.0),
        ("6.5\"", D::Length, 6.5 * 0.0254),
        ("20C", D::Temperature, 293.15),
        ("68 F", D::Temperature, 293.15),
        ("6.5 HP", D::Power, 6.5 * 745.699_871_582_270_2),
        // The metric horsepower is 75 kgf·m/s: 75 × 9.80665 W.
        ("10 PS", D::Power, 10.0 * 75.0 * 9.80665),
        ("1700 RPM", D::AngularSpeed, 1700.0 * std::f64::consts::PI / 30.0),
        ("130 lbs", D::Mass, 130.0 * 0.453_592_37),
    ] {
        let given = read(text, dimension).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert!((given / si - 1.0).abs() < 1e-12, "{text}: {given} for {si}");
    }
}

#[test]
fn commas_and_numbers_beyond_all_bounds_are_refused() {
    for (text, dimension, expected) in [
        ("1,700 rpm", D::AngularSpeed, "as in \"1700 rpm\""),
        ("6,5 hp", D::Power, "as in \"6.5 hp\""),
        ("5,5", D::Ratio, "as in \"5.5\""),
        ("1,65mm", D::Length, "as in \"1.65mm\""),
        ("1e308 days", D::Time, "is not a finite number"),
        ("8.5 deg", D::Ratio, "use one of: %"),
    ] {
        let message = read(text, dimension).unwrap_err().to_string();
        assert!(message.contains(expected) && !message.contains("drops"), "{text}: {message}");
    }
}

#[test]
fn an_example_is_in_the_unit_that_is_usual_there() {
    let message = |text: &str, dimension, usual| read_near(text, dimension, Some(usual)).unwrap_err().to_string();
    assert!(message("160", D::Mass, 150.0).contains("\"160 kg\""));
    assert!(message("210", D::Mass, 0.11).contains("\"210 g\""));
    assert!(message("65", D::Length, 1.65e-3).contains("\"65 thou\""));
    assert!(message("≈1700 rpm", D::AngularSpeed, 178.0).contains("rpm\""));
    for (arguments, expected) in [
        (["sheet", "standard", "--set", "vehicle.mass=160"], "160 has no unit; write for example \"160 kg\""),
        (["choose", "standard", "--load", "60"], "60 has no unit; write for example \"60 kg\""),
        (["oiling", "standard", "--riding", "40"], "40 has no unit; write for example \"40 min\""),
        (["oiling", "standard", "--found", "85"], "85 % is 85.percent in a script, \"85 %\" elsewhere"),
        (["gaps", "standard", "--proud", "65"], "65 has no unit; write for example \"65 thou\""),
        (["sheet", "standard", "--set", "vehicle.wheel_diameter=330 mm"], "did you mean `vehicle.wheel_radius`?"),
    ] {
        let message = said(&arguments, 1);
        assert!(message.contains(expected), "{arguments:?}: {message}");
    }
}

#[test]
fn a_parameter_with_a_unit_or_a_comma_is_refused_with_what_to_write() {
    for (setting, expected) in [
        ("minutes=40 min", "write minutes=40"),
        ("minutes=4,5", "write numbers with a decimal point"),
        ("minutes=many", "`many` is not a finite number"),
    ] {
        let message = said(&["run", "scripts/duty/orchard.rhai", "--set", setting], 2);
        assert!(message.contains(expected), "{setting}: {message}");
    }
}

#[test]
fn a_key_that_stands_twice_is_refused_with_its_line() {
    let text = "{\n  \"vehicle\": {\n    \"mass\": \"160 kg\",\n    \"mass\": \"170 kg\"\n  }\n}\n";
    let message = variant::read("cart.json", text).unwrap_err().to_string();
    assert!(message.contains("cart.json, line 4") && message.contains("the key `mass` stands twice"), "{message}");
    let text = "{\"vehicle\": {}, \"vehicle\": {}}";
    assert!(variant::read("cart.json", text).unwrap_err().to_string().contains("`vehicle` stands twice"));
    let text = "{\"springs\": [{\"name\": \"a\", \"name\": \"b\", \"engagement\": \"1900 rpm\"}]}";
    assert!(
        slipsoak::shop::Stock::read("springs.json", text).unwrap_err().to_string().contains("duplicate field `name`")
    );
}
