//! When and how to oil: the command's options made into a question, and its answer as one page of text.

use super::Question;
use super::options::{quantity, usage, within};
use crate::arguments::Oiling as Given;
use crate::table::{CAUTIONS, table};
use crate::units::duration;
use crate::{Trouble, sheet};
use slipsoak_engine::oiling::{OilPlan, Wish};
use slipsoak_engine::parts::Dimension as D;

const DAY: f64 = 86400.0;

/// The question that the command line asks.
pub fn oiling(given: &Given) -> Result<Question, Trouble> {
    let machine = sheet::machine(&given.machine)?;
    let usage = usage(&given.usage, &machine)?;
    let mut wish = Wish::new(machine, usage);
    if let Some(riding) = quantity("--riding", given.riding.as_ref(), (300.0, DAY), D::Time)? {
        wish.riding = riding;
        wish.rest = (DAY - riding).max(0.0);
    }
    if let Some(rest) = quantity("--rest", given.rest.as_ref(), (0.0, 366.0 * DAY), D::Time)? {
        wish.rest = rest;
    }
    if let Some(found) = quantity("--found", given.found.as_ref(), (0.3, 1.0), D::Ratio)? {
        wish.found = found;
    }
    if let Some(grease) = quantity("--grease", given.grease.as_ref(), (1e-9, 1e-5), D::Volume)? {
        wish.grease = grease;
    }
    wish.drops = within("--drops", given.drops, (0.5, 100.0), D::Ratio)?;
    Ok(Question::Oiling(Box::new(wish)))
}

/// For the terminal.
pub(super) fn text(p: &OilPlan) -> String {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let mut lines = vec![
        format!(
            "When and how to oil the {}? Use: {}, outings of {}, {} of rest after each; {}.",
            p.machine,
            p.usage,
            duration(p.riding),
            duration(p.rest),
            p.oil
        ),
        String::new(),
    ];
    lines.extend(p.statement.iter().cloned());
    let mut kept = table(&["rest before the next spin", "kept, put on cold", "kept, put on warm"]);
    if let [cold, warm, ..] = &p.habits[..] {
        for (c, w) in cold.kept.iter().zip(&warm.kept) {
            kept.add_row(vec![duration(c.0), percent(c.1), percent(w.1)]);
        }
    }
    let mut doses = table(&["drops, ridden 30 s later", "kept", "most on the lining", "least grip"]);
    for d in &p.doses {
        doses.add_row(vec![
            format!("{:.0}", d.drops),
            percent(d.kept),
            format!("{:.1} mg", d.on_lining * 1e6),
            percent(d.grip),
        ]);
    }
    let mut oils = table(&["oil, ridden 30 s later", "least grip", "grip after 20 min"]);
    for o in &p.oils {
        oils.add_row(vec![o.oil.clone(), percent(o.least), percent(o.after)]);
    }
    for table in [kept, doses, oils] {
        lines.extend([String::new(), table.to_string()]);
    }
    lines.push(String::new());
    lines.extend(p.assumed.iter().map(|a| format!("Assumed: {a}.")));
    lines.push(CAUTIONS.to_owned());
    lines.join("\n") + "\n"
}
