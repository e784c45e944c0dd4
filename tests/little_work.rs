//! The ledgers of a machine that does almost no work close too.

use crate::common::runs;
use slipsoak::Script;
use std::collections::BTreeMap;
use std::path::PathBuf;

#[test]
fn a_few_joules_of_work_close_their_ledgers_in_a_life_too() {
    let text = "fn nudge(ride) { ride.idle(2.s); ride.throttle(0.4, 2.s); }\n\
        compare(machine(\"example\"), duty(\"nudges\", Fn(\"nudge\")).repeated(1.hours));";
    let script = Script { name: "little.rhai".to_owned(), path: PathBuf::from("little.rhai"), text: text.to_owned() };
    let study = runs(&script, &BTreeMap::new(), None);
    let record = study.unwrap_or_else(|t| panic!("{}", t.render(false))).record;
    let chain = &record.runs[0].ledgers.chain;
    assert!(chain.residual.abs() < 1e-3 || chain.relative < 3e-4, "{chain:?}");
}
