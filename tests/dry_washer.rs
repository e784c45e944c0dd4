//! A washer without its oil is named on the page and in the choice of springs.

use crate::common::slipsoak;
use serde_json::Value;
use std::fs;
use std::path::Path;

fn said(at: &Path, arguments: &[&str]) -> String {
    let done = slipsoak(at, arguments).assert().success();
    let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_dry_washer_is_named_in_the_table_on_the_page_and_among_the_reasons() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let script = r#"let cart = machine("example").idling("governed").spring(1500.rpm);
compare([cart.called("oiled"), cart.having("washer.fling", 1).called("dry")], duty("stop", |ride| ride.idle(10.min)));"#;
    fs::write(at.join("x.rhai"), script).expect("written");
    let text = said(at, &["run", "x.rhai", "--out", "out", "--no-pictures", "--report"]);
    assert!(text.contains("F dry washer over 90 °C (194 °F): dry, "), "{text}");
    let full = said(at, &["run", "x.rhai", "--details"]);
    assert!(full.contains("above the 90 °C (194 °F) limit of a dry one: half or more of its oil was gone"), "{full}");
    let page = fs::read_to_string(at.join("out/report.html")).expect("a page");
    assert!(page.contains("dry washer, peak"), "no column of it");
    fs::write(at.join("cart.json"), r#"{ "washer": { "fling": "40 1/h" } }"#).expect("written");
    let stock = r#"{ "springs": [{ "name": "2300 rpm", "engagement": "2300 rpm" }] }"#;
    fs::write(at.join("stock.json"), stock).expect("written");
    let ask = ["choose", "cart.json", "--use", "rental", "--stock", "stock.json"];
    let text = said(at, &ask);
    assert!(
        text.contains("the dry washer reaches") && text.contains("above the limit of one without oil, 90 °C"),
        "{text}"
    );
    let json: Value = serde_json::from_str(&said(at, &[&ask[..], &["--json"]].concat())).expect("JSON");
    let parts: Vec<&Value> =
        json["springs"][0]["reasons"].as_array().expect("reasons").iter().map(|r| &r["hot"]["part"]).collect();
    assert!(parts.iter().any(|part| *part == "dry washer"), "{parts:?}");
}
