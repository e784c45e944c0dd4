//! The page of a result, from the result itself or from a saved one alone.

use crate::Trouble;
use crate::output::{Saved, Unwritten, read_saved, refused};
use slipsoak_plots::report::Page;
use std::fs;
use std::io::Write as _;
use std::path::Path;

/// Writes the page of a saved result; whole or not at all.
pub fn write(saved: &Path, out: &Path, replace: bool) -> Result<(), Trouble> {
    let page = match read_saved(saved)? {
        Saved::Record(record) => Page::of_study(&record),
        Saved::Fleet(report) => Page::of_fleets(&report),
        Saved::Sweep(sweep) => Page::of_sweep(&sweep),
        Saved::Influences(influences) => Page::of_influences(&influences),
        Saved::Answer(answer) => answer.page(),
        Saved::Told(told) => Page::of_calibration(&told),
        Saved::Retraced(ridden) => Page::of_retraced(&ridden),
    };
    if out.exists() && (!replace || !out.is_file()) {
        return Err(Unwritten::Taken(out.to_owned()).into());
    }
    let parent = out.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    if !parent.is_dir() {
        return Err(Unwritten::NoParent(parent.to_owned()).into());
    }
    let mut file = tempfile::Builder::new().prefix(".slipsoak-").tempfile_in(parent).map_err(refused(out))?;
    file.write_all(page.html().as_bytes()).map_err(refused(out))?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(file.path(), fs::Permissions::from_mode(0o644)).map_err(refused(out))?;
    }
    file.persist(out).map_err(|e| refused(out)(e.error))?;
    Ok(())
}
