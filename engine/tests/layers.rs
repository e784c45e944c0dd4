//! The engine is built in layers.

use std::fs;
use std::path::Path;

/// The modules of the engine: each imports only modules of earlier rows.
const LAYERS: &[&[&str]] = &[
    &["dimension", "elementary"],
    &["calendar", "curve", "horizon", "integrate", "names", "parallel", "real", "statistics", "units"],
    &["laws"],
    &["numerics", "parts"],
    &["duty", "parts_file", "spread"],
    &["document"],
    &["fleet", "life"],
    &["model"],
    &["observe"],
    &["simulate"],
    &["usage"],
    &["hill_start"],
    &["calibrate", "sheet", "studies"],
    &["spring_choice", "rides"],
    &["stack_up", "oil_plan"],
    &["measure_plan", "season"],
];

/// Every source file of a module, without comments and tests.
fn sources(path: &Path, all: &mut Vec<(String, String)>) {
    if path.is_dir() {
        for entry in fs::read_dir(path).expect("a folder") {
            sources(&entry.expect("an entry").path(), all);
        }
    } else {
        let text = fs::read_to_string(path).expect("a source file");
        let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
        let lines = code.lines().filter(|line| !line.trim_start().starts_with("//"));
        all.push((path.display().to_string(), lines.collect::<Vec<_>>().join("\n")));
    }
}

#[test]
fn a_module_imports_only_modules_of_lower_layers() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let layer = |name: &str| LAYERS.iter().position(|layer| layer.contains(&name));
    let mut arrows = 0;
    for entry in fs::read_dir(&root).expect("the sources") {
        let path = entry.expect("an entry").path();
        let own = path.file_stem().expect("a name").to_string_lossy().into_owned();
        if own == "lib" {
            continue;
        }
        let floor = layer(&own).unwrap_or_else(|| panic!("`{own}` has no layer"));
        let mut all = vec![];
        sources(&path, &mut all);
        for (file, code) in all {
            for import in code.split("crate::").skip(1) {
                let name: String = import.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
                if name == own || name.is_empty() {
                    continue;
                }
                arrows += 1;
                assert!(layer(&name).is_some_and(|below| below < floor), "{file} imports {name}");
            }
        }
    }
    assert!(arrows > 100, "only {arrows} imports were found");
}
