//! One answer of each question to the example, what a calibration of it learns and a ride that it follows: made once for all tests
//! that read them.

use crate::common::{kept_folder, slipsoak};
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

/// What the questions are asked with, by the kind of their answer.
const ASKED: [(&str, &[&str]); 8] = [
    ("choice", &["choose", "example", "--use", "hard", "--stock", "stock.json"]),
    ("gaps", &["gaps", "example", "--use", "hard", "--assemblies", "100"]),
    ("oiling", &["oiling", "example", "--use", "hard"]),
    (
        "season",
        &[
            "season",
            "example",
            "--carts",
            "2",
            "--from",
            "2027-05-01",
            "--to",
            "2027-05-09",
            "--clutches",
            "60",
            "--samples",
            "20",
            "--hours=2 h",
        ],
    ),
    ("measure", &["measure", "example", "--samples", "32", "--riding", "5 min"]),
    ("sheet", &["sheet", "example"]),
    ("retraced", &["retrace", "ride.csv", "--no-pictures"]),
    // Two constants, running-in and lives.
    (
        "told",
        &[
            "calibrate",
            "laps.rhai",
            "--inspections",
            "worn.csv",
            "--running-in-time",
            "10 s",
            "--searches",
            "1",
            "--forecast",
            "2",
        ],
    ),
];

const FILES: [(&str, &str); 4] = [
    ("stock.json", r#"{"springs": [{"name": "a", "engagement": "2200 rpm"}]}"#),
    (
        "laps.rhai",
        "fn lap(ride) { ride.idle(5.s); ride.launch(22.km_h); ride.hold(22.km_h, 20.s); ride.brake(2); }
compare(machine(\"example\"), duty(\"laps\", Fn(\"lap\")).repeated(0.1.hours));
",
    ),
    (
        "worn.csv",
        "clutch,hours [min],washer [mm] ± 0.0000015,lining [mm] ± 0.00005
one,0,0.762,3.0
one,2,0.7619896,2.99983
one,5,0.7619738,2.99948
",
    ),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n5,0\n15,20\n40,20\n50,0\n60,0\n"),
];

/// The folder that holds them, each in one called by its kind; a calibration is in that of what it was told.
static MADE: LazyLock<PathBuf> = LazyLock::new(|| {
    let at = kept_folder("example");
    for (name, text) in FILES {
        fs::write(at.join(name), text).expect("written");
    }
    for (kind, question) in ASKED {
        slipsoak(&at, question).args(["--out", kind]).assert().success();
    }
    at
});

/// The saved answer of a kind.
pub fn answer(kind: &str) -> PathBuf {
    let folder = if kind == "calibration" { "told" } else { kind };
    MADE.join(folder).join(format!("{kind}.json"))
}
