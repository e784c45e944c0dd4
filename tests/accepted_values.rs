//! Values that look like mistakes but are valid: scripts accepted by check are accepted by run.

use crate::common::{check, runs, slipsoak};
use slipsoak::Script;
use slipsoak::language::limits::Limits;
use slipsoak::read::quantity::read;
use slipsoak_engine::parts::Dimension;
use std::collections::BTreeMap;
use std::path::PathBuf;

fn script(duty: &str) -> Script {
    let text = format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ ride.idle(1.s); {duty} }}));\n");
    Script { path: PathBuf::from("example.rhai"), name: "example.rhai".to_owned(), text }
}

#[test]
fn sensible_speeds_and_times_are_accepted() {
    for duty in [
        "ride.hold(18.km_h, 20.s);",
        "ride.hold(5.m_s, 25.s);",
        "ride.hold(20.km_h, 7.2.s);",
        "ride.hold(8.m_s, 0.s);",
        "ride.hold(10.mph, 1.5);",
        "ride.hold(0, 5);",
        "ride.launch(18.km_h); ride.brake_to(0);",
        "ride.launch(6.5);",
        "ride.brake(1, 5.s);",
        "ride.brake(1.5, 5);",
        "ride.brake(2, 0);",
        "ride.idle(30);",
        "ride.wind(0);",
    ] {
        let script = script(duty);
        let checked = check(&script, Limits::default());
        assert!(checked.is_ok(), "{duty}: {}", checked.unwrap_err().render(false));
    }
}

#[test]
fn values_at_the_ends_of_ranges_accepted_by_check_are_accepted_by_run() {
    for duty in [
        "ride.launch(4.m_s); ride.brake(0.05);",
        "ride.launch(4.m_s); ride.brake(15);",
        "ride.park(366.days);",
        "ride.oil(500, \"SAE 30\");",
        "ride.grease(10.mL);",
        "ride.launch(60.m_s, 0);",
    ] {
        let script = script(duty);
        let run = runs(&script, &BTreeMap::new(), Some(1));
        assert!(run.is_ok(), "{duty}: {}", run.unwrap_err().render(false));
    }
}

#[test]
fn oil_as_a_volume_is_as_many_drops_as_it_makes() {
    let after = |oil: &str| {
        let study = runs(&script(&format!("ride.launch(4.m_s); {oil} ride.park(10.min);")), &BTreeMap::new(), Some(1));
        study.unwrap().record.runs
    };
    let drops = after("ride.oil(5);");
    assert_eq!(after("ride.oil(0.2.mL);"), drops, "a drop of the example machine is 0.04 mL");
    assert_eq!(after("ride.oil(200.mm3);"), drops);
    assert_ne!(after("ride.oil(4);"), drops);
}

#[test]
fn a_held_speed_out_of_reach_is_reported_with_both_speeds() {
    let told = |duty: &str| {
        let study = runs(&script(duty), &BTreeMap::new(), Some(1)).unwrap();
        let run = &study.record.runs[0];
        let warning = run.warned(slipsoak_engine::record::Warned::OutOfReach);
        let sentence = |w| slipsoak_plots::words::warnings::sentence(run, w).text().replace('\u{a0}', " ");
        warning.map(sentence).into_iter().collect::<Vec<_>>()
    };
    let told_of = told("ride.launch(25.km_h); ride.hold(90.km_h, 60.s);");
    assert!(told_of.len() == 1 && told_of[0].contains("asks for 90 km/h (56 mph)"), "{told_of:?}");
    assert_eq!(told("ride.launch(25.km_h); ride.hold(25.km_h, 60.s);"), Vec::<String>::new());
}

#[test]
fn what_has_one_meaning_is_taken_as_people_type_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let machine = r#"{"lining_kind": "Molded", "oil": "sae-30", "vehicle": {"wheel_radius": "5 1/2 in"}}"#;
    std::fs::write(folder.path().join("mine.json"), machine).expect("written");
    let printed = |arguments: &[&str]| {
        let output = slipsoak(folder.path(), arguments).assert().success().get_output().clone();
        String::from_utf8(output.stdout).expect("text")
    };
    let sheet = printed(&["part", "mine.json"]);
    for held in ["\"moulded\"", "\"SAE 30\"", "\"139.7 mm\""] {
        assert!(sheet.contains(held), "{held}\n{sheet}");
    }
    let springs = |list: &str| printed(&["choose", "mine.json", "--idle", "1700 rpm", "--springs", list]);
    let usual = springs("1900, 2200");
    for list in ["1900/2200", "1900 and 2200", "1900;2200", "1900 2200 rpm", "1900 rpm or 2200 rpm"] {
        assert_eq!(springs(list), usual, "{list}");
    }
    let gaps = |tolerance: &str| printed(&["gaps", "--bushing", &format!("65 thou ± {tolerance}")]);
    assert_eq!(gaps("10 %"), gaps("6.5 thou"));
}

/// A page gives wear constants in these units.
#[test]
fn a_wear_constant_is_read_in_the_units_in_which_a_page_gives_it() {
    for (text, dimension, si) in [
        ("20 mm³/MJ", Dimension::BurnConstant, 2e-14),
        ("2e-5 mm³/(N·m)", Dimension::WearConstant, 2e-14),
        ("2e-5 mm^3/(N*m)", Dimension::WearConstant, 2e-14),
    ] {
        let value = read(text, dimension).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert!((value / si - 1.0).abs() < 1e-12, "{text} is {value} SI");
    }
}
