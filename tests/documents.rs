//! The documents say what is so.

use std::path::Path;

#[test]
fn every_path_that_the_documents_name_exists() {
    let mut seen = 0;
    for document in ["DEVELOPERS.md", "README.md"] {
        let text = std::fs::read_to_string(document).expect(document);
        for word in text.split(['`', '(', ')', ' ', '\n']) {
            let folder = ["engine/", "scripts/", "plots/", "tests/", ".ci/"].iter().any(|f| word.starts_with(f));
            if folder && !word.contains('*') {
                assert!(Path::new(word.trim_end_matches([',', '.', ';'])).exists(), "{document} names {word}");
                seen += 1;
            }
        }
    }
    assert!(seen > 15, "only {seen} paths were found");
}

#[test]
fn the_shipped_schemas_are_those_of_the_results() {
    for kind in [
        "record",
        "fleet",
        "sweep",
        "influence",
        "choice",
        "gaps",
        "oiling",
        "stock",
        "calibration",
        "told",
        "retraced",
    ] {
        let shipped = std::fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
        let made = assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak")).args(["schema", kind]).output();
        assert!(shipped.as_bytes() == made.expect("it runs").stdout, "`slipsoak schema {kind}` has changed");
    }
}

/// Copies the files of a folder of the project to the same place below another.
fn copy(name: &str, below: &Path) {
    let to = below.join(name);
    std::fs::create_dir_all(&to).expect("a folder");
    for entry in std::fs::read_dir(name).expect(name) {
        let path = entry.expect("an entry").path();
        std::fs::copy(&path, to.join(path.file_name().expect("a name"))).expect("a copy");
    }
}

#[test]
fn the_readmes_first_command_runs_as_printed_and_writes_what_it_promises() {
    let readme = std::fs::read_to_string("README.md").expect("the readme");
    let block = readme.split("```sh\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a block of commands");
    let command = block.lines().next().and_then(|line| line.split('#').next()).expect("a command").trim();
    let arguments = command.strip_prefix("cargo run --release -- ").expect("the first command runs the program");
    let folder = tempfile::tempdir().expect("a folder");
    copy("scripts/duty", folder.path());
    copy("scripts/parts", folder.path());
    let made = assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak"))
        .current_dir(folder.path())
        .args(arguments.split_whitespace())
        // so that it is quick
        .args(["--set", "minutes=1"])
        .assert()
        .success();
    let table = String::from_utf8_lossy(&made.get_output().stdout).into_owned();
    assert!(table.contains("1500 rpm") && table.contains("3000 rpm"), "{table}");
    let mut written: Vec<String> = std::fs::read_dir(folder.path().join("out"))
        .expect("the folder that is printed")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    written.sort();
    let count = |end: &str| written.iter().filter(|name| name.ends_with(end)).count();
    assert!(written.contains(&"record.json".to_owned()), "{written:?}");
    assert_eq!((count(".csv"), count(".svg"), count(".png"), written.len()), (7, 9, 9, 26), "{written:?}");
    assert!(readme.contains("a CSV for each run and nine figures as SVG and PNG into `out`"));
}
