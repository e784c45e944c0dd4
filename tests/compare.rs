//! Two saved results beside each other.

use crate::common::{refusal, slipsoak};
use slipsoak_plots::words::number::figures;
use std::fs;
use std::path::Path;

/// The words of what is printed.
fn said(at: &Path, arguments: &[&str]) -> String {
    let output = slipsoak(at, arguments).assert().success().get_output().stdout.clone();
    let text = String::from_utf8(output).expect("text").replace('\u{a0}', " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn two_results_of_one_kind_are_compared_answer_first_and_others_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let ride = "duty(\"lap\", |r| { r.idle(5.s); r.launch(20.km_h); r.hold(20.km_h, 20.s); r.brake(1.5); })";
    for (name, spring) in [("a", 1900), ("b", 2100)] {
        fs::write(at.join("lap.rhai"), format!("compare(machine(\"example\").spring({spring}.rpm), {ride});\n"))
            .unwrap();
        slipsoak(at, &["run", "lap.rhai", "--out", name, "--no-pictures"]).assert().success();
        let stock =
            ["choose", "--idle", "1700 rpm", "--springs", &spring.to_string(), "--out", &format!("choice-{name}")];
        slipsoak(at, &[&stock[..], &["--no-pictures"]].concat()).assert().success();
    }
    let text = said(at, &["compare", "a", "b/record.json"]);
    // The lives as the two results themselves say them.
    let lives = ["a", "b"].map(|name| {
        let record: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(at.join(name).join("record.json")).unwrap()).unwrap();
        let parts = record["runs"][0]["parts"].as_array().unwrap().clone();
        let worn = parts.iter().filter(|part| part["name"] != "oil").filter_map(|part| part["life"].as_f64());
        worn.fold(f64::INFINITY, f64::min)
    });
    let ratio = lives[1] / lives[0];
    assert!(
        ratio < 1.0 && text.contains(&format!("lasts {} times as long in the second", figures(ratio, 2))),
        "{ratio}: {text}"
    );
    let order = ["times as long", "The first says:", "The second says:", "clutch.engagement", "slip energy, kJ"];
    let places: Vec<usize> = order.iter().map(|words| text.find(words).expect(words)).collect();
    assert!(places.is_sorted(), "{places:?}: {text}");
    assert!(text.contains("1900 rpm") && text.contains("2100 rpm"), "{text}");
    assert!(said(at, &["compare", "a", "a"]).contains("Nothing differs"));
    let choices = said(at, &["compare", "choice-a", "choice-b", "--out", "c.html"]);
    assert!(choices.contains("The second says: Fit the 2100 rpm spring"), "{choices}");
    let page = fs::read_to_string(at.join("c.html")).unwrap();
    assert!(page.contains("What differs in the results"));
    // No spring stands in both.
    assert!(choices.contains("no figure") && !page.contains("<svg"), "{choices}");
    let message = refusal(at, &["compare", "a", "choice-b"], 2);
    assert!(
        message.contains("a is a result of the kind `record`")
            && message.contains("choice-b is a result of the kind `choice`"),
        "{message}"
    );
    let message = refusal(at, &["compare", "a", "b", "--out", "c.html"], 2);
    assert!(message.contains("c.html exists"), "{message}");
}

/// Two machines of a script, of which the second result has others at the same places.
#[test]
fn machines_that_a_changed_setting_names_otherwise_stand_in_one_row_with_the_setting_and_both_values() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let ride = "duty(\"lap\", |r| { r.idle(5.s); r.launch(20.km_h); r.hold(20.km_h, 20.s); r.brake(1.5); })";
    let cart = "machine(\"example\").having(\"vehicle.ratio\"";
    fs::write(
        at.join("lap.rhai"),
        format!("let ratio = param(\"ratio\", 6.0);\ncompare([{cart}, ratio), {cart}, ratio + 2.0)], {ride});\n"),
    )
    .unwrap();
    for ratio in ["6", "5"] {
        let set = format!("ratio={ratio}");
        slipsoak(at, &["run", "lap.rhai", "--set", &set, "--out", ratio, "--no-pictures"]).assert().success();
    }
    let text = said(at, &["compare", "6", "5", "--out", "c.html"]);
    assert!(text.contains("“gear ratio 6 / gear ratio 5” lasts 0."), "{text}");
    let page = fs::read_to_string(at.join("c.html")).unwrap();
    for both in ["gear ratio (vehicle.ratio)", "gear ratio 6 / gear ratio 5", "gear ratio 8 / gear ratio 7"] {
        assert!(page.contains(both), "{both}: {text}");
    }
    // No row has a value on one side alone.
    let found = text.split_once("What differs in the results").expect("a table").1;
    assert!(!found.contains(" – "), "{found}");
}
