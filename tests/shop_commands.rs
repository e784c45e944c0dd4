//! The shop's questions from outside: the readme's examples, JSON, schemas, figures, refusals.

use crate::common::{at_home as slipsoak, refused as refusal};
use serde_json::Value;
use std::fs;

fn said(arguments: &[&str]) -> String {
    String::from_utf8(slipsoak(arguments).assert().success().get_output().stdout.clone()).expect("text")
}

#[test]
fn answers_fit_their_shipped_schemas_and_are_redrawn_identically() {
    let folder = tempfile::tempdir().expect("a folder");
    let cart = "scripts/parts/orchard-cart.json";
    for (question, answer, short) in
        [("choose", "choice", &[][..]), ("gaps", "gaps", &[]), ("oiling", "oiling", &["--riding", "10 min"])]
    {
        let (out, again) = (folder.path().join(question), folder.path().join(format!("{question}-again")));
        let asked = [question, cart, "--use", "moderate", "--json", "--out", out.to_str().expect("a path")];
        let printed = said(&[&asked[..], short].concat());
        let saved = fs::read_to_string(out.join(format!("{answer}.json"))).expect("saved");
        assert_eq!(printed, saved);
        let shipped = fs::read_to_string(format!("scripts/{answer}.schema.json")).expect("shipped");
        assert!(shipped == said(&["schema", answer]), "scripts/{answer}.schema.json is not what is printed");
        let schema: Value = serde_json::from_str(&shipped).expect("JSON");
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let mut value: Value = serde_json::from_str(&saved).expect("JSON");
        let errors: Vec<String> = validator.iter_errors(&value).map(|e| e.to_string()).collect();
        assert!(errors.is_empty(), "{answer}: {errors:?}");
        value["colour"] = Value::from("red");
        assert!(!validator.is_valid(&value));
        let path = out.join(format!("{answer}.json"));
        let path = path.to_str().expect("a path");
        assert_eq!(said(&["draw", path, "--out", again.to_str().expect("a path")]).lines().next(), Some(answer));
        for end in ["svg", "png"] {
            let of = |folder: &std::path::Path| fs::read(folder.join(format!("{answer}.{end}"))).expect("a figure");
            assert_eq!(of(&out), of(&again), "{answer}.{end}");
        }
        fs::write(path, value.to_string()).expect("written");
        let message = refusal(&["draw", path, "--out", "/nowhere/at/all"], 1);
        assert!(message.contains("unknown field `colour`"), "{message}");
        // An earlier answer is replaced only on request.
        refusal(&[question, cart, "--use", "hard", "--out", out.to_str().expect("a path")], 2);
    }
}

#[test]
fn every_question_on_a_machine_that_stands_on_a_descent_has_its_caution() {
    let caution = "On a descent the clutch lets go below its engagement speed";
    let cart = "scripts/parts/orchard-cart.json";
    for question in [&["sheet", cart][..], &["gaps", cart], &["choose", cart, "--springs", "1700"]] {
        let on = |grade: &str| {
            let set = format!("surroundings.grade={grade}");
            said(&[question, &["--set", &set, "--details", "--no-pictures"]].concat()).replace("\n  ", " ")
        };
        assert!(on("-8 %").contains(caution), "{question:?}");
        assert!(!on("0 %").contains(caution), "{question:?}");
    }
    let down = said(&["choose", cart, "--springs", "1700", "--set", "surroundings.grade=-8 %", "--json"]);
    assert!(down.contains("no_braking"), "{down}");
}

