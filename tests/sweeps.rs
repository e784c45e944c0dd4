//! Sweeps and sensitivities from outside: the result of each combination and variable equals that of a separate run.

use crate::studies::{folder, refusal, run, slipsoak};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::names::{Channel, Entry, Part};
use slipsoak_engine::record::Record;
use slipsoak_engine::sensitivity::{Influences, Measure};
use slipsoak_engine::sweep::Sweep;
use std::fs;
use std::path::Path;

const RIDE: &str = "fn lap(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }\n";
const SWEEP: &str = r#"
let cart = machine("example");
let carts = cart.varied("clutch.engagement", [1900.rpm, 1650.rpm]).varied("surroundings.grade", steps(0, 0.04, 3));
sweep(carts, [duty("lap", Fn("lap")), duty("coast", |ride| ride.coast(param("seconds", 5).s))]);
"#;

fn read<T: serde::de::DeserializeOwned>(path: &std::path::Path) -> T {
    serde_json::from_slice(&fs::read(path).expect("a result")).expect("JSON")
}

#[test]
fn a_combination_gives_the_result_of_a_separate_run() {
    let folder = folder(&[RIDE, SWEEP].concat());
    let at = folder.path();
    let table = run(at, &["--out", "swept"]);
    let sweep: Sweep = read(&at.join("swept/sweep.json"));
    let names: Vec<&str> = sweep.axes.iter().map(|axis| axis.name.as_str()).collect();
    assert_eq!(names, ["clutch.engagement", "surroundings.grade", "duty"]);
    assert_eq!(sweep.axes[0].labels, ["1650 rpm", "1900 rpm"], "values rise, however they were given");
    assert_eq!(sweep.rows.len(), 12);
    let alone =
        r#"compare(machine("example").spring(1650.rpm).having("surroundings.grade", 0.02), duty("lap", Fn("lap")));"#;
    fs::write(at.join("study.rhai"), [RIDE, alone].concat()).expect("written");
    run(at, &["--out", "alone", "--no-pictures"]);
    let record: Record = read(&at.join("alone/record.json"));
    let run = &record.runs[0];
    let found = &sweep.at(&[0, 1, 0]).expect("a combination").summary;
    assert_eq!(found.lining_peak, Channel::LiningSurface.of(&run.overall.most));
    assert_eq!(found.life, run.parts.iter().filter(|p| p.part != Part::Oil).filter_map(|p| p.life).reduce(f64::min));
    assert_eq!(found.slip_energy, Some(run.ledgers.heat.inward[&Entry::SlipHeat] / run.launches as f64));
    // Uphill without a launch the machine stands or rolls, and there is no slip energy.
    assert_eq!(sweep.at(&[1, 0, 1]).expect("a combination").summary.slip_energy, None);
    let csv = fs::read_to_string(at.join("swept/sweep.csv")).expect("a table");
    assert!(csv.starts_with("clutch.engagement [rpm],surroundings.grade [1],duty,lining peak [°C],"), "{csv}");
    assert!(csv.contains("\n1650,0.02,lap,"), "{csv}");
    assert_eq!(csv.lines().count(), 13);
    assert!(table.contains("1650 rpm") && table.contains("kJ") && table.contains("Caution"), "{table}");
    for figure in ["lining-peak", "slip-energy", "life"] {
        assert!(fs::read(at.join(format!("swept/{figure}.png"))).expect("a figure").starts_with(b"\x89PNG"));
    }
    slipsoak(at, &["draw", "swept/sweep.json", "--out", "drawn", "--figure", "life"]).assert().code(0);
    assert!(at.join("drawn/life.svg").exists() && !at.join("drawn/slip-energy.svg").exists());
}

/// At an idle of 1700 rpm, 100 rpm of margin is less than idle and tolerances need: the choice of a spring refuses such a one.
#[test]
fn a_spring_that_engages_too_near_to_the_idle_is_not_recommended_where_the_springs_alone_are_varied() {
    let folder = folder(
        &[
            RIDE,
            r#"sweep(machine("example").varied("clutch.engagement", [1800.rpm, 2000.rpm]), duty("lap", Fn("lap")));"#,
        ]
        .concat(),
    );
    let at = folder.path();
    let said = run(at, &["--out", "swept", "--no-pictures"]);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let sweep: Sweep = read(&at.join("swept/sweep.json"));
    let life = |k: usize| sweep.rows[k].summary.life.expect("a life");
    assert!(life(0) > life(1), "the nearer one lasts longer, and tempts");
    assert!(
        said.contains("Choose engagement speed 2000 rpm: at an idle of 1700 rpm it lasts longest of those that fit"),
        "{said}"
    );
}

