//! Remaining life of each part over hours, at the rate of the run.

use crate::canvas::sheet;
use crate::look::short;
use crate::panel::{Curve, Panel};
use crate::reading::{ended_by, hours, name};
use crate::temperatures::MOST;
use crate::{DrawError, Drawing, Size};
use slipsoak_engine::record::Record;

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let runs = &record.runs[..record.runs.len().min(MOST)];
    let columns = if runs.len() > 2 { 2 } else { 1 };
    let rows = runs.len().div_ceil(columns);
    let height = size.height.max(rows as u32 * 230 + 66);
    let note = "Remaining life = 1 − use, carried on at the rate of the run's second half. Lives lean on assumed wear constants: compare them, do not count on them.";
    sheet(size.width, height, &format!("Remaining life: {}", short(&record.title, 80)), note, |body| {
        for (run, place) in runs.iter().zip(&body.split_evenly((rows, columns))) {
            let first = ended_by(run);
            let until = 1.5 * first.map_or(run.duration / 3600.0, |f| f.1).clamp(run.duration / 3600.0, 1e5);
            let mut curves = vec![];
            for (order, part) in run.parts.iter().filter(|p| p.part != "washer charring" || p.used > 0.0).enumerate() {
                let life = part.life.map_or(f64::INFINITY, |l| l / 3600.0);
                let points = if life <= until {
                    vec![(0.0, 1.0), (life, 0.0)]
                } else {
                    vec![(0.0, 1.0), (until, 1.0 - until / life)]
                };
                let label = if life.is_finite() { format!("{} {}", part.part, hours(life)) } else { part.part.clone() };
                let heavy = first.is_some_and(|f| f.0 == part.part);
                curves.push(Curve { label, order, points, band: vec![], heavy });
            }
            let ends = first.map_or_else(String::new, |(part, h)| format!(": the {part} ends it after {}", hours(h)));
            Panel {
                heading: format!("{}{ends}", short(&name(record, run), 30)),
                across: "hours of this duty".to_owned(),
                up: "remaining life".to_owned(),
                x: (0.0, until),
                y: (0.0, 1.05),
                curves,
                limits: vec![],
                format_up: &|y| format!("{:.0} %", y * 100.0),
                margin: 122,
            }
            .draw(place)?;
        }
        Ok(())
    })
}
