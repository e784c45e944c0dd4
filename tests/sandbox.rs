//! Limits of scripts: they cannot exhaust the machine, nor make a result depend on threads, chance or changed files.

mod common;
mod studies;

use slipsoak::Script;
use slipsoak::language::limits::Limits;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};
use studies::{check, folder, refusal};

const RUN: &[&str] = &["run", "study.rhai"];
const CHECK: &[&str] = &["check", "study.rhai"];
const END: &str = "compare(machine(\"example\"), duty(\"d\", |ride| ride.idle(1.s)));";

fn refused(script: &str, arguments: &[&str], expected: &str) {
    let folder = folder(script);
    let start = Instant::now();
    let message = refusal(folder.path(), arguments, 1);
    assert!(message.contains(expected), "{arguments:?}, {script}\n{message}");
    assert!(!message.contains("anon$") && !message.contains("bug of its own"), "{message}");
    assert!(start.elapsed() < Duration::from_secs(10), "{script} took {:?}", start.elapsed());
}

#[test]
fn a_duty_that_changes_a_variable_outside_is_refused_with_its_name_and_line() {
    let change = "which stands outside it";
    let scripts = [
        // a number, in a sweep, a fleet, and a duty that reads the ride
        "let n = 0;\nlet c = machine(\"example\").varied(\"clutch.engagement\", [1700.rpm, 1800.rpm]);\n\
         sweep(c, duty(\"d\", |ride| { n += 1; ride.idle(30.s); }));",
        "let n = 0;\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { n = n + 1; ride.idle(60.s); }).repeated(1.hours)); fleet(4, 3);",
        "let n = 0;\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { if ride.fill > 2 {} n += 1; ride.idle(30.s); }));",
        // a list, a list in a list, and through another closure
        "let n = [];\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { n.push(1); ride.idle(30.s); }));",
        "let n = #{ a: [1] };\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { n.a[0] += 1; ride.idle(30.s); }));",
        "let k = 0; let n = || { k += 1; k };\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { ride.idle(n.call() * 30.s); }));",
        // the ride itself
        "let n = ();\n\ncompare(machine(\"example\"), duty(\"d\", |ride| { n = ride; ride.idle(30.s); }));",
    ];
    for script in scripts {
        let out: &[&str] = &["run", "study.rhai", "--out", "o", "--threads", "2"];
        refused(script, out, &format!("a duty may not change `n`, {change}"));
        refused(script, out, "study.rhai:3:");
    }
    // Reading it is allowed, and so is changing a copy.
    let folder = folder(
        "let n = [1, 2];\ncompare(machine(\"example\"), duty(\"d\", |ride| { let own = n; own.push(3); ride.idle(own[2] * 1.s); }));",
    );
    assert_eq!(refusal(folder.path(), RUN, 0), "");
}

#[test]
fn endlessly_nested_values_are_refused_before_the_stack_overflows() {
    let deep = "hold one another more than 64 deep";
    for script in [
        "let prev = 0; for i in 0..100000 { let p = prev; let g = || p; prev = g; }",
        "let prev = 0; for i in 0..100000 { let p = prev; prev = [|| p]; }",
        "fn g(x, y) { x } let f = 0; for i in 0..100000 { f = Fn(\"g\").curry(f); }",
        "fn link(p) { || p } let prev = 0; for i in 0..100000 { prev = link(prev); }",
        "let prev = 0; for i in 0..100000 { let p = prev; prev = duty(\"d\", |ride| p); }",
        "let a = []; for i in 0..9000 { a = [a]; } print(a);",
        "let b = #{ f: 0 }; let f = || b; b.f = f; for i in 0..100 { b; }",
    ] {
        let script = format!("{script} {END}");
        refused(&script, CHECK, deep);
        refused(&script, RUN, deep);
    }
    refused(&format!("let a = []; let f = || a; a.push(f); print(a); {END}"), CHECK, "while it is being changed");
}

#[test]
fn the_memory_of_a_script_is_limited() {
    let large = "takes more than 150 MB of memory";
    for script in [
        "fn g(x) { x } let f = Fn(\"g\"); for i in 0..60 { f = f.curry(f); }",
        "let s = \"x\"; s.pad(9999, \"y\"); let a = []; a.pad(9999, machine(\"example\").called(s)); let b = a;",
        "let all = []; all.pad(9999, 0); let far = all.map(|x| { let b = []; b.pad(9999, x); || b });",
    ] {
        let folder = folder(&format!("{script} {END}"));
        let message = limited(folder.path(), "check study.rhai");
        assert!(message.contains(large), "{script}\n{message}");
    }
    // What takes long to fill so much is held to a tenth of it.
    for script in [
        "let all = []; for i in 0..9999 { let b = []; b.pad(9999, i); all.push(|| b); }",
        "let all = []; for i in 0..9999 { all.push(trace(\"big\")); }",
    ] {
        let folder = folder(&format!("{script} {END}"));
        let rows: Vec<String> = (0..100_000).map(|second| format!("{second},5")).collect();
        let rows = format!("time [s],speed [km/h]\n{}\n", rows.join("\n"));
        fs::write(folder.path().join("big.csv"), rows).expect("written");
        let script = Script::read(&folder.path().join("study.rhai")).expect("a script");
        let stopped = check(&script, Limits { memory: 15_000_000, ..Limits::default() }).expect_err("it is stopped");
        let message = stopped.render(false);
        assert!(message.contains("takes more than 15 MB of memory"), "{message}");
    }
    refused("for i in 0..1000000 { choose(machine(\"example\"), \"rental\"); }", CHECK, "the most allowed is 50");
}

