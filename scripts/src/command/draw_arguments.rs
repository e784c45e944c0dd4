//! What `draw` takes, and the times that it reads.

use crate::command::options::whole;
use crate::read::quantity::read_near;
use clap::Args;
use slipsoak_engine::parts::Dimension;
use slipsoak_plots::{Anchor, When};
use std::path::PathBuf;

/// Draw figures from a saved result.
#[derive(Debug, Args)]
pub struct Draw {
    /// a JSON result of an earlier run
    pub record: PathBuf,
    /// write the figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// only this figure; may be repeated
    #[arg(long = "figure", value_name = "NAME")]
    pub figures: Vec<String>,
    /// pictures of the clutch at this time instead of the recorded moments: --at "12 min", --at "stop + 10 min" (start, launch,
    /// hottest, stop, last stop, end); may be repeated
    #[arg(long = "at", value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub at: Vec<When>,
    /// figures over time begin at this time: --from "stop - 1 min"
    #[arg(long, value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub from: Option<When>,
    /// figures over time end at this time: --to "stop + 30 min"
    #[arg(long, value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub to: Option<When>,
    /// figures with a panel for each run show this run, machine or duty, instead of the longest-lived, the reference and
    /// the shortest-lived: --of "1600 rpm"; may be repeated
    #[arg(long = "of", value_name = "NAME")]
    pub of: Vec<String>,
    /// write figures as SVG alone, which takes less time
    #[arg(long)]
    pub svg_only: bool,
    /// for a dark background
    #[arg(long)]
    pub dark: bool,
    /// width of a figure, px (the PNG is twice as wide); up to 720 the layout is for a printed column, with letters of 6 pt at 80 mm
    #[arg(long, value_name = "PX", default_value_t = 960, value_parser = whole::<u32, 400, 4000>, allow_hyphen_values = true)]
    pub width: u32,
    /// temperatures in °F instead of °C
    #[arg(long)]
    pub fahrenheit: bool,
    /// title instead of the figure's own; "" for none
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// caption instead of the source and the constants that the result depends on; "" for neither caption nor notes
    #[arg(long, value_name = "TEXT")]
    pub caption: Option<String>,
}

/// A time of a run: `12 min` since the start, `stop`, or `stop + 10 min`.
fn when(text: &str) -> Result<When, String> {
    for (word, sign) in [(" after ", "+"), (" before ", "-")] {
        if let Some((length, event)) = text.split_once(word) {
            return when(&format!("{} {sign} {length}", event.trim().trim_start_matches("the ")));
        }
    }
    let text = text.trim();
    let begins =
        |event: &&Anchor| text.get(..event.name().len()).is_some_and(|head| head.eq_ignore_ascii_case(event.name()));
    let seconds = |text: &str| read_near(text, Dimension::Time, Some(600.0)).map_err(|e| e.to_string());
    let unknown = || {
        let events: Vec<&str> = Anchor::ALL.iter().map(|event| event.name()).collect();
        format!(
            "a time counts from the start, \"12 min\", or from an event, \"stop + 10 min\"; events: {}",
            events.join(", ")
        )
    };
    let Some(event) = Anchor::ALL.iter().find(begins) else {
        return match seconds(text) {
            Ok(time) if time < 0.0 => Err("a time of the duty counts from its start, from 0 s on".to_owned()),
            Err(_) if text.starts_with(|c: char| c.is_alphabetic()) => Err(unknown()),
            read => read.map(When::since_start),
        };
    };
    let rest = text[event.name().len()..].trim_start();
    let signs = [("+", 1.0), ("-", -1.0), ("−", -1.0)];
    let after = match signs.iter().find_map(|(sign, by)| Some((rest.strip_prefix(sign)?, by))) {
        None if rest.is_empty() => 0.0,
        None => return Err(unknown()),
        Some((length, by)) => by * seconds(length.trim())?,
    };
    Ok(When { anchor: *event, after })
}
