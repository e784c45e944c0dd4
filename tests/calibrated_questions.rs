//! The shop's questions of a calibrated machine.

use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::path::Path;

fn slipsoak(folder: &Path, arguments: &[&str]) -> assert_cmd::assert::Assert {
    Command::new(env!("CARGO_BIN_EXE_slipsoak")).current_dir(folder).args(arguments).assert()
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy("scripts/parts/trail-cart.json", folder.path().join("trail-cart.json")).expect("copied");
    fs::copy("scripts/duty/trail-cart-calibration.json", folder.path().join("learned.json")).expect("copied");
    folder
}

/// What a script of one question prints and says, and whether it is answered.
fn asked(folder: &Path, question: &str) -> (String, String, bool) {
    fs::write(folder.join("ask.rhai"), format!("let cart = machine(\"trail-cart\");\n{question}\n")).expect("written");
    let done = slipsoak(folder, &["run", "ask.rhai", "--json"]);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("text");
    let output = done.get_output();
    (text(&output.stdout), text(&output.stderr), output.status.success())
}

const MAY: &str = r#"#{ carts: 2, from: "2027-05-01", to: "2027-05-08", hours: 0.5.hours, samples: 20, clutches: 60"#;

#[test]
fn a_season_of_a_calibrated_machine_is_that_of_the_command_with_what_was_learned() {
    let folder = folder();
    let answers = [
        format!("season(cart.calibrated(\"learned\"), \"rental\", {MAY} }});"),
        format!("season(cart, \"rental\", {MAY}, learned: \"learned\" }});"),
    ];
    let [calibrated, given] = answers.map(|question| {
        let (printed, said, well) = asked(folder.path(), &question);
        assert!(well, "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")
    });
    let command =
        "season trail-cart.json --carts 2 --from 2027-05-01 --to 2027-05-08 --samples 20 --clutches 60 --json";
    let command: Vec<&str> = command.split(' ').chain(["--hours=30 min", "--learned", "learned.json"]).collect();
    let printed = slipsoak(folder.path(), &command).success().get_output().stdout.clone();
    let command: Value = serde_json::from_slice(&printed).expect("JSON");
    let learned = |answer: &Value| {
        let split = answer["split"].as_array().expect("constants").iter();
        split.filter(|one| one["learned"] == true).count()
    };
    assert!(learned(&command) > 1, "{}", command["split"]);
    for answer in [calibrated, given] {
        for part in ["split", "policies", "settings"] {
            assert_eq!(answer[part], command[part], "{part}");
        }
    }
}

#[test]
fn a_measurement_of_a_calibrated_machine_narrows_what_the_calibration_left_open() {
    let folder = folder();
    let before = |cart: &str| {
        let question = format!("measure({cart}, \"rental\", #{{ \"for\": \"life\", samples: 32, riding: 10.min }});");
        let (printed, said, well) = asked(folder.path(), &question);
        assert!(well, "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")["prior"]["deviation"].as_f64().expect("a number")
    };
    let (assumed, learned) = (before("cart"), before("cart.calibrated(\"learned\")"));
    assert!(learned < 0.8 * assumed, "{learned} of {assumed}");
}

#[test]
fn what_was_learned_on_another_machine_is_noted_once_alike_in_scripts_and_at_the_counter() {
    let folder = folder();
    fs::copy("scripts/parts/orchard-cart.json", folder.path().join("orchard-cart.json")).expect("copied");
    let noted = |said: &str| {
        let lines: Vec<&str> = said.lines().filter(|line| line.contains("was learned on")).collect();
        lines.join("\n")
    };
    let checked = |machines: &str| {
        let script = format!("compare([{machines}], duty(\"d\", |ride| ride.idle(1.s)));\n");
        fs::write(folder.path().join("ask.rhai"), script).expect("written");
        let done = slipsoak(folder.path(), &["check", "ask.rhai"]).success();
        noted(&String::from_utf8(done.get_output().stderr.clone()).expect("text"))
    };
    let other = "machine(\"orchard-cart\").calibrated(\"learned\")";
    let note = checked(&format!("{other}.called(\"one\"), {other}.called(\"other\")"));
    let expected = "note: learned.json was learned on the trail cart, not on the orchard cart: it tells of wear where";
    assert!(note.starts_with(expected) && note.lines().count() == 1, "{note}");
    let own = "machine(\"trail-cart\").called(\"as delivered\").calibrated(\"learned\")";
    assert_eq!(checked(own), "");
    let command = ["oiling", "orchard-cart.json", "--riding", "10 min", "--learned", "learned.json"];
    let done = slipsoak(folder.path(), &command).success();
    assert_eq!(noted(&String::from_utf8(done.get_output().stderr.clone()).expect("text")), note);
}