/// Output of a command limited to 700 MB.
fn limited(at: &Path, arguments: &str) -> String {
    let line = format!("ulimit -v 700000; exec {} {arguments}", env!("CARGO_BIN_EXE_slipsoak"));
    let made = Command::new("bash").current_dir(at).args(["-c", &line]).output().expect("a shell");
    let message = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), Some(1), "{message}");
    message
}

#[test]
fn a_study_of_too_many_runs_or_blocks_is_refused_before_it_begins() {
    let machines = "let ms = []; for i in 0..1000 { ms.push(machine(\"example\").called(`m${i}`)); }";
    let fleet =
        format!("{machines} compare(ms, duty(\"d\", |ride| ride.idle(60.s)).repeated(1.hours)); fleet(1000000, 1);");
    let out: &[&str] = &["run", "study.rhai", "--out", "o"];
    refused(&fleet, out, "1000000000 runs (1000000 clutches × 1000 fleets); the most allowed is 1000000");
    let matters = "let ms = []; for i in 0..50 { ms.push(machine(\"example\").called(`m${i}`)); } \
                   matters(ms, duty(\"d\", |ride| ride.idle(60.s)), 65536);";
    refused(matters, out, "the most allowed is 1000000");
    for read in ["", "if ride.fill > 2 {}"] {
        let block = format!(
            "compare(machine(\"example\"), duty(\"d\", |ride| {{ {read} ride.idle(0.001.s); }}).repeated(87600.hours));"
        );
        refused(&block, RUN, "that is 315360000000 blocks, and the most allowed is 1000000");
    }
}

#[test]
fn an_error_in_the_order_function_of_a_sort_is_reported() {
    let day = "fn day(ride) { let a = [2, 1]; a.sort(|x, y| { ride.launch(9999.km_h); 1 }); ride.idle(10.s); }\n\
               compare(machine(\"example\"), duty(\"d\", Fn(\"day\")));";
    refused(day, CHECK, "`launch`");
    let reads = "fn day(ride) { let a = [2, 1]; a.sort(|x, y| if ride.fill > 0.5 { 1 } else { -1 }); ride.idle(a[0] * 10.s); }\n\
                 compare(machine(\"example\"), duty(\"d\", Fn(\"day\")));";
    let folder = folder(reads);
    let made =
        Command::new(env!("CARGO_BIN_EXE_slipsoak")).current_dir(folder.path()).args(CHECK).output().expect("run");
    assert!(String::from_utf8_lossy(&made.stdout).contains("reads the ride as it goes"), "{made:?}");
}

#[test]
fn top_level_words_are_refused_inside_a_duty() {
    for word in [
        "title(\"t\")",
        "compare(machine(\"example\"), duty(\"e\", |r| r.idle(1.s)))",
        "fleet(3, 1)",
        "choose(machine(\"example\"), \"rental\")",
    ] {
        let script = format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ {word}; ride.idle(1.s); }}));");
        refused(&script, CHECK, "inside a duty does nothing");
    }
}

#[test]
fn a_message_quotes_only_a_readable_length() {
    let folder = folder(&format!("machine(\"long\"); {END}"));
    fs::write(folder.path().join("long.json"), format!("{{\"clutch\": [{}1]}}", "1,".repeat(500_000)))
        .expect("written");
    let message = refusal(folder.path(), CHECK, 1);
    assert!(message.len() < 1500 && message.contains('…'), "{} bytes", message.len());
    fs::write(folder.path().join("long.rhai"), format!("{}\n{END}", "\n".repeat(70_000))).expect("written");
    assert!(refusal(folder.path(), &["check", "long.rhai"], 1).contains("70002 lines"), "counted");
    refused(&format!("throw \"{}\"; {END}", "x".repeat(9000)), CHECK, "characters left out");
}

#[test]
fn the_command_ends_with_a_message_if_the_system_gives_no_more_memory() {
    let folder = folder(END);
    let mut said = vec![];
    for kilobytes in (50_000..=130_000).step_by(5_000) {
        let run = format!(
            "ulimit -v {kilobytes}; exec {} run study.rhai --out out --replace",
            env!("CARGO_BIN_EXE_slipsoak")
        );
        let made = Command::new("bash").current_dir(folder.path()).args(["-c", &run]).output().expect("a shell");
        let message = String::from_utf8_lossy(&made.stderr).into_owned();
        // Below some limit the system does not even load the program, and bash reports it.
        assert!(matches!(made.status.code(), Some(0 | 1 | 127)), "{kilobytes} kB: {:?}, {message}", made.status);
        said.push(message);
    }
    assert!(said.iter().any(|message| message.contains("gives this program no more memory")), "{said:?}");
}
