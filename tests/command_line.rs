//! The program from outside: exit codes, files, the same bytes on any number of threads.

use crate::common::{at_home as slipsoak, refused as refusal};
use assert_cmd::Command;
use std::fs;
use std::path::Path;

const SHORT: &[&str] = &["--set", "laps=1", "--no-pictures", "--quiet"];
const SCRIPT: &str = "scripts/duty/town-trace.rhai";

fn run_into(out: &Path, more: &[&str]) -> Command {
    let mut command = slipsoak(&["run", SCRIPT, "--out"]);
    command.arg(out).args(SHORT).args(more);
    command
}

#[test]
fn check_counts_one_entry_and_several_entries() {
    let at = tempfile::tempdir().expect("a folder");
    let path = at.path().join("counted.rhai");
    let text = r#"compare(machine("example"), [duty("one", |ride| ride.idle(1.s)),
        duty("two", |ride| { ride.idle(1.s); ride.idle(2.s); })]);"#;
    std::fs::write(&path, text).expect("written");
    let output = slipsoak(&["check", path.to_str().expect("a path")]).assert().code(0).get_output().stdout.clone();
    let said = String::from_utf8(output).expect("text");
    assert!(said.contains("one: 1 entry\n") && said.contains("two: 2 entries\n"), "{said}");
}

#[test]
fn exit_codes_distinguish_wrong_scripts_from_wrong_command_lines() {
    slipsoak(&["check", SCRIPT]).assert().code(0);
    slipsoak(&["words", "idle"]).assert().code(0);
    slipsoak(&["settings"]).assert().code(0);
    slipsoak(&["--help"]).assert().code(0);
    refusal(&["check", "tests/refused/negative-mass.rhai"], 1);
    assert!(refusal(&["check", SCRIPT, "--set", "laps=1.5"], 1).contains("whole number"));
    refusal(&["run"], 2);
    refusal(&["run", "no-such-script.rhai"], 2);
    refusal(&["run", SCRIPT, "--set", "laps"], 2);
    refusal(&["run", SCRIPT, "--set", "laps=NaN"], 2);
    refusal(&["run", SCRIPT, "--threads", "0"], 2);
    assert!(refusal(&["check", SCRIPT, "--set", "lapse=2"], 2).contains("did you mean `laps`?"));
}

#[test]
fn the_number_of_threads_does_not_change_a_byte() {
    let folder = tempfile::tempdir().unwrap();
    let (one, two) = (folder.path().join("one"), folder.path().join("two"));
    run_into(&one, &["--threads", "1"]).assert().success();
    run_into(&two, &["--threads", "2"]).assert().success();
    let mut names: Vec<_> = fs::read_dir(&one).unwrap().map(|e| e.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names.len(), 4, "{names:?}");
    for name in names {
        assert_eq!(fs::read(one.join(&name)).unwrap(), fs::read(two.join(&name)).unwrap(), "{}", name.display());
    }
}

#[test]
fn an_earlier_result_is_only_replaced_when_asked() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    run_into(&out, &[]).assert().success();
    run_into(&out, &[]).assert().code(2);
    run_into(&out, &["--replace"]).assert().success();
    fs::remove_file(out.join("record.json")).unwrap();
    run_into(&out, &["--replace"]).assert().code(2);
    let left: Vec<_> = fs::read_dir(folder.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "nothing half-written is left");
}

#[test]
fn a_folder_that_cannot_be_written_is_refused_before_the_run() {
    let folder = tempfile::tempdir().unwrap();
    run_into(&folder.path().join("missing/out"), &[]).assert().code(2);
    let file = folder.path().join("file");
    fs::write(&file, "kept").unwrap();
    run_into(&file, &["--replace"]).assert().code(2);
    assert_eq!(fs::read_to_string(&file).unwrap(), "kept");
}

#[test]
fn a_record_cut_short_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("record.json");
    fs::write(&path, "{\"program\": \"slipsoak\", \"script\":").unwrap();
    let out = folder.path().join("figures");
    let message = refusal(&["draw", path.to_str().unwrap(), "--out", out.to_str().unwrap()], 1);
    assert!(message.contains("is it cut short?"), "{message}");
    fs::write(&path, "{\"program\": \"slipsoak\"}").unwrap();
    let message = refusal(&["draw", path.to_str().unwrap(), "--out", out.to_str().unwrap()], 1);
    assert!(message.contains("of an earlier version") && message.contains("run its script again"), "{message}");
    fs::write(&path, "time;speed").unwrap();
    let message = refusal(&["draw", path.to_str().unwrap(), "--out", out.to_str().unwrap()], 1);
    assert!(message.contains("a result is JSON"), "{message}");
    assert!(!out.exists());
}

