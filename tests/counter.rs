//! At the counter: what a caller says is enough for an answer, in one command without a file.

use crate::common::at_home as slipsoak;
use serde_json::Value;
use std::fs;

fn answer(arguments: &[&str]) -> Value {
    let made = slipsoak(&[arguments, &["--json"]].concat()).assert().success();
    serde_json::from_slice(&made.get_output().stdout).expect("JSON")
}

fn text(arguments: &[&str]) -> String {
    let made = slipsoak(arguments).assert().success();
    let text = String::from_utf8(made.get_output().stdout.clone()).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// An answer without what tells how it was asked.
fn without_head(mut answer: Value) -> Value {
    for key in ["head", "machine"] {
        answer.as_object_mut().expect("an object").remove(key);
    }
    answer
}

#[test]
fn a_caller_gets_the_answer_that_a_parts_file_and_a_stock_give() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| {
        fs::write(folder.path().join(name), text).expect("written");
        folder.path().join(name).display().to_string()
    };
    let part = write(
        "cart.json",
        r#"{"vehicle": {"mass": "160 kg", "wheel_radius": "165 mm", "ratio": "5.5"}, "oil": "SAE 40", "lining_kind": "sintered"}"#,
    );
    let stock = write(
        "stock.json",
        r#"{"springs": [{"name": "1900 rpm", "engagement": "1900 rpm"}, {"name": "2200 rpm", "engagement": "2200 rpm"}]}"#,
    );
    let said = "choose|--motor|6.5 hp|--idle|1850|--wheel|330 mm|--gears|5.5:1|--mass|160 kg|--springs|1900, 2200|--oil|SAE 40|--lining|sintered";
    let said: Vec<&str> = said.split('|').collect();
    let filed = ["choose", &part, "--power", "6.5 hp", "--rated", "3600 rpm", "--idle", "1850 rpm", "--stock", &stock];
    let (said, filed) = (without_head(answer(&said)), without_head(answer(&filed)));
    assert_eq!(said["springs"], filed["springs"]);
    assert_eq!(said, filed);
    // Teeth are as good as their ratio, and another ratio is another answer.
    let geared = |gears: &str| without_head(answer(&["choose", "--gears", gears, "--springs", "1900"]));
    assert_eq!(geared("55:10"), geared("5.5"));
    assert_ne!(geared("55:10"), geared("6.0"));
}

#[test]
fn a_slow_motor_that_the_own_spring_never_engages_is_given_another_spring() {
    let said = text(&["choose", "--motor", "5 kW", "--rated", "1800 rpm", "--idle", "1000 rpm", "--springs", "1250"]);
    assert!(said.contains("Fit the 1250 rpm spring"), "{said}");
}

#[test]
fn a_bare_number_is_taken_where_one_unit_is_usual_and_that_is_said() {
    let made = slipsoak(&["choose", "--idle", "1850", "--springs", "2200", "--quiet"]).assert().success();
    let note = String::from_utf8_lossy(&made.get_output().stderr).into_owned();
    assert_eq!(note, "note: --idle 1850 was read as 1850 rpm\n");
}

#[test]
fn what_a_caller_says_wrong_is_refused_with_what_to_say() {
    for (option, value, wanted) in [
        ("--gears", "11:60", "60:11"),
        ("--gears", "five", "write 5.5:1"),
        ("--gears", "0:1", "is no gear ratio"),
        ("--wheel", "330", "330 has no unit; write for example \"330 mm\""),
        ("--wheel", "33 mm", "between 40 mm and 2000 mm"),
        ("--mass", "160", "write for example \"160 kg\""),
        ("--springs", "190", "a spring of 190 rpm: it must engage between"),
        ("--springs", "1900, 1900 rpm", "twice"),
        ("--springs", " , ", "\"1900, 2200\""),
        ("--lining", "wood", "woven, moulded"),
        ("--oil", "W40", "SAE 30"),
        ("--rated", "3000", "--power"),
        ("--idle", "18500", "between 800 rpm and 4000 rpm"),
    ] {
        let made = slipsoak(&["choose", option, value]).assert().failure();
        let message = String::from_utf8_lossy(&made.get_output().stderr).replace('\u{a0}', " ");
        assert!(message.contains(wanted) && message.contains(option), "{option} {value}: {message}");
    }
}

