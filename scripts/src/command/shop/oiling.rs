//! Oiling: a question from the command's options, and its answer as a page of text.

use crate::command::arguments::Oiling as Given;
use crate::command::machine::{machine, of_machine};
use crate::command::shop::options::{OptionError, quantity, within};
use crate::command::table::{beside, cautions};
use crate::command::terminal::{Set, strong, table, wrapped};
use crate::read::units::duration;
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::oiling::{Dose, Grip, OilPlan, Wish};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::DAY;
use slipsoak_plots::words::{self, cautions::OILING, granted};

/// The question of the command line.
pub fn oiling(given: &Given) -> Result<Question, OptionError> {
    let machine = machine(&given.machine)?;
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
    let options = [
        ("--use", Some(given.usage.clone())),
        ("--riding", given.riding.clone()),
        ("--rest", given.rest.clone()),
        ("--drops", Some(given.drops.to_string())),
        ("--found", given.found.clone()),
        ("--grease", given.grease.clone()),
    ];
    Ok(Question::Oiling(Box::new(wish)).of(of_machine("oiling", &given.machine, &options)))
}

/// The answer as text for the terminal.
pub(crate) fn text(p: &OilPlan) -> String {
    let title = format!("When and how should the bushing of the {} be oiled?", p.machine);
    let asked = format!(
        "Use: {}, outings of {}, {} of rest after each; {}.",
        p.usage,
        duration(p.riding),
        duration(p.rest),
        p.oil
    );
    let mut text = format!("{}\n{}\n", strong(wrapped(&title, 0).trim_end()), wrapped(&asked, 0));
    text.extend(words::oiling::statement(p).iter().map(|s| wrapped(&s.text(), 2)));
    for table in [kept(p), doses(p), oils(p)] {
        text = text + "\n" + table.as_str();
    }
    text.push('\n');
    text.extend(granted::clauses(&p.assumed).iter().map(|a| wrapped(&format!("Assumed: {}.", a.text()), 2)));
    text + beside(&OILING).as_str() + cautions().as_str()
}

fn percent(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

fn kept(p: &OilPlan) -> String {
    let heads =
        [("wait before\nriding", Set::Words), ("oil kept, cold\n%", Set::Numbers), ("oil kept, warm\n%", Set::Numbers)];
    let [cold, warm, ..] = &p.habits[..] else { return String::new() };
    let row = |(c, w): (&(f64, f64), &(f64, f64))| vec![duration(c.0), percent(c.1), percent(w.1)];
    table(&heads, cold.kept.iter().zip(&warm.kept).map(row).collect())
}

fn doses(p: &OilPlan) -> String {
    let heads = [
        ("oiled 30 s before\nriding, drops", Set::Numbers),
        ("oil kept\n%", Set::Numbers),
        ("most on the lining\nmg", Set::Numbers),
        ("lowest friction,\n% of dry", Set::Numbers),
    ];
    let row = |d: &Dose| {
        vec![format!("{:.0}", d.drops), percent(d.kept), format!("{:.1}", d.on_lining * 1e6), percent(d.grip)]
    };
    table(&heads, p.doses.iter().map(row).collect())
}

fn oils(p: &OilPlan) -> String {
    let heads = [
        ("oil, 30 s before riding", Set::Words),
        ("lowest friction,\n% of dry", Set::Numbers),
        ("after 20 min,\n% of dry", Set::Numbers),
    ];
    let row = |o: &Grip| vec![o.oil.clone(), percent(o.least), percent(o.after)];
    table(&heads, p.oils.iter().map(row).collect())
}
