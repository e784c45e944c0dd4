//! Progress display: a bar on the terminal, with the remaining time.

use crate::keep::interrupt;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};
use std::time::Duration;

/// Duration of work below which no progress is shown.
const SOON: Duration = Duration::from_secs(1);

/// Progress display, on the error stream and only if that is a terminal: nothing for the first second, then the
/// completed and total number of items and the remaining time.
pub struct Progress(ProgressBar);

/// Steps of the bar per item: enough for the rounding of shares not to add up.
const STEPS: f64 = 1e6;

impl Progress {
    /// Progress of this number of items with that name.
    pub fn of(what: &'static str, items: u64, quiet: bool) -> Self {
        let bar = ProgressBar::with_draw_target(Some(0), ProgressDrawTarget::hidden());
        let template = format!("{{done}}/{{all}} {what} {{bar:30}} {{elapsed}}{{left}}");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            let items = |steps: u64| (steps as f64 / STEPS).floor();
            let done = move |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = write!(out, "{}", items(state.pos()));
            };
            let all = move |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = write!(out, "{}", items(state.len().unwrap_or(0)));
            };
            // The remaining time is unknown before something is done.
            let left = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                let _ = if state.pos() == 0 { Ok(()) } else { write!(out, ", {:.0?} left", whole(state.eta())) };
            };
            bar.set_style(style.with_key("done", done).with_key("all", all).with_key("left", left));
        }
        if !quiet {
            interrupt::shown(&bar);
            let later = bar.clone();
            std::thread::spawn(move || {
                std::thread::sleep(SOON);
                if !later.is_finished() {
                    later.set_draw_target(ProgressDrawTarget::stderr());
                    later.enable_steady_tick(Duration::from_millis(250));
                }
            });
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

/// Whole seconds.
fn whole(time: Duration) -> Duration {
    Duration::from_secs(time.as_secs())
}
