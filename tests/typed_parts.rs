//! A machine's file as newcomers type it: one message names every mistake.

use crate::common::slipsoak;
use std::fs;

/// Mistakes of one file, and what the message says of each.
const FILE: &str = r#"{ "name": "hopper", "lining": "sintered", "oil": "SAE30",
  "motor": { "idle": 1750, "idle_kind": "governed", "torque": [["1800 rpm", "10.7"], [3000, "10 N*m"]] },
  "vehicle": { "mass": "165", "wheel_diameter": "280 mm", "ratio": "6.2:1", "weight": "165 kg" },
  "clutch": { "engagement": "99999 rpm", "shoes": 2.5, "shoe_mass": "110 g" }, "governor": 3 }"#;
const SAID: [&str; 12] = [
    "mine.json has 11 mistakes:",
    "clutch.engagement is 99999 rpm; it must lie between",
    "clutch.shoes is 2.5, but it counts",
    "no setting `governor`; did you mean `motor.full_load`",
    "lining is \"sintered\"; the kind of lining is set at the top level of a parts file, \"lining_kind\": \"sintered\"",
    "motor.idle: 1750 has no unit; write for example \"1750 rpm\"",
    "no setting `motor.idle_kind`; what holds the idle is set at the top level of a parts file, \"idle_kind\": \"throttle stop\"",
    "motor.torque[0]: 10.7 has no unit; write for example \"10.7 N·m\"",
    "motor.torque[1]: 3000 has no unit; write for example \"3000 rpm\"",
    "vehicle.mass: 165 has no unit; write for example \"165 kg\"",
    "no setting `vehicle.weight`; did you mean `vehicle.mass`",
    "no setting `vehicle.wheel_diameter`; did you mean `vehicle.wheel_radius`? It is half of the diameter",
];

#[test]
fn every_mistake_of_a_parts_file_is_named_in_one_message_on_a_line_of_its_own() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("mine.json"), FILE).expect("written");
    fs::write(folder.path().join("mine.rhai"), "compare(machine(\"mine\"), duty(\"d\", |r| r.idle(2.s)));")
        .expect("written");
    for command in [["sheet", "mine.json"], ["check", "mine.rhai"]] {
        let output = slipsoak(folder.path(), &command).assert().code(1).get_output().clone();
        let message = String::from_utf8(output.stderr).expect("text");
        for said in SAID {
            assert_eq!(message.lines().filter(|line| line.contains(said)).count(), 1, "{said}\n{message}");
        }
    }
}

#[test]
fn a_parts_file_cut_or_mistyped_anywhere_is_answered_without_a_panic() {
    let letters: Vec<char> = FILE.chars().collect();
    for at in 0..letters.len() {
        for sign in ["", "'", "#", "ß", "\"", ",", "}", ": ", "/* "] {
            let typed: String = letters[..at].iter().collect::<String>() + sign;
            let rest: String = letters[at + 1..].iter().collect();
            for text in [typed.clone(), format!("{typed}{rest}")] {
                if let Err(refused) = slipsoak_engine::parts_file::read("mine.json", &text) {
                    assert!(!refused.to_string().is_empty(), "{text}");
                }
            }
        }
    }
}
