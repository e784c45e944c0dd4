//! Progress display: a bar on a terminal, a line now and then elsewhere, with the remaining time.

use crate::keep::interrupt;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};
use std::io::IsTerminal;
use std::time::Duration;

/// Duration of work below which no progress is shown.
const SOON: Duration = Duration::from_secs(1);

/// Time between lines where the error stream is no terminal.
const EVERY: Duration = Duration::from_secs(10);

/// Progress display, on the error stream: on a terminal nothing for the first second, then the completed and total number of
/// items and the remaining time; elsewhere a line every ten seconds.
pub struct Progress(ProgressBar);

/// Steps of the bar per item: enough for the rounding of shares not to add up.
const STEPS: f64 = 1e6;

impl Progress {
    /// Progress of this number of items with that name.
    pub fn of(what: &'static str, items: u64, quiet: bool) -> Self {
        if !quiet && !std::io::stderr().is_terminal() {
            return Self::told(what, items, EVERY, |line| anstream::eprintln!("{line}"));
        }
        let progress = Self::hidden(what, items);
        if !quiet {
            let later = progress.0.clone();
            std::thread::spawn(move || {
                std::thread::sleep(SOON);
                if !later.is_finished() {
                    later.set_draw_target(ProgressDrawTarget::stderr());
                    later.enable_steady_tick(Duration::from_millis(250));
                }
            });
            interrupt::shown(&progress.0);
        }
        progress
    }

    /// Progress that hands a line to `sink` in this interval.
    fn told(what: &'static str, items: u64, every: Duration, sink: impl Fn(String) + Send + 'static) -> Self {
        let progress = Self::hidden(what, items);
        let bar = progress.0.clone();
        std::thread::spawn(move || tell(what, &bar, every, sink));
        interrupt::shown(&progress.0);
        progress
    }

    /// Progress of which nothing is shown.
    fn hidden(what: &'static str, items: u64) -> Self {
        let bar = ProgressBar::with_draw_target(Some(0), ProgressDrawTarget::hidden());
        let template = format!("{{done}}/{{all}} {what} {{bar:30}} {{passed}}{{left}}");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            let items = |steps: u64| (steps as f64 / STEPS).floor();
            let done = move |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = write!(out, "{}", items(state.pos()));
            };
            let all = move |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = write!(out, "{}", items(state.len().unwrap_or(0)));
            };
            let passed = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = write!(out, "{}", said(state.elapsed()));
            };
            // The remaining time is unknown before something is done.
            let left = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let known = state.pos() > 0 && state.eta() >= SOON;
                let _ = if known { write!(out, ", {} left", said(state.eta())) } else { Ok(()) };
            };
            let style = style.with_key("done", done).with_key("all", all);
            bar.set_style(style.with_key("passed", passed).with_key("left", left));
        }
        let progress = Self(bar);
        progress.begin(items, 0);
        progress
    }

    /// Sets the number of items, and how many were done before; those are ignored in the estimate of the remaining
    /// time.
    pub fn begin(&self, items: u64, done: u64) {
        self.0.set_length(items * STEPS as u64);
        self.0.set_position(done * STEPS as u64);
        self.0.reset_eta();
    }

    /// Adds a share of one item.
    pub fn add(&self, share: f64) {
        self.0.inc((share * STEPS).round() as u64);
    }

    /// Increases the number of items.
    pub fn lengthen(&self, items: u64) {
        self.0.inc_length(items * STEPS as u64);
    }

    /// Sets the number of completed items; it never decreases.
    pub fn reach(&self, items: f64) {
        self.0.set_position(self.0.position().max((items * STEPS) as u64));
    }

    /// Number of completed items.
    pub fn reached(&self) -> u64 {
        self.0.position() / STEPS as u64
    }

    /// Ends the display, because output follows.
    pub fn end(self) {}
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

/// Hands a line to `sink` in this interval until the bar is finished.
fn tell(what: &str, bar: &ProgressBar, every: Duration, sink: impl Fn(String)) {
    let mut earlier = None;
    loop {
        std::thread::sleep(every);
        if bar.is_finished() {
            return;
        }
        let [done, all] = [bar.position(), bar.length().unwrap_or(0)].map(|steps| steps as f64 / STEPS);
        // The pace since the first line: what was done before a study was resumed tells nothing.
        let now = bar.elapsed();
        let (at, since) = *earlier.get_or_insert((done, now));
        let left = (done > at).then(|| now.saturating_sub(since).mul_f64(((all - done) / (done - at)).clamp(0.0, 1e6)));
        sink(line(what, (done, all), now, left));
    }
}

/// A line of progress: what is done of all, the time passed, and the time left if it is known.
fn line(what: &str, (done, all): (f64, f64), passed: Duration, left: Option<Duration>) -> String {
    let left = left.map_or_else(String::new, |left| format!(", about {} left", said(left)));
    let share = 100.0 * done / all.max(1e-9);
    format!("{done:.0} of {all:.0} {what} ({share:.0} %) after {}{left}", said(passed), done = done.floor())
}

/// A time in the two largest units that it needs, as in 2 min 54 s.
fn said(time: Duration) -> String {
    let s = time.as_secs();
    match s {
        0..60 => format!("{s} s"),
        60..3600 => format!("{} min {} s", s / 60, s % 60),
        3600..172_800 => format!("{} h {} min", s / 3600, s / 60 % 60),
        _ => format!("{} days {} h", s / 86_400, s / 3600 % 24),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_said_in_their_two_largest_units() {
        let said = |s| said(Duration::from_secs(s));
        assert_eq!([0, 59, 174, 3600, 90_061].map(said), ["0 s", "59 s", "2 min 54 s", "1 h 0 min", "25 h 1 min"]);
        let told = line("clutches", (3.7, 12.0), Duration::from_secs(20), Some(Duration::from_secs(174)));
        assert_eq!(told, "3 of 12 clutches (31 %) after 20 s, about 2 min 54 s left");
    }

    #[test]
    fn without_a_terminal_a_line_tells_what_is_done_in_each_interval_until_the_work_ends() {
        let (sender, lines) = std::sync::mpsc::channel();
        let every = Duration::from_millis(20);
        let progress = Progress::told("clutches", 12, every, move |line| drop(sender.send(line)));
        progress.add(3.7);
        let next = || lines.recv_timeout(Duration::from_mins(1)).expect("a line");
        // The first line may be written before anything is done.
        let told = std::iter::repeat_with(next).find(|line| !line.starts_with("0 of")).expect("a line");
        assert!(told.starts_with("3 of 12 clutches (31 %) after "), "{told}");
        progress.add(3.0);
        let told = std::iter::repeat_with(next).find(|line| !line.starts_with("3 of")).expect("a line");
        assert!(told.starts_with("6 of 12 clutches (56 %) after ") && told.ends_with(" left"), "{told}");
        drop(progress);
        // The sender goes with its thread.
        let end = std::iter::repeat_with(|| lines.recv_timeout(Duration::from_mins(1))).find_map(Result::err);
        assert_eq!(end, Some(std::sync::mpsc::RecvTimeoutError::Disconnected));
    }
}
