//! The clutch cut open.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::{Channel, MomentOf};
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

#[test]
fn a_bushing_that_warms_by_less_than_a_degree_is_not_said_to_get_no_warmer() {
    let heading = |rise: f64| {
        let mut record = record(&NAMES[..1]);
        let bushing = |moment: MomentOf| 356.55 + if moment == MomentOf::After2Min { rise } else { 0.0 };
        record.runs[0].moments.iter_mut().for_each(|m| m.values[Channel::Bushing as usize] = bushing(m.what));
        let svg = Figure::Cutaway.draw(&record, &Look::default()).expect("it draws").svg;
        svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title").to_owned()
    };
    // 83.4 °C shows as 83, and 0.3 K more as 84.
    assert_eq!(heading(0.3), "After the stop the bushing hardly gets warmer");
    assert_eq!(heading(-0.3), "After the stop the bushing gets no warmer");
    assert_eq!(heading(50.2), "After the stop the bushing warms by 50\u{a0}°C (90\u{a0}°F)");
}
