//! What is learned of the trail carts by the command of the shipped calibration, today: made once for all tests that read it.

use crate::common::{kept_folder, slipsoak};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

pub const SHIPPED: &str = "scripts/duty/trail-cart-calibration.json";

/// A saved document.
pub fn read(path: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(path).expect("a document")).expect("JSON")
}

static MADE: LazyLock<PathBuf> = LazyLock::new(|| {
    let shipped = read(SHIPPED.as_ref());
    let stored = shipped["head"]["command"].as_array().expect("its command");
    let command: Vec<&str> = stored.iter().skip(1).map(|word| word.as_str().expect("a word")).collect();
    let out = kept_folder("learned").join("bench");
    slipsoak("scripts/duty".as_ref(), &command)
        .args(["--quiet", "--no-pictures", "--out"])
        .arg(&out)
        .assert()
        .success();
    out
});

/// A file that it wrote.
pub fn made(name: &str) -> PathBuf {
    MADE.join(name)
}
