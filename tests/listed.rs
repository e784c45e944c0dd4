//! Files of tests are named one by one: a forgotten one would never be compiled.

use std::fs;

#[test]
fn every_file_of_tests_is_compiled() {
    for (folder, manifest) in
        [("tests", "Cargo.toml"), ("engine/tests", "engine/Cargo.toml"), ("plots/tests", "plots/Cargo.toml")]
    {
        let main = fs::read_to_string(format!("{folder}/main.rs")).expect("a main file");
        let manifest = fs::read_to_string(manifest).expect("a manifest");
        let mut files = 0;
        for entry in fs::read_dir(folder).expect("a folder") {
            let name = entry.expect("an entry").file_name().into_string().expect("text");
            let Some(stem) = name.strip_suffix(".rs") else { continue };
            let listed = main.lines().any(|line| line == format!("mod {stem};"));
            assert!(listed || manifest.contains(&format!("/{name}\"")), "{folder}/{name} is in neither list");
            files += 1;
        }
        assert!(files > 5, "{folder}");
    }
}
