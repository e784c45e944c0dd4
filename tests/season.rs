//! A season of a shop's carts from outside: the same bytes with any number of threads, schema, table, and refusals.

use crate::common::at_home as slipsoak;
use serde_json::Value;
use slipsoak_engine::calendar::Date;
use std::fs;

const MAY: [&str; 15] = [
    "season",
    "scripts/parts/trail-cart.json",
    "--carts",
    "3",
    "--from",
    "2027-05-01",
    "--to",
    "2027-05-31",
    "--days",
    "Fri-Sun",
    "--clutches",
    "60",
    "--samples",
    "20",
    "--temperatures=15 °C",
];

fn said(arguments: &[&str]) -> String {
    String::from_utf8(slipsoak(arguments).assert().success().get_output().stdout.clone()).expect("text")
}

#[test]
fn a_season_is_the_same_with_any_number_of_threads_fits_its_schema_and_lists_its_events() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("season");
    let printed = said(
        &[&MAY[..], &["--hours=1 h", "--json", "--threads", "2", "--out", out.to_str().expect("a path")]].concat(),
    );
    assert_eq!(printed, said(&[&MAY[..], &["--hours=1 h", "--json", "--threads", "1"]].concat()));
    let shipped = fs::read_to_string("scripts/season.schema.json").expect("shipped");
    assert!(shipped == said(&["schema", "season"]), "scripts/season.schema.json is not what is printed");
    let validator = jsonschema::validator_for(&serde_json::from_str(&shipped).expect("JSON")).expect("a schema");
    let value: Value = serde_json::from_str(&printed).expect("JSON");
    let errors: Vec<String> = validator.iter_errors(&value).map(|e| e.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    // Friday to Sunday in May 2027: five Saturdays and Sundays, four Fridays.
    assert_eq!(value["question"]["days"], 14);
    let events = fs::read_to_string(out.join("events.csv")).expect("a table");
    let known = value["policies"].as_array().expect("policies").iter();
    let count: usize = known.map(|policy| policy["events"].as_array().expect("events").len()).sum();
    assert_eq!(events.lines().count(), count + 1);
    assert!(events.starts_with("policy,date,cart,event,part,use [%]\n"), "{events}");
    let [saved, html] = [out.join("season.json"), folder.path().join("page.html")];
    said(&["report", saved.to_str().expect("a path"), "--out", html.to_str().expect("a path")]);
    let page = fs::read_to_string(html).expect("a page");
    assert!(page.contains("of oil") && page.contains("assumed, measured by nobody"));
}

/// Parts of a kind in a season beyond which a cart takes them again and again.
const AGAIN: i64 = 5;

/// Holds every cart of a season that was simulated through to the answer: first stops within 3 days, each kind of part within 1. A cart whose
/// bushings grab again and again takes up to half more by the answer, which is raised to the safe side: 14 for 10 of a trail cart.
fn assert_simulated_as_said(value: &Value) -> usize {
    let followed = value["map"]["followed"].as_array().expect("carts");
    assert!((1..=3).contains(&followed.len()), "{followed:?}");
    let mut stops = 0;
    for one in followed {
        let demands = |by: &str| -> Vec<i64> {
            let all = one[by]["demands"].as_array().unwrap_or_else(|| panic!("{one}"));
            all.iter().map(|n| n.as_i64().expect("a number")).collect()
        };
        let stop = |by: &str| one[by]["stop"].as_str().map(|date| Date::read(date).expect("a date"));
        let (map, simulated) = (demands("map"), demands("simulated"));
        let agree = |(a, b): (&i64, &i64)| (a - b).abs() <= 1 || (*b > AGAIN && *a > *b && 2 * a <= 3 * b);
        assert!(map.iter().zip(&simulated).all(agree), "{one}");
        match (stop("map"), stop("simulated")) {
            (Some(a), Some(b)) => assert!((a.0 - b.0).abs() <= 3, "{one}"),
            (a, b) => assert_eq!(a, b, "{one}"),
        }
        stops += usize::from(stop("simulated").is_some());
    }
    stops
}

#[test]
fn three_carts_simulated_through_stop_and_need_parts_as_the_answer_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("season");
    let text = said(&[&MAY[..], &["--direct", "--out", out.to_str().expect("a path")]].concat());
    let value: Value = serde_json::from_slice(&fs::read(out.join("season.json")).expect("saved")).expect("JSON");
    let command = value["head"]["command"].as_array().expect("a command");
    assert!(command.contains(&"--direct".into()) && !command.contains(&"".into()), "{command:?}");
    assert_simulated_as_said(&value);
    assert!(text.contains("Simulated launch by launch from the first day to the last"), "{text}");
}

#[test]
#[ignore = "two minutes"]
fn six_weeks_of_three_machines_simulated_through_stop_and_need_parts_as_the_answers_say() {
    let mut stops = 0;
    for machine in ["trail-cart", "weekend-cart", "orchard-cart"] {
        let mut all = MAY.to_vec();
        let part = format!("scripts/parts/{machine}.json");
        (all[1], all[7], all[9], all[11], all[14]) =
            (&part, "2027-06-15", "Wed-Sun", "150", "--temperatures=12, 17 °C");
        let worn = ["--used", "linings 80 h, washers 80 h, bushings 30 h", "--direct", "--json"];
        stops += assert_simulated_as_said(&serde_json::from_str(&said(&[&all[..], &worn].concat())).expect("JSON"));
    }
    assert!(stops >= 3, "hardly a cart stopped");
}

