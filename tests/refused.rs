//! Every wrong script in `tests/refused` is refused, with the words that its first line expects.

use slipsoak::Script;
use slipsoak::interpreter::Limits;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::time::Duration;

#[test]
fn every_wrong_script_is_refused_as_its_first_line_says() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/refused");
    let mut scripts: Vec<PathBuf> = fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()).collect();
    scripts.retain(|p| p.extension().is_some_and(|e| e == "rhai"));
    scripts.sort();
    assert!(scripts.len() > 40, "the folder holds {} scripts", scripts.len());
    let mut failures = Vec::new();
    for path in scripts {
        let script = Script::read(&path).unwrap();
        let expected = script.text.lines().next().and_then(|l| l.strip_prefix("// expect: ")).expect("a first line");
        let limits = Limits { operations: 2_000_000, time: Duration::from_secs(20), ..Limits::default() };
        match slipsoak::study::check(&script, &BTreeMap::new(), limits) {
            Ok(_) => failures.push(format!("{}: was accepted", script.name)),
            Err(trouble) => {
                let message = trouble.render(false);
                if !message.contains(expected) || trouble.exit_code() != 1 {
                    failures.push(format!("{}: expected `{expected}`, got\n{message}", script.name));
                }
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n\n"));
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let outside = tempfile::tempdir().unwrap();
    fs::write(outside.path().join("real.json"), "{}").unwrap();
    std::os::unix::fs::symlink(outside.path().join("real.json"), folder.path().join("linked.json")).unwrap();
    let path = folder.path().join("script.rhai");
    fs::write(&path, "let cart = machine(\"linked\");").unwrap();
    let script = Script::read(&path).unwrap();
    let trouble = slipsoak::study::check(&script, &BTreeMap::new(), Limits::default()).unwrap_err();
    assert!(trouble.to_string().contains("leads out of the script's folder"), "{trouble}");
}
