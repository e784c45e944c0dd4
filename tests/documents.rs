//! Checks of the documents against the repository.

use slipsoak_engine::document::Kind;
use std::path::Path;

#[test]
fn every_path_that_the_documents_name_exists() {
    let mut seen = 0;
    for document in ["DEVELOPERS.md", "README.md", "engine/MEASURED.md"] {
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
    for kind in Kind::ALL.iter().map(|kind| kind.name()).chain(["part", "stock"]) {
        let shipped = std::fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
        let made = assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak")).args(["schema", kind]).output();
        assert!(shipped.as_bytes() == made.expect("it runs").stdout, "`slipsoak schema {kind}` has changed");
    }
}
