//! The shipped scripts, machines and data, inside the program.

use std::path::Path;

/// A shipped file: its place, and its text.
macro_rules! shipped {
    ($($place:literal)+) => { [$(($place, include_str!(concat!("../../", $place)))),+] };
}

/// Every shipped file.
pub(crate) const SHIPPED: &[(&str, &str)] = &shipped! {
    "duty/orchard.rhai" "duty/orchard-life.rhai" "duty/orchard-sweep.rhai" "duty/orchard-fleet.rhai"
    "duty/campground.rhai" "duty/campground-fleet.rhai" "duty/habits-fleet.rhai" "duty/shop-counter.rhai"
    "duty/town-trace.rhai" "duty/trail-wear.rhai" "duty/weekend.rhai" "duty/ece15.csv" "duty/errands.gpx"
    "duty/trail-cart-calibration.json" "duty/trail-inspections.csv" "duty/trail-log.csv"
    "parts/orchard-cart.json" "parts/trail-cart.json" "parts/weekend-cart.json" "parts/springs.json"
};

/// The shipped file that is meant where there is no such file: its name, with or without its ending, and its text.
pub(crate) fn instead_of(path: &Path, ending: &str) -> Option<(&'static str, &'static str)> {
    let bare = path.parent().is_none_or(|folder| folder.as_os_str().is_empty());
    // A folder of results often has the name of its script.
    if !bare || path.exists() && !path.is_dir() {
        return None;
    }
    let given = path.to_str()?;
    let name = if given.ends_with(ending) { given.to_owned() } else { format!("{given}{ending}") };
    named(&name)
}

/// Names of the shipped machines, tables or scripts, without their ending.
pub(crate) fn ending_in(ending: &str) -> impl Iterator<Item = &'static str> {
    let names = SHIPPED.iter().filter_map(|(place, _)| Some(place.split_once('/')?.1));
    names.filter_map(move |name| name.strip_suffix(ending))
}

/// The shipped file of that name.
pub(crate) fn named(name: &str) -> Option<(&'static str, &'static str)> {
    let files = SHIPPED.iter().filter_map(|(place, text)| Some((place.split_once('/')?.1, *text)));
    files.into_iter().find(|(file, _)| *file == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shipped_duty_part_and_reading_is_inside_the_program() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts");
        let files = |part: &'static str| {
            let entries = std::fs::read_dir(root.join(part)).expect("a folder");
            entries.map(move |e| format!("{part}/{}", e.expect("an entry").file_name().to_string_lossy()))
        };
        let mut found: Vec<String> = ["duty", "parts"].into_iter().flat_map(files).collect();
        let mut shipped: Vec<String> = SHIPPED.iter().map(|(place, _)| (*place).to_owned()).collect();
        found.sort();
        shipped.sort();
        assert_eq!(found, shipped);
    }
}
