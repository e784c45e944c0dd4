//! Every wrong script in `tests/refused` is refused with the message in its first line.

use crate::common::check;
use slipsoak::Script;
use slipsoak::language::limits::Limits;
use std::fs;
use std::path::PathBuf;
use std::time::Duration;

#[test]
fn every_wrong_script_is_refused_as_its_first_line_says() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/refused");
    let mut scripts: Vec<PathBuf> = fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()).collect();
    scripts.retain(|p| p.extension().is_some_and(|e| e == "rhai"));
    scripts.sort();
    assert!(scripts.len() > 40, "the folder holds {} scripts", scripts.len());
    let mut failures = Vec::new();
    for path in scripts {
        let script = Script::read(&path).unwrap();
        let expected = script.text.lines().next().and_then(|l| l.strip_prefix("// expect: ")).expect("a first line");
        let limits = Limits { operations: 2_000_000, time: Duration::from_secs(20), ..Limits::default() };
        match check(&script, limits) {
            Ok(_) => failures.push(format!("{}: was accepted", script.name)),
            Err(trouble) => {
                let message = trouble.render(false);
                if !message.contains(expected) || trouble.exit_code() != 1 {
                    failures.push(format!("{}: expected `{expected}`, got\n{message}", script.name));
                }
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n\n"));
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let outside = tempfile::tempdir().unwrap();
    fs::write(outside.path().join("real.json"), "{}").unwrap();
    std::os::unix::fs::symlink(outside.path().join("real.json"), folder.path().join("linked.json")).unwrap();
    let path = folder.path().join("script.rhai");
    fs::write(&path, "let cart = machine(\"linked\");").unwrap();
    let script = Script::read(&path).unwrap();
    let trouble = check(&script, Limits::default()).unwrap_err();
    assert!(trouble.to_string().contains("leads out of the script's folder"), "{trouble}");
}

#[test]
fn habits_of_other_languages_get_a_suggestion() {
    let duty = |text: &str| format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ {text} }}));");
    let cases = [
        (duty("ride.idle(15 s);"), "write 15.s"),
        (duty("ride.idle(15.5 minutes);"), "write 15.5.min"),
        (duty("ride.hold(18 km/h, 20.s);"), "write 18.km_h"),
        (duty("ride.hold(25.km/h, 20.s);"), "write the unit as one word: .km_h"),
        (duty("ride.grade(15 %); ride.idle(1.s);"), "write 15.percent"),
        (duty("ride.oil(3 drops, \"SAE 30\");"), "write 3.drops"),
        (duty("ride.oil(3, SAE30);"), "a name stands in quotes: \"SAE 30\""),
        (duty("ride.oil(3, 'SAE 30');"), "a text stands in double quotes"),
        (duty("ride.idle(30.s)\nride.idle(30.s);"), "a semicolon is missing here"),
        (duty("ride.launch(12,5.km_h);"), "did you mean `12.km_h`?"),
        (duty("ride.stop();"), "did you mean `brake`?"),
        (duty("wait(10.s);"), "did you mean `ride.idle`?"),
        (duty("ride.sleep(10.s);"), "did you mean `idle`?"),
        (duty("ride.start();"), "did you mean `launch`?"),
        (duty("ride.go(20.km_h);"), "did you mean `launch`?"),
        (duty("ride.idle(20.kph);"), "did you mean `.km_h`?"),
        (duty("ride.ambient(20.C);"), "did you mean `.degC`?"),
        (duty("ride.idle(1.h);"), "did you mean `.hours`?"),
        (duty("for i in range(60): ride.idle(1.s)"), "a block stands in braces, without a colon"),
        (duty("for i in 60 { ride.idle(1.s); }"), "write a range"),
        (duty("while True { ride.idle(1.s); }"), "write `true`"),
        (duty("x = 5; ride.idle(x);"), "`let x = …;`"),
        (duty("int a = 5;"), "a variable is made by `let`"),
        (duty("# a note\nride.idle(1.s);"), "a comment begins with `//`"),
        ("def day(ride): ride.idle(1.s)".to_owned(), "a function is written `fn day(ride) { … }`"),
        ("import \"x\";".to_owned(), "a script is one file"),
        ("let go = 5.s;".to_owned(), "choose another name, such as `my_go`"),
        ("machine(\"Standard\");".to_owned(), "did you mean `example`?"),
        ("machine(example);".to_owned(), "a name stands in quotes: \"example\""),
        ("machine(\"example\").mass(200.kg);".to_owned(), "did you mean `having`?"),
        (
            "machine(\"example\").having(vehicle.mass, 200.kg);".to_owned(),
            "a setting stands in quotes: \"vehicle.mass\"",
        ),
        ("machine(\"example\").having(\"oil\", \"SAE 30\");".to_owned(), "`machine.oiled(\"SAE 30\")`"),
        ("let c = machine(\"example\";".to_owned(), "is a closing bracket `)` missing before it?"),
        ("choose(machine(\"example\"), \"rental\", {wander: 50.rpm});".to_owned(), "options stand in `#{ … }`"),
    ];
    for (text, expected) in cases {
        let script = Script { path: PathBuf::from("made.rhai"), name: "made.rhai".to_owned(), text };
        let refused = check(&script, Limits::default());
        let message = refused.map(|_| ()).expect_err(&script.text).render(false);
        assert!(message.contains(expected), "{}\n{message}", script.text);
    }
}

#[test]
fn a_wrong_word_gets_a_hint_from_the_words_of_its_object_and_a_missing_file_is_named_by_its_kind() {
    let duty = |text: &str| format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ {text} }}));");
    let cases = [
        (duty("ride.climb(5);"), "did you mean `grade`? For example: ride.grade(0.05);"),
        (duty("ride.frobnicate(5);"), "words of a ride: idle, launch, throttle,"),
        ("fn day(r) { r.drive(20.km_h, 5.min); } duty(\"d\", Fn(\"day\"));".to_owned(), "did you mean `hold`?"),
        (duty("rest(5.min);"), "did you mean `ride.park`?"),
        (duty("idle(5.min);"), "`idle` is used as `ride.idle(time) or (time, speed)`"),
        (duty("ride.spring(1700.rpm);"), "did you mean `new_spring`?"),
        (duty("ride.calibrated(\"x\");"), "`calibrated` is used as `machine.calibrated(name)`; words of a ride: idle,"),
        (duty("let t = ride.idle;"), "it takes arguments: `ride.idle(time) or (time, speed)`"),
        (duty("let t = ride.temperature;"), "`ride.celsius(\"bushing\")`"),
        ("let c = machine(\"example\").oiled(\"SAE 30\"); c.zzz(3);".to_owned(), "words of a machine: "),
        ("duty(\"d\", |ride| ride.idle(5.min)).looped(3);".to_owned(), "words of a duty: repeated"),
        ("machine(\"example\").calibrated(\"nowhere\");".to_owned(), "there is no calibration `nowhere.json` beside"),
        ("recording(\"nowhere.gpx\");".to_owned(), "there is no recording `nowhere.gpx` beside"),
    ];
    for (text, expected) in cases {
        let script = Script { path: PathBuf::from("made.rhai"), name: "made.rhai".to_owned(), text };
        let refused = check(&script, Limits::default());
        let message = refused.map(|_| ()).expect_err(&script.text).render(false);
        assert!(message.contains(expected), "{}\n{message}", script.text);
    }
}
