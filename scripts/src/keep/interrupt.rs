//! Handling of signals to stop. The work ends at once, unfinished files are removed, and a message says what was kept
//! and how to continue. A second signal ends the program immediately.

use crate::command::terminal::set_in;
use indicatif::ProgressBar;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard};

/// State that the signal handler needs: what to keep and what to remove.
static STATE: Mutex<State> =
    Mutex::new(State { under_way: Vec::new(), wanted: None, finished: None, journal: None, bar: None });
/// Read-locked while a file is written or a result is moved, so that no signal interrupts halfway.
static WRITING: RwLock<()> = RwLock::new(());

struct State {
    /// unfinished folders and files
    under_way: Vec<PathBuf>,
    /// wanted place of the result
    wanted: Option<PathBuf>,
    /// place of the finished result
    finished: Option<PathBuf>,
    journal: Option<Kept>,
    bar: Option<ProgressBar>,
}

/// A journal and its progress.
struct Kept {
    path: PathBuf,
    items: &'static str,
    done: u64,
    of: u64,
}

fn state() -> MutexGuard<'static, State> {
    STATE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Delays signals while the guard exists, for operations that must complete. One thread must not take it twice.
pub(crate) fn writing() -> RwLockReadGuard<'static, ()> {
    WRITING.read().unwrap_or_else(PoisonError::into_inner)
}

/// An unfinished folder or file; a signal removes it while this value exists.
#[derive(Debug)]
pub(crate) struct UnderWay(PathBuf);

impl UnderWay {
    /// Registers an unfinished path and its final place.
    pub(crate) fn of(path: &Path, wanted: &Path) -> Self {
        let mut state = state();
        state.under_way.push(path.to_owned());
        state.wanted = Some(wanted.to_owned());
        Self(path.to_owned())
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        state().under_way.retain(|path| *path != self.0);
    }
}

/// Records that a result is complete in its place.
pub(crate) fn finished(place: &Path) {
    let mut state = state();
    state.finished = Some(place.to_owned());
    state.journal = None;
}

/// Records that a journal is kept: number of items, and how many are done.
pub(crate) fn journal(path: &Path, items: &'static str, done: u64, of: u64) {
    state().journal = Some(Kept { path: path.to_owned(), items, done, of });
}

/// Records one more item in the journal.
pub(crate) fn kept() {
    if let Some(kept) = &mut state().journal {
        kept.done += 1;
    }
}

/// Sets the progress bar that is, or will be, on the terminal.
pub(crate) fn shown(bar: &ProgressBar) {
    state().bar = Some(bar.clone());
}

/// A word quoted for a shell.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "-_./=:,+%@".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

impl State {
    /// Message after a stop: what was kept and how to continue.
    fn message(&self, by: &str, command: &str) -> String {
        let (told, command) = match (&self.finished, &self.journal) {
            (Some(place), _) => (format!("the result is whole and stands in {}.", place.display()), None),
            (None, Some(Kept { path, items, done, of })) => {
                let told = format!(
                    "{done} of {of} {items} are done and kept in {}. The same command goes on from there:",
                    path.display()
                );
                (told, Some(command))
            }
            (None, None) => {
                let nothing = match &self.wanted {
                    Some(wanted) => format!("nothing was written to {}.", wanted.display()),
                    None => "nothing was written.".to_owned(),
                };
                (format!("{nothing} The same command starts again:"), Some(command))
            }
        };
        let mut text = set_in(&format!("Stopped by {by}: {told}"), 0, 2);
        if let Some(command) = command {
            let _ = writeln!(text, "  {command}");
        }
        text
    }
}

/// Starts handling signals to stop, where the system has them.
pub fn heed() {
    #[cfg(unix)]
    signals::heed();
}

#[cfg(unix)]
mod signals {
    use super::{PoisonError, WRITING, quoted, state};
    use crate::command::terminal::printable;
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::flag;
    use signal_hook::iterator::Signals;
    use std::io::Write as _;
    use std::path::Path;
    use std::sync::Arc;
    use std::sync::atomic::AtomicBool;

    /// Exit codes of shells for programs ended by a signal start here.
    const ENDED: i32 = 128;
    /// Number of attempts to delete a folder.
    const TRIES: usize = 3;

    /// Whether a signal was set to be ignored at the start of the program: by `nohup`, or by a shell for background
    /// jobs.
    fn ignored(signal: i32) -> bool {
        let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
        let mask = status.lines().find_map(|line| u64::from_str_radix(line.strip_prefix("SigIgn:")?.trim(), 16).ok());
        // Without this information a closed terminal keeps its usual meaning.
        mask.map_or(signal == SIGHUP, |mask| mask >> (signal - 1) & 1 == 1)
    }

    pub(crate) fn heed() {
        let wanted: Vec<i32> = [SIGINT, SIGTERM, SIGHUP].into_iter().filter(|signal| !ignored(*signal)).collect();
        let seen = Arc::new(AtomicBool::new(false));
        // A second signal ends the program even while the first one waits; this handler has to be registered before the
        // flag.
        for signal in &wanted {
            let _ = flag::register_conditional_shutdown(*signal, ENDED + *signal, Arc::clone(&seen));
            let _ = flag::register(*signal, Arc::clone(&seen));
        }
        let Ok(mut signals) = Signals::new(&wanted) else { return };
        std::thread::spawn(move || {
            if let Some(signal) = signals.forever().next() {
                stop(signal);
            }
        });
    }

    fn stop(signal: i32) {
        // A write in progress is finished first; no further write begins.
        let _last = WRITING.write().unwrap_or_else(PoisonError::into_inner);
        let state = state();
        if let Some(bar) = &state.bar {
            bar.finish_and_clear();
        }
        for path in &state.under_way {
            let gone = |path: &Path| std::fs::remove_dir_all(path).or_else(|_| std::fs::remove_file(path)).is_ok();
            let _ = (0..TRIES).any(|_| gone(path));
        }
        let by = match signal {
            SIGINT => "Ctrl-C (SIGINT)",
            SIGTERM => "a request to end (SIGTERM)",
            _ => "the closing of its terminal (SIGHUP)",
        };
        let command = std::env::args_os().map(|word| quoted(&word.to_string_lossy())).collect::<Vec<_>>().join(" ");
        let message = state.message(by, &command);
        let _ = anstream::stderr().write_all(printable(&message).as_bytes());
        std::process::exit(ENDED + signal);
    }
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn words_are_quoted_as_a_shell_takes_them() {
        assert_eq!(
            ["a/b-c.rhai", "two words", "it's", ""].map(quoted),
            ["a/b-c.rhai", "'two words'", r"'it'\''s'", "''"]
        );
    }
}
