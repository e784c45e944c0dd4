//! Oil fill over the duty, and where each milligram went.

use crate::canvas::{FINE, px, refused, sheet, text};
use crate::look::{INK, colour, short};
use crate::panel::{Curve, Limit, Panel};
use crate::reading::{clock, column, name, setting};
use crate::temperatures::MOST;
use crate::{DrawError, Drawing, Size};
use plotters::prelude::*;
use slipsoak_engine::record::Record;

const PLACES: [&str; 6] = ["flung", "evaporated", "run off", "leaked", "on lining", "removed with parts"];

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let runs = &record.runs[..record.runs.len().min(MOST)];
    let fill = column(record, "oil fill")?;
    let (per, unit) = clock(runs.iter().map(|r| r.duration).fold(0.0, f64::max));
    let bars = 62 + runs.len() as u32 * 26;
    let height = 66 + 300 + bars;
    let leak = setting(&runs[0], "oiling.leak").unwrap_or(0.0) * 3600.0;
    let note = format!(
        "Losses lean on the end leak, assumed λ = {leak:.3} per hour at 80 °C and 2500 rpm: nobody has measured it."
    );
    sheet(size.width, height, &format!("Oil: {}", short(&record.title, 80)), &note, |body| {
        let (top, bottom) = body.split_vertically(px(300));
        let least = runs.iter().map(|r| r.overall.least[fill]).fold(0.98, f64::min);
        let most = runs.iter().map(|r| r.overall.most[fill]).fold(1.0, f64::max);
        let curves = runs.iter().enumerate().map(|(order, run)| {
            let w = &run.windows;
            let at = |t: f64| (t - 0.5 * w.length).max(0.0) / per;
            Curve {
                label: short(&name(record, run), 22),
                order,
                points: w.end.iter().zip(w.means().column(fill)).map(|(t, fill)| (at(*t), *fill)).collect(),
                band: vec![],
                heavy: false,
            }
        });
        let service = setting(&runs[0], "limits.oil_service");
        Panel {
            heading: "Oil in the pores, share of a full bushing".to_owned(),
            across: unit.to_owned(),
            up: "oil fill".to_owned(),
            x: (0.0, runs.iter().map(|r| r.duration).fold(0.0, f64::max) / per),
            y: ((least * 20.0 - 0.5).floor().max(0.0) / 20.0, (most * 50.0).ceil() / 50.0 + 0.01),
            curves: curves.collect(),
            limits: service
                .into_iter()
                .map(|at| Limit { label: format!("service due at {:.0} %", at * 100.0), at })
                .collect(),
            format_up: &|y| format!("{:.0} %", y * 100.0),
            margin: 160,
        }
        .draw(&top)?;
        ledger(&bottom, record, runs.len())
    })
}

/// One bar a run: the oil that left the bushing, by where it went.
fn ledger(area: &crate::canvas::Area<'_>, record: &Record, runs: usize) -> Result<(), DrawError> {
    let amount = |run: usize, place: &str| {
        let oil = &record.runs[run].ledgers.oil;
        1e6 * oil.outward.get(place).or_else(|| oil.held.get(place)).copied().unwrap_or(0.0).max(0.0)
    };
    let total = |run: usize| PLACES.iter().map(|p| amount(run, p)).sum::<f64>();
    let most = (0..runs).map(total).fold(1e-9, f64::max);
    let (width, _) = area.dim_in_pixel();
    let (left, right) = (px(190), width as i32 - px(220));
    text(area, "Where the oil that left went, mg", (px(80), px(12)), 13, -1, INK)?;
    let mut x = left;
    for (k, place) in PLACES.iter().enumerate() {
        let square = Rectangle::new([(x, px(28)), (x + px(11), px(39))], colour(k).filled());
        area.draw(&square).map_err(refused)?;
        text(area, place, (x + px(16), px(34)), 11, -1, INK)?;
        x += px(16) + place.chars().count() as i32 * px(7) + px(12);
    }
    for run in 0..runs {
        let top = px(52 + 26 * run as u32);
        text(area, &short(&name(record, &record.runs[run]), 26), (left - px(8), top + px(8)), 11, 1, INK)?;
        let mut x = left;
        for (k, place) in PLACES.iter().enumerate() {
            let wide = (amount(run, place) / most * f64::from(right - left)) as i32;
            let bar = Rectangle::new([(x, top), (x + wide, top + px(16))], colour(k).filled());
            area.draw(&bar).map_err(refused)?;
            if wide > FINE as i32 {
                let edge = Rectangle::new(
                    [(x, top), (x + wide, top + px(16))],
                    ShapeStyle::from(&WHITE).stroke_width(FINE / 2),
                );
                area.draw(&edge).map_err(refused)?;
            }
            x += wide;
        }
        let put_in = 1e6 * record.runs[run].ledgers.oil.inward.values().sum::<f64>();
        text(area, &format!("{:.1} mg of {put_in:.0} put in", total(run)), (x + px(8), top + px(8)), 11, -1, INK)?;
    }
    Ok(())
}