#[test]
fn a_season_refuses_a_machine_that_is_calibrated_twice_and_a_spread_of_the_script() {
    let folder = folder();
    let twice = format!("season(cart.calibrated(\"learned\"), \"rental\", {MAY}, learned: \"learned\" }});");
    let spread = format!("season(cart.spread(\"lining.wear\", factor(1.5)), \"rental\", {MAY} }});");
    for (question, named, advised) in
        [(twice, "calibrated already", "give one of the two"), (spread, "`lining.wear`", "without it")]
    {
        let (_, said, well) = asked(folder.path(), &question);
        assert!(!well && said.contains(named) && said.contains(advised), "{said}");
    }
}

#[test]
fn an_oiling_plan_takes_the_leakage_that_a_calibration_left_open() {
    let folder = folder();
    let plan = |cart: &str| {
        let (printed, said, well) =
            asked(folder.path(), &format!("oiling({cart}, \"rental\", #{{ riding: 10.min }});"));
        assert!(well && !said.contains("note: `oiling`"), "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")
    };
    let wide = |plan: &Value| {
        let leak = |case: &str| {
            let lasts = plan["lasts"].as_array().expect("cases").iter().find(|one| one["name"] == case);
            lasts.expect("a case")["leak"].as_f64().expect("a rate")
        };
        leak("most leak") / leak("least leak")
    };
    let (assumed, learned) = (plan("cart"), plan("cart.calibrated(\"learned\")"));
    assert!(wide(&assumed) > 300.0 && (wide(&learned).sqrt() - 1.2444).abs() < 1e-3, "{}", wide(&learned));
    let shown = slipsoak(
        folder.path(),
        &["oiling", "trail-cart.json", "--use=rental", "--riding=10 min", "--learned", "learned.json"],
    );
    let shown = String::from_utf8(shown.success().get_output().stdout.clone()).expect("text");
    assert!(!shown.contains("nobody has measured") && shown.contains("is learned from measurements"), "{shown}");
}

#[test]
fn a_choice_of_springs_takes_its_ranges_from_what_was_learned_and_another_lining_forgets_it() {
    let folder = folder();
    let (printed, said, well) = asked(folder.path(), "choose(cart.calibrated(\"learned\"), \"rental\");");
    assert!(well && !said.contains("note:"), "{said}");
    let script: Value = serde_json::from_str(&printed).expect("JSON");
    let choose = |options: &[&str]| -> Vec<u8> {
        let all = [&["choose", "trail-cart.json", "--use", "rental", "--learned", "learned.json"], options].concat();
        slipsoak(folder.path(), &all).success().get_output().stdout.clone()
    };
    let command: Value = serde_json::from_slice(&choose(&["--json"])).expect("JSON");
    assert_eq!(script["springs"], command["springs"]);
    // Learned within 1.6, assumed within 2.8 for a woven lining; other parts can only be worn out sooner.
    let fitted = script["springs"].as_array().expect("springs").iter().find(|one| one["name"] == script["best"]);
    let found = &fitted.expect("a spring fits")["found"];
    let [life, high] = [&found["life"], &found["range"][1]].map(|time| time.as_f64().expect("a time"));
    assert!(found["ended_by"] == "lining" && high / life < 1.6, "{found}");
    let text = String::from_utf8(choose(&["--springs", "2100"])).expect("text");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("Learned from measurements: oiled washer wear (÷ or × 1.2) and lining wear"), "{text}");
    assert!(text.contains("on learned and assumed wear constants"), "{text}");
    let other = choose(&["--springs", "2100", "--lining", "moulded", "--json"]);
    let learned = serde_json::from_slice::<Value>(&other).expect("JSON")["learned"].clone();
    assert!(learned.as_array().is_some_and(|all| all.len() == 1), "{learned}");
}

#[test]
fn the_hours_of_a_gap_take_their_range_from_what_was_learned_of_the_face_that_wears() {
    let folder = folder();
    let gaps = |cart: &str| {
        let (printed, said, well) = asked(folder.path(), &format!("gaps({cart}, \"moderate\");"));
        assert!(well && !said.contains("note:"), "{said}");
        serde_json::from_str::<Value>(&printed).expect("JSON")
    };
    let wide = |gaps: &Value, course: usize| {
        let due = &gaps["courses"][course]["washer_due"];
        let [early, late] = [&due["early"], &due["late"]].map(|time| time.as_f64().expect("a time"));
        late / early
    };
    let (assumed, learned) = (gaps("cart"), gaps("cart.calibrated(\"learned\")"));
    assert!(wide(&assumed, 0) > 30.0 && wide(&learned, 0) < 3.0);
    // Nothing was learned of a dry washer.
    assert!((wide(&assumed, 1) / wide(&learned, 1) - 1.0).abs() < 0.2);
    assert_eq!(learned["learned"][0]["path"], "washer.wear_oiled");
}

#[test]
fn a_question_that_samples_no_machines_says_that_it_leaves_out_a_spread_of_the_script() {
    let folder = folder();
    let (_, said, well) = asked(folder.path(), "gaps(cart.spread(\"washer.wear_oiled\", factor(1.5)), \"moderate\");");
    assert!(well && said.contains("note: `gaps` takes the values of washer.wear_oiled"), "{said}");
}

