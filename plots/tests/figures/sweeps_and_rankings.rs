//! What sweeps and rankings have in common.

use crate::made_up::sweep::{axis, crossed, influences, sweep};
use slipsoak_engine::document::Kind;
use slipsoak_plots::{Figure, Look};

const HOUR: f64 = 3600.0;

#[test]
fn figures_of_sweeps_and_sensitivities_have_a_dark_variant() {
    let dark = Look { theme: slipsoak_plots::Theme::Dark, ..Look::default() };
    let crossed =
        sweep(vec![axis("clutch.engagement", &[1600.0, 1700.0], "rpm"), axis("motor.idle", &[1500.0, 1600.0], "rpm")]);
    let paper = |svg: &str| svg.split_once("fill=\"#").expect("a ground").1[..6].to_owned();
    for figure in Figure::of(Kind::Sweep) {
        let [light, dark] = [&Look::default(), &dark].map(|look| figure.draw(&crossed, look).expect("it draws").svg);
        assert_ne!(paper(&light), paper(&dark), "{}", figure.name());
    }
    for figure in Figure::of(Kind::Influence) {
        let [light, dark] =
            [&Look::default(), &dark].map(|look| figure.draw(&influences(0), look).expect("it draws").svg);
        assert_ne!(paper(&light), paper(&dark), "{}", figure.name());
    }
}

#[test]
fn sweeps_and_rankings_in_a_printed_column_are_complete() {
    let size = slipsoak_plots::Size { width: 400, ..slipsoak_plots::Size::default() };
    let look = Look { size, ..Look::default() };
    let mut sweep = crossed();
    for (k, row) in sweep.rows.iter_mut().enumerate() {
        row.summary.running = Some(if k % 2 == 0 { 700.0 } else { 4.5e5 * HOUR });
        row.summary.life = row.summary.running;
    }
    for (name, svg) in Figure::of(Kind::Sweep)
        .map(|figure| (figure.name(), figure.draw(&sweep, &look).expect("it draws").svg))
        .chain(Figure::of(Kind::Influence).map(|f| (f.name(), f.draw(&influences(64), &look).expect("it draws").svg)))
    {
        assert!(svg.contains("width=\"400\""), "{name}");
        assert!(!svg.contains('…'), "{name} cuts {:?}", svg.split("<text").find(|text| text.contains('…')));
    }
}