#[test]
fn the_schema_names_every_field_of_a_record() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    run_into(&out, &[]).assert().success();
    let record: serde_json::Value = serde_json::from_slice(&fs::read(out.join("record.json")).unwrap()).unwrap();
    let schema = slipsoak(&["schema"]).assert().success().get_output().stdout.clone();
    let schema: serde_json::Value = serde_json::from_slice(&schema).unwrap();
    let fields = |value: &serde_json::Value| {
        let mut names: Vec<String> = value.as_object().unwrap().keys().cloned().collect();
        names.sort();
        names
    };
    assert_eq!(fields(&record), fields(&schema["properties"]));
    assert_eq!(fields(&record["runs"][0]), fields(&schema["$defs"]["Run"]["properties"]));
    assert_eq!(record["head"]["script_hash"].as_str().unwrap().len(), 64);
}

#[test]
fn every_shipped_part_has_a_sheet() {
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/parts")).unwrap() {
        let path = entry.unwrap().path();
        if path.ends_with("springs.json") {
            continue; // a stock, not a machine
        }
        let sheet = slipsoak(&["sheet", path.to_str().unwrap()]).assert().success().get_output().stdout.clone();
        assert!(String::from_utf8(sheet).unwrap().contains("Caution"), "{}", path.display());
    }
    slipsoak(&["sheet", "example", "--json", "--set", "clutch.engagement=1700 rpm"]).assert().success();
    assert!(refusal(&["sheet", "example", "--set", "clutch.engagement=1700"], 1).contains("has no unit"));
    assert!(refusal(&["sheet", "example", "--set", "clutch.engagment=1700 rpm"], 1).contains("did you mean"));
}

#[test]
fn figures_are_drawn_from_a_record_and_an_unknown_one_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let (out, figures) = (folder.path().join("out"), folder.path().join("figures"));
    slipsoak(&["run", SCRIPT, "--set", "laps=1", "--out", out.to_str().unwrap()]).assert().success();
    let record = out.join("record.json");
    let (record, into) = (record.to_str().unwrap(), figures.to_str().unwrap());
    assert!(refusal(&["draw", record, "--out", into, "--figure", "oyl"], 2).contains("its figures:"));
    slipsoak(&["draw", record, "--out", into]).assert().success();
    for name in slipsoak_plots::names(slipsoak_engine::document::Kind::Record) {
        for (end, start) in [("svg", &b"<svg"[..]), ("png", b"\x89PNG")] {
            let [drawn, first] = [&figures, &out].map(|at| fs::read(at.join(format!("{name}.{end}"))).unwrap());
            assert!(drawn.starts_with(start) && drawn == first, "{name}.{end} of the record is not that of the run");
        }
    }
    let dark = folder.path().join("dark");
    let look = ["--figure", "gap", "--dark", "--width", "800", "--title", "Der Spalt", "--caption", "λ 0,1/h"];
    slipsoak(&[&["draw", record, "--out", dark.to_str().unwrap()], &look[..]].concat()).assert().success();
    let svg = fs::read_to_string(dark.join("gap.svg")).unwrap();
    for words in ["width=\"800\"", "Der Spalt", "λ 0,1/h", "fill=\"#171A1E\""] {
        assert!(svg.contains(words), "{words}");
    }
    assert!(!svg.contains("fill=\"#FFFFFF\"") && fs::read_dir(&dark).unwrap().count() == 2);
    assert!(refusal(&["draw", record, "--out", into, "--width", "20"], 2).contains("400"));
}

#[test]
fn the_sheet_stacks_the_shop_gap_and_gives_the_lock_speed() {
    // Common practice, no source: bushing 0.065 ± 0.005 in proud and washer 0.030 ± 0.003 in make 0.095 in, worst
    // 0.087, RSS 0.0892. Lock-up speed of the standard machine: ω r/i with ω = √(ω_e² + T/K), ω_e = 209.44 rad/s, K = 3.576e-4 kg·m²
    // and T = 2.79 N·m of rolling and air: 227.3 × 0.165/6 = 6.251 m/s.
    let made = assert_cmd::Command::cargo_bin("slipsoak")
        .expect("the program")
        .args(["sheet", "scripts/parts/orchard-cart.json", "--json", "--set", "clutch.engagement=2000 rpm"])
        .output()
        .expect("it runs");
    let sheet: serde_json::Value = serde_json::from_slice(&made.stdout).expect("JSON");
    let inch = |name: &str| sheet["cover_gap"][name].as_f64().expect("a gap") / 0.0254;
    for (name, wanted) in [("nominal", 0.095), ("worst", 0.087), ("likely", 0.0892)] {
        assert!((inch(name) - wanted).abs() < 5e-5, "{name}: {} in", inch(name));
    }
    assert!((sheet["lock_speed"].as_f64().expect("a speed") - 6.251).abs() < 1e-3, "{}", sheet["lock_speed"]);
}

