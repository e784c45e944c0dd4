//! The readme's statements on the shipped fleets follow from the saved results of their runs (`tests/kept`), and some
//! of their clutches are run again.

use assert_cmd::Command;
use slipsoak_engine::statistics::share_of;
use slipsoak_plots::words::say::time;
use std::collections::BTreeMap;
use std::path::Path;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
/// Error of a life by skipping.
const SKIPPED: f64 = 2e-3;
/// Confidence of the readme's bounds.
const CONFIDENCE: f64 = 0.9;

/// A clutch of a fleet, times in hours.
#[derive(Debug)]
struct Clutch {
    duty: String,
    number: u64,
    running: Option<f64>,
    end: Option<f64>,
    due: Option<f64>,
}

fn kept(name: &str) -> Vec<Clutch> {
    let path = Path::new(ROOT).join("tests/kept").join(name);
    let mut reader = csv::Reader::from_path(path).unwrap();
    let heads = reader.headers().unwrap().clone();
    let clutch = |row: Result<csv::StringRecord, csv::Error>| {
        let row = row.unwrap();
        let hours = |head: &str| row[heads.iter().position(|h| h == head)?].parse().ok();
        Clutch {
            duty: row[1].to_owned(),
            number: row[2].parse().unwrap(),
            running: hours("running [h]"),
            end: hours("end [h]"),
            due: hours("service due [h]"),
        }
    };
    reader.records().map(clutch).collect()
}

/// Each duty's clutches, in the order of the file.
fn by_duty(all: &[Clutch]) -> Vec<(&str, Vec<&Clutch>)> {
    let mut duties: Vec<(&str, Vec<&Clutch>)> = vec![];
    for clutch in all {
        match duties.iter_mut().find(|d| d.0 == clutch.duty) {
            Some(known) => known.1.push(clutch),
            None => duties.push((&clutch.duty, vec![clutch])),
        }
    }
    duties
}

fn readme_says(sentence: &str) {
    let readme = std::fs::read_to_string(Path::new(ROOT).join("README.md")).unwrap();
    let plain = readme.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.contains(sentence), "the readme does not say: {sentence}");
}

/// A share in per cent with its bounds.
fn share(count: usize, of: usize) -> String {
    let share = share_of(count as u64, of as u64, CONFIDENCE);
    format!("{:.0} % ({:.0} to {:.0})", 100.0 * share.share, 100.0 * share.low, 100.0 * share.high)
}

#[test]
fn the_readme_gives_the_results_of_the_oiling_habits() {
    let all = kept("habits.csv");
    for (duty, clutches) in by_duty(&all) {
        let count = |of: fn(&&&Clutch) -> bool| clutches.iter().filter(of).count();
        let (due, ended) = (count(|c| c.due.is_some()), count(|c| c.end.is_some()));
        assert_eq!(clutches.len(), 500);
        readme_says(&format!("| {duty} | {} | {} |", share(due, 500), share(ended, 500)));
    }
}

#[test]
fn the_readme_gives_the_hours_of_the_first_two_worn_carts_and_the_number_that_need_oil() {
    let all = kept("campground.csv");
    for (duty, clutches) in by_duty(&all) {
        let mut ends: Vec<(f64, f64)> = clutches.iter().filter_map(|c| Some((c.end?, c.running?))).collect();
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (end, running) = ends[1];
        let due = clutches.iter().filter(|c| c.due.is_some()).count();
        let second = format!("after {} of running ({:.0} weeks)", time(3600.0 * running), end / 168.0);
        let second = second.replace('\u{a0}', " ");
        readme_says(&format!("{duty}: the second of twenty has a part worn out {second}, the oil of {due} was due"));
    }
}

/// Clutches of the saved runs, run again separately.
fn run_again(script: &str, kept: &[Clutch], parts: u64, part: u64) {
    let folder = tempfile::tempdir().unwrap();
    let (share, out) = (format!("{part}/{parts}"), folder.path().join("fleet"));
    let script = Path::new(ROOT).join("scripts/duty").join(script);
    let mut run = Command::cargo_bin("slipsoak").unwrap();
    run.arg("run").arg(script).arg("--out").arg(&out).args(["--share", &share, "--quiet"]).assert().success();
    let journal = std::fs::read_to_string(folder.path().join(format!("fleet.{part}-of-{parts}.journal"))).unwrap();
    let entries: Vec<serde_json::Value> = journal
        .lines()
        .skip(1)
        // A line ends with a space and its checksum.
        .map(|l| serde_json::from_str(l.rsplit_once(' ').unwrap().0).unwrap())
        .collect();
    assert!(!entries.is_empty());
    let fleets = by_duty(kept);
    let known: BTreeMap<(usize, u64), &Clutch> =
        fleets.iter().enumerate().flat_map(|(f, d)| d.1.iter().map(move |c| ((f, c.number), *c))).collect();
    for entry in entries {
        let item = entry["item"].as_u64().unwrap();
        let which = ((item % fleets.len() as u64) as usize, item / fleets.len() as u64);
        let (was, found) = (known[&which], &entry["found"]["Ok"]);
        assert!(found.is_object(), "{was:?} could not be computed: {entry}");
        for (hours, seconds) in [(was.end, &found["end"]), (was.due, &found["service_due"])] {
            match (hours, seconds.as_f64()) {
                (Some(hours), Some(seconds)) => {
                    assert!((seconds / 3600.0 / hours - 1.0).abs() < SKIPPED, "{was:?}: {found}");
                }
                (hours, seconds) => assert_eq!(hours.is_some(), seconds.is_some(), "{was:?}: {found}"),
            }
        }
    }
}

#[test]
fn a_clutch_of_the_habits_gives_the_saved_result() {
    // Clutch 7 under every habit; without oiling its oil is due.
    let kept = kept("habits.csv");
    assert!(kept[7].number == 7 && kept[7].due.is_some());
    run_again("habits-fleet.rhai", &kept, 500, 8);
}
