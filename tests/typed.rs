//! Scripts as newcomers type them: whoever puts the lines that the message gives in place of the wrong ones has a script that runs.

use crate::common::{check, slipsoak};
use slipsoak::Script;
use slipsoak::language::limits::Limits;
use std::fs;
use std::path::{Path, PathBuf};

/// Scripts with two to five mistakes each.
const TYPED: &[&str] = &[
    // a whole script in the manner of another language
    r#"# Three springs for my trolley
def day(ride):
    for i in range(3):
        ride.idle(15 s)
        ride.launch(20 km/h)
        ride.brake(1.5)
cart = machine("example")
compare([cart.spring(1700), cart.spring(1900)], duty("day", day))
"#,
    // a function called `go`, units behind blanks, semicolons left out
    r#"let cart = machine("example");
fn go(ride) {
    ride.launch(20 km/h)
    ride.hold(20 km/h, 15 s)
    ride.brake(1.5)
}
compare(cart, duty("go", Fn("go")))
"#,
    r#"fn day(ride) {
    ride.ambient(32.celsius);
    ride.set_fill(70%);
    ride.oil(3 drops, SAE 30);
    ride.idle(20.sec)
    ride.rest(5.min);
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"let cart = machine("example").having("clutch.spring", 1900 rpm)
let big = cart.having("vehicle.wheel_diameter", 330 mm)
compare([cart, big.called("big wheel")], duty("day", |ride| ride.idle(10 s)));
"#,
    r#"fn hill(ride) {
    ride.grade(5 %)
    ride.launch(15)
    ride.brake(1,5);
}
compare(machine("example"), duty("hill", Fn("hill")));
"#,
    "title('Which oil?');
let a = machine('example').oiled('SAE30');
compare(a, duty('d', |ride| ride.idle(10s)));
",
    r#"let a = machine(example);
let b = a.lined("sinterd").called("sintered");
compare([a, b], duty("d", |ride| ride.idle(10 seconds)));
"#,
    r#"fn day(ride) {
    let slow = True;
    if slow and not False {
        ride.launch(10 km/h);
    }
    ride.idle(5.s);
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"fn day(ride):
    let n = 0
    while n < 3:
        ride.idle(5 s)
        n = n + 1
    ride.brake(2)
compare(machine("example"), duty("day", Fn("day")))
"#,
    r#"fn day(ride) {
    for (i = 0; i < 3; i++) {
        ride.launch(12,5.km_h);
        ride.stop(1.5);
    }
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"var rows = 3;
fn day(ride) {
    for i in range(param("rows", 3)) {
        ride.accelerate(18 km/h);
        ride.stop(1.5);
    }
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"speed = 20 km/h;
fn day(ride) {
    ride.launch(speed);
    ride.wait(10 s);
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    "fn day() {
    ride.ambient(20 °C);
    ride.idle(30 seconds);
}
compare(machine(“example”), duty(“day”, Fn(“day”)));
",
    r#"fn day(ride) {
    ride.launch(20.km/h);
    ride.hold(10.s, 20.km_h);
    ride.idle(10.s;
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"fn day(ride) {
    ride.launch(20.kmh;
    ride.idle(10.s));
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"let cart = machine("example").having(vehicle.mass, "200 kg");
let c = cart.having("gear_ratio", 5.5:1);
compare(c, duty("d", |ride| ride.idle(10 sec)));
"#,
    r#"function day(ride) {
    ride.start(20.kph);
    ride.keep(20.kph, 10.s);
    ride.halt(1.5);
}
compare(machine("example"), duty("day", Fn("dya")));
"#,
    r#"fn day(ride) {
    ride.ambient(30);
    ride.grade(3);
    ride.launch("20 km/h");
    ride.idle(10.s)
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"fn day(ride) {
    int n = 2;
    for k in 0..n {
        ride.idle(5.s)
    }
    for k in 3 { ride.idle(5s) }
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"print "three springs"
let cart = machine("example")
compare([cart.springs(1800 rpm), cart.spring(2000 rpm)], duty("d", |ride| ride.idle(10.s)));
"#,
    r#"fn day(ride) {
    let hot = 35 °C;
    ride.ambient(hot);
    ride.idle(1 min);
    ride.off(2 minutes);
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"def day(ride):
    # twice
    for i in range(2):
        if i == 1 and not False:
            ride.oil(2 drops, "SAE 30")
        elif i == 0:
            ride.idle(10 s)
        else:
            ride.park(1 h)

compare(machine("example"), duty("day", Fn("day")))
"#,
    r#"let default = machine("Example");
let new = default.spring(2000);
compare([default, new], duty("d", |ride| ride.idle(10.s)));
"#,
    r#"fn day(ride) {
    ride.park(1 hour);
    ride.launch(30 mph);
    ride.hold(25 mph; 10.s);
    ride.brake(3);
}
compare(machine("example").mass(200.kg), duty("day", Fn("day")));
"#,
    r#"fn day(ride) {
    let i = 0;
    while i < 2 {
        ride.pause(5 s);
        i++;
    }
    ride.coast(5 s)
}
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"let cart = machine("example").formed("leeding").idling("governd");
let cart = cart.having("weight", 180 kg);
compare(cart, duty("d", |ride| { ride.idle(10 s) }));
"#,
    r#"fn day(ride) {
    ride.idle(1,5.min);
    ride.idle(1,5 min);
    ride.set_fill(0,7);
}
compare(machine("example").lined("molded").oiled("SAE30"), duty("day", Fn("day")));
"#,
    r#"fn errands(ride) {
    ride.trace("errands");
    ride.idle(10 s);
}
compare(machine("weekend"), duty("errands", Fn("errands")));
"#,
    r#"let cart = machine("example")
