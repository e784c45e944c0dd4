//! Torques over the motor's speed.

use crate::made_up::record;
use slipsoak_engine::units::rpm;
use slipsoak_plots::{Figure, Size, draw};

#[test]
fn runs_of_one_machine_share_a_clutch_even_if_its_springs_settle_differently() {
    let mut two = record(&["cart", "cart"]);
    let settled = slipsoak_engine::record::Engagement { settled: Some(150.0), ..two.runs[0].engagement.clone() };
    two.runs[1].engagement = settled;
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    assert_eq!(svg.matches("\n200 rpm below idle\n").count(), 1);
}

/// On a slope only the road load differs: its clutch was drawn once for each.
#[test]
fn runs_on_other_slopes_share_a_clutch_and_have_their_own_road_loads() {
    let mut four = record(&[
        "1900 rpm, road grade 0",
        "1900 rpm, road grade 0.1",
        "2100 rpm, road grade 0",
        "2100 rpm, road grade 0.1",
    ]);
    let (flat, stronger) = (four.runs[0].engagement.clone(), four.runs[2].engagement.capacity.clone());
    let stronger: Vec<f64> = stronger.iter().map(|torque| 0.8 * torque).collect();
    for (k, run) in four.runs.iter_mut().enumerate() {
        run.engagement = flat.clone();
        if k > 1 {
            run.engagement.capacity.clone_from(&stronger);
            // Too close to that of the others for a name of its own.
            run.engagement.load.iter_mut().for_each(|torque| *torque += 0.1);
        }
        if k % 2 == 1 {
            run.engagement.load.iter_mut().for_each(|torque| *torque += 3.0);
            run.settings.iter_mut().filter(|s| s.path == "surroundings.grade").for_each(|s| s.value = 0.1);
        }
    }
    let svg = draw(Figure::Engagement, &four, Size::default()).expect("it draws").svg;
    let lines = |begin: &str| svg.lines().filter(|line| line.starts_with(begin)).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(lines("1900 rpm,"), ["1900 rpm, 200 rpm below idle"]);
    assert_eq!(lines("2100 rpm,"), ["2100 rpm, +600 rpm over idle"]);
    assert_eq!(lines("road load"), ["road load, road grade 0", "road load, road grade 0.1"]);
}

/// Places across of the ends of horizontal lines, px.
fn horizontal(svg: &str) -> Vec<f64> {
    let lines = svg.split("<polyline").skip(1).filter_map(|line| line.split("points=\"").nth(1)?.split('"').next());
    let ends = lines.map(|points| -> Vec<(f64, f64)> {
        let place = |pair: &str| Some((pair.split(',').next()?.parse().ok()?, pair.split(',').nth(1)?.parse().ok()?));
        points.split_whitespace().filter_map(place).collect()
    });
    ends.filter(|p| p.len() == 2 && p[0].1 == p[1].1).map(|p| f64::min(p[0].0, p[1].0) / 10.0).collect()
}

#[test]
fn the_engagement_of_a_clutch_with_a_broken_spring_is_that_of_its_first_shoe() {
    let mut two = record(&["whole", "broken"]);
    (two.runs[0].engagement.first, two.runs[0].engagement.lock) = (Some(rpm(1500.0)), Some(rpm(1500.0)));
    (two.runs[1].engagement.first, two.runs[1].engagement.lock) = (Some(0.0), Some(rpm(1200.0)));
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    for words in ["whole, 200 rpm below idle", "broken, always engaged, 1700 rpm below idle"] {
        assert_eq!(svg.matches(&format!("\n{words}\n")).count(), 1, "{words}");
    }
    assert!(!svg.contains("+200"), "the springs as they were set");
    assert!(horizontal(&svg).iter().all(|left| *left >= 18.0), "a line begins left of the margin");
}

#[test]
fn motors_that_differ_are_named_by_what_differs() {
    let mut two = record(&["lake", "pass"]);
    let motor = two.runs[1].engagement.motor.clone();
    two.runs[1].engagement.motor = motor.iter().map(|torque| 0.74 * torque).collect();
    for setting in two.runs[1].settings.iter_mut().filter(|s| s.path == "surroundings.pressure") {
        setting.value = 79_495.0;
    }
    let svg = draw(Figure::Engagement, &two, Size::default()).expect("it draws").svg;
    let names: Vec<&str> = svg.lines().filter(|line| line.starts_with("motor torque, full throttle")).collect();
    assert!(names.len() == 2 && names[0] != names[1], "{names:?}");
    assert!(names.iter().all(|name| name.contains("air pressure")), "{names:?}");
    assert_eq!(svg.matches("\nroad load\n").count(), 1, "one road load for both");
}

#[test]
fn a_long_name_of_a_single_clutch_takes_no_more_room_than_a_short_one() {
    let height = |name: &str| {
        let svg = draw(Figure::Engagement, &record(&[name]), Size::default()).expect("it draws").svg;
        svg.split(" height=\"").nth(1).and_then(|rest| rest.split('"').next()).map(str::to_owned)
    };
    assert_eq!(height("cart"), height("weekend cart, geared for 50 km/h"));
}

#[test]
fn road_speed_has_a_scale_where_the_gearing_is_one_and_none_where_it_differs() {
    let mut two = record(&["a", "b"]);
    let title = "road speed without slip, km/h (mph)";
    let svg = |record: &slipsoak_engine::record::Record| {
        draw(Figure::Engagement, record, Size::default()).expect("it draws").svg
    };
    assert!(svg(&two).contains(title));
    for setting in two.runs[1].settings.iter_mut().filter(|s| s.path == "vehicle.ratio") {
        setting.value *= 1.1;
    }
    assert!(!svg(&two).contains(title));
}
