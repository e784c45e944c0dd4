//! The report in a real browser, opened from disk with the network off. Needs `chromium` and `pdftotext`, which
//! `.ci/run` installs; a plain `cargo test` skips these tests and says so.

use serde_json::Value;
use slipsoak_engine::document::Kind;
use slipsoak_plots::Figure;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const FLAGS: &[&str] = &[
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-logging=stderr",
    "--window-size=1280,900",
    // The network is off: no name server, and a proxy that does not answer.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--proxy-server=127.0.0.1:9",
];

/// Output of one visit of the browser: the document and the log.
fn visit(page: &Path, flags: &[&str]) -> (String, String) {
    let own = tempfile::tempdir().expect("a folder");
    let made = Command::new("chromium")
        .args(FLAGS)
        .arg(format!("--user-data-dir={}", own.path().display()))
        .args(flags)
        .arg(format!("file://{}", page.display()))
        .output()
        .expect("chromium is installed");
    (String::from_utf8_lossy(&made.stdout).into_owned(), String::from_utf8_lossy(&made.stderr).into_owned())
}

/// A page under test in a folder of its own.
struct Copy {
    folder: tempfile::TempDir,
    html: String,
}

impl Copy {
    fn of(html: &str) -> Self {
        Self { folder: tempfile::tempdir().expect("a folder"), html: html.to_owned() }
    }

