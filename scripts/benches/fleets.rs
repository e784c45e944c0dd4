//! Benchmark: cost per clutch of fleets of different sizes, and the gain of a second thread, with journal, script and
//! report. The clutches run one lap, so that it takes well under a minute.
//!
//! It is not a benchmark of one function but prints wall times, which are meaningless on a busy machine.

use slipsoak::Script;
use slipsoak::language::limits::Limits;
use slipsoak::study::request::Request;
use slipsoak::study::{Study, asked};
use slipsoak_engine::document::Saved;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Instant;

const SCRIPT: &str = r#"
let lap = duty("lap", |ride| { ride.idle(5.s); ride.launch(15.km_h); ride.brake(2); ride.motor_off(60.s); }).repeated(60.s);
compare(machine("example"), lap);
fleet(param("clutches", 16), 1);
"#;

/// Duration of a fleet, s: the shortest of several tries.
fn seconds(clutches: u64, threads: u16, tries: u32) -> f64 {
    let script = Script { path: PathBuf::from("bench.rhai"), name: "bench.rhai".to_owned(), text: SCRIPT.to_owned() };
    let settings = BTreeMap::from([("clutches".to_owned(), clutches as f64)]);
    let time = || {
        let folder = tempfile::tempdir().expect("a folder");
        let request = Request::of(&script, &settings, Limits::default());
        let Study::Long(fleet) = asked(&request, (1, 1), &mut |_| ()).expect("a script") else { panic!("a fleet") };
        let start = Instant::now();
        let found = fleet.run(&folder.path().join("journal"), Some(threads), &|_| (), &|| ()).expect("it runs");
        let (_, Some(Saved::Fleet(report))) = found else { panic!("a report") };
        assert_eq!(report.fleets[0].outcomes.len() as u64, clutches);
        start.elapsed().as_secs_f64()
    };
    (0..tries).map(|_| time()).fold(f64::INFINITY, f64::min)
}

fn main() {
    // Arguments for another harness take no time here.
    if std::env::args().any(|a| a == "--save-baseline" || a == "--list") {
        return;
    }
    seconds(16, 1, 1);
    eprintln!("clutches  threads  ms a clutch");
    for (clutches, tries) in [(16, 20), (160, 5), (1600, 2), (10_000, 1)] {
        for threads in [1, 2] {
            if clutches == 10_000 && threads == 1 {
                continue;
            }
            let each = 1e3 * seconds(clutches, threads, tries) / clutches as f64;
            eprintln!("{clutches:>8}  {threads:>7}  {each:>11.3}");
        }
    }
}
