//! Sorted bars of the sensitivities: change of a quantity from P10 to P90 of each setting, and shares of the variance.

use crate::figures::influence_bars::{APART, SHARES, VALUE, bar, keys, moved, share, share_of_variance, values};
use crate::sheet::prelude::*;
use crate::words::influence::{most, moves};
use crate::words::reading::{celsius, fahrenheit};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Measure, Ranking};
use slipsoak_engine::units::HOUR;

/// Largest number of bars in a panel, and of panels.
const BARS: usize = 12;
const PANELS: usize = 6;
/// Bars up to this share of the longest one are not drawn.
const SLIGHT: f64 = 0.01;
const ROW: f64 = 21.0;
const ABOVE: f64 = 66.0;
const BELOW: f64 = 50.0;
/// Width of the settings' names, px.
const NAMES: f64 = 304.0;
/// Least and most room for a setting's value beside either end of a bar, px.
const VALUES: (f64, f64) = (58.0, 150.0);

/// Bars of the sensitivities of one measure.
#[derive(Clone, Copy, Debug)]
pub struct Bars(pub Measure);

impl Bars {
    fn title(self) -> String {
        match self.0 {
            Measure::End => "hours of running until the first part is worn out".to_owned(),
            Measure::Service => "hours of running until the oil's service is due".to_owned(),
            Measure::LiningPeak => scales::titled("peak of the lining"),
        }
    }

    /// A value as displayed: h or °C.
    fn shown(self, value: f64) -> f64 {
        if self.0 == Measure::LiningPeak { celsius(value) } else { value / HOUR }
    }

    fn words(self, shown: f64) -> String {
        match self.0 {
            Measure::LiningPeak => scales::pair(&format!("{shown:.0}"), &format!("{:.0}", fahrenheit(shown))),
            _ => number(shown, if shown < 9.95 { 0.1 } else { 1.0 }),
        }
    }

    /// Its unit.
    fn unit(self) -> String {
        if self.0 == Measure::LiningPeak { scales::either("°C", "°F") } else { "h".to_owned() }
    }

    /// Draws the figure.
    pub fn draw(self, influences: &Influences, look: &Look) -> Result<Drawing, DrawError> {
        let rankings = &influences.rankings[..influences.rankings.len().min(PANELS)];
        if rankings.is_empty() {
            return Err(DrawError::Empty);
        }
        let bars = |ranking: &Ranking| self.sorted(ranking).len() as f64;
        let lines = if look.narrow() { 2.0 } else { 1.0 };
        let known = |ranking: &Ranking| ranking.influences.iter().any(|i| i.index(self.0).is_some());
        let shares = influences.rows > 0 && rankings.iter().any(known);
        let above = ABOVE + if look.narrow() && shares { 34.0 } else { 0.0 };
        let high =
            |ranking: &Ranking| above + lines * ROW * bars(ranking) + BELOW + if look.narrow() { 16.0 } else { 0.0 };
        let height = HEAD + rankings.iter().map(high).sum::<f64>() + FOOT;
        let mut note = "Bars: one setting at a time, from the value that 10 % lie below (P10, tick) to the one that 90 % lie below (P90, dot), both written at the bar's ends, all else nominal; arrow: beyond the horizon. Assumed spreads are guesses.".to_owned();
        if shares {
            note.extend([" Shares: ", &influences.rows.to_string(), " rows."]);
        }
        if influences.rankings.len() > rankings.len() {
            note.push_str(" Not all are shown.");
        }
        let describe = format!("A bar for each setting, the longest first; across: {}.", self.title());
        let heading = most(self.0, &rankings[0]);
        sheet(look, height, [&heading, &look.under(&note), &describe], |sheet| {
            let mut top = HEAD;
            for ranking in rankings {
                self.panel(sheet, ranking, shares, top)?;
                top += high(ranking);
            }
            Ok(())
        })
    }

    /// Settings by the change of the measure that they cause, largest first; negligible ones are left out.
    fn sorted(self, ranking: &Ranking) -> Vec<&Influence> {
        let swing = |influence: &Influence| influence.swing(self.0, ranking.horizon);
        let most = ranking.influences.iter().map(swing).fold(0.0, f64::max);
        let mut sorted: Vec<&Influence> = ranking.influences.iter().filter(|i| swing(i) > SLIGHT * most).collect();
        sorted.sort_by(|a, b| swing(b).total_cmp(&swing(a)));
        sorted.truncate(BARS);
        sorted
    }