#[test]
fn the_shipped_stock_fits_its_schema_and_the_schema_refuses_what_the_program_does() {
    let shipped = fs::read_to_string("scripts/stock.schema.json").expect("shipped");
    assert!(shipped == said(&["schema", "stock"]), "scripts/stock.schema.json is not what is printed");
    let validator = jsonschema::validator_for(&serde_json::from_str(&shipped).expect("JSON")).expect("a schema");
    let stock: Value =
        serde_json::from_str(&fs::read_to_string("scripts/parts/springs.json").expect("it")).expect("JSON");
    assert!(validator.is_valid(&stock));
    assert_eq!(stock["springs"].as_array().map(Vec::len), Some(15));
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("stock.json");
    for (springs, expected) in [
        (r#"[{"name": "a", "engagement": "1700 rpm", "colour": "red"}]"#, "line 3, column"),
        (r#"[{"name": "a", "engagement": 1700}]"#, "a quantity in quotes with its unit"),
        (r#"[{"name": "a", "engagement": "17 rpm"}]"#, "17 rpm must lie between 300 rpm and 15000 rpm"),
        (r#"[{"name": "a", "engagement": "1700 mm"}]"#, "`mm` is no unit of this quantity"),
        (r#"[{"name": "a", "engagement": "1700 rpm"}, {"name": "a", "engagement": "1800 rpm"}]"#, "used twice"),
        ("[]", "between 1 and 200"),
        (r#"[{"name": "a"]"#, "line 3, column"),
    ] {
        fs::write(&path, format!("{{\n\"about\": \"a test\",\n\"springs\": {springs}\n}}")).expect("written");
        let message = refusal(&["choose", "example", "--stock", path.to_str().expect("a path")], 1);
        assert!(message.contains("stock.json") && message.contains(expected), "{expected}: {message}");
    }
    refusal(&["choose", "example", "--stock", "no-such-stock.json"], 2);
}

#[test]
fn options_are_refused_with_their_unit_and_range() {
    for (arguments, expected) in [
        (["choose", "example", "--load", "60"], "--load: 60 has no unit; write for example \"60 kg\""),
        (["choose", "example", "--idle", "170 rpm"], "--idle is 170 rpm; it must lie between 800 rpm and 4000 rpm"),
        (["choose", "example", "--use", "rentl"], "did you mean `rental`?"),
        (["choose", "example", "--use", "slow"], "no use `slow`; uses: moderate, rental, hard (described by"),
        (["choose", "example", "--grade", "80 %"], "--grade is 80 %; it must lie between 0 % and 50 %"),
        (["choose", "example", "--set", "clutch.engagment=1 rpm"], "did you mean `clutch.engagement`?"),
        (["gaps", "example", "--proud", "65"], "--proud: 65 has no unit"),
        (["gaps", "example", "--washer", "30 thou ± 3 rpm"], "`rpm` is no unit of this quantity"),
        (
            ["gaps", "example", "--washer", "30 thou ± 3 m"],
            "the tolerance of --washer is 3000 mm; it must lie between 0 mm and 5 mm",
        ),
        (["gaps", "example", "--cover", "-3 m"], "--cover is -3000 mm"),
        (["oiling", "example", "--drops", "-3"], "--drops is -3; it must lie between 0.5 and 100"),
        (["oiling", "example", "--found", "85"], "--found is 85; it must lie between 0.3 and 1"),
        (["oiling", "example", "--riding", "1 min"], "--riding is 1 min; it must lie between 5 min and 1 day"),
    ] {
        let message = refusal(&arguments, 1);
        assert!(message.contains(expected), "{arguments:?}: {message}");
    }
    refusal(&["choose", "example", "--rated", "3000 rpm"], 2);
    refusal(&["gaps", "example", "--assemblies", "3"], 2);
    assert!(refusal(&["schema", "stocks"], 2).contains("possible values: record, "));
}

/// Common practice, no source: 0.065 ± 0.005 in and 0.030 ± 0.003 in give 0.095 in, worst ± 0.008, RSS ± 0.0058.
#[test]
fn the_shop_gap_is_the_same_in_every_unit() {
    let gap = |proud: &str, washer: &str| -> Value {
        let text = said(&["gaps", "example", "--use", "hard", "--proud", proud, "--washer", washer, "--json"]);
        serde_json::from_str(&text).expect("JSON")
    };
    let inches = gap("0.065 in +- 0.005 in", "0.030 in +/- 0.003 in");
    for (name, wanted) in [("nominal", 0.095), ("worst", 0.008), ("rss", 0.005831)] {
        let value = inches["stack"][name].as_f64().expect("a number") / 0.0254;
        assert!((value - wanted).abs() < 1e-6, "{name}: {value} in");
    }
    for (proud, washer) in [("65 ± 5 thou", "30 thou ± 3 thou"), ("1.651 mm ± 0.127 mm", "0.762 ± 0.0762 mm")] {
        let other = gap(proud, washer);
        for name in ["nominal", "worst", "rss"] {
            let (a, b) = (inches["stack"][name].as_f64().expect("it"), other["stack"][name].as_f64().expect("it"));
            assert!((a / b - 1.0).abs() < 1e-9, "{name}: {a} {b}");
        }
    }
}

#[test]
fn every_spring_that_does_not_fit_has_its_reason_on_the_terminal_also_the_trade_s() {
    let cart = "scripts/parts/orchard-cart.json";
    let asked = ["choose", cart, "--use", "rental", "--idle", "1700 rpm", "--wander", "75 rpm"];
    let answer: Value = serde_json::from_str(&said(&[&asked[..], &["--json"]].concat())).expect("JSON");
    let springs = answer["springs"].as_array().expect("springs");
    let unfit: Vec<&str> =
        springs.iter().filter(|s| s["verdict"] == "unfit").filter_map(|s| s["name"].as_str()).collect();
    assert!(unfit.contains(&answer["trade"]["spring"].as_str().expect("a spring")), "{unfit:?}");
    for details in [&[][..], &["--details"]] {
        let text = said(&[&asked[..], details].concat());
        for name in &unfit {
            assert_eq!(text.matches(&format!("{name} does not fit:")).count(), 1, "{name}: {text}");
        }
    }
}

#[test]
fn the_number_of_threads_does_not_change_an_answer() {
    let choose = |threads: &str| said(&["choose", "example", "--use", "hard", "--json", "--threads", threads]);
    assert_eq!(choose("1"), choose("2"));
}

#[test]
fn an_option_has_one_range_on_the_command_line_and_in_a_script() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    for (question, option, text, word, range) in [
        ("choose", "idle", "9000 rpm", "9000.rpm", "between 800 rpm and 4000 rpm"),
        ("choose", "season", "1 min", "1.min", "between 1 h and 100000 h"),
        ("oiling", "riding", "1 min", "1.min", "between 5 min and 1 day"),
    ] {
        let dashed = format!("--{option}");
        let command = refusal(&[question, "standard", &dashed, text], 1);
        let script = format!("{question}(machine(\"standard\"), \"hard\", #{{ {option}: {word} }});");
        std::fs::write(at.join("ask.rhai"), script).expect("written");
        let script = refusal(&["check", at.join("ask.rhai").to_str().expect("a path")], 1);
        assert!(command.contains(range) && script.contains(range), "{command}\n{script}");
    }
}

#[test]
fn a_sheet_to_fill_in_is_read_by_calibrate_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out");
    let to = out.to_str().expect("a path");
    let cart = "scripts/parts/trail-cart.json";
    let printed =
        said(&["measure", cart, "--for", "life", "--use", "rental", "--samples", "32", "--json", "--out", to]);
    let shipped = fs::read_to_string("scripts/measure.schema.json").expect("shipped");
    assert!(shipped == said(&["schema", "measure"]), "scripts/measure.schema.json is not what is printed");
    let validator = jsonschema::validator_for(&serde_json::from_str(&shipped).expect("JSON")).expect("a schema");
    let plan: Value = serde_json::from_str(&printed).expect("JSON");
    let errors: Vec<String> = validator.iter_errors(&plan).map(|e| e.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    // Nothing widens the answer, and nothing gains more than to know all.
    for candidate in plan["candidates"].as_array().expect("some") {
        let of = |of: &Value, name: &str| of[name].as_f64().expect("a number");
        assert!(of(candidate, "deviation") <= of(&plan["prior"], "deviation") + 1e-9, "{candidate}");
        assert!(of(candidate, "gain") <= of(&plan, "perfect") + 3.0 * of(candidate, "error"), "{candidate}");
    }
    let sheet = out.join("sheet-to-fill-in.csv");
    let text = fs::read_to_string(&sheet).expect("a sheet");
    assert!(text.starts_with("clutch,hours [h],"), "{text}");
    let duty = "scripts/duty/trail-wear.rhai";
    let blank = refusal(&["calibrate", duty, "--inspections", sheet.to_str().expect("a path")], 1);
    assert!(blank.contains("every field of a measurement is blank"), "{blank}");
}

#[test]
fn what_to_measure_does_not_depend_on_the_number_of_threads_and_its_order_not_on_chance() {
    let ask = |threads: &str| {
        said(&[
            "measure",
            "trail-cart",
            "--for",
            "life",
            "--use",
            "rental",
            "--samples",
            "32",
            "--riding",
            "10 min",
            "--json",
            "--threads",
            threads,
        ])
    };
    let plan = ask("1");
    assert_eq!(plan, ask("2"));
    let plan: Value = serde_json::from_str(&plan).expect("JSON");
    let candidates = plan["candidates"].as_array().expect("some");
    let of = |candidate: &Value, name: &str| candidate[name].as_f64().expect("a number");
    // Those that do not stand out from chance follow those that do, by what they narrow.
    let sure = |candidate: &Value| of(candidate, "gain") > 3.0 * of(candidate, "error");
    let unsure: Vec<&Value> = candidates.iter().skip_while(|candidate| sure(candidate)).collect();
    assert!(unsure.len() > 2 && !unsure.iter().any(|candidate| sure(candidate)), "{candidates:?}");
    assert!(unsure.is_sorted_by_key(|candidate| of(candidate, "deviation")), "{unsure:?}");
}

#[test]
fn a_decision_that_is_unknown_is_refused_with_those_that_are() {
    let message = refusal(&["measure", "--for", "brakes"], 2);
    assert!(["oiling", "life", "spring"].iter().all(|known| message.contains(known)), "{message}");
}

/// Springs of 2000 rpm over an idle of 1700 rpm: clear of the usual variation, not of 320 rpm.
#[test]
fn gaps_and_oiling_take_the_variation_of_the_idle() {
    for (question, short) in [("gaps", &[][..]), ("oiling", &["--riding", "5 min"])] {
        let asked = |wander: &[&str]| -> Value {
            serde_json::from_str(&said(&[&[question, "example", "--json"], short, wander].concat())).expect("JSON")
        };
        assert!(asked(&[])["sag"].is_null(), "{question}");
        let wide = asked(&["--wander", "320 rpm"]);
        let highest = wide["sag"]["highest"].as_f64().expect("it sags");
        assert!((highest * 30.0 / std::f64::consts::PI - 2020.0).abs() < 1e-6, "{question}: {highest}");
        let sought = wide["sought"]["engagement"].as_f64().expect("a spring") * 30.0 / std::f64::consts::PI;
        assert!(sought > 2100.0, "{question}: {sought}");
    }
}

/// The idle that is sampled varies as far: a tachometer tells less of one that varies less.
#[test]
fn measure_takes_the_variation_of_the_idle() {
    let asked = |wander: &[&str]| -> Value {
        let all = [&["measure", "example", "--riding", "5 min", "--samples", "32", "--json"], wander].concat();
        serde_json::from_str(&said(&all)).expect("JSON")
    };
    let [usual, narrow, wide] =
        [vec![], vec!["--wander", "20 rpm"], vec!["--wander", "320 rpm"]].map(|wander| asked(&wander));
    assert!(usual["against"].as_array().is_some_and(Vec::is_empty), "{}", usual["against"]);
    let rpm = |value: &Value| value.as_f64().expect("a speed") * 30.0 / std::f64::consts::PI;
    assert!((rpm(&wide["against"][0]["drags"]["highest"]) - 2020.0).abs() < 1e-6, "{}", wide["against"]);
    assert!(rpm(&wide["sought"]["engagement"]) > 2100.0, "{}", wide["sought"]);
    let told = |answer: &Value| {
        let all = answer["candidates"].as_array().expect("measurements").iter();
        let idle = all.clone().find(|one| one["method"] == "idle by tachometer").expect("a tachometer");
        idle["bits"].as_f64().expect("bits")
    };
    assert!(told(&narrow) < told(&usual) - 1.0, "{} and {} bits", told(&narrow), told(&usual));
}

#[test]
fn a_cover_that_most_assemblies_do_not_clear_is_to_be_changed_and_hardly_any_is_not_none() {
    let with = |cover: &str| {
        let text = said(&["gaps", "scripts/parts/orchard-cart.json", "--use", "rental", "--cover", cover]);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // 0.21 mm nominal, 0.01 mm at the worst.
    let most = with("-2.2 mm");
    assert!(most.contains("It does not clear: 64.57 % of assemblies are below the required 0.25 mm"), "{most}");
    assert!(most.contains("Change the cover, the washer or the bushing before it is ridden."), "{most}");
    let hardly = with("-1.96 mm");
    assert!(hardly.contains("It is tight: less than 0.01 % of assemblies"), "{hardly}");
    // At 0.551 mm the gap is 0.25 mm: rounded to 0.55 mm it was less.
    assert!(with("-1.952 mm").contains("replace it at 0.56 mm (22.0 thou), or as soon as"), "{}", with("-1.952 mm"));
    let touching = with("-2.6 mm");
    assert!(touching.contains("the drum touches the cover when new"), "{touching}");
    assert!(!touching.contains("about 0 s"), "{touching}");
}
