//! The page of a result, from a run or a saved result: valid, escaped, and consistent with the record.

use crate::common::{refusal, slipsoak};
use crate::html::faults;
use slipsoak_engine::fleet::first_worn_range;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Record, Warned};
use std::fs;
use std::path::Path;

const NASTY: &str = "<script>alert(1)</script>";

/// A script in which every name is an attack.
fn script(at: &Path, ending: &str) {
    let text = format!(
        "// {NASTY} & \"more\"\nfn rides(ride) {{ ride.idle(10.s); ride.launch(20.km_h); ride.hold(20.km_h, 60.s); ride.brake(1.5); }}\n\
         title(\"Which {NASTY}?\");\nlet cart = machine(\"example\").idling(\"governed\");\n\
         compare([cart.spring(1900.rpm).called(\"{NASTY}\"), cart.spring(1500.rpm).called(\"soft\")], duty(\"{NASTY}\", Fn(\"rides\")){ending}\n"
    );
    fs::write(at.join("attack & more.rhai"), text).expect("a script");
}

fn page(at: &Path, out: &str) -> String {
    fs::read_to_string(at.join(out).join("report.html")).expect("a page")
}

/// The answer's text without its markup.
fn answer(page: &str) -> String {
    let from = page.split("<h2 id=\"answer-heading\">").nth(1).expect("an answer");
    let part = from.split("</section>").next().expect("its end");
    let mut text = String::new();
    let mut inside = false;
    for c in part.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(if c == '\u{a0}' { ' ' } else { c }),
            _ => {}
        }
    }
    text
}

#[test]
fn the_page_of_a_study_is_valid_and_shows_an_attack_as_text() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    script(at, ");");
    slipsoak(at, &["run", "attack & more.rhai", "--out", "out", "--report", "--quiet"]).assert().success();
    let page = page(at, "out");
    let none: [String; 0] = [];
    assert_eq!(faults(&page), none);
    assert!(!page.contains("<script"));
    for words in [
        "<title>Which &lt;script&gt;alert(1)&lt;/script&gt;?</title>",
        "// &lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;more&quot;\nfn rides",
        "slipsoak run 'attack &amp; more.rhai' --out result --report",
        "end leakage 0.1/h",
    ] {
        assert!(page.contains(words), "{words}");
    }
    for figure in slipsoak_plots::Figure::of(slipsoak_engine::document::Kind::Record) {
        assert!(!page.contains(&format!("No figure “{}”", figure.name())), "{}", figure.name());
    }
    assert_eq!(
        page.matches("<figure ").count(),
        slipsoak_plots::Figure::of(slipsoak_engine::document::Kind::Record).count()
    );
    for heading in [
        "The answer",
        "Warnings",
        "Figures",
        "Results",
        "Ledgers",
        "What was assumed",
        "Cautions",
        "The script",
        "How to reproduce this",
    ] {
        assert!(page.contains(&format!(">{heading}</h2>")), "{heading}");
    }
}

#[test]
fn the_answer_says_what_the_record_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    script(at, ");");
    slipsoak(at, &["run", "attack & more.rhai", "--out", "out", "--report", "--quiet"]).assert().success();
    let record: Record =
        serde_json::from_slice(&fs::read(at.join("out/record.json")).expect("a record")).expect("a record");
    let said = answer(&page(at, "out"));
    let life = |k: usize| {
        let worn = record.runs[k].parts.iter().filter(|p| p.part != Part::Oil);
        let lives = worn.filter_map(|p| Some((p.life? / 3600.0, p.part)));
        lives.min_by(|a, b| a.0.total_cmp(&b.0)).expect("something wears")
    };
    // Two digits: 1234 h is given as 1200 h, thousands separated from 10 000 on.
    let hours = |h: f64| {
        let step = 10f64.powf(h.log10().floor() - 1.0);
        let whole = format!("{:.0}", (h / step).round() * step);
        if whole.len() > 4 { format!("{} {}", &whole[..whole.len() - 3], &whole[whole.len() - 3..]) } else { whole }
    };
    let (attack, soft) = (life(0), life(1));
    assert!(soft.0 > 1.1 * attack.0 && soft.1 == Part::Lining && attack.1 == Part::Washer, "{attack:?}, {soft:?}");
    // The washer's wear constant has a factor of uncertainty of 10, to which its life is in inverse proportion; other parts may end sooner.
    let run = &record.runs[0];
    let [low, high] = first_worn_range(run.running_lives(), run.lining_kind, &[]).expect("a range");
    assert!(low <= 360.1 * attack.0 && high <= 36_001.0 * attack.0 && high > 3600.0 * attack.0, "{low} to {high} s");
    let drags = record.runs[1].warnings.iter().any(|w| w.kind == Warned::Drag);
    assert!(drags, "a spring of 1500 rpm drags at the idle of 1700 rpm");
    for words in [
        // The longest-lived drags, and is not named without that.
        format!("Do not fit “soft” ({} h, but drags at idle)", hours(soft.0)),
        format!("({} to {} h, washer)", hours(low / 3600.0), hours(high / 3600.0)),
        "“&lt;script&gt;alert(1)&lt;/script&gt;” alone fits, and lasts about ".to_owned(),
        format!("{} h of running", hours(attack.0)),
        "Lives, oil apart, from 1.3 min of duty".to_owned(),
        "rest on assumed constants".to_owned(),
        "the washer's wear rate (÷ or × 10)".to_owned(),
        "never measured".to_owned(),
    ] {
        assert!(said.contains(&words), "no “{words}” in: {said}");
    }
}

