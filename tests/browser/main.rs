//! The report in a real browser, opened from disk with the network off. Needs `chromium` and `pdftotext`, which
//! `.ci/run` installs; a plain `cargo test` skips these tests and says so.

mod copy;
mod paper;
mod screen;

use self::copy::Copy;
use self::screen::faults_of;
use slipsoak_engine::document::Kind;
use slipsoak_plots::Figure;
use std::fs;

/// The report of a shipped duty, made short.
fn report(duty: &str, settings: &[&str]) -> String {
    report_of(&format!("scripts/duty/{duty}.rhai"), settings)
}

fn report_of(script: &str, settings: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out");
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command.args(["run", script, "--report", "--no-pictures", "--quiet", "--out"]).arg(&out);
    for setting in settings {
        command.args(["--set", setting]);
    }
    command.assert().success();
    fs::read_to_string(out.join("report.html")).expect("a report")
}

/// Opens a duty's report as most readers do: no complaints, no faults on the screen, nothing cut on A4.
fn opens(duty: &str, settings: &[&str], figures: usize) -> Copy {
    let none: [String; 0] = [];
    let html = if duty.contains('/') { report_of(duty, settings) } else { report(duty, settings) };
    assert_eq!(html.matches("<figure id=").count(), figures, "{duty}");
    let copy = Copy::of(&html);
    assert_eq!(copy.complaints(), none, "{duty}");
    assert_eq!(copy.faults(), none, "{duty}");
    assert_eq!(copy.printed("A4"), none, "{duty}");
    copy
}

/// As `opens`, also on a dark screen, in a narrow window and on Letter.
fn stands(duty: &str, settings: &[&str], figures: usize) {
    let none: [String; 0] = [];
    let copy = opens(duty, settings, figures);
    let [wide, dark] = copy.seen_at([1280, 390], &["--blink-settings=preferredColorScheme=0"]);
    assert_eq!((&wide["dark"], &dark["dark"]), (&true.into(), &true.into()));
    assert_eq!(faults_of(&wide), none, "{duty}, dark");
    let [narrow, middle] = copy.seen_at([390, 768], &[]);
    for (seen, window) in [(dark, "390 px, dark"), (narrow, "390 px"), (middle, "768 px")] {
        // A figure that has no narrow drawing is wider than the page there and scrolls in its own frame.
        let faults = faults_of(&seen);
        assert_eq!(faults.iter().find(|f| !f.contains("reaches out")), None, "{duty}, {window}");
    }
    assert_eq!(copy.printed("letter"), none, "{duty}");
}

/// A shop reads a page in four screens and six sheets, and pins up one.
#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn what_a_shop_reads_is_short() {
    for (duty, settings) in [("orchard", ["minutes=40"].as_slice()), ("weekend", &["rounds=1"])] {
        let html = report(duty, settings);
        assert!(html.len() <= 700_000, "{duty}: {} bytes", html.len());
        let copy = Copy::of(&html);
        let screens = copy.seen()["screens"].as_f64().expect("a number");
        assert!((1.0..=4.0).contains(&screens), "{duty}: {screens} screens");
        let pages = ["sheet", "open", "everything"].map(|chosen| copy.pages(chosen));
        assert!(pages[0] == 1 && pages[1] <= 6 && pages[2] > 6, "{duty}: {pages:?} pages");
    }
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn what_a_shop_reads_of_a_choice_is_short() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out");
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command
        .args(["choose", "orchard-cart", "--use", "rental", "--report", "--no-pictures", "--quiet", "--out"])
        .arg(&out);
    command.assert().success();
    let copy = Copy::of(&fs::read_to_string(out.join("report.html")).expect("a report"));
    let screens = copy.seen()["screens"].as_f64().expect("a number");
    assert!((1.0..=4.0).contains(&screens), "{screens} screens");
    assert!(copy.pages("open") <= 6, "{} pages", copy.pages("open"));
}

