//! The shop's questions of a calibrated machine.

use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::path::Path;

fn slipsoak(folder: &Path, arguments: &[&str]) -> assert_cmd::assert::Assert {
    Command::new(env!("CARGO_BIN_EXE_slipsoak")).current_dir(folder).args(arguments).assert()
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy("scripts/parts/trail-cart.json", folder.path().join("trail-cart.json")).expect("copied");
    fs::copy("scripts/duty/trail-cart-calibration.json", folder.path().join("learned.json")).expect("copied");
    folder
}

/// What a script of one question prints and says, and whether it is answered.
fn asked(folder: &Path, question: &str) -> (String, String, bool) {
    fs::write(folder.join("ask.rhai"), format!("let cart = machine(\"trail-cart\");\n{question}\n")).expect("written");
    let done = slipsoak(folder, &["run", "ask.rhai", "--json"]);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("text");
    let output = done.get_output();
    (text(&output.stdout), text(&output.stderr), output.status.success())
}

const MAY: &str = r#"#{ carts: 2, from: "2027-05-01", to: "2027-05-08", hours: 2.hours, samples: 20, clutches: 60"#;

#[test]
fn a_season_of_a_calibrated_machine_is_that_of_the_command_with_what_was_learned() {
    let folder = folder();
    let answers = [
        format!("season(cart.calibrated(\"learned\"), \"rental\", {MAY} }});"),
        format!("season(cart, \"rental\", {MAY}, learned: \"learned\" }});"),
    ];
    let [calibrated, given] = answers.map(|question| {
        let (printed, said, well) = asked(folder.path(), &question);
        assert!(well, "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")
    });
    let command =
        "season trail-cart.json --carts 2 --from 2027-05-01 --to 2027-05-08 --samples 20 --clutches 60 --json";
    let command: Vec<&str> = command.split(' ').chain(["--hours=2 h", "--learned", "learned.json"]).collect();
    let printed = slipsoak(folder.path(), &command).success().get_output().stdout.clone();
    let command: Value = serde_json::from_slice(&printed).expect("JSON");
    let learned = |answer: &Value| {
        let split = answer["split"].as_array().expect("constants").iter();
        split.filter(|one| one["learned"] == true).count()
    };
    assert!(learned(&command) > 1, "{}", command["split"]);
    for answer in [calibrated, given] {
        for part in ["split", "policies", "settings"] {
            assert_eq!(answer[part], command[part], "{part}");
        }
    }
}

#[test]
fn a_measurement_of_a_calibrated_machine_narrows_what_the_calibration_left_open() {
    let folder = folder();
    let before = |cart: &str| {
        let question = format!("measure({cart}, \"rental\", #{{ \"for\": \"life\", samples: 32 }});");
        let (printed, said, well) = asked(folder.path(), &question);
        assert!(well, "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")["prior"]["deviation"].as_f64().expect("a number")
    };
    let (assumed, learned) = (before("cart"), before("cart.calibrated(\"learned\")"));
    assert!(learned < 0.8 * assumed, "{learned} of {assumed}");
}

#[test]
fn a_season_refuses_a_machine_that_is_calibrated_twice_and_a_spread_of_the_script() {
    let folder = folder();
    let twice = format!("season(cart.calibrated(\"learned\"), \"rental\", {MAY}, learned: \"learned\" }});");
    let spread = format!("season(cart.spread(\"lining.wear\", factor(1.5)), \"rental\", {MAY} }});");
    for (question, named, advised) in
        [(twice, "calibrated already", "give one of the two"), (spread, "`lining.wear`", "without it")]
    {
        let (_, said, well) = asked(folder.path(), &question);
        assert!(!well && said.contains(named) && said.contains(advised), "{said}");
    }
}

#[test]
fn a_question_that_takes_no_learned_spread_says_so() {
    let folder = folder();
    let (_, said, well) =
        asked(folder.path(), "oiling(cart.calibrated(\"learned\"), \"rental\", #{ riding: 40.min });");
    assert!(
        well && said.contains("note: `oiling` takes the values of") && said.contains("washer.wear_oiled"),
        "{said}"
    );
    let (_, said, well) = asked(folder.path(), "oiling(cart, \"rental\", #{ riding: 40.min });");
    assert!(well && !said.contains("note: `oiling`"), "{said}");
}