/// What a script of runs of the cart prints, and the figures that it writes.
fn ran(folder: &Path, asked: &str) -> (String, Vec<(String, String)>) {
    let script = format!(
        "let cart = machine(\"trail-cart\");
        fn hire(ride) {{ ride.idle(30.s); ride.launch(22.km_h); ride.hold(22.km_h, 20.s); ride.brake(1.5); }}
        let day = duty(\"hire\", Fn(\"hire\"));\n{asked}\n"
    );
    fs::write(folder.join("ask.rhai"), script).expect("written");
    let options = ["run", "ask.rhai", "--out", "out", "--replace", "--report", "--svg-only", "--details"];
    let done = slipsoak(folder, &options).success();
    let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
    let files = fs::read_dir(folder.join("out")).expect("results").map(|file| file.expect("a file").path());
    let name = |path: &Path| path.file_name().expect("a name").to_string_lossy().into_owned();
    let read = files.map(|path| (name(&path), fs::read_to_string(&path).expect("text"))).collect();
    (text.split_whitespace().collect::<Vec<_>>().join(" "), read)
}

#[test]
fn runs_of_a_calibrated_machine_take_their_ranges_from_what_was_learned_and_say_so() {
    let folder = folder();
    let of = |cart: &str| ran(folder.path(), &format!("compare({cart}, day.repeated(20.hours));"));
    let range = |files: &[(String, String)]| {
        let record = &files.iter().find(|file| file.0 == "record.json").expect("a record").1;
        let record: slipsoak_engine::record::Record = serde_json::from_str(record).expect("a record");
        let life = record.runs[0].first_worn().and_then(|part| part.running).expect("a life");
        record.runs[0].life_range().map(|[low, high]| [life / low, high / life]).expect("a range")
    };
    let (assumed, files) = of("cart");
    assert!(range(&files)[1] > 2.7, "{:?}", range(&files));
    assert!(assumed.contains("wear rate (÷ or × 2.8)") && !assumed.contains("earned"), "{assumed}");
    let (learned, files) = of("cart.calibrated(\"learned\")");
    assert!(range(&files)[1] < 1.6, "{:?}", range(&files));
    for said in [
        "These numbers rest on learned and assumed constants: life on the lining's wear rate (÷ or × 1.6, learned)",
        "per hour (÷ or × 1.2, learned)",
        "if all learned and assumed wear constants are as high or as low as measurements left open or thought possible",
    ] {
        assert!(learned.contains(said), "{said}: {learned}");
    }
    let page = &files.iter().find(|file| file.0 == "report.html").expect("a page").1;
    assert!(page.contains("Learned and assumed constants that decide the most"), "{page}");
    let figure = |name: &str| {
        let all: String = files
            .iter()
            .filter(|file| file.0.contains(name) && file.1.starts_with("<svg"))
            .map(|file| &*file.1)
            .collect();
        assert!(!all.is_empty(), "{name}: {:?}", files.iter().map(|file| &file.0).collect::<Vec<_>>());
        all
    };
    for (name, said) in [
        ("life", "learned and assumed wear"),
        ("gap", "the learned wear constant"),
        ("oil", "÷ or × 1.2, learned"),
        ("temperatures", "Learned: "),
    ] {
        let words = figure(name)
            .split("<text")
            .map(|part| part.split_once('>').map_or("", |end| end.1.split('<').next().unwrap_or("")))
            .collect::<Vec<_>>()
            .join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(said), "{name}: {words}");
    }
}

#[test]
fn a_comparison_says_of_which_machine_wear_rates_were_learned() {
    let folder = folder();
    let real = "cart.calibrated(\"learned\").called(\"real\")";
    let (said, _) = ran(folder.path(), &format!("compare([cart, {real}], day.repeated(20.hours));"));
    for words in ["(÷ or × 2.8; where learned, ÷ or × 1.6)", "since they were not learned for all runs"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    // What the script sets after it was learned is assumed again.
    let (said, _) =
        ran(folder.path(), &format!("compare({real}.having(\"lining.wear\", 40.mm3_MJ), day.repeated(20.hours));"));
    assert!(said.contains("the lining's wear rate (÷ or × 2.8)"), "{said}");
}

#[test]
fn a_sweep_of_a_calibrated_machine_states_the_range_that_was_left_open() {
    let folder = folder();
    let of = |cart: &str| {
        let springs = "varied(\"clutch.engagement\", [2100.rpm, 2200.rpm])";
        ran(folder.path(), &format!("sweep({cart}.{springs}, day.repeated(20.hours));"))
    };
    let (said, _) = of("cart.calibrated(\"learned\")");
    let learned = "Learned from measurements: oiled washer wear (÷ or × 1.2) and lining wear (÷ or × 1.6).";
    assert!(said.contains(learned) && said.contains("on learned and assumed wear constants"), "{said}");
    let (said, _) = of("cart");
    assert!(!said.contains("earned"), "{said}");
}