#[cfg(unix)]
#[test]
fn a_folder_without_write_permission_is_reported_and_left_unchanged() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let parent = folder.path().join("locked");
    fs::create_dir(&parent).unwrap();
    fs::set_permissions(&parent, fs::Permissions::from_mode(0o555)).unwrap();
    // Permissions do not stop a superuser, but folders cannot be made in /proc.
    let parent = if fs::create_dir(parent.join("probe")).is_ok() { "/proc".into() } else { parent };
    let out = parent.join("out");
    let message = refusal(&["run", SCRIPT, "--set", "laps=1", "--out", out.to_str().unwrap()], 1);
    assert!(message.contains("cannot be written") && message.contains("choose another --out"), "{message}");
    assert!(message.contains(out.to_str().unwrap()), "{message}");
    assert!(!out.exists());
    let left = fs::read_dir(&parent).unwrap().filter_map(Result::ok);
    assert_eq!(left.filter(|e| e.file_name().to_string_lossy().contains("slipsoak")).count(), 0);
}

#[test]
fn a_file_or_nothing_above_the_folder_is_a_wrong_command_line() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("file"), "mine").unwrap();
    for parent in ["file", "missing"] {
        let out = folder.path().join(parent).join("out");
        let message = refusal(&["run", SCRIPT, "--set", "laps=1", "--out", out.to_str().unwrap()], 2);
        assert!(message.contains("is not a folder") && message.contains("choose another --out"), "{message}");
    }
    assert_eq!(fs::read_to_string(folder.path().join("file")).unwrap(), "mine");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn text_printed_by_a_script_is_shown_even_if_it_then_fails() {
    let folder = tempfile::tempdir().unwrap();
    let script = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let early = script("early.rhai", "print(\"at the top\");\nlet n = 1 / 0;\n");
    let late = script(
        "late.rhai",
        "fn fine(ride) { print(\"all is well\"); ride.idle(1.s); }\n\
         fn wrong(ride) { print(\"before it\"); if ride.clock >= 0.0 { print(\"and on the way\"); ride.idle(-1.s); } }\n\
         print(\"at the top\");\n\
         compare(machine(\"example\"), [duty(\"fine\", Fn(\"fine\")), duty(\"wrong\", Fn(\"wrong\"))]);\n",
    );
    let nothing = script("nothing.rhai", "print(\"at the top\");\n");
    let shown = |arguments: &[&str], lines: &[&str]| {
        let message = refusal(arguments, 1);
        let said: Vec<&str> = message.lines().take(lines.len()).collect();
        assert_eq!(said, lines, "{message}");
        assert!(message.lines().nth(lines.len()).is_some_and(|line| line.starts_with("error")), "{message}");
    };
    shown(&["run", &early], &["at the top"]);
    shown(&["check", &early], &["at the top"]);
    shown(&["run", &nothing], &["at the top"]);
    shown(&["run", &late], &["at the top", "all is well", "before it", "and on the way"]);
}

#[test]
fn a_sheet_says_of_a_machine_that_cannot_get_up_its_slope_that_it_does_not_get_there() {
    let said = |grade: &str| {
        let grade = format!("surroundings.grade={grade}");
        let done = slipsoak(&["sheet", "example", "--set", "vehicle.mass=430 kg", "--set", &grade]).assert().success();
        let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (level, steep) = (said("0"), said("0.15"));
    assert!(level.contains("One launch to") && !level.contains("Do not ride it so"), "{level}");
    assert!(steep.contains("It does not move off") && steep.contains("on a slope of 15 %"), "{steep}");
    assert!(steep.contains("Do not ride it so") && !steep.contains("One launch to"), "{steep}");
}

#[test]
fn a_misspelt_option_is_not_said_to_be_missing_too() {
    let said = refusal(&["report", "record.json", "--outt", "page.html"], 2);
    assert!(said.contains("'--outt'") && !said.contains("missing"), "{said}");
    assert!(refusal(&["report", "record.json", "--outt", "page.html", "--nope"], 2).contains("'--nope'"));
}
