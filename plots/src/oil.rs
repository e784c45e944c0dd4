//! Oil fill of the pores over the duty, and below it where the oil went.

use crate::canvas::{FOOT, HEAD, sheet};
use crate::palette::dash;
use crate::panel::{Curve, Frame, Limit, Panel};
use crate::reading::{PANELS, clock, column, curve, longest, name, setting, shown};
use crate::{DrawError, Drawing, Size, ledger};
use slipsoak_engine::record::{Record, Run};

/// Height of the chart, px.
const CHART: f64 = 300.0;

/// Lowest and highest fill of an axis that holds every curve, and the limit if the oil comes near it.
fn range(runs: &[Run], fill: usize, limit: Option<f64>) -> (f64, f64) {
    let least = runs.iter().map(|run| run.overall.least[fill]).filter(|v| v.is_finite()).fold(0.95, f64::min);
    let most = runs.iter().map(|run| run.overall.most[fill]).filter(|v| v.is_finite()).fold(1.0, f64::max);
    let least = limit.map_or(least, |limit| limit.min(least));
    (((least * 20.0 - 0.4).floor() / 20.0).max(0.0), ((most * 20.0 - 0.1).ceil() / 20.0).min(2.0))
}

/// One curve a run.
fn curves(record: &Record, runs: &[Run], fill: usize, per: f64) -> Vec<Curve> {
    let one = |(order, run): (usize, &Run)| Curve {
        label: name(record, run),
        order,
        points: curve(run, &run.windows.mean, fill, per, |share| share),
        band: vec![],
        beyond: vec![],
        dash: dash(order),
        bold: false,
    };
    runs.iter().enumerate().map(one).collect()
}

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let (runs, left_out) = shown(record, PANELS);
    let fill = column(record, "oil fill")?;
    let (per, unit) = clock(longest(runs));
    let height = size.height.max((HEAD + CHART + ledger::height(runs.len()) + FOOT) as u32);
    let leak = setting(&runs[0], "oiling.leak").map_or_else(
        || "Losses lean on the assumed end leak: nobody has measured it.".to_owned(),
        |leak| {
            let rate = leak * 3600.0;
            format!(
                "Losses lean on the end leak, assumed λ = {rate:.3} per hour at 80 °C and 2500 rpm: nobody has measured it."
            )
        },
    );
    let describe = format!(
        "Above: oil fill of the bushing's pores over {unit} of the duty, one curve for each run. Below: bars of the oil put in, held and lost, mg, one row for each run."
    );
    let service = setting(&runs[0], "limits.oil_service");
    let panel = Panel {
        heading: "Oil in the pores, share of a full bushing by mass".to_owned(),
        verdict: String::new(),
        across: format!("time, {unit}"),
        up: "oil fill, %".to_owned(),
        second: None,
        x: (0.0, longest(runs) / per),
        y: range(runs, fill, service),
        curves: curves(record, runs, fill, per),
        limits: service
            .into_iter()
            .map(|at| Limit { label: format!("service due at {:.0} %", 100.0 * at), at })
            .collect(),
        room: 196.0,
        format_up: |y| Some(format!("{:.0}", 100.0 * y)),
    };
    let heading = format!("Oil: {}", record.title);
    sheet((size.width, height), &heading, &format!("{leak}{left_out}"), &describe, |sheet| {
        let bars = sheet.height - FOOT - ledger::height(runs.len());
        panel.draw(sheet, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: bars - 8.0 })?;
        let names: Vec<String> = runs.iter().map(|run| name(record, run)).collect();
        ledger::draw(sheet, runs, &names, bars)
    })
}
