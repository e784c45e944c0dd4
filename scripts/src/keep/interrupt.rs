//! Handling of signals to stop and of bugs. The work ends at once, unfinished files are removed, and a message says what was
//! kept and how to continue. A second signal ends the program immediately.

use indicatif::ProgressBar;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard};
use std::time::Duration;

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

/// Records more items in the journal.
pub(crate) fn kept(items: u64) {
    if let Some(kept) = &mut state().journal {
        kept.done += items;
    }
}

/// Sets the progress bar that is, or will be, on the terminal.
pub(crate) fn shown(bar: &ProgressBar) {
    state().bar = Some(bar.clone());
}

/// Number of attempts to delete a folder, or to take a lock that the thread with a bug may itself hold.
const TRIES: usize = 3;
/// Pause between attempts to take a lock.
const PAUSE: Duration = Duration::from_millis(20);

/// Removes unfinished files after a bug and says what was kept.
pub(crate) fn abandoned() -> String {
    fn taken<T>(lock: impl Fn() -> Option<T>) -> Option<T> {
        (0..TRIES).find_map(|attempt| {
            if attempt > 0 {
                std::thread::sleep(PAUSE);
            }
            lock()
        })
    }
    // Other threads finish their writing.
    let _last = taken(|| WRITING.try_write().ok());
    let state = taken(|| STATE.try_lock().ok());
    state.map_or_else(|| "what was kept is not known.".to_owned(), |state| state.abandoned().0)
}

impl State {
    /// Clears the terminal of progress and the disk of unfinished files; what [`kept`](Self::kept) says.
    fn abandoned(&self) -> (String, Option<&'static str>) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
        for path in &self.under_way {
            let gone = |path: &Path| std::fs::remove_dir_all(path).or_else(|_| std::fs::remove_file(path)).is_ok();
            let _ = (0..TRIES).any(|_| gone(path));
        }
        self.kept()
    }

    /// What was kept, and what introduces the command that goes on, unless the result is complete.
    fn kept(&self) -> (String, Option<&'static str>) {
        const AGAIN: &str = "The same command starts again:";
        match (&self.finished, &self.journal, &self.wanted) {
            (Some(place), ..) => (format!("the result is whole and stands in {}.", place.display()), None),
            (None, Some(Kept { path, items, done, of }), _) => {
                let kept = format!("{done} of {of} {items} are done and kept in {}.", path.display());
                (kept, Some("The same command goes on from there:"))
            }
            (None, None, Some(wanted)) => (format!("nothing was written to {}.", wanted.display()), Some(AGAIN)),
            (None, None, None) => ("nothing was written.".to_owned(), Some(AGAIN)),
        }
    }
}

/// Starts handling signals to stop, where the system has them. `say` prints a paragraph, and a command below it if there
/// is one.
pub fn heed(say: fn(&str, Option<&str>)) {
    #[cfg(unix)]
    signals::heed(say);
    #[cfg(not(unix))]
    let _ = say;
}

#[cfg(unix)]
mod signals {
    use super::{PoisonError, WRITING, state};
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    use signal_hook::flag;
    use signal_hook::iterator::Signals;
    use slipsoak_plots::words::text::shell;
    use std::sync::Arc;
    use std::sync::atomic::AtomicBool;

    /// Exit codes of shells for programs ended by a signal start here.
    const ENDED: i32 = 128;

    /// Whether a signal was set to be ignored at the start of the program: by `nohup`, or by a shell for background
    /// jobs.
    fn ignored(signal: i32) -> bool {
        let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
        let mask = status.lines().find_map(|line| u64::from_str_radix(line.strip_prefix("SigIgn:")?.trim(), 16).ok());
        // Without this information a closed terminal keeps its usual meaning.
        mask.map_or(signal == SIGHUP, |mask| mask >> (signal - 1) & 1 == 1)
    }

    pub(crate) fn heed(say: fn(&str, Option<&str>)) {
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
                stop(signal, say);
            }
        });
    }

    fn stop(signal: i32, say: fn(&str, Option<&str>)) {
        // A write in progress is finished first; no further write begins.
        let _last = WRITING.write().unwrap_or_else(PoisonError::into_inner);
        let state = state();
        let by = match signal {
            SIGINT => "Ctrl-C (SIGINT)",
            SIGTERM => "a request to end (SIGTERM)",
            _ => "the closing of its terminal (SIGHUP)",
        };
        let words: Vec<String> = std::env::args_os().map(|word| word.to_string_lossy().into_owned()).collect();
        let command = shell(words.iter().map(String::as_str));
        let (kept, continues) = state.abandoned();
        let said = [Some(kept.as_str()), continues].into_iter().flatten().collect::<Vec<_>>().join(" ");
        say(&format!("Stopped by {by}: {said}"), continues.is_some().then_some(&command));
        std::process::exit(ENDED + signal);
    }
}
