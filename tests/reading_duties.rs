//! Duties that read the ride.

use crate::common;
use slipsoak::Script;
use slipsoak_engine::record::Run;
use slipsoak_plots::words::answer::{brief, sure};
use std::collections::BTreeMap;
use std::path::PathBuf;

fn only_run(text: &str) -> Run {
    let script = Script { path: PathBuf::from("duty.rhai"), name: "duty.rhai".to_owned(), text: text.to_owned() };
    let study = common::runs(&script, &BTreeMap::new(), Some(1));
    study.unwrap_or_else(|t| panic!("{}", t.render(false))).record.runs.remove(0)
}

const COMPARE: &str = "compare(machine(\"example\"), duty(\"d\", Fn(\"d\")));";

#[test]
fn a_duty_that_reads_the_ride_gives_the_same_result_as_one_that_does_not() {
    let entries = "ride.idle(20.s); ride.launch(25.km_h); ride.hold(25.km_h, 10.s); ride.brake(1.5);";
    let taken_down = only_run(&format!("fn d(ride) {{ {entries} }} {COMPARE}"));
    let at_once = only_run(&format!("fn d(ride) {{ {entries} let now = ride.clock; }} {COMPARE}"));
    assert_eq!(taken_down, at_once);
}

#[test]
fn a_duty_may_act_on_what_it_reads() {
    let run = only_run(&format!("fn d(ride) {{ while ride.clock < 95.s {{ ride.idle(10.s); }} }} {COMPARE}"));
    assert_eq!(run.duration, 100.0);
}

#[test]
fn a_closure_may_use_the_ride_and_read_it() {
    let text = "fn d(ride) { [10, 20].for_each(|| if ride.fill > 0.1 { ride.idle(this); }); }";
    assert_eq!(only_run(&format!("{text} {COMPARE}")).duration, 30.0);
}

#[test]
fn a_duty_made_in_a_loop_keeps_the_values_of_its_pass() {
    let text = "let all = []; let more = 5;
        for t in [30, 60, 90] { all.push(duty(`${t} s`, |ride| { ride.idle((t + more).s); })); }
        more = 500;
        compare(machine(\"example\"), all);";
    let script = Script { path: PathBuf::from("duty.rhai"), name: "duty.rhai".to_owned(), text: text.to_owned() };
    let study = common::runs(&script, &BTreeMap::new(), Some(1)).unwrap_or_else(|t| panic!("{}", t.render(false)));
    let found: Vec<f64> = study.record.runs.iter().map(|run| run.duration).collect();
    assert_eq!(found, [35.0, 65.0, 95.0]);
}

#[test]
fn a_duty_that_reads_the_ride_says_why_none_of_its_blocks_was_skipped() {
    let script = |reads: &str| Script {
        path: PathBuf::from("reads.rhai"),
        name: "reads.rhai".to_owned(),
        text: format!(
            r#"let watched = duty("watched", |ride| {{ ride.idle(20.s); ride.launch(15.km_h); ride.brake(2); {reads} }}).repeated(3.min);
            compare(machine("example"), watched);"#
        ),
    };
    let said = |reads| {
        let record = common::runs(&script(reads), &BTreeMap::new(), None)
            .unwrap_or_else(|t| panic!("{}", t.render(false)))
            .record;
        (brief(&record).text(), sure(&record).text())
    };
    let why = "A duty that reads the ride (“watched”) may differ from block to block: all its blocks were simulated, none skipped.";
    let (short, long) = said("if ride.fill < 0.3 { ride.oil(3, \"SAE 30\"); }");
    assert!(short.contains(why) && long.contains(why), "{short} {long}");
    assert!(!said("").0.contains("none skipped"));
}
