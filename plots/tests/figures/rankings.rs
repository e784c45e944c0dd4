//! Bars of sensitivities.

use super::{holds, keep};
use crate::made_up::sweep::influences;
use slipsoak_engine::document::Kind;
use slipsoak_plots::{Figure, Look};

#[test]
fn bars_of_sensitivities_are_sorted_and_mark_values_beyond_the_horizon() {
    for figure in Figure::of(Kind::Influence) {
        let drawing = figure.draw(&influences(64), &Look::default()).expect("it draws");
        keep(figure.name(), &drawing);
        holds(&drawing, &["engagement speed", "&lt;script", "everything nominal", "assumed constant"]);
        // The made-up study has no share of the variance for the oil's service: no empty scale is drawn.
        let shares = drawing.svg.contains("share of the variance");
        assert_eq!(shares, figure != Figure::MattersForTheOil, "{}", figure.name());
        let plain = figure.draw(&influences(0), &Look::default()).expect("it draws");
        assert!(!plain.svg.contains("share of the variance"));
    }
    let end = Figure::MattersForTheEnd.draw(&influences(0), &Look::default()).expect("it draws").svg;
    assert!(!end.contains("drop volume") && end.contains("1 other does not move it"), "what moves nothing has no bar");
    let at = |words: &str| end.find(&format!("\n{words}\n")).unwrap_or_else(|| panic!("{words}"));
    // 330 h of change, 290 h with values beyond the horizon counted as the horizon, 130 h.
    assert!(at("lining wear") < at("end leakage") && at("end leakage") < at("engagement speed"));
    assert_eq!(end.matches("<polygon").count(), 1, "one bar ends in an arrow beyond the horizon");
}

#[test]
fn where_most_outlast_what_was_simulated_the_heading_does_not_say_one_in_ten() {
    let heading = |nominal: Option<f64>| {
        let mut study = influences(0);
        study.rankings[0].influences.retain(|influence| influence.draw == "oiling.leak");
        study.rankings[0].nominal.end = nominal;
        let svg = Figure::MattersForTheEnd.draw(&study, &Look::default()).expect("it draws").svg;
        svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title").to_owned()
    };
    let depends =
        "The life depends most on end leakage: by it alone one clutch in ten lasts less than 310\u{a0}h of running";
    assert_eq!(heading(None), format!("{depends}; most outlast the 600\u{a0}h that were simulated"));
    let some = format!("{depends}, and more than one in ten outlast the 600\u{a0}h that were simulated");
    assert_eq!(heading(Some(400.0 * 3600.0)), some);
}

#[test]
fn bars_of_spreads_defined_in_the_script_are_hollow() {
    let bars = |by_script: bool| {
        let mut study = influences(0);
        study.rankings[0].influences.iter_mut().for_each(|i| i.by_script = by_script);
        let svg = Figure::MattersForTheLining.draw(&study, &Look::default()).expect("it draws").svg;
        svg.matches("<rect").count()
    };
    // One more rectangle in each of four bars and in the key.
    assert_eq!(bars(true), bars(false) + 5);
}
