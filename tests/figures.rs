//! Every figure draws from a record, shows what it must, and reports clearly what it cannot draw.

use slipsoak_engine::document::Kind;
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::{Column, Record};
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_plots::{DrawError, Figure, Size, draw};

fn record(names: &[&str]) -> Record {
    // Runs of different days: equal ones would share a panel.
    let runs = names.iter().enumerate().map(|(k, name)| {
        let mut machine = Machine::default();
        machine.surroundings.ambient -= 5.0 * k as f64;
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        for (task, seconds) in [(Task::Idle, 10.0), (Task::Hold(7.0), 60.0), (Task::Idle, 20.0)] {
            sim.perform(&Segment::Ride(task, End::After(seconds))).expect("the duty runs");
        }
        sim.finish(name, "round").expect("the ledgers close")
    });
    Record {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "test".to_owned(),
            title: "Which <one> & why?".to_owned(),
            ..Default::default()
        },
        reference: None,
        channels: Column::all(),
        runs: runs.collect(),
    }
}

#[test]
fn every_figure_names_every_variant_and_its_units() {
    let r = record(&["soft", "<script>"]);
    for (figure, wanted) in [
        (Figure::Temperatures, ["temperature, °C", "lining surface", "minutes"]),
        (Figure::Oil, ["oil fill", "Where each drop ended", "nobody has measured it"]),
        (Figure::Life, ["remaining life", "hours of this duty", " after "]),
        (Figure::Comparison, ["peak of the lining, °C", "life, h the motor runs", "over idle, rpm"]),
    ] {
        let svg = draw(figure, &r, Size::default()).expect("it draws").svg;
        for words in wanted.iter().chain(&["soft", "&lt;script&gt;", "role=\"img\""]) {
            assert!(svg.contains(words), "{} lacks {words}", figure.name());
        }
        assert!(!svg.contains("<script"), "{} does not escape a name", figure.name());
        assert!(!svg.contains("NaN"), "{} draws what is not a number", figure.name());
    }
}

#[test]
fn the_same_record_gives_the_same_drawing_and_a_png_of_twice_its_size() {
    let r = record(&["one"]);
    for figure in Figure::of(Kind::Record) {
        let drawing = draw(figure, &r, Size::default()).expect("it draws");
        assert_eq!(drawing, draw(figure, &r, Size::default()).expect("it draws"));
        let png = drawing.png().expect("a PNG");
        assert_eq!(&png[1..4], b"PNG");
        let width = u32::from_be_bytes([png[16], png[17], png[18], png[19]]);
        assert_eq!(width, 1920, "{}", figure.name());
    }
}

#[test]
fn more_runs_than_fit_are_counted_not_hidden() {
    let svg = draw(Figure::Temperatures, &record(&["a"; 10]), Size::default()).expect("it draws").svg;
    assert!(svg.contains(" of 10 runs"));
}

#[test]
fn a_record_without_runs_or_without_a_channel_is_refused() {
    assert_eq!(draw(Figure::Oil, &record(&[]), Size::default()), Err(DrawError::Empty));
    let mut r = record(&["one"]);
    r.channels.retain(|c| c.name != Channel::OilFill);
    assert_eq!(draw(Figure::Oil, &r, Size::default()), Err(DrawError::Channel("oil fill".to_owned())));
}

#[test]
fn an_unknown_figure_is_answered_with_those_that_the_result_has_and_what_each_shows() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = folder.path().join("record.json");
    let record = slipsoak_engine::document::Saved::from(record(&["a"]));
    std::fs::write(&saved, serde_json::to_string(&record).expect("JSON")).expect("written");
    let arguments = ["slipsoak", "draw", saved.to_str().expect("a path"), "--out", "unused", "--figure", "lifes"];
    let arguments = <slipsoak::command::arguments::Arguments as clap::Parser>::try_parse_from(arguments).expect("read");
    let refused = slipsoak::perform(&arguments).expect_err("no such figure").to_string();
    for figure in Figure::of(Kind::Record) {
        assert!(refused.contains(&format!("{}: {}", figure.name(), figure.shows())), "{refused}");
    }
    assert!(!refused.contains("still-running"), "{refused}");
}
