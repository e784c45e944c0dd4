//! Quantities as people write them: accepted texts, and messages for refused ones.

use assert_cmd::Command;
use slipsoak::read::quantity::{read, read_near};
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
        ("60 Kilos", D::Mass, 60.0),
        ("4.8 KW", D::Power, 4800.0),
        ("1700 rev/min", D::AngularSpeed, 1700.0 * std::f64::consts::PI / 30.0),
        ("40 minutes", D::Time, 2400.0),
        ("65 mil", D::Length, 65.0 * 2.54e-5),
        ("15 percent", D::Ratio, 0.15),
        ("1/16 in", D::Length, 0.0254 / 16.0),
        ("1 in 10", D::Ratio, 0.1),
    ] {
        let given = read(text, dimension).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert!((given / si - 1.0).abs() < 1e-12, "{text}: {given} for {si}");
    }
}

#[test]
fn commas_and_infinite_numbers_are_refused() {
    for (text, dimension, expected) in [
        ("1,700 rpm", D::AngularSpeed, "as in \"1700 rpm\""),
        ("6,5 hp", D::Power, "as in \"6.5 hp\""),
        ("5,5", D::Ratio, "as in \"5.5\""),
        ("1,65mm", D::Length, "as in \"1.65mm\""),
        ("1e308 days", D::Time, "is not a finite number"),
        ("1 700 rpm", D::AngularSpeed, "as in \"1700 rpm\""),
        ("1'700 rpm", D::AngularSpeed, "as in \"1700 rpm\""),
        // tan 8.5° = 0.1495
        ("8.5 deg", D::Ratio, "a slope is its rise over its run: write \"15 %\""),
        ("15 °", D::Ratio, "write \"27 %\""),
        ("≈1700 rpm", D::AngularSpeed, "has something in front of its number: write \"1700 rpm\""),
        ("about 60 kg", D::Mass, "write \"60 kg\""),
        (
            "1700–1800 rpm",
            D::AngularSpeed,
            "is a range, and one value is wanted: write for example its middle, \"1750 rpm\"",
        ),
        ("1700-1800 rpm", D::AngularSpeed, "\"1750 rpm\""),
        ("1700 rpm to 1800 rpm", D::AngularSpeed, "\"1750 rpm\""),
        ("1 h 30 min", D::Time, "has two numbers: write \"1.5 h\""),
        ("1700 Hz", D::AngularSpeed, "`Hz` is no unit of this quantity"),
        ("", D::Mass, "is no quantity"),
    ] {
        let message = read(text, dimension).unwrap_err().to_string();
        assert!(message.contains(expected) && !message.contains("drops"), "{text}: {message}");
    }
}

#[test]
fn an_example_has_the_usual_unit() {
    let message = |text: &str, dimension, usual| read_near(text, dimension, Some(usual)).unwrap_err().to_string();
    assert!(message("160", D::Mass, 150.0).contains("\"160 kg\""));
    assert!(message("210", D::Mass, 0.11).contains("\"210 g\""));
    assert!(message("65", D::Length, 1.65e-3).contains("\"65 thou\""));
    assert!(message("≈1700 rpm", D::AngularSpeed, 178.0).contains("rpm\""));
    for (arguments, expected) in [
        (["sheet", "example", "--set", "vehicle.mass=160"], "160 has no unit; write for example \"160 kg\""),
        (["choose", "example", "--load", "60"], "60 has no unit; write for example \"60 kg\""),
        (["oiling", "example", "--riding", "40"], "40 has no unit; write for example \"40 min\""),
        (["oiling", "example", "--found", "85"], "85 % is 85.percent in a script, \"85 %\" elsewhere"),
        (["gaps", "example", "--proud", "65"], "65 has no unit; write for example \"65 thou\""),
        (["gaps", "example", "--proud", "65 thou ±"], "write for example \"65 thou ± 5 thou\""),
        (["gaps", "example", "--proud", "0.065"], "write for example \"0.065 inch\""),
        (["gaps", "example", "--proud", "30 thou +/- 3"], "write for example \"3 thou\""),
        (["choose", "example", "--idle", "fast"], "write for example \"1700 rpm\""),
        (["choose", "example", "--idle", "-1700 rpm"], "--idle is -1700 rpm; it must lie between 800 rpm and 4000 rpm"),
        (["choose", "example", "--load", "-60 kg"], "--load is -60 kg; it must lie between"),
        (["choose", "example", "--season", "300"], "300 has no unit; write for example \"300 h\""),
        (["choose", "example", "--wander", "± 75 rpm"], "write \"75 rpm\""),
        (["sheet", "example", "--set", "vehicle.wheel_diameter=330 mm"], "did you mean `vehicle.wheel_radius`?"),
    ] {
        let message = said(&arguments, 1);
        assert!(message.contains(expected), "{arguments:?}: {message}");
    }
}

