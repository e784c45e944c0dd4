//! The readme agrees with the program: its commands run in order, and print what it quotes.

use assert_cmd::Command;
use std::fs;
use std::path::Path;

/// A block of the readme: its language, its text, and the line before it.
struct Block {
    kind: String,
    text: String,
    before: String,
}

fn readme() -> String {
    fs::read_to_string("README.md").expect("the readme")
}

fn blocks(readme: &str) -> Vec<Block> {
    let mut all = vec![];
    let (mut open, mut before) = (None::<Block>, String::new());
    for line in readme.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(_), Some(block)) => all.push(block),
            (Some(kind), None) => {
                open = Some(Block { kind: kind.to_owned(), text: String::new(), before: before.clone() });
            }
            (None, Some(mut block)) => {
                block.text.push_str(line);
                block.text.push('\n');
                open = Some(block);
            }
            (None, None) if !line.trim().is_empty() => line.clone_into(&mut before),
            (None, None) => {}
        }
    }
    all
}

/// Words of a shell line, without quotes.
fn words(line: &str) -> Vec<String> {
    let (mut all, mut word, mut quoted) = (vec![], String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => all.push(std::mem::take(&mut word)),
            _ => word.push(c),
        }
    }
    all.push(word);
    all
}

fn copy(name: &str, below: &Path) {
    let to = below.join(name);
    fs::create_dir_all(&to).expect("a folder");
    for entry in fs::read_dir(name).expect(name) {
        let path = entry.expect("an entry").path();
        fs::copy(&path, to.join(path.file_name().expect("a name"))).expect("a copy");
    }
}

/// Text as one line, so that wrapping does not count.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_commands_of_the_readme_run_in_order_and_print_what_it_quotes() {
    let folder = tempfile::tempdir().expect("a folder");
    copy("scripts/duty", folder.path());
    copy("scripts/parts", folder.path());
    let readme = readme();
    let mut printed: Vec<String> = vec![];
    for block in blocks(&readme) {
        match block.kind.as_str() {
            "sh" => {
                for line in block.text.lines().filter(|l| !l.starts_with("cargo ")) {
                    let mut arguments = words(line.strip_prefix("slipsoak ").expect("a command of the program"));
                    if arguments[0] == "calibrate" {
                        // For speed: one search finds what the usual number confirms.
                        arguments.extend(["--searches".to_owned(), "1".to_owned()]);
                    }
                    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
                    command.current_dir(folder.path()).env_remove("COLUMNS").args(&arguments);
                    let done = command.assert().success();
                    printed.push(String::from_utf8(done.get_output().stdout.clone()).expect("text"));
                }
            }
            "text" => {
                let first = printed.first().expect("a command stands before what it prints");
                let lines = |text: &str| text.lines().map(|l| l.trim_end().to_owned()).collect::<Vec<_>>();
                assert_eq!(lines(first.trim()), lines(block.text.trim()), "the first command prints\n{first}");
            }
            "python" => python(&block.text, folder.path()),
            _ => {
                if let Some(name) = block.before.strip_prefix("Save as `").and_then(|rest| rest.split('`').next()) {
                    fs::write(folder.path().join(name), &block.text).expect("a file");
                }
            }
        }
    }
    let all = unwrapped(&printed.concat());
    let quotes: Vec<&str> = readme.lines().filter_map(|l| l.strip_prefix("> ")).collect();
    assert_eq!(quotes.len(), 3);
    for quote in quotes {
        assert!(all.contains(&unwrapped(quote)), "the program no longer says: {quote}\nbut\n{all}");
    }
    what_was_written(folder.path());
}

/// Runs Python where it is with pandas; without, nothing is checked, and that is said.
fn python(text: &str, folder: &Path) {
    let run = |text: &str| std::process::Command::new("python3").current_dir(folder).args(["-c", text]).output();
    if !run("import pandas").is_ok_and(|done| done.status.success()) {
        eprintln!("NOT RUN: the readme's Python, for want of pandas");
        return;
    }
    let done = run(text).expect("Python");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let said = String::from_utf8_lossy(&done.stdout);
    assert!(said.contains("2100 rpm") && said.contains("lining peak [°C]"), "{said}");
}

/// The files that the readme promises, and the values with which the data were made.
fn what_was_written(folder: &Path) {
    for (out, files) in [
        ("out", ["record.json", "comparison.svg", "comparison.png"]),
        ("weekend", ["record.json", "report.html", "oil.svg"]),
        ("bench", ["calibration.json", "told.json", "evidence.png"]),
        ("season", ["calibration.json", "told.json", "evidence.png"]),
        ("errands", ["retraced.json", "cleaned.csv", "launches.png"]),
    ] {
        for file in files {
            assert!(folder.join(out).join(file).is_file(), "{out}/{file}");
        }
    }
    let bytes = fs::metadata(folder.join("out/record.json")).expect("written").len();
    assert!(bytes < 3_000_000, "the first command's record has {bytes} bytes");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect("written");
    // The made-up washers wear 2.6 times as fast as assumed, within the spread of four clutches.
    let season: slipsoak_engine::calibrate::Calibration =
        serde_json::from_str(&read("season/calibration.json")).expect("it reads back");
    let washer = &season.constants[0];
    assert!((washer.value / 2.6e-14).ln().abs() < 2.0 * washer.factor.ln(), "{washer:?}");
    assert!(washer.spread < washer.before_factor, "{washer:?}");
    // Made with five starts.
    let ride: serde_json::Value = serde_json::from_str(&read("errands/retraced.json")).expect("JSON");
    assert_eq!(ride["launches"].as_array().map(Vec::len), Some(5));
    // A cleaned ride can be followed as a plain trace.
    assert!(slipsoak::read::trace::read("cleaned.csv", &read("errands/cleaned.csv")).is_ok());
}

#[test]
fn the_readme_stays_short_enough_to_read() {
    assert!(readme().lines().count() <= 200, "{} lines", readme().lines().count());
}
