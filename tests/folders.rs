//! The folders of the program stand one on the other: a file imports only from its own folder and from those below.

use std::fs;
use std::path::{Path, PathBuf};

/// From the lowest to the highest; then `lib.rs` and `main.rs`.
const FOLDERS: [&str; 8] = ["error", "read", "keep", "panic", "shop", "language", "study", "command"];

fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    entries.flat_map(|path| if path.is_dir() { files(&path) } else { vec![path] }).collect()
}

#[test]
fn a_file_imports_only_from_its_own_folder_and_from_those_below() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/src");
    let height = |name: &str| FOLDERS.iter().position(|folder| *folder == name);
    let mut imports = 0;
    for file in files(&root) {
        let inside = file.strip_prefix(&root).expect("inside").with_extension("");
        let own = inside.components().next().expect("a name").as_os_str().to_string_lossy().into_owned();
        if ["lib", "main"].contains(&own.as_str()) {
            continue;
        }
        let own = height(&own).unwrap_or_else(|| panic!("`{own}` has no place among the folders"));
        for line in fs::read_to_string(&file).expect("a source file").lines() {
            for import in line.split("crate::").skip(1) {
                let name = import.split(|c: char| !c.is_ascii_lowercase() && c != '_').next().unwrap_or_default();
                imports += 1;
                assert!(height(name).is_none_or(|below| below <= own), "{} imports {name}", file.display());
            }
        }
    }
    assert!(imports > 100, "only {imports} imports were found");
}
