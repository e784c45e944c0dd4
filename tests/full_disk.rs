//! A disk that fills up, and folders that cannot be written: a clear error, a valid journal, the same bytes afterwards.
#![cfg(unix)]

mod common;
mod studies;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use studies::{folder, refusal, run};

const STUDY: &str = r#"
fn lap(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.brake(2); }
let carts = machine("example").varied("clutch.engagement", steps(1700.rpm, 2100.rpm, 25));
title("A sweep of so many springs that their journal takes more than one page of memory");
sweep(carts, duty("lap", Fn("lap")));
"#;

/// Runs the study in a shell, after some other commands.
fn shell(at: &Path, before: &str, out: &str) -> Output {
    let run =
        format!("{before} exec {} run study.rhai --no-pictures --quiet --out {out}", env!("CARGO_BIN_EXE_slipsoak"));
    Command::new("sh").current_dir(at).args(["-c", &run]).output().expect("a shell")
}

fn refused(made: &Output) -> String {
    let message = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), Some(1), "{message}");
    assert!(!message.contains("panicked"), "{message}");
    message
}

/// A limit on every file, in blocks of 512 bytes: the system refuses the write that crosses it, halfway.
#[test]
fn a_write_that_fails_halfway_leaves_a_valid_journal_that_resumes_to_the_same_bytes() {
    let folder = folder(STUDY);
    let at = folder.path();
    run(at, &["--no-pictures", "--out", "whole"]);
    let mut kept = 0;
    for blocks in [1, 4, 8] {
        let message = refused(&shell(at, &format!("trap '' XFSZ; ulimit -f {blocks};"), "cut"));
        assert!(message.contains("cut.journal cannot be written: File too large"), "{message}");
        assert!(message.contains("run the same command again"), "{message}");
        assert!(!at.join("cut").exists(), "nothing half-written stands");
        let journal = fs::read_to_string(at.join("cut.journal")).expect("a journal");
        assert!(journal.is_empty() || journal.ends_with('\n'), "the half line is gone: {journal}");
        let lines = journal.lines().count();
        assert!(lines >= kept, "what was done stays done");
        kept = lines;
    }
    assert!(kept > 2, "{kept} lines were kept");
    run(at, &["--no-pictures", "--out", "cut"]);
    for name in ["sweep.json", "sweep.csv"] {
        let [whole, cut] = ["whole", "cut"].map(|out| fs::read(at.join(out).join(name)).expect("a result"));
        assert!(whole == cut, "{name} differs");
    }
}

/// A file system of 64 kB in a name space of its own: nearly full, so that the journal does not fit; with room for the
/// journal and not for the result; and with room for both.
#[test]
#[ignore = "needs the right to mount"]
fn a_full_file_system_leaves_a_valid_journal_that_resumes_to_the_same_bytes() {
    let folder = folder(STUDY);
    let at = folder.path();
    run(at, &["--no-pictures", "--out", "whole"]);
    fs::create_dir(at.join("small")).expect("a folder");
    let script = format!(
        "mount -t tmpfs -o size=64k none small || exit 9
        for ballast in 60 48; do
            dd if=/dev/zero of=small/ballast bs=1k count=$ballast 2>/dev/null
            {0} run study.rhai --no-pictures --quiet --out small/cut; echo \"code $?\" >&2
            ls small >&2; tail -n 1 small/cut.journal | grep -cE ' [0-9a-f]{{8}}$' >&2; tail -c 1 small/cut.journal | wc -l >&2
        done
        rm small/ballast
        {0} run study.rhai --no-pictures --quiet --out small/cut || exit 8
        cp -r small/cut cut",
        env!("CARGO_BIN_EXE_slipsoak")
    );
    let made = Command::new("unshare").current_dir(at).args(["-rm", "sh", "-c", &script]).output().expect("unshare");
    let message = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), Some(0), "{message}");
    assert!(message.contains("small/cut.journal cannot be written: No space left on device"), "{message}");
    assert!(message.contains("small/cut/sweep.json cannot be written: No space left on device"), "{message}");
    assert_eq!(message.matches("code 1\nballast\ncut.journal\n1\n1\n").count(), 2, "{message}");
    for name in ["sweep.json", "sweep.csv"] {
        let [whole, cut] = ["whole", "cut"].map(|out| fs::read(at.join(out).join(name)).expect("a result"));
        assert!(whole == cut, "{name} differs");
    }
}

/// Nobody can create files in `/proc`.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_cannot_be_written_is_named_before_anything_is_run() {
    let folder = folder(STUDY);
    let at = folder.path();
    let message = refusal(at, &["run", "study.rhai", "--out", "/proc/result"], 1);
    assert!(message.contains("/proc/result cannot be written"), "{message}");
    let message = refusal(at, &["run", "study.rhai", "--out", "/proc/result", "--share", "1/2"], 1);
    assert!(message.contains("the journal /proc/result.1-of-2.journal cannot be written"), "{message}");
    // A device file cannot be read to its end: it gives zeros forever.
    std::os::unix::fs::symlink("/dev/full", at.join("linked.journal")).expect("a link");
    let message = refusal(at, &["run", "study.rhai", "--out", "linked"], 1);
    assert!(message.contains("linked.journal is not a file"), "{message}");
}
