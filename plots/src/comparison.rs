//! All runs side by side: what each costs in heat, oil and life.

use crate::canvas::{Area, FINE, px, refused, sheet, text};
use crate::look::{INK, colour, short};
use crate::reading::{celsius, column, ended_by, hours, name};
use crate::{DrawError, Drawing, Size};
use plotters::prelude::*;
use slipsoak_engine::record::Record;

const ROW: u32 = 30;

struct Measure {
    heading: &'static str,
    values: Vec<f64>,
    words: Vec<String>,
    logarithmic: bool,
}

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let lining = column(record, "lining surface")?;
    let fill = column(record, "oil fill")?;
    let runs = &record.runs;
    let peak = |k: usize| celsius(runs[k].overall.most[lining]);
    let slip =
        |k: usize| runs[k].ledgers.heat.inward.get("slip heat").copied().unwrap_or(0.0) / runs[k].duration.max(1e-9);
    let oil = |k: usize| runs[k].windows.mean.last().map_or(0.0, |row| row[fill]);
    let of = |f: &dyn Fn(usize) -> f64| (0..runs.len()).map(f).collect::<Vec<f64>>();
    let say = |f: &dyn Fn(usize) -> String| (0..runs.len()).map(f).collect::<Vec<String>>();
    let measures = [
        Measure {
            heading: "peak of the lining, °C (°F)",
            values: of(&peak),
            words: say(&|k| format!("{:.0} ({:.0})", peak(k), peak(k) * 1.8 + 32.0)),
            logarithmic: false,
        },
        Measure {
            heading: "mean slip heat, W",
            values: of(&slip),
            words: say(&|k| format!("{:.0}", slip(k))),
            logarithmic: false,
        },
        Measure {
            heading: "oil fill at the end, %",
            values: of(&|k| 100.0 * oil(k)),
            words: say(&|k| format!("{:.0}", 100.0 * oil(k))),
            logarithmic: false,
        },
        Measure {
            heading: "life at this rate, and what ends it",
            values: of(&|k| ended_by(&runs[k]).map_or(f64::NAN, |e| e.1)),
            words: say(&|k| {
                ended_by(&runs[k]).map_or_else(|| "none worn".to_owned(), |(part, h)| format!("{} {part}", hours(h)))
            }),
            logarithmic: true,
        },
    ];
    let height = (66 + 50 + ROW * runs.len() as u32).max(size.height / 2);
    let note = "Life: hours of this duty until the first part is at its limit (oil apart). Estimates that lean on assumed wear constants and end leak.";
    sheet(size.width, height, &short(&record.title, 90), note, |body| {
        let (names, rest) = body.split_horizontally(px(170));
        for (k, run) in runs.iter().enumerate() {
            text(&names, &short(&name(record, run), 24), (px(164), row(k)), 12, 1, INK)?;
        }
        for (k, (measure, place)) in measures.iter().zip(rest.split_evenly((1, measures.len()))).enumerate() {
            dots(&place, measure, colour([0, 1, 2, 4][k]))?;
        }
        Ok(())
    })
}

fn row(k: usize) -> i32 {
    px(46 + ROW * k as u32)
}

/// A column of dots over a common scale from zero, each with its value.
fn dots(area: &Area<'_>, measure: &Measure, ink: RGBColor) -> Result<(), DrawError> {
    let (width, _) = area.dim_in_pixel();
    let (left, right) = (px(14), width as i32 - px(if measure.logarithmic { 104 } else { 66 }));
    let most = measure.values.iter().copied().filter(|v| v.is_finite()).fold(0.0, f64::max).max(1e-9);
    let least = measure.values.iter().copied().filter(|v| v.is_finite() && *v > 0.0).fold(most, f64::min);
    let share = |v: f64| {
        if measure.logarithmic && most > 3.0 * least {
            (0.06 + 0.94 * (v / least).ln() / (most / least).ln()).clamp(0.0, 1.0)
        } else {
            (v / most).clamp(0.0, 1.0)
        }
    };
    text(area, measure.heading, (left, px(16)), 12, -1, INK)?;
    for (k, (value, words)) in measure.values.iter().zip(&measure.words).enumerate() {
        let y = row(k);
        let mut x = left;
        if value.is_finite() {
            x = left + (share(*value) * f64::from(right - left)) as i32;
            area.draw(&PathElement::new([(left, y), (x, y)], ShapeStyle::from(&ink).stroke_width(2 * FINE)))
                .map_err(refused)?;
            area.draw(&Circle::new((x, y), px(5), ink.filled())).map_err(refused)?;
        }
        text(area, words, (x + px(9), y), 11, -1, INK)?;
    }
    Ok(())
}