#[test]
fn a_parameter_with_a_unit_or_a_comma_is_refused_with_a_correct_example() {
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
fn a_duplicate_key_is_refused_with_its_line() {
    let text = "{\n  \"vehicle\": {\n    \"mass\": \"160 kg\",\n    \"mass\": \"170 kg\"\n  }\n}\n";
    let message = slipsoak_engine::parts_file::read("cart.json", text).unwrap_err().to_string();
    assert!(message.contains("cart.json, line 4") && message.contains("the key `mass` stands twice"), "{message}");
    let text = "{\"vehicle\": {}, \"vehicle\": {}}";
    assert!(
        slipsoak_engine::parts_file::read("cart.json", text)
            .unwrap_err()
            .to_string()
            .contains("`vehicle` stands twice")
    );
    let text = "{\"springs\": [{\"name\": \"a\", \"name\": \"b\", \"engagement\": \"1900 rpm\"}]}";
    assert!(
        slipsoak::read::stock::Stock::read("springs.json", text)
            .unwrap_err()
            .to_string()
            .contains("duplicate field `name`")
    );
}

#[test]
fn an_unknown_setting_is_refused_with_the_right_path_or_place() {
    for (setting, expected) in [
        ("mass=160 kg", "did you mean `vehicle.mass`?"),
        ("vehicle.weight=160 kg", "did you mean `vehicle.mass`"),
        ("wheel=330 mm", "did you mean `vehicle.wheel_radius`? It is half of the diameter"),
        ("ratio=5.5", "did you mean `vehicle.ratio`?"),
        ("idle=1700 rpm", "did you mean `motor.idle`?"),
        ("Engagement speed=1900 rpm", "did you mean `clutch.engagement`, the engagement speed?"),
        ("spring=1900 rpm", "did you mean `clutch.engagement`"),
        ("friction=0.4", "did you mean `lining.friction` or `washer.friction`?"),
        ("lining_kind=sintered", "in a script by `machine.lined(\"sintered\")`"),
        ("lining=sintered", "at the top level of a parts file, \"lining_kind\": \"sintered\""),
        ("oil=SAE 30", "in a script by `machine.oiled(\"SAE 30\")`"),
        ("motor.power=6.5 hp", "slipsoak choose --power"),
        ("brake=1", "what is ridden is the duty's"),
        ("chain=5", "did you mean `heat.chain`?"),
        ("drum=130 mm", "it is a part, and its settings are: drum.radius"),
        ("clutch.shoes=2.5", "clutch.shoes is 2.5, but it counts"),
    ] {
        let message = said(&["sheet", "example", "--set", setting], 1);
        assert!(message.contains(expected), "{setting}: {message}");
    }
}

#[test]
fn a_quantity_without_quotes_and_a_number_in_words_get_a_suggestion() {
    let orchard = "scripts/duty/orchard.rhai";
    for (arguments, expected) in [
        (vec!["choose", "example", "--idle", "1700", "rpm"], "put a quantity into quotes, --idle \"1700 rpm\""),
        (
            vec!["sheet", "example", "--set", "clutch.engagement=1700", "rpm"],
            "put a quantity into quotes, --set \"clutch.engagement=1700 rpm\"",
        ),
        (vec!["run", orchard, "--threads", "two"], "a whole number is wanted here, from 1 to 256"),
        (vec!["run", orchard, "--threads", "1.5"], "a whole number is wanted here, from 1 to 256"),
        (vec!["run", orchard, "--threads", "-1"], "a whole number is wanted here, from 1 to 256"),
        (vec!["gaps", "example", "--assemblies", "10"], "a whole number is wanted here, from 100 to 1000000"),
        (vec!["draw", "x", "--out", "y", "--width", "800px"], "a whole number is wanted here, from 400 to 4000"),
        (vec!["oiling", "example", "--drops", "four"], "a number of drops is wanted here, such as 4"),
        (vec!["run", "-"], "the standard input is not read; save a script as a file"),
        (vec!["draw", "scripts/parts/springs.json", "--out", "y"], "it holds a machine or a stock, not a result"),
        (vec!["choose", "example", "--stock", "1900 rpm, 2200 rpm"], "a stock of springs is a file"),
        (vec!["words", "stop"], "did you mean `brake`?"),
    ] {
        let message = said(&arguments, 2);
        assert!(message.contains(expected), "{arguments:?}: {message}");
    }
}

#[test]
fn a_parts_file_that_is_not_json_gets_a_suggestion() {
    for (text, expected) in [
        ("", "the file is empty"),
        ("{\"vehicle\": {\"mass\": \"160 kg\",}}", "take away the comma before the closing brace"),
        ("{\"lining\": {\"friction\": 0,04}}", "write numbers with a decimal point"),
        ("{// a note\n}", "JSON has no comments"),
        ("{“name”: \"a\"}", "stand in straight double quotes"),
        ("{'name': 'a'}", "stand in straight double quotes"),
        ("{name: \"a\"}", "names of settings stand in double quotes"),
        ("{\"name\": \"a\"", "is it cut short?"),
        ("name: a", "a parts file is JSON, such as {"),
    ] {
        let message = slipsoak_engine::parts_file::read("cart.json", text).unwrap_err().to_string();
        assert!(message.contains(expected), "{text}: {message}");
    }
}
