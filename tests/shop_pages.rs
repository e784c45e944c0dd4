//! Answers to the shop's questions as text, JSON, figures and pages, from a command, a script or a saved file.

use crate::common::kept_folder;
use crate::html::faults;
use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use unicode_width::UnicodeWidthStr;

const QUESTIONS: [(&str, &str); 3] = [("choose", "choice"), ("gaps", "gaps"), ("oiling", "oiling")];
const NASTY: &str = "<script>alert(1)</script>";

fn said(at: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    let made = command.current_dir(at).args(arguments).assert().success();
    String::from_utf8(made.get_output().stdout.clone()).expect("text")
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// A cart whose name is an attack.
fn cart(at: &Path) {
    let text = read(Path::new("scripts/parts/orchard-cart.json"));
    let mut cart: Value = serde_json::from_str(&text).expect("JSON");
    cart["name"] = NASTY.into();
    fs::write(at.join("a cart.json"), cart.to_string()).expect("a cart");
}

#[test]
fn answers_are_printed_in_eighty_columns_with_units_in_their_heads() {
    let folder = tempfile::tempdir().expect("a folder");
    cart(folder.path());
    let units = [&["rpm", "km/h", "kJ", "°C (°F)"][..], &["mm", "thou", "%"], &["%", "mg"]];
    for ((question, _), units) in QUESTIONS.iter().zip(units) {
        let text = said(folder.path(), &[question, "a cart.json", "--use", "hard", "--details"]);
        let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
        assert!(wide.is_empty(), "{question}: {wide:#?}");
        let lines: Vec<&str> = text.lines().collect();
        // The line above a rule contains the units of a table's columns.
        let heads = lines.windows(2).filter(|pair| pair[1].starts_with("-----")).map(|pair| pair[0]);
        let heads = heads.collect::<Vec<_>>().join("\n");
        for unit in units {
            assert!(heads.contains(unit), "{question}: no {unit} in\n{heads}");
        }
        assert!(
            !text.contains('\u{1b}') && text.contains("\nWhat was assumed\n") && text.contains("\nCautions\n"),
            "{question}"
        );
    }
}

/// A folder with the cart and, called by its question, each answer on it.
static ANSWERED: LazyLock<PathBuf> = LazyLock::new(|| {
    let at = kept_folder("answered");
    cart(&at);
    for (question, _) in QUESTIONS {
        let ask = [question, "a cart.json", "--set", "motor.idle=1750 rpm", "--use", "moderate"];
        let short: &[&str] = if question == "oiling" { &["--riding", "10 min"] } else { &[] };
        said(&at, &[&ask[..], short, &["--out", question, "--report"]].concat());
    }
    at
});

#[test]
fn every_answer_is_a_page_that_shows_its_command() {
    let at = &*ANSWERED;
    for (question, answer) in QUESTIONS {
        let saved = at.join(question).join(format!("{answer}.json"));
        let page = read(&at.join(question).join("report.html"));
        let none: [String; 0] = [];
        assert_eq!(faults(&page), none, "{question}");
        assert!(
            !page.contains("<script") && !page.contains("No figure") && page.contains("&lt;script&gt;"),
            "{question}"
        );
        assert_eq!(page.matches("<figure ").count(), 1, "{question}");
        for words in ["What was assumed", "Cautions", "How to reproduce this", "never a safety certificate"] {
            assert!(page.contains(words), "{question}: {words}");
        }
        let command = format!("slipsoak {question} 'a cart.json' --set 'motor.idle=1750 rpm'");
        assert!(page.contains(&command), "{question}: no `{command}`");
        // The saved answer alone gives the same page, and its stored command repeats it.
        said(at, &["report", saved.to_str().expect("a path"), "--out", "again.html", "--replace"]);
        assert!(read(&at.join("again.html")) == page, "{question}");
        let value: Value = serde_json::from_str(&read(&saved)).expect("JSON");
        let again: Vec<&str> =
            value["head"]["command"].as_array().expect("words").iter().skip(1).filter_map(Value::as_str).collect();
        assert!(said(at, &[&again[..], &["--json"]].concat()) == read(&saved), "{question}: {again:?}");
    }
}

#[test]
fn figures_of_answers_accept_a_background_a_width_a_title_and_a_caption() {
    let at = &*ANSWERED;
    for (question, answer) in QUESTIONS {
        let saved = format!("{question}/{answer}.json");
        let out = format!("{question}-dark");
        let look = ["--dark", "--width", "800", "--title", "As asked", "--caption", "By the shop"];
        said(at, &[&["draw", &saved, "--out", &out][..], &look].concat());
        let svg = read(&at.join(out).join(format!("{answer}.svg")));
        // The background of a dark figure.
        assert!(svg.contains("fill=\"#171A1E\"") && !svg.contains("fill=\"#FFFFFF\""), "{question}");
        assert!(svg.contains(" width=\"800\" ") && svg.contains("<title>As asked</title>"), "{question}");
        assert!(svg.contains("By the shop"), "{question}");
    }
}

#[test]
fn a_script_that_only_asks_prints_and_saves_its_answers_and_puts_them_on_one_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/shop-counter.rhai");
    let run = ["run", script.to_str().expect("a path"), "--set", "minutes=10", "--out", "out"];
    let printed = said(folder.path(), &[&run[..], &["--json", "--report"]].concat());
    let out = folder.path().join("out");
    let lines: Vec<&str> = printed.lines().collect();
    assert_eq!(lines.len(), 3);
    for (line, (_, answer)) in lines.iter().zip(QUESTIONS) {
        assert!(read(&out.join(format!("{answer}.json"))).trim_end() == *line, "{answer}");
        let value: Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(value["head"]["command"], serde_json::json!(["slipsoak", "run", run[1], "--set", "minutes=10"]));
        assert_eq!(value["head"]["script_text"], Value::from(read(&script)));
    }
    assert!(!out.join("record.json").exists());
    let page = read(&out.join("report.html"));
    let none: [String; 0] = [];
    assert_eq!(faults(&page), none);
    assert_eq!(page.matches("<figure ").count(), 3);
    for once in [">Cautions</h2>", ">The script</h2>", ">How to reproduce this</h2>", ": the machine</h2>", "Seed: 1."]
    {
        assert_eq!(page.matches(once).count(), 1, "{once}");
    }
    for words in [
        "Which spring for the",
        "Does the cover clear the drum of the",
        "When and how should the bushing of the",
        "<h1>Over the counter",
    ] {
        assert!(page.contains(words), "{words}");
    }
}