cart.vehicle.mass = 165 kg
cart.wheel_diameter = 280 mm
compare([cart.lined("organic"), cart.lined("sintered")], duty("d", |ride| ride.idle(10 s)))
"#,
    r#"fn day(ride) {
    ride.drive(20 km/h, 1 min)
    ride.brake()
    ride.rest(1 hour)
}
compare(machine("example"), duty("day", day))
"#,
    r#"fn day(ride) { ride.idle(10 s) }
compare(new machine("example"), day)
"#,
    r#"fn day(ride) { ride.idle(10 s) }
compare(machine("example"), duty("day", "day"))
"#,
    r#"fn day(ride) { ride.idle(10 s) }
compare(machine("example"), duty("day", Fn(day)))
"#,
    r#"import math
const v = 20 km/h;
fn day(ride) { ride.launch(v); ride.brake(1.5); }
compare(machine("example"), duty("day", Fn("day")));
"#,
    r#"fn day(ride) {
    for i in 1 to 2 { ride.idle(10 s); }
    for i = 1:2 { ride.idle(10 s); }
    foreach i in 0..2 { ride.idle(10.s); }
    repeat 2 { ride.idle(10.s); }
}
compare(machine("example"), duty("day", day));
"#,
    r#"let all = [1800, 2000];
compare(all.map(|s| machine("example").spring(s)), duty("d", ride => ride.idle(10 s)));
"#,
    r#"compare(machine("example"), duty("d", lambda ride: ride.idle(10 s)))
"#,
    r#"fn day(ride) {
    if ride.temperature("bushing") > 80 °C { ride.idle(10 s); }
    ride.idle(1 min);
}
Compare(Machine("example"), Duty("day", Fn("day")));
"#,
    r#"fn week(ride) {
    for day in 0..2:
        ride.launch(18 km/h);
        ride.brake(1.5);
    ride.park(12 h);
}
compare(machine("example"), duty("week", Fn("week")).repeat(60.hours));
"#,
];

/// The script with the lines of a message in place of the wrong ones, as one types them who reads nothing else.
fn followed(script: &str, message: &str) -> String {
    let mut lines: Vec<String> = script.lines().map(str::to_owned).collect();
    let rows: Vec<&str> = message.lines().map(str::trim).collect();
    for pair in rows.windows(2) {
        let Some((stands, write)) = pair[0].split_once("  ").zip(pair[1].strip_prefix("write  ")) else { continue };
        let Ok(number) = stands.0.parse::<usize>() else { continue };
        let line = &mut lines[number - 1];
        let [stands, write] = [stands.1, write].map(|text| text.trim_start_matches('…').trim_end_matches('…').trim());
        assert!(line.contains(stands), "line {number} is `{line}`, not `{stands}`");
        *line = line.replacen(stands, write, 1);
    }
    lines.join("\n") + "\n"
}

/// Standard error of a command, and whether it succeeded.
fn said(at: &Path, arguments: &[&str]) -> (String, bool) {
    let output = slipsoak(at, arguments).output().expect("it runs");
    (String::from_utf8_lossy(&output.stderr).into_owned(), output.status.success())
}

