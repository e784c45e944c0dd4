//! Temperatures over the duty, one panel a run.

use crate::canvas::sheet;
use crate::look::short;
use crate::panel::{Curve, Limit, Panel, above};
use crate::reading::{celsius, clock, column, name, setting};
use crate::{DrawError, Drawing, Size};
use slipsoak_engine::record::Record;

const SHOWN: [&str; 5] = ["lining surface", "band", "bushing", "washer", "block"];
/// Most panels in one figure.
pub const MOST: usize = 8;

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let runs = &record.runs[..record.runs.len().min(MOST)];
    let columns = if runs.len() > 2 { 2 } else { 1 };
    let rows = runs.len().div_ceil(columns);
    let height = size.height.max(rows as u32 * 250 + 66);
    let lining = column(record, SHOWN[0])?;
    let hottest = runs.iter().map(|r| celsius(r.overall.most[lining])).fold(100.0, f64::max);
    let coolest = runs
        .iter()
        .flat_map(|r| SHOWN.iter().filter_map(|n| column(record, n).ok().map(|k| celsius(r.overall.least[k]))))
        .fold(20.0, f64::min);
    let (per, unit) = clock(runs.iter().map(|r| r.duration).fold(0.0, f64::max));
    let left_out = record.runs.len() - runs.len();
    let note = if left_out > 0 {
        format!(
            "Lines: means of each window; shade: least and greatest of the lining's surface. {left_out} more runs are not shown."
        )
    } else {
        "Lines: means of each window; shade: least and greatest of the lining's surface. Estimates that lean on assumed constants.".to_owned()
    };
    sheet(size.width, height, &format!("Temperatures: {}", short(&record.title, 80)), &note, |body| {
        let places = body.split_evenly((rows, columns));
        for (run, place) in runs.iter().zip(&places) {
            let w = &run.windows;
            let mut curves = vec![];
            for (order, part) in SHOWN.iter().enumerate() {
                let k = column(record, part)?;
                let points = |rows: &Vec<Vec<f64>>| -> Vec<(f64, f64)> {
                    w.end
                        .iter()
                        .zip(rows)
                        .map(|(t, row)| ((t - 0.5 * w.length).max(0.0) / per, celsius(row[k])))
                        .collect()
                };
                let band = if order == 0 {
                    points(&w.least).iter().zip(points(&w.most)).map(|(a, b)| (a.0, a.1, b.1)).collect()
                } else {
                    vec![]
                };
                curves.push(Curve {
                    label: (*part).to_owned(),
                    order,
                    points: points(&w.mean),
                    band,
                    heavy: order == 0,
                });
            }
            let limit = |path: &str, label: &str| {
                setting(run, path).map(|k| Limit { label: format!("{label} {:.0} °C", celsius(k)), at: celsius(k) })
            };
            let limits = [
                limit("limits.lining_most", "lining most"),
                limit("limits.lining_steady", "lining for long"),
                limit("limits.bushing_warning", "bushing oil"),
            ];
            Panel {
                heading: short(&name(record, run), 48),
                across: unit.to_owned(),
                up: "temperature, °C (°F)".to_owned(),
                x: (0.0, run.duration / per),
                y: ((coolest / 20.0).floor() * 20.0, above(hottest, 50.0)),
                curves,
                limits: limits.into_iter().flatten().collect(),
                format_up: &|c| format!("{c:.0} ({:.0})", c * 1.8 + 32.0),
                margin: 128,
            }
            .draw(place)?;
        }
        Ok(())
    })
}