#[test]
fn a_saved_record_alone_gives_the_same_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    script(at, ");");
    slipsoak(at, &["run", "attack & more.rhai", "--out", "out", "--report", "--quiet"]).assert().success();
    fs::remove_file(at.join("attack & more.rhai")).expect("gone");
    let ask = ["report", "out/record.json", "--out", "page.html"];
    slipsoak(at, &ask).assert().success();
    assert_eq!(fs::read_to_string(at.join("page.html")).expect("a page"), page(at, "out"));
    assert!(refusal(at, &ask, 2).contains("add --replace"));
    slipsoak(at, &[&ask[..], &["--replace"]].concat()).assert().success();
    assert!(refusal(at, &["report", "out/record.json", "--out", "nowhere/page.html"], 2).contains("is not a folder"));
    assert!(
        refusal(at, &["report", "out/report.html", "--out", "x.html"], 2).contains("this is what this program draws")
    );
    assert!(
        refusal(at, &["report", "missing.json", "--out", "x.html"], 2)
            .contains("missing.json cannot be read: there is no such file")
    );
    assert!(!at.join("x.html").exists());
    let left = fs::read_dir(at).expect("a folder").filter_map(Result::ok);
    assert_eq!(left.filter(|e| e.file_name().to_string_lossy().starts_with('.')).count(), 0);
}

#[test]
fn a_record_without_runs_or_a_question_still_gives_a_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    script(at, ");");
    slipsoak(at, &["run", "attack & more.rhai", "--out", "out", "--quiet", "--no-pictures"]).assert().success();
    let text = fs::read_to_string(at.join("out/record.json")).expect("a record");
    let mut record: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    record["head"]["title"] = "".into();
    record["runs"] = serde_json::json!([]);
    fs::write(at.join("bare.json"), record.to_string()).expect("a record");
    slipsoak(at, &["report", "bare.json", "--out", "bare.html"]).assert().success();
    let page = fs::read_to_string(at.join("bare.html")).expect("a page");
    let none: [String; 0] = [];
    assert_eq!(faults(&page), none);
    assert!(page.contains("<h1>attack &amp; more.rhai</h1>") && page.contains("there is nothing to draw"), "{page}");
}

#[test]
fn a_report_needs_an_existing_folder() {
    let folder = tempfile::tempdir().expect("a folder");
    script(folder.path(), ");");
    assert!(refusal(folder.path(), &["run", "attack & more.rhai", "--report"], 2).contains("--out"));
}

#[test]
fn the_page_of_a_fleet_is_valid_and_shows_an_attack_as_text() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    script(at, ".repeated(20.hours)); fleet(4, 3);");
    slipsoak(at, &["run", "attack & more.rhai", "--out", "out", "--report", "--quiet"]).assert().success();
    let made = page(at, "out");
    let none: [String; 0] = [];
    assert_eq!(faults(&made), none);
    assert!(!made.contains("<script"));
    let said = answer(&made);
    for words in
        ["None of the 4 clutches of each fleet", "The oil is set apart", "Bounds hold at 90 %", "nobody has measured"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
    for words in ["there is no B10 to give", "Seed: 3.", "oiling.leak", "<th scope=\"row\">soft</th>"] {
        assert!(made.contains(words), "{words}");
    }
    slipsoak(at, &["report", "out/fleet.json", "--out", "page.html"]).assert().success();
    assert_eq!(fs::read_to_string(at.join("page.html")).expect("a page"), made);
}
