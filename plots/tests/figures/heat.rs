//! Where the heat goes.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::Entry;
use slipsoak_plots::{Figure, Look, Size, draw};

#[test]
fn every_destination_of_the_heat_is_named_in_full_beside_other_runs() {
    let mut six = record(&["a"; 6]);
    for run in &mut six.runs {
        run.ledgers.clutch.held.insert(Entry::InShoes, 146_100.0);
        run.ledgers.clutch.outward.insert(Entry::WebAndSprocketToTheAir, 135_600.0);
    }
    for width in [960, 480] {
        let svg = draw(Figure::Heat, &six, Size { width, ..Size::default() }).expect("it draws").svg;
        for way in ["air, from the drum", "radiated", "air, from inner parts", "to the motor", "kept in the parts"] {
            // Beside its ribbon, there in lines on a narrow sheet, and in the key of the bars.
            let times = svg.matches(&format!("\n{way}\n")).count();
            assert!(times == 2 || width == 480 && times > 0, "{way}, {width}: {times}");
        }
        let cut: Vec<&str> = svg.lines().filter(|line| line.contains('…')).collect();
        assert!(cut.is_empty(), "{width}: {cut:?}");
    }
}

/// Shares that marks of a drawing say after this beginning, per cent.
fn shares(svg: &str, beginning: &str) -> Vec<f64> {
    let said = svg.split("<title>").skip(1).filter_map(|rest| rest.split('<').next());
    let share = |text: &str| text.strip_prefix(beginning)?.split(": ").nth(1)?.split('\u{a0}').next()?.parse().ok();
    said.filter_map(share).collect()
}

#[test]
fn the_shares_of_a_bar_are_those_of_the_record_and_make_up_all_of_it() {
    let svg = draw(Figure::Heat, &record(&NAMES[..1]), Size::default()).expect("it draws").svg;
    let bar = shares(&svg, NAMES[0]);
    // 340 kJ: 120 to the air from the band, 60 radiated, 70 from the shoes, 20 to the motor, 70 kept.
    assert_eq!(bar[..5], [35.0, 18.0, 21.0, 6.0, 21.0], "{svg}");
    assert!((99.0..=101.0).contains(&bar.iter().sum::<f64>()), "{bar:?}");
}

#[test]
fn heat_that_comes_from_the_motor_is_said_to_and_counts_among_all_that_comes_in() {
    let mut record = record(&NAMES[..1]);
    record.runs[0].ledgers.clutch.outward.insert(Entry::ThroughTheShaft, -60_000.0);
    let svg = draw(Figure::Heat, &record, Size::default()).expect("it draws").svg;
    assert!(svg.contains("\nfrom the motor\n") && !svg.contains("\nto the motor\n"));
    // 300 of slip, 40 of rubbing and 60 from the motor.
    assert!(svg.contains("from the motor: 15"), "{svg}");
}

#[test]
fn the_flow_is_that_of_the_reference_or_of_the_run_asked_for() {
    let three = record(&["a", "b", "c"]);
    let of = |names: &[&str]| {
        let look = Look { of: names.iter().map(|name| (*name).to_owned()).collect(), ..Look::default() };
        Figure::Heat.draw(&three, &look).expect("it draws").svg
    };
    assert!(of(&[]).contains("\na: 340 kJ") && of(&["c"]).contains("\nc: 540 kJ"));
}
