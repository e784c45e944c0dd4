//! The clutch cut open.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::Channel;
use slipsoak_plots::{Figure, Look, When};

#[test]
fn the_clutch_is_cut_open_at_the_times_asked_for() {
    let record = record(&NAMES[..1]);
    let at = |times: &[f64]| {
        let at = times.iter().map(|time| When::since_start(*time)).collect();
        Figure::Cutaway.draw(&record, &Look { at, ..Look::default() })
    };
    // The fifth of 200 windows over 5400 s spans 108 to 135 s.
    let svg = at(&[120.0, 5400.0]).expect("it draws").svg;
    assert!(svg.contains("2 min 0 s") && svg.contains("90 min 0 s") && !svg.contains("hottest lining"));
    let celsius = Channel::LiningSurface.of(&record.runs[0].windows.mean[4]) - 273.15;
    let words = format!("\n{celsius:.0}\n");
    assert!(svg.contains(&words), "the lining at {words}");
    let beyond = at(&[5401.0]).expect_err("the run is over").to_string();
    assert!(beyond.contains("90 min 1 s lies beyond the longest run, which lasts 90 min 0 s"), "{beyond}");
}
