//! No file imports, by way of others, itself: only the equations of a clutch and their groups are written together.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The source files of a folder.
fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let all = entries.flat_map(|path| if path.is_dir() { files(&path) } else { vec![path] });
    all.filter(|path| path.extension().is_some_and(|kind| kind == "rs")).collect()
}

/// Paths that a tree of imports names: `a::{b, c::d}` names `a::b` and `a::c::d`.
fn named(tree: &str, before: &str, all: &mut Vec<String>) {
    let (mut depth, mut start) = (0, 0);
    for (at, c) in tree.char_indices().chain([(tree.len(), ',')]) {
        depth += i32::from(c == '{') - i32::from(c == '}');
        if c != ',' || depth > 0 {
            continue;
        }
        let one = tree[start..at].trim();
        match one.split_once('{') {
            Some((head, inner)) => named(inner.trim_end_matches('}'), &format!("{before}{head}"), all),
            None => all.push(format!("{before}{one}")),
        }
        start = at + 1;
    }
}

/// Paths that a file imports or uses with their modules, from the crate's root; its own module is `place`.
fn used(text: &str, place: &[&str]) -> Vec<String> {
    let code: Vec<&str> = text.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let code = code.join(" ").split("#[cfg(test)] mod tests").next().unwrap_or_default().to_owned();
    let mut all = vec![];
    for root in ["crate::", "super::"] {
        let above = if root == "super::" { &place[..place.len() - 1] } else { &[] };
        let before = above.iter().fold(String::new(), |path, part| path + *part + "::");
        for (at, _) in code.match_indices(root).filter(|(at, _)| !code[..*at].ends_with("::")) {
            let imports = code[..at].trim_end().ends_with("use");
            let end = |c: char| if imports { c == ';' } else { !(c.is_alphanumeric() || c == '_' || c == ':') };
            named(code[at + root.len()..].split(end).next().unwrap_or_default(), &before, &mut all);
        }
    }
    all
}

/// Files that each file imports, of a crate's sources.
fn arrows(source: &str) -> BTreeMap<String, Vec<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(source);
    let module = |path: &Path| {
        let inside = path.strip_prefix(&root).expect("inside").with_extension("").display().to_string();
        inside.strip_suffix("/mod").unwrap_or(&inside).replace('/', "::")
    };
    let texts: BTreeMap<String, String> =
        files(&root).iter().map(|path| (module(path), fs::read_to_string(path).expect("a source file"))).collect();
    let file = |path: &str| {
        let mut longest: Vec<&String> = texts.keys().collect();
        longest.retain(|name| path == *name || path.starts_with(&format!("{name}::")));
        longest.into_iter().max_by_key(|name| name.len()).cloned()
    };
    let of = |(name, text): (&String, &String)| {
        let place: Vec<&str> = name.split("::").collect();
        let mut others: Vec<String> = used(text, &place).iter().filter_map(|path| file(path)).collect();
        others.retain(|other| other != name);
        (name.clone(), others)
    };
    texts.iter().map(of).collect()
}

#[test]
fn no_file_imports_itself_by_way_of_others_but_the_equations_with_their_groups() {
    for (source, least) in [("plots/src", 300), ("scripts/src", 300), ("engine/src", 400)] {
        let arrows = arrows(source);
        let count: usize = arrows.values().map(Vec::len).sum();
        assert!(count > least, "only {count} imports were found in {source}");
        for file in arrows.keys().filter(|file| !file.starts_with("model::")) {
            let (mut reached, mut ahead) = (vec![], vec![file]);
            while let Some(next) = ahead.pop() {
                for other in &arrows[next] {
                    assert!(other != file, "{source}: {file} and {next} import each other, by way of others");
                    if !reached.contains(&other) {
                        reached.push(other);
                        ahead.push(other);
                    }
                }
            }
        }
    }
}