    fn panel(self, sheet: &Sheet<'_>, ranking: &Ranking, shares: bool, top: f64) -> Result<(), DrawError> {
        let (measure, horizon) = (self.0, ranking.horizon);
        let sorted = self.sorted(ranking);
        let narrow = sheet.narrow();
        let right = match (narrow, shares) {
            (true, _) => 26.0,
            (false, true) => SHARES + 40.0,
            (false, false) => 70.0,
        };
        let (left, right) = (if narrow { SIDE + 26.0 } else { NAMES }, sheet.width - SIDE - right);
        let (row, above) = if narrow { (2.0 * ROW, ABOVE + if shares { 34.0 } else { 0.0 }) } else { (ROW, ABOVE) };
        let words = format!("{}, {}", ranking.variant, ranking.duty);
        sheet.fitted(&words, (left, top + 16.0), Type::HEADING, right - left)?;
        let nominal = measure.of(&ranking.nominal, horizon).map(|v| self.shown(v));
        let Some(nominal) = nominal else {
            let words = "not known: repeat the duty so far, as in `.repeated(2000.hours)`";
            let set = Type::LABEL.ink(QUIET);
            return sheet.lines(&wrapped(words, set, right - left)?, (left, top + ABOVE), set, 17.0);
        };
        let ranges: Vec<(f64, f64)> = sorted
            .iter()
            .map(|i| i.range(measure, horizon).map_or((nominal, nominal), |(a, b)| (self.shown(a), self.shown(b))))
            .collect();
        // The settings' values stand beside the bars' ends.
        let mut room = VALUES.0;
        for words in sorted.iter().filter_map(|influence| values(influence)).flatten().filter(|_| !narrow) {
            room = room.max(bare_width(&words, VALUE)? + 2.0 * APART).min(VALUES.1);
        }
        let ends = (left + room, right - room);
        let axis = Axis::fitting(ranges.iter().flat_map(|(a, b)| [*a, *b]).chain([nominal]), nominal, 6.0, ends);
        let (first, floor) = (top + above, top + above + row * sorted.len() as f64);
        let tick = Type::TICK;
        let own = axis
            .ticks(6)
            .into_iter()
            .map(|(value, words)| (value, if self.0 == Measure::LiningPeak { self.words(value) } else { words }));
        let ticks = thinned(&axis, own.collect(), tick)?;
        ruler::below(sheet, &axis, &ticks, floor, Some(first - 4.0), &self.title())?;
        let title = Type::LABEL;
        let middle = axis.within(nominal);
        sheet.line(&[(middle, first - 6.0), (middle, floor)], TEXT, 1.1, None)?;
        let words = format!(
            "everything nominal {}{}",
            if self.hidden(&ranking.nominal) { "> " } else { "" },
            self.words(nominal)
        );
        let half = 0.5 * width_of(&words, tick)?;
        sheet.text(&words, (middle.clamp(left + half, right - half), first - 16.0), tick.side(0))?;
        for (k, (influence, (low, high))) in sorted.iter().zip(&ranges).enumerate() {
            let y = first + row * (k as f64 + if narrow { 0.75 } else { 0.5 });
            let ink = colour(usize::from(influence.by_script));
            if narrow {
                sheet.on_paper(in_words(&influence.draw), (left + 4.0, y - ROW), title)?;
            } else {
                let words = in_words(&influence.draw);
                sheet.fitted(words, (NAMES - 12.0, y), title.side(1), NAMES - SIDE - 12.0)?;
            }
            let (a, b) = (axis.within(*low), axis.within(*high));
            let said = format!(
                "{}: P10 {}, P90 {} {}",
                in_words(&influence.draw),
                self.words(*low),
                self.words(*high),
                self.unit()
            );
            sheet.says(said.trim_end(), || {
                bar(sheet, (a.min(b), y - 5.5), (a.max(b), y + 5.5), influence.by_script)?;
                sheet.line(&[(a, y - 7.0), (a, y + 7.0)], ink, 1.6, None)?;
                sheet.dot((b, y), 4.2, ink)
            })?;
            let hidden = self.beyond(sheet, influence, (a, b, y))?;
            moved(sheet, influence, (a, b, y), hidden)?;
            if shares && narrow {
                let set = tick.side(1).ink(QUIET);
                if let Some(index) = influence.index(measure) {
                    let words = format!("{}, {}", share(index.first), share(index.total));
                    sheet.on_paper(&words, (sheet.width - SIDE, y - ROW), set)?;
                }
            } else if shares {
                share_of_variance(sheet, influence, measure, y)?;
            }
        }
        if shares && !narrow {
            for (at, words) in [(sheet.width - SIDE - SHARES, "0"), (sheet.width - SIDE - 36.0, "1")] {
                sheet.text(words, (at, floor + 13.0), tick.side(0))?;
            }
        }
        let others = ranking.influences.len() - sorted.len();
        if others > 0 {
            // Beside the axis title, because the first tick label may extend as far.
            let set = tick.side(1).ink(QUIET);
            let moving = ranking.influences.iter().filter(|one| moves(measure, one, horizon)).count();
            let words = others_said(moving.saturating_sub(sorted.len()), others);
            let at = if narrow { (right, floor + 47.0) } else { (NAMES - 12.0, floor + 31.0) };
            sheet.text(&words, at, set)?;
        }
        keys(sheet, &sorted, shares, (left, right), top)
    }

    /// Whether an answer is beyond the horizon.
    fn hidden(self, answer: &Answer) -> bool {
        match self.0 {
            Measure::End => answer.end.is_none(),
            Measure::Service => answer.service_due.is_none(),
            Measure::LiningPeak => false,
        }
    }

    /// Marks the end of a bar beyond the horizon; returns its place, if there is one.
    fn beyond(
        self,
        sheet: &Sheet<'_>,
        influence: &Influence,
        (a, b, y): (f64, f64, f64),
    ) -> Result<Option<f64>, DrawError> {
        let at = match (self.hidden(&influence.low), self.hidden(&influence.high)) {
            (true, true) => a.max(b),
            (true, false) => a,
            (false, true) => b,
            (false, false) => return Ok(None),
        };
        // A sign before the setting's value there would be read as belonging to it.
        let from = at + APART;
        sheet.shape(&[(from + 7.0, y), (from, y - 4.0), (from, y + 4.0)], TEXT, 1.0)?;
        Ok(Some(at))
    }
}

/// What is said of the settings without a bar, of which some move the measure less than those that have one.
fn others_said(less: usize, all: usize) -> String {
    match (less, all - less) {
        (0, 1) => "1 other does not move it".to_owned(),
        (0, none) => format!("{none} others do not move it"),
        (1, 0) => "1 other moves it less".to_owned(),
        (some, 0) => format!("{some} others move it less"),
        (some, none) => format!("{some} of {} others move it less, the rest not", some + none),
    }
}