fn every_figure() -> usize {
    slipsoak_plots::Figure::of(slipsoak_engine::document::Kind::Record).count()
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn orchard() {
    stands("orchard", &["minutes=2"], every_figure());
}

/// As many as a designer varies in a week.
#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn fifteen_springs() {
    stands("tests/compared/fifteen-springs.rhai", &["minutes=2"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn four_springs_under_three_duties() {
    stands("tests/compared/springs-and-duties.rhai", &["minutes=2"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn orchard_life() {
    stands("orchard-life", &["trees=2", "hours=200"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn campground() {
    stands("campground", &["laps=1", "hires=1", "days=1"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn weekend() {
    stands("weekend", &["rounds=1", "weekends=1"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn town_trace() {
    stands("town-trace", &["laps=1"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn orchard_fleet() {
    // Nothing fails so soon: no gain is known.
    stands("orchard-fleet", &["clutches=2", "hours=2"], Figure::of(Kind::Fleet).count() - 1);
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn campground_fleet() {
    // Nothing fails so soon: no gain is known.
    opens("campground-fleet", &["clutches=2", "laps=1", "hours=2000"], Figure::of(Kind::Fleet).count() - 1);
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn habits_fleet() {
    // Nothing fails so soon: no gain is known.
    opens("habits-fleet", &["clutches=2", "years=1"], Figure::of(Kind::Fleet).count() - 1);
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn orchard_sweep() {
    opens("orchard-sweep", &["minutes=2"], Figure::of(Kind::Sweep).count());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn shop_counter() {
    // One figure for each question.
    opens("shop-counter", &[], 3);
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn trail_wear() {
    opens("trail-wear", &["laps=1", "hours=200"], every_figure());
}

#[test]
#[ignore = "needs chromium and pdftotext; .ci/run runs it"]
fn the_checks_find_every_fault() {
    let html = report("town-trace", &["laps=1"]);
    let open = html.replacen("default-src 'none'", "default-src * 'unsafe-inline'", 1);
    let broken = |html: &str, from: &str, to: &str| {
        let changed = html.replace(from, to);
        assert_ne!(changed, html, "{from} is not in the page");
        Copy::of(&changed)
    };
    let far = "<text x=\"9400\" y=\"400\" font-size=\"120\">words that go on beyond the edge</text></svg>";
    // Each page has several faults that do not touch each other.
    for faults in [
        [
            ("</main>", "<img alt=\"none\" src=\"missing.png\"></main>", "missing.png"),
            ("</main>", "<script>console.error('a console error')</script></main>", "a console error"),
            ("<figure id=\"figure-2\"", "<figure hidden id=\"figure-2\"", "figure 2 is not seen"),
            ("aria-label=\"Contents\"", "", "without a name: <nav"),
            ("</main>", "<h4>too deep</h4></main>", "heading after level 2"),
        ]
        .as_slice(),
        &[
            ("</svg>", far, "outside it: words that go on"),
            ("</main>", "</main><p>astray</p>", "outside of every landmark: astray"),
            ("</main>", "<i id=\"answer\"></i></main>", "an id twice: answer"),
            ("tabindex=\"0\"", "", "scrolls, but no key reaches it"),
            ("body:has(#scale-celsius:checked)", "body:has(#scale-none:checked)", "the switch to celsius"),
        ],
        &[
            ("</main>", "<div style=\"width:3000px\">wide</div></main>", "wider than the window"),
            ("font-size=\"125\"", "font-size=\"250\"", "one on the other"),
            ("body:has(#show-1:not(:checked))", "body:has(#show-none)", "box 1 leaves"),
            ("<input type=\"radio\"", "<input disabled type=\"radio\"", "no key reaches <input"),
        ],
        &[
            ("min-width: 40rem", "min-width: 200rem", "reaches out of the page"),
            ("<g class=\"of-1\">", "<g class=\"with-1\">", "box 1 hides nothing in figures"),
            ("words-1,#BE5400", "words-1,#E9C9A9", "has words of"),
            ("--quiet: #565c64", "--quiet: #8f959d", "faint"),
        ],
        &[("<svg", "<svg pointer-events=\"none\"", "say to a pointer what they are")],
    ] {
        let html = faults.iter().fold(open.clone(), |html, (from, to, _)| broken(&html, from, to).html);
        let found = Copy::of(&html).faults();
        for (from, to, fault) in faults {
            assert!(found.iter().any(|f| f.contains(fault)), "{from} → {to}: {found:?}");
        }
    }
    let refused = broken(&html, "</main>", "<script>alert(1)</script></main>").complaints();
    assert!(refused.iter().any(|c| c.contains("Content Security Policy")), "the policy lets scripts in: {refused:?}");
    let cut = broken(&html, "max-height: 215mm", "height: 400mm").printed("A4");
    assert!(cut.iter().any(|f| f.contains("runs from page")), "{cut:?}");
    let wide = broken(&html, ".wide, pre { overflow: visible }", ".wide { overflow: visible } table { width: 60rem }");
    let wide = wide.printed("A4");
    assert!(wide.iter().any(|f| f.contains("shrunk")), "{wide:?}");
    let beyond = broken(&html, "h1 { font-size", "h1 { margin-left: -3cm !important; font-size").printed("A4");
    assert!(beyond.iter().any(|f| f.contains("beyond the margin")), "{beyond:?}");
}
