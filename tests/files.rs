//! Files that are read and folders that are written: wrong kinds, encodings, names, obstacles.

use crate::common::{refusal, slipsoak};
use assert_cmd::Command;
use std::fs;
use std::path::Path;

const RUN: &str = "compare(machine(\"example\"), duty(\"d\", |ride| ride.idle(2.s)));\n";

#[test]
fn a_wrong_kind_of_file_is_named_with_the_command_that_takes_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("x.rhai"), RUN).unwrap();
    fs::write(at.join("cart.json"), "{}").unwrap();
    fs::write(at.join("ride.csv"), "time [s],speed [km/h]\n0,0\n9,9\n").unwrap();
    fs::create_dir(at.join("empty")).unwrap();
    for (arguments, expected) in [
        (["sheet", "x.rhai"], "this is a script: `slipsoak run` takes it"),
        (["run", "cart.json"], "a script is wanted here, and this is a machine: `slipsoak sheet` takes it"),
        (["run", "ride.csv"], "`slipsoak retrace` takes a recorded ride"),
        (["retrace", "ride"], "did you mean ride.csv?"),
        (["sheet", "example.json"], "the built-in machine is called `example`"),
        (["check", "empty"], "it is a folder; name a script in it"),
        (["sheet", "nowhere.json"], "files there that end in .json: cart.json; or name a shipped machine"),
        (["sheet", "carts.json"], "did you mean `cart.json`?"),
        (["run", "elsewhere/x.rhai"], "there is no folder elsewhere"),
    ] {
        let message = refusal(at, &arguments, 2);
        assert!(message.contains(expected), "{arguments:?}: {message}");
    }
    let message = refusal(at, &["report", "cart.json", "--out", "x.pdf"], 2);
    assert!(message.contains("a page is HTML") && !at.join("x.pdf").exists(), "{message}");
}

#[test]
fn text_as_editors_and_spreadsheets_save_it_is_read_and_what_is_of_two_encodings_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::create_dir(at.join("duty")).unwrap();
    fs::write(at.join("x.rhai"), format!("\u{feff}{}", RUN.replace("example", "cart"))).unwrap();
    fs::write(at.join("cart.json"), "\u{feff}{\"vehicle\": {\"mass\": \"160 kg\"}}").unwrap();
    slipsoak(at, &["check", "x.rhai"]).assert().success();
    slipsoak(at, &["sheet", "cart.json"]).assert().success();
    let wide: Vec<u8> = [0xff, 0xfe].into_iter().chain(RUN.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    fs::write(at.join("wide.rhai"), wide).unwrap();
    slipsoak(at, &["check", "wide.rhai"]).assert().success();
    let old = [b"// M\xfcller\n", RUN.as_bytes()].concat();
    fs::write(at.join("old.rhai"), &old).unwrap();
    slipsoak(at, &["check", "old.rhai"]).assert().success();
    fs::write(at.join("both.rhai"), ["// Müller\n".as_bytes(), &old].concat()).unwrap();
    let message = refusal(at, &["check", "both.rhai"], 2);
    assert!(message.contains("it is not text in UTF-8 (line 2)") && !message.contains("no such file"), "{message}");
}

#[test]
fn a_folder_may_be_given_for_the_result_in_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("x.rhai"), RUN).unwrap();
    slipsoak(at, &["run", "x.rhai", "--out", "out", "--no-pictures"]).assert().success();
    slipsoak(at, &["report", "out", "--out", "page.html"]).assert().success();
    slipsoak(at, &["draw", "out", "--figure", "life", "--out", "drawn"]).assert().success();
    assert!(refusal(at, &["report", ".", "--out", "b.html"], 2).contains("a folder without a result in it"));
}

#[test]
fn every_command_that_writes_a_folder_lists_its_files() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let lap = "fn lap(r) { r.idle(2.s); r.launch(15.km_h); }\n";
    let sweep = "sweep(machine(\"example\").varied(\"clutch.shoes\", [2, 4]), duty(\"d\", Fn(\"lap\")));";
    fs::write(at.join("sweep.rhai"), [lap, sweep].concat()).unwrap();
    let fleet = "compare(machine(\"example\"), duty(\"d\", Fn(\"lap\")).repeated(1.hours)); fleet(2, 1);";
    fs::write(at.join("fleet.rhai"), [lap, fleet].concat()).unwrap();
    fs::write(at.join("ride.csv"), "time [s],speed [km/h]\n0,0\n5,0\n10,15\n15,15\n").unwrap();
    let shipped = |name: &str| Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/duty").join(name);
    let (wear, log) = (shipped("trail-wear.rhai"), shipped("trail-log.csv"));
    let (wear, log) = (wear.to_str().unwrap(), log.to_str().unwrap());
    for (arguments, out, wrote) in [
        (
            &["gaps", "example", "--use", "rental", "--report"][..],
            "b",
            "4 files to b: gaps.json, 1 figure (SVG, PNG); open report.html there.",
        ),
        (&["retrace", "ride.csv", "--no-pictures"], "d", "2 files to d: retraced.json, 1 CSV."),
        (
            &["calibrate", wear, "--log", log, "--searches", "1", "--no-pictures"],
            "e",
            "2 files to e: calibration.json, told.json.",
        ),
        (&["run", "sweep.rhai", "--no-pictures"], "f", "2 files to f: sweep.json, 1 CSV."),
        (&["run", "fleet.rhai", "--no-pictures"], "g", "2 files to g: fleet.json, 1 CSV."),
        (&["draw", "f/sweep.json", "--figure", "life"], "h", "2 files to h: 1 figure (SVG, PNG)."),
    ] {
        let done = slipsoak(at, &[arguments, &["--out", out]].concat()).assert().success();
        let said = String::from_utf8(done.get_output().stdout.clone()).unwrap();
        let last = said.lines().last().unwrap_or_default();
        assert_eq!(last, format!("Wrote {wrote}"), "{arguments:?}");
    }
    // JSON output is unchanged.
    let done = slipsoak(at, &["gaps", "example", "--use", "hard", "--json", "--out", "json"]).assert().success();
    assert!(serde_json::from_slice::<serde_json::Value>(&done.get_output().stdout).is_ok());
}