#[test]
fn what_a_calibration_learned_is_taken_in_place_of_what_is_assumed() {
    let learned = ["--learned", "scripts/duty/trail-cart-calibration.json"];
    let value: Value =
        serde_json::from_str(&said(&[&MAY[..], &learned, &["--hours=30 min", "--json"]].concat())).expect("JSON");
    let split = value["split"].as_array().expect("constants");
    let file = fs::read_to_string(learned[1]).expect("a calibration");
    let file: Value = serde_json::from_str(&file).expect("JSON");
    for one in file["constants"].as_array().expect("constants") {
        let own = split.iter().find(|own| own["path"] == one["path"]).unwrap_or_else(|| panic!("{one}"));
        assert_eq!(own["learned"], true);
        let [spread, stated] = [&own["spread"]["factor"], &one["spread"]].map(|v| v.as_f64().expect("a factor"));
        assert!((spread / stated - 1.0).abs() < 1e-6, "{spread}, not {stated}");
    }
    let message =
        slipsoak(&[&MAY[..], &["--learned", "Cargo.toml"]].concat()).assert().failure().get_output().stderr.clone();
    let message = String::from_utf8(message).expect("text");
    assert!(message.contains("Cargo.toml") && !message.contains("panicked"), "{message}");
}

#[test]
fn a_wrong_question_is_refused_with_what_to_write() {
    let with = |option: &str, value: &str| {
        let mut all: Vec<&str> = MAY.to_vec();
        match all.iter().position(|own| *own == option) {
            Some(at) => all[at + 1] = value,
            None => all.extend([option, value]),
        }
        let output = slipsoak(&all).assert().failure().get_output().stderr.clone();
        let message = String::from_utf8(output).expect("text");
        assert!(!message.contains("panicked"), "{message}");
        message
    };
    for (option, value, words) in [
        ("--carts", "0", "a whole number is wanted here, from 1 to 1000"),
        ("--to", "2027-04-01", "--to: 2027-04-01 is before the first day, 2027-05-01; exchange the two dates"),
        ("--from", "2027-02-30", "--from: `2027-02-30` is no date of the calendar; write year, month and day"),
        ("--days", "Wend-Sun", "--days: `Wend` is no weekday"),
        ("--hours", "30", "--hours is 30 h; it must lie between 1 min and 1 day"),
        ("--stock", "5 belts", "--stock: there is no spare part `belts`"),
        ("--prices", "washer three", "--prices: `washer three`: write a name and a number"),
        ("--against", "some oil", "--against: `some oil` is no rule of service; write for example"),
        ("--oil-on", "Someday", "--oil-on: `Someday` is no weekday"),
        ("--renew-at", "10 %", "--renew-at is 10 %; it must lie between 30 % and 100 %"),
        ("--oil-every", "400 days", "--oil-every: `400 days` is no number of days between 1 and 365"),
        ("--lead", "500 days", "--lead is 500 days; it must lie between 0 s and 400 days"),
    ] {
        let message = with(option, value);
        assert!(message.contains(words), "{option} {value}: {message}");
    }
    let thirteen = [&MAY[..14], &["--temperatures", "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13 °C"]].concat();
    let message = String::from_utf8(slipsoak(&thirteen).assert().failure().get_output().stderr.clone()).expect("text");
    assert!(message.contains("13 temperatures are given, but 2027-05-01 to 2027-05-31 takes 1; give"), "{message}");
}

#[test]
fn springs_that_drag_at_the_idle_of_the_variation_given_are_refused_for_a_season() {
    let asked = |options: &[&str]| -> Value {
        serde_json::from_str(&said(&[&MAY[..], &["--hours=1 h", "--json"], options].concat())).expect("JSON")
    };
    let idle = |answer: &Value| {
        let split = answer["split"].as_array().expect("constants").iter().find(|one| one["path"] == "motor.idle");
        split.expect("a spread")["spread"]["uniform"].as_f64().expect("a number") * 30.0 / std::f64::consts::PI
    };
    let (usual, wide) = (asked(&[]), asked(&["--wander=400 rpm"]));
    assert!(usual["against"].as_array().is_some_and(Vec::is_empty), "{}", usual["against"]);
    assert!(wide["against"][0]["drags"].is_object(), "{}", wide["against"]);
    assert!((idle(&usual) - 75.0).abs() < 1e-9 && (idle(&wide) - 400.0).abs() < 1e-9);
    // The command that it names judges by the same variation.
    let printed = said(&[&MAY[..], &["--hours=1 h", "--wander=400 rpm"]].concat());
    let printed = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(printed.contains("idle ± 400 rpm from cart to cart"), "{printed}");
    // No parts are counted for carts that must not be ridden.
    assert!(printed.contains("Do not rent these carts out as they are. Choose another spring first"), "{printed}");
    assert!(wide["policies"].as_array().is_some_and(Vec::is_empty) && !printed.contains("Parts needed"), "{printed}");
    assert!(printed.contains("slipsoak choose scripts/parts/trail-cart.json --wander '400 rpm'"), "{printed}");
}
