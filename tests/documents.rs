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
fn the_shipped_schema_is_the_records() {
    let shipped = std::fs::read_to_string("scripts/record.schema.json").expect("the schema is shipped");
    let made =
        assert_cmd::Command::cargo_bin("slipsoak").expect("the program").arg("schema").output().expect("it runs");
    assert_eq!(shipped, String::from_utf8(made.stdout).expect("text"));
}
