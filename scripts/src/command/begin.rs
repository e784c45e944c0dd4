//! The command `begin`: a new folder with everything to begin with, from inside the program.

use crate::read::refusal::Refusal;
use crate::read::shipped::SHIPPED;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::parts_file;
use std::fs;
use std::path::Path;

/// A script to change, and templates of readings.
const OWN: &[(&str, &str)] = &[
    ("duty/start.rhai", include_str!("../../start/start.rhai")),
    ("duty/inspections.csv", include_str!("../../start/inspections.csv")),
    ("duty/log.csv", include_str!("../../start/log.csv")),
];

/// What to do in the folder.
const NEXT: &str = "\
Change parts/my-cart.json and duty/start.rhai, then run
    slipsoak run duty/start.rhai --out first --report
Readings of your own go into duty/inspections.csv and duty/log.csv:
    slipsoak calibrate duty/trail-wear.rhai --inspections duty/trail-inspections.csv
";

/// Fills a new folder, and returns what to do there.
pub fn perform(folder: &Path) -> Result<String, Refusal> {
    let empty = fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_none());
    if folder.symlink_metadata().is_ok() && !empty {
        let why = "is there already; nothing was written: name a new folder";
        return Err(Refusal::of_command(format!("{} {why}", folder.display())));
    }
    let refused = |e: std::io::Error| {
        Refusal::new(format!(
            "{} cannot be filled: {e}; name a new folder in one that exists and may be written",
            folder.display()
        ))
    };
    if !empty {
        fs::create_dir(folder).map_err(refused)?;
    }
    for part in ["duty", "parts"] {
        fs::create_dir(folder.join(part)).map_err(refused)?;
    }
    let machine = parts_file::write(&Machine { name: "my cart".to_owned(), ..Machine::default() });
    let files = SHIPPED.iter().chain(OWN).copied().chain([("parts/my-cart.json", machine.as_str())]);
    for (place, text) in files {
        fs::write(folder.join(place), text).map_err(refused)?;
    }
    Ok(format!("{} holds {} files. From inside it:\n{NEXT}", folder.display(), SHIPPED.len() + OWN.len() + 1))
}