#[test]
fn parts_of_a_sweep_are_gathered_into_the_same_bytes_and_a_changed_machine_is_noticed() {
    let folder = folder(&[RIDE, &SWEEP.replace("\"example\"", "\"cart\"")].concat());
    let at = folder.path();
    fs::write(at.join("cart.json"), "{}").expect("written");
    let short = ["--no-pictures", "--set", "seconds=4"];
    let with = |more: &[&'static str]| [&short[..], more].concat();
    run(at, &with(&["--out", "whole", "--threads", "2"]));
    run(at, &with(&["--out", "part", "--share", "1/2"]));
    let gather = ["gather", "study.rhai", "part.1-of-2.journal", "part.2-of-2.journal", "--out", "joined"];
    assert!(refusal(at, &[&gather[..3], &with(&gather[4..])].concat(), 1).contains("missing: 2"));
    run(at, &with(&["--out", "part", "--share", "2/2"]));
    let doubled = [&gather[..3], &gather[2..3], &gather[3..4], &with(&gather[4..])].concat();
    assert!(refusal(at, &doubled, 1).contains("part 1 is there twice"));
    slipsoak(at, &[&gather[..4], &with(&gather[4..])].concat()).assert().code(0);
    for name in ["sweep.json", "sweep.csv"] {
        let [whole, joined] = ["whole", "joined"].map(|out| fs::read(at.join(out).join(name)).expect("a result"));
        assert!(whole == joined, "{name} differs");
    }
    fs::write(at.join("cart.json"), r#"{"vehicle": {"mass": "230 kg"}}"#).expect("written");
    let other = refusal(at, &[&["run", "study.rhai", "--out", "part", "--share", "1/2"], &short[..]].concat(), 1);
    assert!(other.contains("another study, which differs in the file `cart.json`"), "{other}");
}

#[test]
fn sensitivities_equal_those_of_separate_runs_with_changed_settings() {
    let asked = r#"
let cart = machine("example").spring(1900.rpm).spread("surroundings.grade", uniform(0.05));
matters(cart, duty("lap", Fn("lap")), 16);
"#;
    let folder = folder(&[RIDE, asked].concat());
    let at = folder.path();
    let table = run(at, &["--out", "asked"]);
    assert!(table.contains("road grade *") && table.contains("lining wear"), "{table}");
    let all: Influences = read(&at.join("asked/influence.json"));
    let ranking = &all.rankings[0];
    let of = |draw: &str| ranking.influences.iter().find(|i| i.draw == draw).expect(draw);
    let swings: Vec<f64> = ranking.influences.iter().map(|i| i.swing(Measure::End, None)).collect();
    assert!(swings.windows(2).all(|pair| pair[0] >= pair[1]), "{swings:?}");
    // A machine that was never oiled has almost no oil on its faces that could run off.
    let idle = of("oiling.run_off_time");
    assert!(idle.swing(Measure::End, None) < 1e-6 * ranking.nominal.end.expect("an end"), "{idle:?}");
    assert!(idle.end.expect("shares").total < 1e-9, "{idle:?}");
    let wear = of("lining.wear");
    // Life is inversely proportional to the wear constant: P10 and P90 of a lognormal factor of 2.8 are
    // 2.8^(±1.28155/1.64485).
    let ratio = wear.low.end.expect("an end") / wear.high.end.expect("an end");
    assert!((ratio / 2.8f64.powf(2.0 * 1.281_552 / 1.644_854) - 1.0).abs() < 1e-3, "{ratio}");
    assert!(wear.swing(Measure::LiningPeak, None) < 1e-3, "within a lap nothing has worn");
    let words = table.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Fewer than 128 rows"), "{table}");
    // The slope at P90 is 0.8 of its half width.
    let alone =
        r#"compare(machine("example").spring(1900.rpm).having("surroundings.grade", 0.04), duty("lap", Fn("lap")));"#;
    fs::write(at.join("study.rhai"), [RIDE, alone].concat()).expect("written");
    run(at, &["--out", "alone", "--no-pictures"]);
    let record: Record = read(&at.join("alone/record.json"));
    let (here, there) =
        (of("surroundings.grade").high.lining_peak, Channel::LiningSurface.of(&record.runs[0].overall.most));
    assert!((here - there).abs() < 1e-6, "{here} K, {there} K");
    let csv = fs::read_to_string(at.join("asked/influence.csv")).expect("a table");
    assert_eq!(csv.lines().count(), 1 + ranking.influences.len());
    assert!(at.join("asked/what-matters-for-the-end.svg").exists());
}

const RISING: &str = r#"
let cart = machine("example").varied("heat.bushing", [8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0]);
sweep(cart, duty("lap", |ride| {
    ride.idle(10.s);
    ride.launch(15.km_h);
    ride.brake(2);
    if param("bad", 0) > 0 && ride.fill >= 0.0 { ride.hold(-1.km_h, 10.s); }
}));
"#;

/// Runs a study as its only part, and changes its journal so that the first run counts as failed: within its ranges the
/// engine computes everything.
fn without_the_first(at: &Path) {
    run(at, &["--out", "o", "--share", "1/1", "--quiet"]);
    let journal = at.join("o.journal");
    let text = fs::read_to_string(&journal).expect("a journal");
    let failed = r#"{"item":0,"found":{"Err":"the simulation cannot go on"}}"#;
    let failed = format!("{failed} {:08x}\n", crc32fast::hash(failed.as_bytes()));
    let lines =
        text.lines().map(|line| if line.starts_with(r#"{"item":0,"#) { failed.clone() } else { format!("{line}\n") });
    let changed: String = lines.collect();
    assert_ne!(changed, text);
    fs::write(&journal, changed).expect("written");
}

#[test]
fn a_combination_that_cannot_be_computed_is_left_out_and_named() {
    let folder = folder(RISING);
    let at = folder.path();
    without_the_first(at);
    let gathered = ["gather", "study.rhai", "o.journal", "--out", "swept", "--report"];
    let said = slipsoak(at, &gathered).assert().code(0).get_output().stdout.clone();
    let said = String::from_utf8(said).expect("text").split_whitespace().collect::<Vec<_>>().join(" ");
    let wanted = "1 of 10 combinations could not be computed and is left out: example, heat capacity of the bushing 8 J/K, lap: the simulation";
    assert!(said.contains(wanted), "{said}");
    assert!(
        fs::read_to_string(at.join("swept/report.html")).expect("a page").contains("1 of 10 combinations could not")
    );
    let sweep: Sweep = read(&at.join("swept/sweep.json"));
    assert_eq!((sweep.rows.len(), sweep.failed.len(), sweep.failed[0].item), (9, 1, 0));
    assert!(sweep.at(&[0]).is_none());
    slipsoak(at, &["draw", "swept/sweep.json", "--out", "drawn"]).assert().code(0);
    // A mistake of the script does not count as a failed item.
    let message = refusal(at, &["run", "study.rhai", "--out", "bad", "--set", "bad=1"], 1);
    assert!(message.contains("`hold`") && !message.contains("left out"), "{message}");
}

/// The idle is spread so widely that points of the design would stall, but neither its P10 nor its P90.
const STALLING: &str = r#"
let cart = machine("example").having("motor.stall", 1400.rpm).spread("motor.idle", normal(200.rpm));
matters(cart, duty("lap", |ride| { ride.idle(10.s); ride.launch(15.km_h); ride.brake(2); }), 32);
"#;

#[test]
fn a_machine_with_a_missing_design_point_has_no_shares_but_keeps_its_ranking() {
    let folder = folder(STALLING);
    let at = folder.path();
    let said = run(at, &["--out", "ranked", "--report"]).split_whitespace().collect::<Vec<_>>().join(" ");
    let ranked: Influences = read(&at.join("ranked/influence.json"));
    let (named, missing) = (
        format!(
            "{} of 1391 runs could not be computed and are left out: point 0 of the design of",
            ranked.failed.len()
        ),
        "has no shares of variance",
    );
    assert!(said.contains(&named) && said.contains(missing), "{said}");
    let stalls = |failed: &Failed| failed.why.contains("the motor would stall at idle");
    assert!(ranked.failed.iter().all(stalls), "{:?}", ranked.failed);
    assert_eq!((ranked.failed.len(), ranked.rankings[0].influences.len()), (82, 39));
    assert!(ranked.rankings[0].influences.iter().all(|i| i.lining_peak.is_none()));
    slipsoak(at, &["draw", "ranked/influence.json", "--out", "drawn"]).assert().code(0);
    // Every run is compared with the nominal one.
    without_the_first(at);
    let message = refusal(at, &["gather", "study.rhai", "o.journal", "--out", "none"], 1);
    assert!(message.contains("at its nominal value") && message.contains("Without this run"), "{message}");
}

/// Half a minute of motor and ten minutes of rest: a run and what matters count the same hours.
#[test]
fn what_matters_counts_the_hours_that_the_motor_runs_and_not_the_rests() {
    const DAYS: &str = r#"
fn day(ride) { ride.idle(10.s); ride.launch(20.km_h); ride.brake(2); ride.motor_off(10.min); }
let cart = machine("example").spring(2400.rpm).having("lining.wear", 1e-12).spread("lining.width", uniform(2.mm));
let days = duty("day", Fn("day")).repeated(400.hours);
"#;
    let folder = folder(&[DAYS, "matters(cart, days);"].concat());
    let at = folder.path();
    let table = run(at, &["--out", "asked", "--no-pictures"]);
    let all: Influences = read(&at.join("asked/influence.json"));
    fs::write(at.join("study.rhai"), [DAYS, "compare(cart, days);"].concat()).expect("written");
    run(at, &["--out", "alone", "--no-pictures"]);
    let record: Record = read(&at.join("alone/record.json"));
    let life = record.runs[0].horizon.as_ref().expect("it is repeated");
    let (_, end, running) = life.first_worn().expect("the lining is worn out");
    let (running, found) = (running.expect("it is counted"), all.rankings[0].nominal.end.expect("an end"));
    assert!(end > 5.0 * running, "the duty rests: {end} s, {running} s of running");
    assert!((found / running - 1.0).abs() < 1e-6, "{found} s against {running} s of running");
    let words = table.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("of running (") && words.contains("by the calendar; lining)"), "{words}");
}