#[test]
fn the_rule_for_the_wall_holds_for_the_greatest_leakage_and_counts_weeks() {
    let arguments = ["oiling", "--riding", "15 min", "--weekly", "30 min"];
    let folder = tempfile::tempdir().expect("a folder");
    let said = text(&[&arguments[..], &["--out", folder.path().to_str().expect("a path")]].concat());
    let plan = fs::read(folder.path().join("oiling.json")).expect("the plan");
    let plan: Value = serde_json::from_slice(&plan).expect("JSON");
    let every = |advice: &str| {
        let habit = &plan[advice]["every"];
        (habit["riding"].as_f64().expect("s") / 3600.0, habit["outings"].as_u64().expect("a number"))
    };
    let ((hours, outings), (as_set, _)) = (every("advised_at_most_leak"), every("advised"));
    assert!(hours < as_set, "the greatest leakage needs it sooner: {hours} of {as_set}");
    let weeks = (hours / 0.5).floor();
    assert!(weeks > 1.0, "{hours}");
    let rule = format!("For the wall: oil after every {outings} outings");
    let rule = said.find(&rule).unwrap_or_else(|| panic!("{rule} in {said}"));
    assert!(said[rule..].contains(&format!("at that much riding a week, every {weeks:.0} weeks")), "{said}");
    assert!(Some(rule) < said.find("as set"), "{said}");
}

/// A run of that speed says that its springs come too near to the idle; the choice fitted them by the heat of the use alone.
#[test]
fn a_slow_speed_that_is_held_counts_for_the_margin_and_every_limit() {
    let asked = ["choose", "scripts/parts/orchard-cart.json", "--springs", "1900"];
    let held = [&asked[..], &["--crawl", "10 km/h"]].concat();
    let [without, with] = [&asked[..], &held].map(|asked| answer(asked)["springs"][0].clone());
    let margin = |spring: &Value| spring["found"]["margin"].as_f64().expect("rad/s");
    assert!(margin(&with) < 0.5 * margin(&without), "{} {}", margin(&with), margin(&without));
    assert_eq!([&without["verdict"], &with["verdict"]], ["fits", "unfit"]);
    let reasons = with["reasons"].to_string();
    for reason in ["too_near", r#""hot":{"limit":394.15,"part":"springs""#, r#""part":"bushing""#, r#""part":"washer""#]
    {
        assert!(reasons.contains(reason), "no {reason} in {reasons}");
    }
    assert_eq!(reasons.matches("crawl_hot").count(), 2, "{reasons}");
    let said = text(&[&asked[..3], &["2100", "--crawl", "10 km/h"]].concat());
    for words in [
        "held at 10 km/h (6.2 mph) for ten minutes the bushing reaches",
        "(lives do not count this), and within ten minutes the lining reaches",
        "above its continuous limit of 150 °C",
    ] {
        assert!(said.contains(words), "no “{words}” in {said}");
    }
}

/// Its clutch burns out on the slope, and the brake bites while it stands: one step beyond the standstill was taken for a wrong law,
/// and no spring had an answer.
#[test]
fn a_brake_that_bites_at_a_standstill_on_a_slope_leaves_an_answer() {
    let folder = tempfile::tempdir().expect("a folder");
    let part = folder.path().join("cart.json");
    let cart = r#"{"form": "leading", "idle_kind": "throttle stop", "motor": {"idle": "2300 rpm"},
        "vehicle": {"mass": "250 kg", "wheel_radius": "140 mm", "ratio": 4.22, "rolling": 0.08, "drag_area": "0.3 m²"},
        "clutch": {"shoes": 2, "shoe_mass": "90 g"}, "surroundings": {"ambient": "10 °C", "grade": 0.03}}"#;
    fs::write(&part, cart).expect("written");
    let said = text(&["choose", part.to_str().expect("a path"), "--use", "hard", "--springs", "2350"]);
    assert!(said.contains("Fit no spring of this stock for this use."), "{said}");
}