    fn write(&self, name: &str, html: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, html).expect("a copy");
        path
    }

    /// Complaints of the browser itself when it opens the page unchanged.
    fn complaints(&self) -> Vec<String> {
        let (_, log) = visit(&self.write("page.html", &self.html), &["--dump-dom"]);
        log.lines().filter(|l| l.contains("CONSOLE")).map(str::to_owned).collect()
    }

    /// The page with the probe.
    fn probed(&self) -> String {
        let allowed = self.html.replacen("default-src 'none'", "script-src 'unsafe-inline'; default-src 'none'", 1);
        let probe = format!("<head><script>{}</script>", include_str!("probe.js"));
        allowed.replacen("<head>", &probe, 1)
    }

    /// Findings of the probe.
    fn seen(&self, flags: &[&str]) -> Value {
        Self::found(&self.write("probed.html", &self.probed()), flags)
    }

    /// Findings of the probe in a frame of this width, px: a window is never narrower than 500 px.
    fn seen_at(&self, width: u32, flags: &[&str]) -> Value {
        let inside = self.probed().replace('&', "&amp;").replace('"', "&quot;");
        let frame = format!(
            "<!DOCTYPE html><meta charset=\"utf-8\"><body style=\"margin:0\"><iframe style=\"border:0;width:{width}px;height:900px\" srcdoc=\"{inside}\"></iframe>"
        );
        Self::found(&self.write("framed.html", &frame), flags)
    }

    fn found(page: &Path, flags: &[&str]) -> Value {
        let (dom, log) = visit(page, &[flags, &["--dump-dom"]].concat());
        let json = dom.split("<pre id=\"seen\">").nth(1).and_then(|rest| rest.split("</pre>").next());
        let json = json.unwrap_or_else(|| panic!("the probe left nothing: {log}"));
        let plain = json.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
        serde_json::from_str(&plain).expect("JSON")
    }

    /// All faults on a screen.
    fn faults(&self) -> Vec<String> {
        Self::faults_of(&self.seen(&[]))
    }

    fn faults_of(seen: &Value) -> Vec<String> {
        let texts = |value: &Value| -> Vec<String> {
            value.as_array().expect("a list").iter().map(|v| v.as_str().unwrap_or_default().to_owned()).collect()
        };
        let mut faults = texts(&seen["errors"]);
        faults.extend(texts(&seen["access"]));
        faults.extend(texts(&seen["requests"]).iter().map(|r| format!("it asks for {r}")));
        faults.extend(texts(&seen["unreachable"]).iter().map(|e| format!("no key reaches {e}")));
        if seen["wider"].as_f64().expect("px") > 0.0 {
            faults.push(format!("the page is wider than the window by {} px", seen["wider"]));
        }
        let faintest = seen["faintest"]["ratio"].as_f64().expect("a ratio");
        // WCAG 2.2, 1.4.3: text 4.5 to 1.
        if faintest < 4.5 {
            faults.push(format!("faint, {faintest:.2} to 1: {}", seen["faintest"]["text"]));
        }
        for (k, figure) in seen["figures"].as_array().expect("figures").iter().enumerate() {
            let name = format!("figure {}", k + 1);
            if figure["visible"] != true {
                faults.push(format!("{name} is not seen"));
            }
            if figure["inside"] != true {
                faults.push(format!("{name} reaches out of the page"));
            }
            if figure["texts"].as_u64().unwrap_or(0) < 3 {
                faults.push(format!("{name} has no words"));
            }
            faults.extend(texts(&figure["outside"]).iter().map(|t| format!("{name}: outside it: {t}")));
            faults.extend(texts(&figure["crossing"]).iter().map(|t| format!("{name}: one on the other: {t}")));
            if figure["faint"].as_f64().is_none_or(|ratio| ratio < 4.5) {
                faults.push(format!("{name} has words of {} to 1: {}", figure["faint"], figure["faintest"]));
            }
        }
        for (k, figure) in seen["hovers"].as_array().expect("figures").iter().enumerate() {
            let [said, of] = ["said", "of"].map(|name| figure[name].as_u64().unwrap_or(0));
            // A mark may lie wholly below a guide or a frame, which says nothing; where nothing fails a fleet has no marks.
            if 4 * said < 3 * of {
                faults.push(format!("figure {}: {said} of {of} marks say to a pointer what they are", k + 1));
            }
        }
        faults.extend(Self::dead_switches(&seen["switches"]));
        faults
    }

    fn dead_switches(switches: &Value) -> Vec<String> {
        let mut faults = vec![];
        let scales = switches["scales"].as_object().expect("scales");
        for (name, c, f) in [("celsius", true, false), ("fahrenheit", false, true), ("both", true, true)] {
            if let Some(state) = scales.get(name)
                && ((state["c"] != 0) != c || (state["f"] != 0) != f)
            {
                faults.push(format!("the switch to {name} leaves {state}"));
            }
        }
        for (k, state) in switches["hidden"].as_array().expect("boxes").iter().enumerate() {
            if state["drawn"] == 0 {
                faults.push(format!("box {k} hides nothing in figures"));
            }
            if state["before"] == 0 || state["after"] != 0 || state["again"] != state["before"] {
                faults.push(format!("box {k} leaves {state}"));
            }
        }
        faults
    }

    /// Number of A4 pages if that is chosen to be printed.
    fn pages(&self, chosen: &str) -> usize {
        let paper = self.folder.path().join("pages.pdf");
        let html = self.html.replacen(" id=\"print-open\" checked", " id=\"print-open\"", 1);
        let html = html.replacen(&format!(" id=\"print-{chosen}\""), &format!(" id=\"print-{chosen}\" checked"), 1);
        let html = html.replacen("<head>", "<head><style>@page { size: A4 }</style>", 1);
        visit(
            &self.write("pages.html", &html),
            &["--no-pdf-header-footer", &format!("--print-to-pdf={}", paper.display())],
        );
        let boxes =
            Command::new("pdftotext").arg("-bbox").arg(&paper).arg("-").output().expect("pdftotext is installed");
        String::from_utf8_lossy(&boxes.stdout).matches("<page ").count()
    }

    /// All faults on paper of a size.
    fn printed(&self, size: &str) -> Vec<String> {
        let corner = |end: &str, k: usize, side: &str| {
            format!("<span style=\"position:absolute;left:0;{side}:0;font-size:5px\">FIGURE{end}{k}X</span>")
        };
        let mut html = self.html.replacen("<head>", &format!("<head><style>@page {{ size: {size} }}</style>"), 1);
        // Two words 400 px apart: 300 pt, unless something too wide makes the browser shrink the whole page.
        let apart = [("SCALEFROM", 0), ("SCALETO", 400)]
            .map(|(word, at)| format!("<span style=\"position:absolute;font-size:5px;left:{at}px\">{word}</span>"));
        html = html.replacen("<body>", &format!("<body style=\"position:relative\">{}", apart.concat()), 1);
        // A reader who wants everything on paper.
        html = html.replacen(" id=\"print-open\" checked", " id=\"print-open\"", 1);
        html = html.replacen(" id=\"print-everything\"", " id=\"print-everything\" checked", 1);
        let figures = html.matches("<figure id=").count();
        for k in 1..=figures {
            let open = format!("<figure id=\"figure-{k}\">");
            let marked = format!("<figure style=\"position:relative\" id=\"figure-{k}\">{}", corner("TOP", k, "top"));
            html = html.replacen(&open, &marked, 1);
            let at = html.find(&marked).expect("the figure");
            let end = at + html[at..].find("</figure>").expect("its end");
            html.insert_str(end, &corner("END", k, "bottom"));
        }
        let paper = self.folder.path().join("page.pdf");
        visit(
            &self.write("marked.html", &html),
            &["--no-pdf-header-footer", &format!("--print-to-pdf={}", paper.display())],
        );
        let boxes =
            Command::new("pdftotext").arg("-bbox").arg(&paper).arg("-").output().expect("pdftotext is installed");
        let boxes = String::from_utf8_lossy(&boxes.stdout).into_owned();
        let number = |line: &str, name: &str| -> f64 {
            let value = line.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next());
            value.and_then(|v| v.parse().ok()).unwrap_or(f64::NAN)
        };
        let mut faults = vec![];
        let (mut page, mut width, mut tops, mut ends) = (0, 0.0, vec![0; figures + 1], vec![0; figures + 1]);
        for line in boxes.lines() {
            if line.contains("<page ") {
                page += 1;
                width = number(line, "width");
                // A4 is 595 pt wide, Letter 612: the requested size was printed.
                let wanted = if size == "A4" { 595.0 } else { 612.0 };
                if (width - wanted).abs() > 1.0 {
                    faults.push(format!("page {page} is {width} pt wide"));
                }
            }
            // The margins are 14 mm = 39.7 pt; the browser cuts off text that extends into them, even within a letter.
            if line.contains("<word ") && !(number(line, "xMin") > 39.0 && number(line, "xMax") < width - 39.0) {
                faults.push(format!("page {page}: beyond the margin: {line}"));
            }
            for k in 1..=figures {
                for (end, found) in [("TOP", &mut tops), ("END", &mut ends)] {
                    if line.contains(&format!("FIGURE{end}{k}X")) {
                        found[k] = page;
                    }
                }
            }
        }
        let left = |word: &str| {
            let line = boxes.lines().find(|l| l.contains(&format!(">{word}<")));
            line.map_or(f64::NAN, |l| number(l, "xMin"))
        };
        let apart = left("SCALETO") - left("SCALEFROM");
        if !((apart - 300.0).abs() < 1.0) {
            faults.push(format!("something is too wide: the page is shrunk to {:.2}", apart / 300.0));
        }
        for k in 1..=figures {
            if tops[k] == 0 || tops[k] != ends[k] {
                faults.push(format!("figure {k} runs from page {} to page {}", tops[k], ends[k]));
            }
        }
        faults
    }
}

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
    let dark = ["--blink-settings=preferredColorScheme=0"];
    let seen = copy.seen(&dark);
    assert_eq!(seen["dark"], true);
    assert_eq!(Copy::faults_of(&seen), none, "{duty}, dark");
    for (width, flags) in [(390, [].as_slice()), (390, &dark), (768, &[])] {
        // A figure that has no narrow drawing is wider than the page there and scrolls in its own frame.
        let faults = Copy::faults_of(&copy.seen_at(width, flags));
        assert_eq!(faults.iter().find(|f| !f.contains("reaches out")), None, "{duty}, {width} px");
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
        let screens = copy.seen(&[])["screens"].as_f64().expect("a number");
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
    let screens = copy.seen(&[])["screens"].as_f64().expect("a number");
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
    for (from, to, fault) in [
        ("</svg>", far, "outside it: words that go on"),
        ("</main>", "<img alt=\"none\" src=\"missing.png\"></main>", "missing.png"),
        ("</main>", "<script>console.error('a console error')</script></main>", "a console error"),
        ("</main>", "<div style=\"width:3000px\">wide</div></main>", "wider than the window"),
        ("<figure id=\"figure-2\"", "<figure hidden id=\"figure-2\"", "figure 2 is not seen"),
        ("min-width: 40rem", "min-width: 200rem", "reaches out of the page"),
        ("body:has(#scale-celsius:checked)", "body:has(#scale-none:checked)", "the switch to celsius"),
        ("body:has(#show-1:not(:checked))", "body:has(#show-none)", "box 1"),
        ("<g class=\"of-1\">", "<g class=\"with-1\">", "box 1 hides nothing in figures"),
        ("font-size=\"125\"", "font-size=\"250\"", "one on the other"),
        ("words-1,#BE5400", "words-1,#E9C9A9", "has words of"),
        ("--quiet: #565c64", "--quiet: #8f959d", "faint"),
        ("<svg", "<svg pointer-events=\"none\"", "say to a pointer what they are"),
        ("aria-label=\"Contents\"", "", "without a name: <nav"),
        ("</main>", "<h4>too deep</h4></main>", "heading after level 2"),
        ("</main>", "</main><p>astray</p>", "outside of every landmark: astray"),
        ("</main>", "<i id=\"answer\"></i></main>", "an id twice: answer"),
        ("tabindex=\"0\"", "", "scrolls, but no key reaches it"),
        ("<input type=\"radio\"", "<input disabled type=\"radio\"", "no key reaches"),
    ] {
        let found = broken(&open, from, to).faults();
        assert!(found.iter().any(|f| f.contains(fault)), "{from} → {to}: {found:?}");
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
