//! Gap under the cover: a question from the command's options, and its answer as text.

use crate::command::arguments::Gaps as Given;
use crate::command::machine::{MachineArgumentError, machine, of_machine};
use crate::command::shop::options::{OptionError, toleranced, within};
use crate::command::table::{beside, cautions};
use crate::command::terminal::{Set, strong, table, wrapped};
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::fit::{Gaps, Layer, Wish};
use slipsoak_engine::parts::Dimension;
use slipsoak_plots::words::{self, cautions::GAPS, granted};

/// The question of the command line.
pub fn gaps(given: &Given) -> Result<Question, OptionError> {
    let mut machine = machine(&given.machine)?;
    if let Some((size, tolerance)) = toleranced("--proud", given.proud.as_ref(), machine.cover.proud_tolerance)? {
        (machine.cover.proud, machine.cover.proud_tolerance) = (size, tolerance);
    }
    if let Some((size, tolerance)) = toleranced("--washer", given.washer.as_ref(), machine.cover.washer_tolerance)? {
        (machine.washer.thickness, machine.cover.washer_tolerance) = (size, tolerance);
    }
    machine.check().map_err(MachineArgumentError::from)?;
    let usage = usage(&given.usage, &machine)?;
    let cover = toleranced("--cover", given.cover.as_ref(), 0.0)?.unwrap_or_default();
    within("--cover", cover.0, (-0.02, 0.02), Dimension::Length)?;
    let wish = Wish { cover, seed: given.seed, assemblies: given.assemblies, ..Wish::new(machine, usage) };
    let options = [
        ("--proud", given.proud.clone()),
        ("--washer", given.washer.clone()),
        ("--cover", given.cover.clone()),
        ("--use", Some(given.usage.clone())),
        ("--seed", Some(given.seed.to_string())),
        ("--assemblies", Some(given.assemblies.to_string())),
    ];
    Ok(Question::Gaps(Box::new(wish)).of(of_machine("gaps", &given.machine, &options)))
}

fn mm(m: f64) -> String {
    format!("{:.3}", 1e3 * m)
}

fn thou(m: f64) -> String {
    format!("{:.1}", m / 2.54e-5)
}

/// The answer as text for the terminal.
pub(crate) fn text(g: &Gaps) -> String {
    let title = format!("Does the cover clear the drum of the {}, and for how long?", g.machine);
    let mut text = format!("{}\n\n", strong(wrapped(&title, 0).trim_end()));
    text.extend(words::gaps::statement(g).iter().map(|s| wrapped(&s.text(), 2)));
    text.push('\n');
    for table in [layers(g), stack(g), shares(g)] {
        text += &(table + "\n");
    }
    text.extend(granted::clauses(&g.assumed).iter().map(|a| wrapped(&format!("Assumed: {}.", a.text()), 2)));
    text + beside(&GAPS).as_str() + cautions().as_str()
}

fn layers(g: &Gaps) -> String {
    let heads = [
        ("part", Set::Words),
        ("size\nmm", Set::Numbers),
        ("±\nmm", Set::Numbers),
        ("size\nthou", Set::Numbers),
        ("±\nthou", Set::Numbers),
    ];
    let row = |l: &Layer| vec![l.name.clone(), mm(l.size), mm(l.tolerance), thou(l.size), thou(l.tolerance)];
    table(&heads, g.layers.iter().map(row).collect())
}

fn stack(g: &Gaps) -> String {
    let s = &g.stack;
    let rows = [
        ("nominal", s.nominal),
        ("worst case, least", s.nominal - s.worst),
        ("worst case, most", s.nominal + s.worst),
        ("root sum square (RSS), ±", s.rss),
        ("sampled: 5 % are below", s.drawn.low),
        ("sampled: 5 % are above", s.drawn.high),
    ];
    let heads = [("gap between drum and cover, new", Set::Words), ("\nmm", Set::Numbers), ("\nthou", Set::Numbers)];
    table(&heads, rows.map(|(name, gap)| vec![name.to_owned(), mm(gap), thou(gap)]).into())
}

fn shares(g: &Gaps) -> String {
    let s = &g.stack;
    let percent = |share: f64| format!("{:.4}", 100.0 * share);
    let rows = [
        ("below the required gap, exact", percent(s.below_limit)),
        ("below the required gap, sampled", format!("{} ± {}", percent(s.drawn.below_limit), percent(s.drawn.error))),
        ("no gap at all, exact", percent(s.below_zero)),
    ];
    let heads = [("assemblies", Set::Words), ("share\n%", Set::Numbers)];
    table(&heads, rows.map(|(name, share)| vec![name.to_owned(), share]).into())
}
