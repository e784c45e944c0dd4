//! Labels beside the ends of curves, spaced so that they do not overlap.

use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::lettering::Type;
use crate::sheet::palette::{Dash, Ink};
use crate::sheet::short_names::fit_names;

/// Line spacing of labels, px.
const LINE: f64 = 15.5;
/// Distance from the curve's end to the label, px.
pub const REACH: f64 = 14.0;

/// Label of a curve, beside its end or in a legend.
pub struct Label {
    pub words: String,
    /// vertical position of the curve's end, px
    pub at: f64,
    pub ink: Ink,
    pub bold: bool,
    /// dashes of the curve
    pub dash: Dash,
    /// index of the compared item, if the curve belongs to one
    pub of: Option<usize>,
    /// whether the label is connected to the curve's end by a line
    pub tied: bool,
}

impl Label {
    /// A label connected to a curve's end.
    pub fn of(words: &str, at: f64, ink: Ink) -> Self {
        Self { words: words.to_owned(), at, ink, bold: false, dash: None, of: None, tied: true }
    }
}

/// Writes labels to the right of a position, between a top and a bottom. Thin lines connect them to the ends of their
/// curves.
pub fn write(
    sheet: &Sheet<'_>,
    mut labels: Vec<Label>,
    (left, room): (f64, f64),
    (top, bottom): (f64, f64),
) -> Result<(), DrawError> {
    labels.retain(|label| label.at.is_finite());
    labels.sort_by(|a, b| a.at.total_cmp(&b.at));
    let wanted: Vec<f64> = labels.iter().map(|label| label.at).collect();
    let heights = apart(&wanted, top + 0.4 * LINE, bottom - 0.4 * LINE);
    let set = |label: &Label| Type::LABEL.ink(label.ink).bold(label.bold);
    let names: Vec<_> = labels.iter().map(|label| (label.words.as_str(), set(label), room - REACH)).collect();
    for ((label, height), words) in labels.iter().zip(heights).zip(fit_names(&names)?) {
        let tie = [(left + 2.0, label.at), (left + REACH - 3.0, height)];
        sheet.of(label.of, || {
            if label.tied {
                sheet.line(&tie, label.ink.tint(0.6), 0.7, None)?;
            }
            sheet.text(&words, (left + REACH, height), set(label))
        })?;
    }
    Ok(())
}

/// Vertical positions near the wanted ones, in the same order, at least a line apart, between a top and a bottom if
/// there is room.
fn apart(wanted: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let step = LINE.min((bottom - top) / (wanted.len().max(2) - 1) as f64);
    let mut heights = wanted.to_vec();
    // Groups that touch move by their mean shift, so that a crowd spreads both ways from its middle.
    let mut groups: Vec<(f64, usize)> = vec![];
    for at in wanted {
        let mut group = (*at, 1);
        while let Some((mean, size)) = groups.last().copied() {
            let gap = 0.5 * step * (size + group.1) as f64;
            if group.0 - mean >= gap {
                break;
            }
            groups.pop();
            let total = (size + group.1) as f64;
            let low = mean * size as f64 + group.0 * group.1 as f64;
            group = (low / total, size + group.1);
        }
        groups.push(group);
    }
    let mut k = 0;
    for (mean, size) in groups {
        for place in 0..size {
            heights[k] = mean + step * (place as f64 - 0.5 * (size as f64 - 1.0));
            k += 1;
        }
    }
    let mut floor = top;
    for height in &mut heights {
        *height = height.max(floor);
        floor = *height + step;
    }
    let mut ceiling = bottom;
    for height in heights.iter_mut().rev() {
        *height = height.min(ceiling);
        ceiling = *height - step;
    }
    heights
}

/// Vertical middles of items of these heights in a column, spread evenly between a top and a bottom, or packed if room
/// is short.
pub fn spread(heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let all: f64 = heights.iter().sum();
    let gap = ((bottom - top - all) / heights.len().max(1) as f64).clamp(0.0, 8.0);
    let mut at = 0.5 * (top + bottom - all - gap * (heights.len().max(1) - 1) as f64);
    let mut middles = vec![];
    for height in heights {
        middles.push(at + 0.5 * height);
        at += height + gap;
    }
    middles
}
