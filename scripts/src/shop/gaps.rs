//! Will it fit, and when will it rub: the command's options made into a question, and its answer as text.

use super::Question;
use super::options::{toleranced, usage, within};
use crate::arguments::Gaps as Given;
use crate::table::{CAUTIONS, pairs};
use crate::{Trouble, sheet, variant};
use slipsoak_engine::fit::{Gaps, Wish};
use slipsoak_engine::parts::Dimension;

/// The question that the command line asks.
pub fn gaps(given: &Given) -> Result<Question, Trouble> {
    let mut machine = sheet::machine(&given.machine)?;
    if let Some((size, tolerance)) = toleranced("--proud", given.proud.as_ref(), machine.cover.proud_tolerance)? {
        (machine.cover.proud, machine.cover.proud_tolerance) = (size, tolerance);
    }
    if let Some((size, tolerance)) = toleranced("--washer", given.washer.as_ref(), machine.cover.washer_tolerance)? {
        (machine.washer.thickness, machine.cover.washer_tolerance) = (size, tolerance);
    }
    machine.check().map_err(variant::Unfit::from)?;
    let usage = usage(&given.usage, &machine)?;
    let cover = toleranced("--cover", given.cover.as_ref(), 0.0)?.unwrap_or_default();
    within("--cover", cover.0, (-0.02, 0.02), Dimension::Length)?;
    let wish = Wish { cover, seed: given.seed, assemblies: given.assemblies, ..Wish::new(machine, usage) };
    Ok(Question::Gaps(Box::new(wish)))
}

fn gap(m: f64) -> String {
    format!("{:.3} mm = {:.1} thou", 1e3 * m, m / 2.54e-5)
}

/// For the terminal.
pub(super) fn text(g: &Gaps) -> String {
    let mut rows: Vec<(String, String)> = Vec::new();
    let mut row = |name: &str, value: String| rows.push((name.to_owned(), value));
    for layer in &g.layers {
        row(
            &layer.name,
            format!(
                "{:.3} ± {:.3} mm = {:.1} ± {:.1} thou",
                1e3 * layer.size,
                1e3 * layer.tolerance,
                layer.size / 2.54e-5,
                layer.tolerance / 2.54e-5
            ),
        );
    }
    let s = &g.stack;
    row("gap, nominal", gap(s.nominal));
    row("worst case, least", gap(s.nominal - s.worst));
    row("worst case, most", gap(s.nominal + s.worst));
    row("root of the sum of squares, ±", gap(s.rss));
    row("drawn: 5 % are below", gap(s.drawn.low));
    row("drawn: 5 % are above", gap(s.drawn.high));
    row("below what is asked for, exact", format!("{:.4} %", 100.0 * s.below_limit));
    row(
        "below what is asked for, drawn",
        format!("{:.4} ± {:.4} %", 100.0 * s.drawn.below_limit, 100.0 * s.drawn.error),
    );
    row("no gap at all, exact", format!("{:.4} %", 100.0 * s.below_zero));
    let mut lines = vec![format!("Will the {} fit, and when will it rub?", g.machine), pairs(&rows)];
    lines.extend(g.statement.iter().cloned());
    lines.extend(g.assumed.iter().map(|a| format!("Assumed: {a}.")));
    lines.push(CAUTIONS.to_owned());
    lines.join("\n") + "\n"
}
