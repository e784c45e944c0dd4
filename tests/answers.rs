//! The answer of a plain run: what to fit first, in few lines, and without hiding a drawback.

use crate::studies;
use crate::studies::{folder, run, runs};
use slipsoak::Script;
use slipsoak_engine::names::{Channel, Happening, Part};
use slipsoak_engine::record::{Record, Warned, Warning};
use slipsoak_plots::page::Page;
use slipsoak_plots::words::answer::answer;
use slipsoak_plots::words::say;
use std::path::Path;
use unicode_width::UnicodeWidthStr;

const HOUR: f64 = 3600.0;

/// The text with every white space, including no-break spaces, as one space.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn said(record: &Record) -> String {
    plain(&answer(record).iter().map(slipsoak_plots::words::text::Words::text).collect::<Vec<_>>().join(" "))
}

/// Four springs under the duties given, in seconds.
fn springs(duties: &str) -> Record {
    let text = format!(
        "fn lap(ride) {{ ride.idle(5.s); ride.launch(20.km_h); ride.brake(2); }}
         let cart = machine(\"example\").idling(\"governed\").having(\"motor.idle\", 1550.rpm);
         reference(cart.spring(2100.rpm).called(\"usual\"));
         let springs = [cart.spring(1800.rpm).called(\"weak\"), cart.spring(1900.rpm).called(\"middle\"),
                        cart.spring(2100.rpm).called(\"usual\"), cart.spring(2300.rpm).called(\"strong\")];
         title(\"Which?\");
         compare(springs, {duties});"
    );
    let script = Script { path: Path::new("made.rhai").to_owned(), name: "made.rhai".to_owned(), text };
    let study = runs(&script, &std::collections::BTreeMap::new(), None);
    let mut record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    record.runs.iter_mut().for_each(|run| run.warnings.clear());
    record
}

/// Gives each run a lining that lasts this many running hours, and twice as many calendar hours.
fn lasting(record: &mut Record, hours: &[f64]) {
    for (run, hours) in record.runs.iter_mut().zip(hours) {
        for part in &mut run.parts {
            let own = part.part == Part::Lining;
            (part.running, part.life) = if own { (Some(hours * HOUR), Some(2.0 * hours * HOUR)) } else { (None, None) };
        }
    }
}

#[test]
fn the_readmes_first_command_prints_at_most_25_lines_of_80_columns() {
    let at = tempfile::tempdir().expect("a folder");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/orchard.rhai");
    let mut command = studies::slipsoak(at.path(), &["run", script.to_str().expect("a path"), "--out", "out"]);
    let done = command.arg("--no-pictures").assert().code(0);
    let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
    assert!(text.lines().count() <= 25, "{} lines\n{text}", text.lines().count());
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    let words = plain(&text);
    for words_of in [
        "“2000 rpm” alone fits, and lasts about 470 h of running",
        "“1900 rpm” (relaxes to 148 rpm above idle in 300 h, 166 needed)",
        "Do not fit “1750 rpm” (600 h, but engages only 30 rpm above idle, 161 needed",
        "“1500 rpm” and “1500 stop” (drag at idle), “3000 rpm” (overheats the lining, 275 °C (527 °F))",
        "D drags at idle (governed): 1500 rpm, 340 W",
        "D drags at idle (throttle stop): 1500 stop, 66 W",
        "B bushing over 90 °C (194 °F): all, 94 to 182 °C (201 to 360 °F)",
        "held at 25 km/h (16 mph), slips below lock-up at 32 km/h (20 mph): 3000 rpm",
        "DLBWS",
        "motor off and cool first; creep at idle; oil vapour",
        "Wrote 8 files to out: record.json, 7 CSV.",
    ] {
        assert!(words.contains(words_of), "no “{words_of}” in\n{text}");
    }
    // A long path takes no more lines.
    let long =
        at.path().canonicalize().expect("a path").join("the springs of the orchard carts by the lake ".repeat(4));
    let mut command =
        studies::slipsoak(at.path(), &["run", script.to_str().expect("a path"), "--no-pictures", "--out"]);
    let done = command.arg(&long).assert().code(0);
    let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
    assert!(text.lines().count() <= 25, "{} lines\n{text}", text.lines().count());
    let wrote = format!("Wrote 8 files to {}: record.json, 7 CSV.", long.display());
    assert_eq!(text.lines().last(), Some(wrote.as_str()), "a path in one piece");
    // With details everything is printed.
    let mut command = studies::slipsoak(at.path(), &["run", script.to_str().expect("a path"), "--details"]);
    let full = String::from_utf8(command.assert().code(0).get_output().stdout.clone()).expect("text");
    let full = plain(&full);
    for words in [
        "the clutch drags at idle, 340 W on average: it engages at 1500 rpm, below the idle of 1700 rpm (governed).",
        "the springs peaked at 210 °C (410 °F), above the 121 °C (250 °F) limit of their wire.",
        "Beyond what this lining stands; grip and wear are guesses from here.",
        "Local codes and qualified people decide.",
        "- A drum above 220 °C (428 °F) is hot enough to light oil vapour; keep oil and petrol away",
    ] {
        assert!(full.contains(words), "no “{words}” in\n{full}");
    }
    assert_eq!(full.matches("°C").count(), full.matches("°F").count(), "both scales everywhere");
}

#[test]
fn a_spring_that_drags_is_not_called_best_without_that_in_the_same_sentence() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/orchard.rhai");
    let script = Script::read(&path).expect("it is shipped");
    let five = [("minutes".to_owned(), 5.0)].into_iter().collect();
    let study = runs(&script, &five, None);
    let record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    let said = said(&record);
    assert!(said.starts_with("Only 5 min from cold: ridden on, the bushing gets"), "{said}");
    assert!(said.contains("Of those that fit, “1900 rpm” lasts longest, about 680 h of running"), "{said}");
    // Not yet warm, the spring near the idle wears least; those below it drag on either kind of idle.
    assert!(said.contains("“1500 rpm” and “1500 stop” (drag at idle)"), "{said}");
    // 50 rpm above idle are less than its variation and the springs' tolerances.
    assert!(said.contains("“1750 rpm” (770 h, but engages only 42 rpm above idle, 161 needed)"), "{said}");
}

/// Springs relax by a law without an assumed factor: it lasted about "49 h of running (49 h)".
#[test]
fn a_life_that_no_assumed_constant_changes_is_said_without_a_range() {
    let mut record = springs("duty(\"lap\", Fn(\"lap\"))");
    lasting(&mut record, &[100.0; 4]);
    assert!(said(&record).contains("36 to 280 h"), "{}", said(&record));
    for part in record.runs.iter_mut().flat_map(|run| &mut run.parts) {
        let own = part.part == Part::Spring;
        (part.running, part.life) = if own { (Some(100.0 * HOUR), Some(200.0 * HOUR)) } else { (None, None) };
    }
    let said = said(&record);
    assert!(said.contains("about 100 h of running (200 h by the calendar; spring)"), "{said}");
}

#[test]
fn the_best_is_compared_with_the_next_and_the_reference_and_never_with_the_worst() {
    let mut record = springs("duty(\"lap\", Fn(\"lap\"))");
    assert_eq!(record.reference.as_deref(), Some("usual"));
    lasting(&mut record, &[100.0, 90.0, 60.0, 10.0]);
    let all = "“weak” lasts longest, about 100 h of running (200 h by the calendar; 36 to 280 h, lining); \
               “middle”, the next, 90 % of that, “usual”, the reference, 60 %.";
    assert_eq!(said(&record), all);
    // Lives within a twentieth, or equal in two digits, count as equal.
    lasting(&mut record, &[96.0, 100.0, 60.0, 10.0]);
    assert!(said(&record).starts_with("“middle” and “weak” last alike, about 100 h"), "{}", said(&record));
    assert!(said(&record).contains("“usual”, the next and the reference, 60 % of that"), "{}", said(&record));
    // A spring that wears out within the hour is not a choice.
    lasting(&mut record, &[0.5, 100.0, 60.0, 0.25]);
    assert!(
        said(&record).contains("Do not fit “weak” and “strong” (wear out the lining in 15 to 30 min)"),
        "{}",
        said(&record)
    );
    // If all have a fault, that comes first, and none is called best.
    for run in &mut record.runs {
        run.warnings = vec![Warning { kind: Warned::Drag, value: 100.0, limit: 0.0 }];
    }
    assert!(said(&record).starts_with("No spring fits"), "{}", said(&record));
    assert!(!said(&record).contains("lasts longest"), "{}", said(&record));
    // Springs with different lives are not distinguished by their oil.
    assert!(!said(&record).contains("keeps most oil"));
}

#[test]
fn each_duty_ranks_the_machines_and_then_one_is_named_for_all() {
    let mut record = springs("[duty(\"lap\", Fn(\"lap\")), duty(\"rest\", |ride| ride.idle(5.s))]");
    lasting(&mut record, &[100.0, 90.0, 60.0, 10.0, 500.0, 1000.0, 900.0, 100.0]);
    let text = said(&record);
    assert!(
        text.contains("Under “lap”, “weak” lasts longest") && text.contains("Under “rest”, “middle” lasts longest"),
        "{text}"
    );
    assert!(
        text.contains(
            "No spring is best under all duties; “middle” is nearest: under none does it last less than 90 %"
        ),
        "{text}"
    );
    // A spring that drags under one duty is recommended for none.
    record.runs[5].warnings = vec![Warning { kind: Warned::Drag, value: 100.0, limit: 0.0 }];
    let text = said(&record);
    assert!(
        !text.contains("“middle” lasts longest") && text.contains("Do not fit “middle” under “rest” (drags at idle)"),
        "{text}"
    );
}

/// A motor that its cold bushing stalls is no matter of its springs; one that its clutch stalls is.
#[test]
fn a_motor_that_stalls_with_its_shoes_off_is_told_what_to_check_and_no_other_spring() {
    let text = "let cart = machine(\"example\").idling(\"throttle stop\").having(\"motor.inertia\", 0.00002).having(\"bushing.length\", 60.mm);
         compare(cart, duty(\"rest\", |ride| { ride.idle(1.min); }));";
    let script =
        Script { path: Path::new("made.rhai").to_owned(), name: "made.rhai".to_owned(), text: text.to_owned() };
    let study = runs(&script, &std::collections::BTreeMap::new(), None);
    let mut record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    let text = said(&record);
    assert!(text.contains("it cannot hold its own idle: the motor stalls with the shoes off"), "{text}");
    assert!(text.contains("What would help: check motor.inertia") && !text.contains("spring"), "{text}");
    assert!(!text.contains("It lasts"), "a life of a motor that does not run: {text}");
    // Touching before, it would be the clutch that stalls it.
    let mut touches = record.runs[0].events[0].clone();
    (touches.what, touches.time) = (Happening::Engages, 0.0);
    record.runs[0].events.insert(0, touches);
    let text = said(&record);
    assert!(text.contains("it stalls the motor") && text.contains("What would help: less slip"), "{text}");
}

#[test]
fn no_life_is_given_from_temperatures_beyond_the_model() {
    let mut record = springs("duty(\"lap\", Fn(\"lap\"))");
    lasting(&mut record, &[100.0, 90.0, 60.0, 10.0]);
    record.runs[0].warnings = vec![Warning { kind: Warned::Beyond, value: 800.0, limit: 773.15 }];
    assert_eq!(slipsoak_plots::words::reading::end(&record.runs[0]), None);
    let text = said(&record);
    assert!(
        text.contains("“middle” lasts longest") && text.contains("“weak” (runs hotter than the model reaches)"),
        "{text}"
    );
    let page = Page::of(&record.clone().into()).html();
    assert!(page.contains("Beyond the model: no life is given from such temperatures."), "it is said once, in words");
}

/// The section of a page under a heading, without text hidden by the choice of °F.
fn in_fahrenheit(page: &str, heading: &str) -> String {
    let part = page.split(heading).nth(1).and_then(|rest| rest.split("</section>").next()).expect(heading);
    let mut text = String::new();
    let mut rest = part;
    while let Some((before, after)) = rest.split_once("<span class=\"c\">") {
        text += before;
        rest = after.split_once("</span>").expect("it ends").1;
    }
    // The files in its links are for programs.
    let whole = text + rest;
    let mut links = whole.split("href=\"data:");
    let first = links.next().unwrap_or_default().to_owned();
    links.fold(first, |all, link| all + link.split_once('"').map_or("", |(_, after)| after))
}

#[test]
fn the_page_shows_limits_as_a_matrix_that_follows_the_choice_of_scale() {
    let folder = folder(
        "fn lap(ride) { for k in 0..20 { ride.idle(20.s); ride.launch(25.km_h); ride.hold(25.km_h, 20.s); ride.brake(1.5); } }
         let cart = machine(\"example\").idling(\"governed\").having(\"motor.idle\", 1550.rpm);
         compare([1500, 1900].map(|n| cart.spring(n.rpm).called(`${n} rpm`)), duty(\"lap\", Fn(\"lap\")));",
    );
    run(folder.path(), &["--out", "out", "--report", "--quiet"]);
    let page = std::fs::read_to_string(folder.path().join("out/report.html")).expect("a page");
    for heading in ["<h2 id=\"answer-heading\">", ">Warnings</h2>"] {
        let part = in_fahrenheit(&page, heading);
        assert!(!part.contains("°C"), "{heading}: {part}");
    }
    assert!(in_fahrenheit(&page, ">Warnings</h2>").contains("°F"));
    let part = page.split(">Warnings</h2>").nth(1).and_then(|rest| rest.split("</section>").next()).expect("warnings");
    let rows: Vec<&str> = part.split("<tr").skip(1).collect();
    assert_eq!(rows.len(), 4, "a head, the limits, a row a spring: {part}");
    assert!(!part.contains("<li>"), "no list of a sentence a limit: {part}");
    // The one below idle drags; its bushing is above 90 °C and is marked.
    assert!(rows[0].contains("drags at idle") && rows[2].contains("\u{a0}W"), "{part}");
    assert!(rows[2].matches("class=\"over\"").count() > rows[3].matches("class=\"over\"").count(), "{part}");
    let script = "slipsoak run study.rhai --out result --report";
    assert!(page.contains(">How to reproduce this</h2>") && page.contains(script), "how to make it again");
}

/// The same springs under the same forty minutes, once in a run and once in a shop question.
#[test]
fn a_run_and_the_shops_question_find_the_same_springs_too_close_to_idle() {
    let springs = [1500, 1750, 1850, 1900, 1950, 2000, 2300];
    let stock: Vec<String> =
        springs.iter().map(|n| format!("{{ \"name\": \"{n} rpm\", \"engagement\": \"{n} rpm\" }}")).collect();
    let text = format!(
        "fn lap(ride) {{ for k in 0..48 {{ ride.idle(20.s); ride.launch(20.km_h); ride.brake(1.5); ride.idle(20.s); }} }}
         let cart = machine(\"example\").idling(\"governed\");
         let springs = [];
         for n in {springs:?} {{ springs.push(cart.spring(n.rpm).called(`${{n}} rpm`)); }}
         title(\"Which?\");
         compare(springs, duty(\"laps\", Fn(\"lap\")));
         choose(cart, duty(\"laps\", Fn(\"lap\")), #{{ stock: \"stock\" }});"
    );
    let at = folder(&text);
    std::fs::write(at.path().join("stock.json"), format!("{{ \"springs\": [{}] }}", stock.join(", ")))
        .expect("written");
    let json = run(at.path(), &["--json"]);
    let (record, choice) = json.split_once('\n').expect("two documents");
    let record: Record = serde_json::from_str(record).expect("a record");
    let choice: slipsoak_engine::spring_choice::Choice = serde_json::from_str(choice.trim()).expect("a choice");
    let near = |s: &slipsoak_engine::spring_choice::Judged| {
        use slipsoak_engine::spring_choice::Reason;
        s.reasons.iter().any(|r| matches!(r, Reason::Drags { .. } | Reason::TooNear { .. }))
    };
    let said = said(&record);
    let unfit = said.split("Do not fit ").nth(1).expect("some do not fit");
    let mut both = [0, 0];
    for run in &record.runs {
        let judged = choice.springs.iter().find(|s| s.name == run.variant).expect("it is in the stock");
        let found = judged.found.as_ref().expect("it was tried").settled;
        // The question lets springs scatter: the weakest drags first and heats the others.
        let settled = run.engagement.settled.expect("it was recorded");
        assert!((settled / found - 1.0).abs() < 0.05, "{}: {settled} and {found} rad/s", run.variant);
        let number = run.variant.trim_end_matches(" rpm");
        assert_eq!(unfit.contains(number), near(judged), "{} in: {said}", run.variant);
        both[usize::from(near(judged))] += 1;
    }
    assert!(both[0] >= 1 && both[1] >= 3, "{both:?}");
}

#[test]
fn an_answer_names_the_part_that_exceeds_its_limit_by_most_though_the_lining_is_cool() {
    let text = r#"let m = machine("example").having("washer.preload", 1000).having("washer.heat_share", 1)
            .having("washer.contact", 10).having("surroundings.grade", -0.5);
        compare(m, duty("d", |ride| { ride.idle(10.s); ride.launch(4.m_s); ride.hold(4.m_s, 30.s); ride.brake(1.5); }));"#;
    let script =
        Script { path: Path::new("made.rhai").to_owned(), name: "made.rhai".to_owned(), text: text.to_owned() };
    let none = std::collections::BTreeMap::new();
    let study = runs(&script, &none, None);
    let record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    let run = &record.runs[0];
    let [washer, bushing, lining] =
        [Channel::Washer, Channel::Bushing, Channel::LiningSurface].map(|c| c.of(&run.overall.most));
    assert!(washer > 900.0 && washer > bushing && lining < 400.0, "{washer} K, {bushing} K, {lining} K");
    let said = said(&record);
    let hot = say::temperature(washer);
    assert!(
        said.contains(&plain(&format!("Not fit for this duty: it heats the washer to {hot}, hotter than the model"))),
        "{said}"
    );
    assert!(said.contains(&plain(&format!("The washer reaches {hot}, above its limit of"))), "{said}");
    assert!(said.find("the lining reaches") > said.find("The washer reaches"), "{said}");
}

/// As `choose` and `ride.new_spring` do: a script's spring in a machine with a weak one was judged with the weak one.
#[test]
fn a_spring_is_fitted_as_a_new_set_without_the_weak_one() {
    let script = "
let weak = machine(\"example\").having(\"springs.second\", 0.8);
compare([weak, weak.spring(2100.rpm)], duty(\"rest\", |ride| ride.idle(10.s)));
";
    let folder = folder(script);
    run(folder.path(), &["--out", "out", "--no-pictures"]);
    let text = std::fs::read_to_string(folder.path().join("out/record.json")).expect("a record");
    let record: Record = serde_json::from_str(&text).expect("JSON");
    let engages = |k: usize| record.runs[k].engages().expect("it engages") / slipsoak_engine::units::RPM;
    // The speed goes with the root of the force: 2000 √0.8 of the weak one alone, less what the gap adds.
    assert!(engages(0) < 1850.0 && (engages(1) - 2100.0).abs() < 1.0, "{} {}", engages(0), engages(1));
}
