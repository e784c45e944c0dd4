//! Combinations of a sweep: table for the terminal, and file.

use crate::command::table::cautions;
use crate::command::terminal::{Set, strong, table, wrapped};
use crate::read::units::{celsius, fahrenheit};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sweep::Sweep;
use slipsoak_plots::words::say::time;
use slipsoak_plots::words::sweep::missing;

/// Largest number of rows on a terminal; the file contains all.
const SHOWN: usize = 60;

/// One row per combination.
pub fn text(sweep: &Sweep) -> String {
    // Numbers are kept together with their unit; names may wrap.
    let names: Vec<String> = sweep.axes.iter().map(|axis| in_words(&axis.name).replacen(' ', "\n", 1)).collect();
    let names = names
        .iter()
        .zip(&sweep.axes)
        .map(|(name, axis)| (name.as_str(), if axis.values.is_empty() { Set::Words } else { Set::Whole }));
    let found = [
        ("lining peak\n°C (°F)", Set::Numbers),
        ("slip\nW", Set::Numbers),
        ("a launch\nkJ", Set::Numbers),
        ("oil\n%", Set::Numbers),
        ("life\nrunning", Set::Numbers),
        ("ended by", Set::Whole),
    ];
    let heads: Vec<(&str, Set)> = names.chain(found).collect();
    let mut rows = vec![];
    for row in sweep.rows.iter().take(SHOWN) {
        let s = &row.summary;
        let stops = sweep.axes.iter().zip(&row.place).map(|(axis, stop)| axis.labels[*stop].clone());
        let found = [
            format!("{:.0} ({:.0})", celsius(s.lining_peak), fahrenheit(s.lining_peak)),
            format!("{:.0}", s.slip_power),
            s.slip_energy.map_or_else(|| "–".to_owned(), |e| format!("{:.2}", e / 1e3)),
            format!("{:.1}", 100.0 * s.oil_fill),
            s.running.or(s.life).map_or_else(|| "–".to_owned(), time),
            s.ended_by.map_or("–", Part::name).to_owned(),
        ];
        rows.push(stops.chain(found).collect::<Vec<_>>());
    }
    let title = strong(wrapped(&sweep.head.title, 0).trim_end());
    let found = slipsoak_plots::words::sweep::found(sweep);
    let said: String = found.iter().map(|words| wrapped(&words.text(), 0)).collect();
    let said = said + missing(sweep).map_or_else(String::new, |left| wrapped(&left.text(), 0)).as_str();
    let mut text = format!("{title}\n\n{said}\n{}\n", table(&heads, rows));
    if sweep.rows.len() > SHOWN {
        text += &wrapped(&format!("{} more combinations stand in sweep.csv.", sweep.rows.len() - SHOWN), 0);
    }
    text + wrapped(&basis(sweep), 0).as_str() + cautions().as_str()
}

/// Assumptions on which the numbers depend.
fn basis(sweep: &Sweep) -> String {
    let mut kinds: Vec<(&str, usize)> = vec![];
    for kind in sweep.rows.iter().flat_map(|row| &row.summary.warnings) {
        match kinds.iter_mut().find(|known| known.0 == kind) {
            Some(known) => known.1 += 1,
            None => kinds.push((kind, 1)),
        }
    }
    let warned: Vec<String> =
        kinds.iter().map(|(kind, runs)| format!("{kind} ({runs} of {})", sweep.rows.len())).collect();
    let warned = if warned.is_empty() { String::new() } else { format!(" Warned of: {}.", warned.join(", ")) };
    format!(
        "Slip power: mean while the motor runs. Lives (running hours, oil apart) depend on assumed wear constants.{warned}"
    )
}
