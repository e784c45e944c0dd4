//! Beginning with the program alone, copied into an empty folder.

use assert_cmd::Command;
use std::fs;
use std::path::Path;

/// The program copied into a folder, run there.
fn alone(folder: &Path, arguments: &[&str]) -> Command {
    let copy = folder.join("slipsoak");
    if !copy.exists() {
        // A link where that can be: a file that was just written counts as busy while another test starts a program.
        let program = env!("CARGO_BIN_EXE_slipsoak");
        fs::hard_link(program, &copy).or_else(|_| fs::copy(program, &copy).map(|_| ())).expect("a copy");
    }
    let mut command = Command::new(copy);
    command.current_dir(folder).args(arguments);
    command
}

fn said(folder: &Path, arguments: &[&str]) -> String {
    let made = alone(folder, arguments).assert().success();
    String::from_utf8(made.get_output().stdout.clone()).expect("text").replace('\u{a0}', " ")
}

#[test]
fn the_program_alone_begins_a_folder_whose_every_duty_is_in_order_and_whose_first_command_runs() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = said(folder.path(), &["begin", "carts"]);
    let carts = folder.path().join("carts");
    let mut checked = 0;
    for entry in fs::read_dir(carts.join("duty")).expect("duties") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|e| e == "rhai") {
            said(folder.path(), &["check", path.to_str().expect("a path")]);
            checked += 1;
        }
    }
    assert!(checked >= 12, "{checked}");
    let first = told.lines().find_map(|line| line.trim().strip_prefix("slipsoak ")).expect("a command");
    let copy = folder.path().join("slipsoak");
    Command::new(&copy).current_dir(&carts).args(first.split(' ')).assert().success();
    assert!(carts.join("first/report.html").is_file());
    // What is there is never written over.
    let again = alone(folder.path(), &["begin", "carts"]).assert().code(2);
    assert!(String::from_utf8_lossy(&again.get_output().stderr).contains("nothing was written"));
    // An empty folder is as good as none; one below a missing folder is not made.
    fs::create_dir(folder.path().join("empty")).expect("a folder");
    said(folder.path(), &["begin", "empty"]);
    let none = alone(folder.path(), &["begin", "no/such"]).assert().code(1);
    assert!(String::from_utf8_lossy(&none.get_output().stderr).contains("name a new folder in one that exists"));
}

#[test]
fn a_printed_machine_is_a_parts_file_of_the_same_machine() {
    let folder = tempfile::tempdir().expect("a folder");
    let part = said(folder.path(), &["part", "--set", "vehicle.mass=161.234567 kg"]);
    fs::write(folder.path().join("mine.json"), &part).expect("written");
    let sheet = |arguments: &[&str]| {
        let text = said(folder.path(), &[&["sheet", "--json"], arguments].concat());
        let mut value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        value.as_object_mut().expect("an object").remove("head");
        value
    };
    assert_eq!(sheet(&["mine.json"]), sheet(&["example", "--set", "vehicle.mass=161.234567 kg"]));
    assert_eq!(said(folder.path(), &["part", "mine.json"]), part);
}

#[test]
fn settings_are_listed_by_group_with_what_is_chosen_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let group = said(folder.path(), &["settings", "vehicle"]);
    assert!(group.contains("vehicle.mass") && !group.contains("clutch."), "{group}");
    let every = said(folder.path(), &["settings"]);
    for named in ["lining_kind: woven, moulded", "form: floating", "oil: SAE 20", "idle_kind: ", "motor.torque"] {
        assert!(every.contains(named), "{named}");
    }
    let wrong = alone(folder.path(), &["settings", "vehicel"]).assert().code(2);
    assert!(String::from_utf8_lossy(&wrong.get_output().stderr).contains("did you mean `vehicle`?"));
}
