//! Signals to stop: the work ends at once, no unfinished files remain, and a message says what was kept and how to
//! continue.
#![cfg(unix)]

mod common;

use common::slipsoak;
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A sweep whose combinations each take long.
const SWEEP: &str = r#"
fn laps(ride) { for k in 0..120 { ride.idle(5.s); ride.launch(20.km_h); ride.hold(25.km_h, 20.s); ride.brake(1.5); } }
sweep(machine("example").varied("clutch.engagement", steps(1800.rpm, 2200.rpm, 8)), duty("laps", Fn("laps")));
"#;
/// A run that takes minutes.
const RUN: &str = r#"
fn laps(ride) { for k in 0..20000 { ride.idle(5.s); ride.launch(20.km_h); ride.hold(25.km_h, 20.s); ride.brake(1.5); } }
compare(machine("example"), duty("laps", Fn("laps")));
"#;

fn started(at: &Path, arguments: &[&str]) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(at).args(arguments).stdout(Stdio::null()).stderr(Stdio::piped());
    command.spawn().expect("it starts")
}

/// Waits until a condition holds.
fn until(what: &str, mut so: impl FnMut() -> bool) {
    let begun = Instant::now();
    while !so() {
        assert!(begun.elapsed() < Duration::from_mins(1), "waited a minute for {what}");
        std::thread::sleep(Duration::from_millis(5));
    }
}

/// Sends a signal; returns the exit code and the message in one line.
fn stopped(mut child: Child, signal: &str) -> (Option<i32>, String) {
    let sent = Instant::now();
    let done = Command::new("kill").args([format!("-{signal}"), child.id().to_string()]).status();
    assert!(done.expect("kill runs").success());
    let code = child.wait().expect("it ends").code();
    assert!(sent.elapsed() < Duration::from_secs(5), "it took {:?} to stop", sent.elapsed());
    let mut said = String::new();
    child.stderr.take().expect("a pipe").read_to_string(&mut said).expect("text");
    (code, said.split_whitespace().collect::<Vec<_>>().join(" "))
}

fn under_way(at: &Path) -> usize {
    let names = fs::read_dir(at).expect("a folder").flatten().map(|e| e.file_name().to_string_lossy().into_owned());
    names.filter(|name| name.starts_with(".slipsoak-")).count()
}

fn lines(journal: &Path) -> usize {
    fs::read_to_string(journal).map_or(0, |text| text.matches('\n').count())
}

#[test]
fn a_stopped_study_keeps_its_journal_says_so_and_resumes_to_the_same_bytes() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("a sweep.rhai"), SWEEP).expect("written");
    let journal = at.join("out.journal");
    let ask = ["run", "a sweep.rhai", "--out", "out", "--no-pictures", "--threads", "1"];
    for (signal, code, by) in [("INT", 130, "Ctrl-C (SIGINT)"), ("TERM", 143, "a request to end (SIGTERM)")] {
        let before = lines(&journal);
        let child = started(at, &ask);
        until("an entry", || lines(&journal) > before.max(1));
        let (ended, said) = stopped(child, signal);
        assert_eq!(ended, Some(code), "{said}");
        assert_eq!(under_way(at), 0, "{said}");
        assert!(!at.join("out").exists(), "{said}");
        let text = fs::read_to_string(&journal).expect("the journal is kept");
        assert!(text.ends_with('\n'), "no line is half written");
        let kept = text.lines().count() - 1;
        let expected = format!(
            "Stopped by {by}: {kept} of 8 combinations are done and kept in out.journal. The same command goes on from there: {} run 'a sweep.rhai' --out out --no-pictures --threads 1",
            env!("CARGO_BIN_EXE_slipsoak")
        );
        assert_eq!(said, expected);
    }
    slipsoak(at, &ask).assert().success();
    assert!(!journal.exists());
    slipsoak(at, &["run", "a sweep.rhai", "--out", "whole", "--no-pictures"]).assert().success();
    let result = |out: &str| fs::read(at.join(out).join("sweep.json")).expect("a result");
    assert!(result("out") == result("whole"));
}

#[test]
fn a_stopped_run_leaves_nothing_half_written_and_says_how_to_begin_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("long.rhai"), RUN).expect("written");
    let child = started(at, &["run", "long.rhai", "--out", "out", "--replace"]);
    until("a folder under way", || under_way(at) == 1);
    let (ended, said) = stopped(child, "INT");
    assert_eq!(ended, Some(130), "{said}");
    assert!(said.starts_with("Stopped by Ctrl-C (SIGINT): nothing was written to out. The same command starts again:"));
    assert!(said.ends_with("run long.rhai --out out --replace"), "{said}");
    assert_eq!((under_way(at), at.join("out").exists()), (0, false));
}

#[cfg(target_os = "linux")]
#[test]
fn a_run_behind_nohup_goes_on_when_its_terminal_closes() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("long.rhai"), RUN).expect("written");
    let program = env!("CARGO_BIN_EXE_slipsoak");
    let line = format!("trap '' HUP; exec {program} run long.rhai --out out");
    let mut command = Command::new("sh");
    command.current_dir(at).args(["-c", &line]).stdout(Stdio::null()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    until("a folder under way", || under_way(at) == 1);
    assert!(Command::new("kill").args(["-HUP", &child.id().to_string()]).status().expect("kill runs").success());
    std::thread::sleep(Duration::from_millis(300));
    assert!(child.try_wait().expect("a child").is_none(), "it ended");
    assert_eq!(stopped(child, "TERM").0, Some(143));
}

#[test]
fn a_second_signal_ends_the_program_while_the_first_one_waits() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("long.rhai"), RUN).expect("written");
    // A pipe that is not read: the message of the first signal waits for room.
    let (reader, mut writer) = std::io::pipe().expect("a pipe");
    let full = writer.try_clone().expect("its end");
    let written = std::sync::Arc::new(std::sync::atomic::AtomicU64::new(0));
    let count = std::sync::Arc::clone(&written);
    std::thread::spawn(move || {
        while writer.write_all(b"x").is_ok() {
            count.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        }
    });
    let mut before = u64::MAX;
    until("a full pipe", || {
        std::thread::sleep(Duration::from_millis(50));
        let now = written.load(std::sync::atomic::Ordering::Relaxed);
        now > 0 && std::mem::replace(&mut before, now) == now
    });
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(at).args(["run", "long.rhai", "--out", "out", "--quiet"]).stdout(Stdio::null()).stderr(full);
    let mut child = command.spawn().expect("it starts");
    until("a folder under way", || under_way(at) == 1);
    let id = child.id().to_string();
    let send = || assert!(Command::new("kill").args(["-TERM", &id]).status().expect("kill runs").success());
    send();
    until("the first signal to be heard", || under_way(at) == 0);
    std::thread::sleep(Duration::from_millis(200));
    assert!(child.try_wait().expect("a child").is_none(), "the first signal waits for room to say what was kept");
    let sent = Instant::now();
    send();
    until("the end", || child.try_wait().expect("a child").is_some() || sent.elapsed() > Duration::from_secs(5));
    let ended = child.try_wait().expect("a child");
    let _ = child.kill();
    drop(reader);
    assert_eq!(ended.and_then(|status| status.code()), Some(143), "after {:?}", sent.elapsed());
}