#[test]
fn who_writes_the_lines_that_one_message_gives_has_a_script_that_runs() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut failures = vec![];
    for text in TYPED {
        fs::write(folder.path().join("mine.rhai"), text).expect("written");
        let (message, accepted) = said(folder.path(), &["run", "mine.rhai"]);
        let mended = followed(text, &message);
        fs::write(folder.path().join("mine.rhai"), &mended).expect("written");
        let (again, runs) = said(folder.path(), &["run", "mine.rhai", "--quiet"]);
        if accepted || !runs {
            failures.push(format!("{text}{message}\n{mended}{again}"));
        }
    }
    assert!(failures.is_empty(), "{} of {}\n{}", failures.len(), TYPED.len(), failures.join("\n-----\n"));
    assert!(TYPED.len() >= 36, "{} scripts", TYPED.len());
}

/// Scripts with a mistake whose remedy depends on what is meant, what is said of it, and lines to write all the same.
const UNSURE: &[(&str, &str, &[&str])] = &[
    (
        r#"fn round(ride):
    ride.idle(15 s)

for i in range(60):
    round(ride)
compare([machine("example").spring(1900)], duty("day", round).repeat(100 h))
"#,
        "line 5: Undefined variable: ride; the function of a duty is handed the ride",
        &[
            "write  ride.idle(15.s) }",
            "write  compare([machine(\"example\").spring(1900.rpm)], duty(\"day\", round).repeated(100.hours))",
        ],
    ),
    (
        r#"fn hill(ride) { ride.rest(5 min); }
let day = duty("hill", hill).at(32.celsius);
compare(machine("example").lined("organic"), day)
"#,
        "line 2: there is no word `at`; words of a duty: repeated",
        &["write  fn hill(ride) { ride.park(5.min); }", "write  compare(machine(\"example\").lined(\"woven\"), day)"],
    ),
];

#[test]
fn a_mistake_whose_remedy_is_not_known_hides_none_after_it() {
    for (text, unsure, lines) in UNSURE {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("mine.rhai"), text).expect("written");
        let (message, _) = said(folder.path(), &["run", "mine.rhai"]);
        assert_eq!(message.matches(unsure).count(), 1, "{message}");
        assert_eq!(lines.iter().find(|line| !message.contains(**line)), None, "{message}");
    }
}

/// A script with one letter taken away or put in, at random from a seed.
fn mistyped(text: &str, seed: usize) -> String {
    let mut state = seed as u64 * 0x9E37_79B9 + 1;
    let mut random = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    let mut letters: Vec<char> = text.chars().collect();
    for _ in 0..=random(4) {
        let at = random(letters.len().max(1)).min(letters.len().saturating_sub(1));
        match random(3) {
            0 => drop(letters.drain(at..(at + 1).min(letters.len()))),
            1 => letters.insert(at, ['°', '"', '{', ')', ':', '\'', 'ß', '#', '\n', ',', '.', '`'][random(12)]),
            _ => letters.truncate(at.max(1)),
        }
    }
    letters.into_iter().collect()
}

#[test]
fn a_script_with_any_letter_wrong_gets_a_message_that_shows_its_own_lines() {
    for (k, text) in TYPED.iter().enumerate() {
        for seed in 0..20 {
            let text = mistyped(text, 20 * k + seed);
            let script = Script { path: PathBuf::from("made.rhai"), name: "made.rhai".to_owned(), text: text.clone() };
            if let Err(refused) = check(&script, Limits::default()) {
                followed(&text, &refused.render(false));
            }
        }
    }
}

#[test]
fn the_corrected_script_is_written_into_a_new_file_and_never_over_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("mine.rhai"), TYPED[0]).expect("written");
    let check = ["check", "mine.rhai", "--corrected", "new.rhai"];
    assert!(said(at, &check[..2]).0.contains("`slipsoak check mine.rhai --corrected NEW.rhai`"));
    slipsoak(at, &check).assert().success();
    slipsoak(at, &["run", "new.rhai", "--quiet"]).assert().success();
    let (message, written) = said(at, &check);
    assert!(!written && message.contains("new.rhai is there already"), "{message}");
    // What has no sure correction is not written.
    fs::write(at.join("mine.rhai"), "let go = 5;\nfrobnicate(go);\n").expect("written");
    let (message, written) = said(at, &["check", "mine.rhai", "--corrected", "other.rhai"]);
    assert!(!written && message.contains("no word `frobnicate`") && !at.join("other.rhai").exists(), "{message}");
}

#[test]
fn a_temperature_that_is_compared_with_a_reading_in_degrees_stays_a_plain_number() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = "fn day(ride) { if ride.celsius(\"bushing\") > 80 °C { ride.idle(9 s); } ride.idle(1.s); }\n";
    fs::write(folder.path().join("mine.rhai"), text).expect("written");
    let (message, _) = said(folder.path(), &["check", "mine.rhai"]);
    assert!(message.contains("> 80 { ride.idle(9.s); }"), "{message}");
}
