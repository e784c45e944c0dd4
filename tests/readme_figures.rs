//! The readme's figures are up to date.
//!
//! After an intended change: `SLIPSOAK_FIGURES=write cargo test --test program readme_figures`, and look at them.

use crate::learned::made;

/// Duty, figure and width of each, px.
const SHOWN: [(&str, &str, &str); 6] = [
    ("orchard", "temperatures-compared", "960"),
    ("orchard", "life-compared", "960"),
    ("campground", "cutaway", "960"),
    ("town-trace", "launch", "960"),
    ("weekend", "ride", "960"),
    ("weekend", "oil", "960"),
];

fn slipsoak(arguments: &[&str]) {
    assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak")).args(arguments).assert().success();
}

/// The figure of a duty as currently drawn.
fn drawn(duty: &str, figure: &str, width: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("a path").to_owned();
    let script = format!("scripts/duty/{duty}.rhai");
    slipsoak(&["run", &script, "--no-pictures", "--quiet", "--out", &path("run")]);
    let record = path("run/record.json");
    slipsoak(&["draw", &record, "--figure", figure, "--width", width, "--out", &path("drawn")]);
    std::fs::read_to_string(path(&format!("drawn/{figure}.svg"))).expect("a figure")
}

/// Data against the fit of the trail carts as currently drawn, with all of their data.
fn learned() -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let drawn = folder.path().join("drawn");
    let (told, out) = (made("told.json"), drawn.to_str().expect("a path"));
    let told = told.to_str().expect("a path");
    slipsoak(&["draw", told, "--figure", "evidence", "--width", "960", "--out", out]);
    std::fs::read_to_string(drawn.join("evidence.svg")).expect("a figure")
}

/// A drawing as alternating words and numbers.
fn pieces(svg: &str) -> Vec<(String, Option<f64>)> {
    let mut all: Vec<(String, Option<f64>)> = vec![];
    for word in svg.split_inclusive([' ', ',', '"', '<', '>', '\n']) {
        let (bare, end) = word.split_at(word.len() - usize::from(word.ends_with([' ', ',', '"', '<', '>', '\n'])));
        match bare.parse::<f64>() {
            Ok(number) => all.push((end.to_owned(), Some(number))),
            Err(_) => all.push((word.to_owned(), None)),
        }
    }
    all
}

/// Fails if the readme does not show a figure, or not as currently drawn.
fn shown(name: &str, now: &str) {
    let readme = std::fs::read_to_string("README.md").expect("the readme");
    let name = format!("plots/figures/{name}.svg");
    assert!(readme.contains(&format!("]({name})")), "the readme does not show {name}");
    if std::env::var("SLIPSOAK_FIGURES").is_ok_and(|word| word == "write") {
        std::fs::write(&name, now).expect("a figure");
    }
    let kept = std::fs::read_to_string(&name).expect("a figure");
    assert!(kept.len() < 150_000, "{name} has {} bytes", kept.len());
    let (now, kept) = (pieces(now), pieces(&kept));
    assert_eq!(now.len(), kept.len(), "{name} is not what is drawn today");
    for (is, was) in now.iter().zip(&kept) {
        // Positions are in tenths of a px: the last digits of another system may move one; a change moves many by more.
        let near = is.1.zip(was.1).is_some_and(|(is, was)| (is - was).abs() <= 5.0);
        assert!(is == was || (is.0 == was.0 && near), "{name} is not what is drawn today: {is:?}, {was:?}");
    }
}

#[test]
fn the_readmes_figures_are_up_to_date() {
    for (duty, figure, width) in SHOWN {
        shown(&format!("{duty}-{figure}"), &drawn(duty, figure, width));
    }
}

#[test]
fn the_readmes_evidence_is_up_to_date() {
    shown("trail-evidence", &learned());
}