#[test]
fn foreign_files_in_an_earlier_result_are_not_deleted() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("x.rhai"), RUN).unwrap();
    slipsoak(at, &["run", "x.rhai", "--out", "out", "--report"]).assert().success();
    // All files that a run writes are replaced.
    slipsoak(at, &["run", "x.rhai", "--out", "out", "--report", "--replace"]).assert().success();
    fs::write(at.join("out/thesis.txt"), "a year's work").unwrap();
    let message = refusal(at, &["run", "x.rhai", "--out", "out", "--replace"], 2);
    assert!(message.contains("out holds `thesis.txt`, which is no part of a result"), "{message}");
    assert!(at.join("out/thesis.txt").exists() && at.join("out/record.json").exists());
}

#[test]
fn very_long_names_and_names_like_formulas_are_written_safely() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let text = format!(
        "let a = machine(\"example\").called(\"{}\");\ncompare(a, duty(\"d\", |ride| ride.idle(2.s)));\n",
        "𠀀".repeat(120)
    );
    fs::write(at.join("long.rhai"), text).unwrap();
    slipsoak(at, &["run", "long.rhai", "--out", "long", "--no-pictures"]).assert().success();
    let duties = "[duty(\"=1+1\", Fn(\"lap\")), duty(\"-b\", Fn(\"lap\"))]";
    fs::write(at.join("sweep.rhai"), format!("fn lap(r) {{ r.idle(2.s); }}\nsweep(machine(\"example\"), {duties});\n"))
        .unwrap();
    slipsoak(at, &["run", "sweep.rhai", "--out", "swept", "--no-pictures"]).assert().success();
    let csv = fs::read_to_string(at.join("swept/sweep.csv")).unwrap();
    assert!(csv.contains("'=1+1,") && csv.contains("'-b,"), "{csv}");
    // The JSON file, which is read back, keeps them unchanged.
    assert!(fs::read_to_string(at.join("swept/sweep.json")).unwrap().contains("\"=1+1\""));
    slipsoak(at, &["report", "swept", "--out", "page.html"]).assert().success();
}

#[test]
fn no_text_of_a_script_controls_the_terminal() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let evil = "\u{1b}]52;c;YQ==\u{7}\u{1b}[2J\u{1b}[8m\u{9b}2J\u{202e}x";
    fs::write(
        at.join("x.rhai"),
        format!(
            "title(\"t{evil}\");\nprint(\"p{evil}\");\ncompare(machine(\"example\").called(\"m{evil}\"), duty(\"d{evil}\", |ride| ride.idle(2.s)));\n"
        ),
    )
    .unwrap();
    for arguments in [&["check", "x.rhai"][..], &["run", "x.rhai"], &["run", "x.rhai", "--json"]] {
        let output = slipsoak(at, arguments).assert().success().get_output().clone();
        let text = String::from_utf8(output.stdout).unwrap() + String::from_utf8(output.stderr).unwrap().as_str();
        assert!(
            !text.contains(['\u{7}', '\u{9b}', '\u{202e}']) && !text.contains("\u{1b}]"),
            "{arguments:?}: {text:?}"
        );
        assert!(!text.contains("\u{1b}[2J") && !text.contains("\u{1b}[8m"), "{arguments:?}: {text:?}");
        assert!(text.contains("]52;c;YQ==") && text.contains("[2J"), "{arguments:?}: {text:?}");
    }
    slipsoak(at, &["run", "x.rhai", "--report", "--no-pictures", "--out", "out"]).assert().success();
    let page = fs::read_to_string(at.join("out/report.html")).unwrap();
    assert!(!page.contains('\u{202e}') && page.contains("m ]52;c;YQ== "), "the page turns its text about");
}

#[cfg(unix)]
#[test]
fn files_and_folders_have_the_users_default_permissions() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("x.rhai"), RUN).unwrap();
    let program = env!("CARGO_BIN_EXE_slipsoak");
    for (umask, dir, file) in [("077", 0o700, 0o600), ("022", 0o755, 0o644), ("002", 0o775, 0o664)] {
        let line = format!(
            "umask {umask}; {program} run x.rhai --no-pictures --quiet --out o{umask} && {program} report o{umask} --out p{umask}.html"
        );
        Command::new("sh").current_dir(at).args(["-c", &line]).assert().success();
        let mode = |name: &str| fs::metadata(at.join(name)).unwrap().permissions().mode() & 0o777;
        let modes =
            [mode(&format!("o{umask}")), mode(&format!("o{umask}/record.json")), mode(&format!("p{umask}.html"))];
        assert_eq!(modes, [dir, file, file], "umask {umask}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn an_output_that_cannot_be_written_is_reported() {
    let line = format!("{} words > /dev/full", env!("CARGO_BIN_EXE_slipsoak"));
    let output = Command::new("sh").args(["-c", &line]).assert().code(1).get_output().clone();
    assert!(String::from_utf8(output.stderr).unwrap().contains("the output cannot be written"));
}
