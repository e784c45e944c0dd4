//! Checks of the documents against the repository.

use slipsoak_engine::document::{Kind, Saved};
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

/// `SLIPSOAK_SCHEMAS=write` writes them.
#[test]
fn the_shipped_schemas_are_those_of_the_results() {
    for kind in Kind::ALL {
        let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
        let made = serde_json::to_string_pretty(&Saved::schema(*kind, settings.into_generator())).expect("JSON") + "\n";
        let file = format!("scripts/{}.schema.json", kind.name());
        if std::env::var("SLIPSOAK_SCHEMAS").is_ok_and(|what| what == "write") {
            std::fs::write(&file, &made).expect("written");
        }
        let shipped = std::fs::read_to_string(&file).expect("the schema is shipped");
        assert!(shipped == made, "{file} is not that of the result: `SLIPSOAK_SCHEMAS=write` writes it");
    }
}
