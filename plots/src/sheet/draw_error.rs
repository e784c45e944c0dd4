//! Reasons why a figure cannot be drawn.

use thiserror::Error;

/// Reason why a figure cannot be drawn.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DrawError {
    /// nothing to draw
    #[error("the record holds no run with any window: there is nothing to draw")]
    Empty,
    /// a sweep with only one combination
    #[error("the sweep crosses nothing: vary a setting or give several machines or duties")]
    Uncrossed,
    /// the record lacks a channel
    #[error("the record has no channel `{0}`; it was written by another version or is damaged")]
    Channel(String),
    /// the windows of a run lack channels
    #[error("the windows of run `{0}` do not hold every channel of the record; the record is damaged")]
    Ragged(String),
    /// the windows of a run are not in sequence
    #[error("the windows of run `{0}` do not follow one another up to its end; the record is damaged")]
    Disordered(String),
    /// a time after the end of every run
    #[error("{asked} lies beyond the longest run, which lasts {longest}")]
    Beyond {
        /// requested time
        asked: String,
        /// length of the longest run
        longest: String,
    },
    /// a time before the start of every run
    #[error("{0} lies before the start of the duty; take a later time")]
    Before(String),
    /// an event that no run has
    #[error("no run has a “{0}” from which a time could count; take a time since the start, such as \"12 min\"")]
    NoEvent(&'static str),
    /// a moment that a run lacks
    #[error("“{run}” has no “{asked}”; it has: {known}. Take a time within it, or another run by --of")]
    NoMoment {
        /// name of the run
        run: String,
        /// requested moments
        asked: String,
        /// the moments that it has
        known: String,
    },
    /// a span of time that no run has
    #[error("no run has any time from “{from}” to “{to}”; give --to a time after that of --from, both within the duty")]
    NoSpan {
        /// requested start
        from: String,
        /// requested end
        to: String,
    },
    /// a name that no run has
    #[error("no run is called `{0}`")]
    Unnamed(String),
    /// a size that is not usable
    #[error("a figure of {width} × {height} px is not usable; take 320 to 10000 px by 200 to 30000 px")]
    Size {
        /// requested width, px
        width: u32,
        /// requested or needed height, px
        height: u32,
    },
    /// the drawing library reports an error
    #[error("the figure cannot be drawn: {0}")]
    Drawing(String),
    /// the drawing cannot be converted to pixels
    #[error("the figure cannot be turned into a PNG: {0}")]
    Raster(String),
}
