//! Measured values beside what the model computes: points and lines in one chart.

use crate::sheet::prelude::*;

/// Height of the chart, px.
const HIGH: f64 = 330.0;
/// Half width of the ends of a range, px.
const CAP: f64 = 4.0;

/// Measured values: points, or ranges from a least to a greatest value.
#[derive(Clone, Debug, PartialEq)]
pub struct Data {
    /// what was measured, by whom
    pub label: String,
    /// place, least and greatest value; both are the same for a point
    pub points: Vec<(f64, f64, f64)>,
}

/// Measured values beside the model.
#[derive(Clone, Debug, PartialEq)]
pub struct DataAndModel {
    /// title
    pub title: String,
    /// title of the horizontal axis with its unit
    pub across: String,
    /// title of the vertical axis with its unit
    pub up: String,
    /// limits of the horizontal axis
    pub x: (f64, f64),
    /// limits of the vertical axis
    pub y: (f64, f64),
    /// lines of the model, each with its label
    pub model: Vec<(String, Vec<(f64, f64)>)>,
    /// what was measured
    pub data: Vec<Data>,
    /// how far the model is off, and how sure the data are
    pub caption: String,
}

/// Draws data as points and ranges, the model as lines; readable without colour by dashes and by marks of their own.
pub fn data_and_model(shown: &DataAndModel, look: &Look) -> Result<Drawing, DrawError> {
    let marks = ["●", "○", "◆"];
    let ranged = |d: &Data| d.points.iter().all(|(_, least, most)| least < most);
    let sign = |k: usize, d: &Data| if ranged(d) { "Bar:" } else { marks[k % marks.len()] };
    let said = shown.data.iter().enumerate().map(|(k, d)| format!("{} {}", sign(k, d), d.label));
    let note = look.under(&format!("{}. Lines: the model. {}", said.collect::<Vec<_>>().join("; "), shown.caption));
    let heading = shown.title.clone();
    let describe = format!("{} over {}: measured points beside lines of the model.", shown.up, shown.across);
    let curves = shown.model.iter().enumerate();
    let panel = Panel {
        across: shown.across.clone(),
        up: shown.up.clone(),
        x: shown.x.into(),
        y: shown.y,
        curves: curves.map(|(k, (label, points))| Curve::of(label, k, points.clone())).collect(),
        stacked: look.narrow(),
        room: 150.0,
        ..Panel::default()
    };
    let height = HIGH + HEAD + FOOT + panel.below(look.width() - 2.0 * SIDE);
    sheet(look, height, [&heading, &note, &describe], |sheet| {
        let frame = sheet.body();
        panel.draw(sheet, frame)?;
        let (x, y) = panel.axes(frame);
        for (k, data) in shown.data.iter().enumerate() {
            for &(at, least, most) in &data.points {
                let (at, low, high) = (x.within(at), y.within(least), y.within(most));
                if least < most {
                    sheet.line(&[(at, low), (at, high)], TEXT, 1.6, None)?;
                    for end in [low, high] {
                        sheet.line(&[(at - CAP, end), (at + CAP, end)], TEXT, 1.6, None)?;
                    }
                } else {
                    mark(sheet, k, (at, low))?;
                }
            }
        }
        Ok(())
    })
}

/// A point of the k-th data: a full dot, an open one, a diamond.
fn mark(sheet: &Sheet<'_>, k: usize, (x, y): Place) -> Result<(), DrawError> {
    match k % 3 {
        0 => sheet.dot((x, y), 4.2, TEXT),
        1 => {
            sheet.dot((x, y), 4.6, TEXT)?;
            sheet.dot((x, y), 3.0, PAPER)
        }
        _ => sheet.shape(&[(x, y - 5.0), (x + 5.0, y), (x, y + 5.0), (x - 5.0, y)], TEXT, 1.0),
    }
}