#[test]
fn a_script_that_runs_and_asks_prints_the_record_first_and_puts_both_on_one_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = "title(\"Rest\");\nlet cart = machine(\"example\");\ncompare(cart, duty(\"rest\", |ride| ride.idle(30.s)));\ngaps(cart, \"moderate\");\n";
    fs::write(folder.path().join("both.rhai"), text).expect("a script");
    let printed = said(folder.path(), &["run", "both.rhai", "--json", "--out", "out", "--report"]);
    let lines: Vec<&str> = printed.lines().collect();
    assert_eq!(lines.len(), 2);
    let record: slipsoak_engine::record::Record = serde_json::from_str(lines[0]).expect("a record");
    assert_eq!((record.runs.len(), record.head.seeds), (1, vec![1]));
    serde_json::from_str::<slipsoak_engine::stack_up::Gaps>(lines[1]).expect("gaps");
    let page = read(&folder.path().join("out/report.html"));
    let none: [String; 0] = [];
    assert_eq!(faults(&page), none);
    assert_eq!(
        page.matches("<figure ").count(),
        // All figures of a record but the two that compare several runs, and that of the gaps.
        slipsoak_plots::Figure::of(slipsoak_engine::document::Kind::Record).count() - 2 + 1
    );
    for once in [">Ledgers</h2>", ">Cautions</h2>", ">The script</h2>", ": the stack</h2>"] {
        assert_eq!(page.matches(once).count(), 1, "{once}");
    }
}
