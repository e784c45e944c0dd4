//! Output of the program: 80 columns, colour only if wanted, and JSON alone for pipes.

use assert_cmd::Command;
use std::fs;
use unicode_width::UnicodeWidthStr;

const FLEET: &str = "fn rides(ride) { ride.idle(10.s); ride.launch(20.km_h); ride.hold(20.km_h, 60.s); ride.brake(1.5); }\n\
     title(\"Which of two springs with rather long names lasts longer, and of what do they end, seen from minute to minute?\");\n\
     let cart = machine(\"example\");\n\
     compare([cart.spring(1900.rpm).called(\"the spring that the shop has always put in\"), cart.spring(1750.rpm)],\n\
             duty(\"between the trees\", Fn(\"rides\")).repeated(20.hours)); fleet(3, 3);\n";

fn slipsoak(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments);
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

fn printed(command: &mut Command) -> (String, String) {
    let output = command.assert().success().get_output().clone();
    (String::from_utf8(output.stdout).expect("text"), String::from_utf8(output.stderr).expect("text"))
}

/// Every command that prints a table or a paragraph, short enough for a test.
fn all() -> Vec<(String, String)> {
    let mut shown = Vec::new();
    let mut run = |arguments: &[&str]| {
        let (out, err) = printed(&mut slipsoak(arguments));
        assert_eq!(err, "", "{arguments:?}: progress is for terminals");
        shown.push((arguments.join(" "), out));
    };
    run(&["settings"]);
    run(&["words"]);
    run(&["words", "spread"]);
    run(&["sheet", "example"]);
    run(&["run", "scripts/duty/orchard.rhai", "--set", "minutes=1"]);
    run(&["run", "scripts/duty/weekend.rhai", "--set", "rounds=1", "--set", "weekends=1"]);
    run(&["run", "scripts/duty/campground.rhai", "--set", "laps=1", "--set", "hires=1", "--set", "days=1"]);
    run(&["run", "scripts/duty/town-trace.rhai", "--set", "laps=1"]);
    let folder = tempfile::tempdir().expect("a folder");
    let script = folder.path().join("fleet.rhai");
    fs::write(&script, FLEET).expect("a script");
    let out = folder.path().join("out");
    run(&["run", script.to_str().expect("a path"), "--out", out.to_str().expect("a path")]);
    shown
}

#[test]
fn every_line_fits_eighty_columns_and_a_pipe_gets_no_escape_codes() {
    for (command, text) in all() {
        assert!(!text.contains('\u{1b}'), "{command}");
        for line in text.lines() {
            assert!(line.width() <= 80, "{command}: {} columns: {line}", line.width());
        }
    }
}

#[test]
fn units_are_in_the_heads_and_a_bar_shows_the_lives() {
    let (text, _) = printed(&mut slipsoak(&["run", "scripts/duty/orchard.rhai", "--set", "minutes=2"]));
    let lines: Vec<&str> = text.lines().collect();
    let rule = lines.iter().position(|l| l.starts_with("-----")).expect("a rule");
    let units = ["spring", "°C", "(°F)", "°C", "(°F)", "kJ", "%", "running", "first", "signs"];
    assert!(lines[rule - 1].split_whitespace().eq(units), "{}", lines[rule - 1]);
    // Numbers end in the same column.
    let ends = |k: usize| lines[rule + k].chars().position(|c| c == ')').expect("a bracket");
    assert!((2..=6).all(|k| ends(k) == ends(1)), "{text}");
    let bars = lines.iter().filter(|l| l.contains("█████")).count();
    assert!((1..=2).contains(&bars), "the longest life, and one within a fortieth of it, has the longest bar: {text}");
    assert_eq!(text.matches("between the trees").count(), 1, "what all share stands once");
}

#[test]
fn colour_is_printed_on_request_and_left_out_on_request() {
    let ask = ["sheet", "example"];
    let (forced, _) = printed(slipsoak(&ask).env("CLICOLOR_FORCE", "1"));
    assert!(forced.contains("\u{1b}[1m"), "{forced}");
    let (none, _) = printed(slipsoak(&ask).env("CLICOLOR_FORCE", "1").env("NO_COLOR", "1"));
    assert!(!none.contains('\u{1b}'));
    let plain: String = anstream::adapter::strip_str(&forced).to_string();
    assert_eq!(plain, none);
}

#[test]
fn a_pipe_can_have_the_record_alone_or_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).to_str().expect("a path").to_owned();
    let run = ["run", "scripts/duty/town-trace.rhai", "--set", "laps=1"];
    let with = |more: &[&str]| printed(&mut slipsoak(&[&run[..], more].concat()));
    let (json, err) = with(&["--json", "--no-pictures", "--out", &at("study")]);
    assert_eq!((json.as_str(), err.as_str()), (&*fs::read_to_string(at("study/record.json")).expect("a record"), ""));
    serde_json::from_str::<slipsoak_engine::record::Record>(&json).expect("a record");
    assert_eq!(with(&["--json"]).0, json);
    assert_eq!(with(&["--quiet"]), (String::new(), String::new()));
    fs::write(at("fleet.rhai"), FLEET).expect("a script");
    let (json, _) = printed(&mut slipsoak(&["run", &at("fleet.rhai"), "--json", "--out", &at("fleet")]));
    assert_eq!(json, fs::read_to_string(at("fleet/fleet.json")).expect("a fleet"));
    serde_json::from_str::<slipsoak_engine::fleet::Report>(&json).expect("a fleet");
}
