//! What a run leaves beside its place for a while: a result under way, an earlier one that is moved aside for it, and the remains
//! of runs that were killed.

use crate::keep::place::{above, beginning, locked, refused};
use crate::read::refusal::Refusal;
use std::fs;
use std::path::Path;
use std::time::Duration;
use tempfile::TempDir;

/// Name prefix of folders that are being filled.
pub(crate) const UNDER_WAY: &str = ".slipsoak-";
/// Name prefix of folders that hold an earlier result while a new one takes its place.
const ASIDE: &str = ".slipsoak-old-";
/// Contents of such a folder: the earlier result, and a file with its former name.
const EARLIER: &str = "result";
const NAME: &str = "name";
/// Folders under way that are younger than this may not be locked yet.
const YOUNG: Duration = Duration::from_mins(1);

/// Replaces an earlier result, which is moved aside first and deleted once the new one is in place.
pub(crate) fn exchanged(under_way: TempDir, wanted: &Path) -> Result<(), Refusal> {
    let old = beginning(ASIDE, 0o777).tempdir_in(above(wanted)).map_err(refused(wanted))?;
    let _lock = locked(old.path());
    let aside = old.path().join(EARLIER);
    let had = wanted.exists();
    if had {
        if let Some(name) = wanted.file_name().and_then(|name| name.to_str()) {
            fs::write(old.path().join(NAME), name).map_err(refused(wanted))?;
        }
        fs::rename(wanted, &aside).map_err(refused(wanted))?;
    }
    if let Err(e) = fs::rename(under_way.path(), wanted) {
        if had {
            fs::rename(&aside, wanted).map_err(refused(wanted))?;
        }
        return Err(refused(wanted)(e));
    }
    // The folder has been moved, so the guard must not delete it.
    let _ = under_way.keep();
    Ok(())
}

/// Deletes folders that killed runs left behind, and restores an earlier result that such a run had moved aside. A
/// living run holds a lock on its folder.
pub(crate) fn sweep_up(parent: &Path) {
    let Ok(entries) = fs::read_dir(parent) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = entry.path();
        let old = |about: fs::Metadata| about.modified().ok()?.elapsed().ok();
        let age = fs::symlink_metadata(&path).ok().filter(fs::Metadata::is_dir).and_then(old);
        if !name.starts_with(UNDER_WAY) || age.is_none_or(|age| age < YOUNG) {
            continue;
        }
        let Some(_lock) = locked(&path) else { continue };
        if name.starts_with(ASIDE)
            && let Ok(own) = fs::read_to_string(path.join(NAME))
            && !own.contains(['/', '\\'])
            && fs::symlink_metadata(parent.join(&own)).is_err()
            && fs::rename(path.join(EARLIER), parent.join(&own)).is_err()
        {
            continue;
        }
        // Another user's folder may be impossible to delete.
        let _ = fs::remove_dir_all(&path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs::File;

    #[cfg(unix)]
    #[test]
    fn the_remains_of_a_killed_run_are_deleted_and_the_earlier_result_is_restored() {
        let at = tempfile::tempdir().unwrap();
        let long_ago = std::time::SystemTime::now() - 2 * YOUNG;
        let left = |name: &str| {
            let path = at.path().join(name);
            fs::create_dir(&path).unwrap();
            path
        };
        let (dead, living, young) = (left(".slipsoak-dead00"), left(".slipsoak-alive0"), left(".slipsoak-young0"));
        let (aside, other) = (left(".slipsoak-old-aside0"), left(".other"));
        fs::create_dir(aside.join(EARLIER)).unwrap();
        fs::write(aside.join(EARLIER).join("record.json"), "{}").unwrap();
        fs::write(aside.join(NAME), "mine").unwrap();
        for path in [&dead, &living, &aside, &other] {
            File::open(path).unwrap().set_modified(long_ago).unwrap();
        }
        let _held = locked(&living).expect("locked");
        sweep_up(at.path());
        assert_eq!([&dead, &living, &young, &aside, &other].map(|p| p.exists()), [false, true, true, false, true]);
        assert_eq!(fs::read_to_string(at.path().join("mine/record.json")).unwrap(), "{}");
    }
}
