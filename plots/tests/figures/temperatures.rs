//! Temperatures of each run.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::Happening;
use slipsoak_plots::{Figure, Size, draw};

#[test]
fn a_figure_says_where_launches_are_too_many_to_list() {
    let mut record = record(&NAMES[..1]);
    let told = |record: &slipsoak_engine::record::Record| {
        draw(Figure::Temperatures, record, Size::default())
            .expect("it draws")
            .svg
            .contains("The launches are too many to be listed")
    };
    record.runs[0].events_left_out = 7;
    assert!(!told(&record), "the launches are listed");
    record.runs[0].events.retain(|event| event.what != Happening::SetsOff);
    assert!(told(&record));
}

#[test]
fn a_run_far_shorter_than_the_longest_has_its_own_unit_of_time() {
    let mut two = record(&["bench", "season"]);
    let run = &mut two.runs[1];
    run.duration *= 1000.0;
    run.windows.end.iter_mut().chain(&mut run.windows.running).for_each(|end| *end *= 1000.0);
    let svg = draw(Figure::Temperatures, &two, Size::default()).expect("it draws").svg;
    assert!(svg.contains("\ntime, minutes\n"), "the bench");
}
