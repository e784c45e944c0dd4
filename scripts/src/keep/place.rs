//! Places where results are put, and how they are refused.

use crate::read::refusal::Refusal;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;

/// The parent folder of a path.
pub(crate) fn above(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The system's error of writing to a path.
pub(crate) fn refused(path: &Path) -> impl Fn(std::io::Error) -> Refusal + '_ {
    let advice = "nothing was left there; make room or get the right to write, or choose another --out";
    move |e| Refusal::new(format!("{} cannot be written: {e}; {advice}", path.display()))
}

/// The error of a path that is no folder.
pub(crate) fn not_a_folder(path: &Path) -> Refusal {
    let why = "is not a folder, so nothing can be put into it; choose another --out";
    Refusal::of_command(format!("{} {why}", path.display()))
}

/// A builder of temporary folders or files with the user's default permissions.
pub(crate) fn beginning(prefix: &'static str, mode: u32) -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(prefix);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(mode));
    }
    #[cfg(not(unix))]
    let _ = mode;
    builder
}

/// Writes a file where there is none, completely or not at all.
pub(crate) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    if path.exists() {
        return Err(Refusal::of_command(format!("{} is there already; name a new file", path.display())));
    }
    let parent = above(path);
    if !parent.is_dir() {
        let why = "is not a folder, so nothing can be put into it; name a file in another";
        return Err(Refusal::of_command(format!("{} {why}", parent.display())));
    }
    let mut file = beginning(".slipsoak-", 0o666).tempfile_in(parent).map_err(refused(path))?;
    file.write_all(bytes).map_err(refused(path))?;
    file.persist_noclobber(path).map_err(|e| refused(path)(e.error))?;
    Ok(())
}

/// Locks a folder, where the system can; none if another process holds the lock.
pub(crate) fn locked(folder: &Path) -> Option<File> {
    let file = File::open(folder).ok()?;
    file.try_lock().is_ok().then_some(file)
}
