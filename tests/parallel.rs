//! Parts run by GNU parallel on local processes, one of them killed and run again, and gathered.
#![cfg(unix)]

mod common;
mod studies;

use std::fs;
use std::process::Command;
use studies::{folder, run, slipsoak};

// Each combination takes long enough for a kill to interrupt the part.
const STUDY: &str = r#"
fn lap(ride) { for k in 0..20 { ride.idle(20.s); ride.launch(20.km_h); ride.brake(2); } }
let carts = machine("example").varied("clutch.engagement", steps(1700.rpm, 2100.rpm, 40));
sweep(carts, duty("lap", Fn("lap")));
"#;

#[test]
#[ignore = "needs GNU parallel"]
fn parts_of_gnu_parallel_one_killed_and_run_again_are_gathered_into_the_same_bytes() {
    let folder = folder(STUDY);
    let at = folder.path();
    run(at, &["--no-pictures", "--out", "whole"]);
    let job =
        format!("{} run study.rhai --quiet --out part --threads 1 --share {{}}/3", env!("CARGO_BIN_EXE_slipsoak"));
    // Part 2 is killed as soon as its journal has a line after the heading.
    let killed = format!(
        "if [ {{}} = 2 ]; then {job} & until [ \"$(wc -l < part.2-of-3.journal 2>/dev/null || echo 0)\" -gt 1 ]; do sleep 0.01; done; kill -KILL $!; wait $!; else {job}; fi"
    );
    let parallel = |job: &str, log: &str| {
        let arguments = ["--will-cite", "--jobs", "2", "--joblog", log, job, ":::", "1", "2", "3"];
        Command::new("parallel").current_dir(at).args(arguments).status().expect("GNU parallel")
    };
    assert_eq!(parallel(&killed, "first.log").code(), Some(1), "one job failed");
    let lines = |part: u8| {
        let journal = fs::read_to_string(at.join(format!("part.{part}-of-3.journal"))).expect("a journal");
        journal.lines().count()
    };
    assert!((2..14).contains(&lines(2)), "part 2 was killed in its course, with {} lines", lines(2));
    assert_eq!((lines(1), lines(3)), (15, 14), "the others finished");
    let journals = ["part.1-of-3.journal", "part.2-of-3.journal", "part.3-of-3.journal"];
    let gather = [&["gather", "study.rhai", "--no-pictures", "--out", "joined"], &journals[..]].concat();
    let short = slipsoak(at, &gather).assert().code(1).get_output().stderr.clone();
    assert!(String::from_utf8_lossy(&short).contains("part 2"), "the unfinished part is named");
    assert!(parallel(&job, "second.log").success());
    slipsoak(at, &gather).assert().code(0);
    for name in ["sweep.json", "sweep.csv"] {
        let [whole, joined] = ["whole", "joined"].map(|out| fs::read(at.join(out).join(name)).expect("a result"));
        assert!(whole == joined, "{name} differs");
    }
}
