//! The command `settings`: every setting of a machine, with its range and how sure its default is.

use crate::command::terminal::set_in;
use crate::read::units::show;
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_plots::page::lines::strong;

/// A line of numbers for each setting, with its meaning below.
pub fn text() -> String {
    // Lines break between columns alone.
    let line = |name: &str, default: &str, range: &str, sure: &str| {
        let [default, range, sure] = [default, range, sure].map(|cell| cell.replace(' ', "\u{a0}"));
        format!("{name:\u{a0}<27} {default:\u{a0}<15} {range:\u{a0}<26} {sure}")
    };
    let mut text = set_in(&strong(&line("setting", "default", "from, to", "how sure")), 0, 2);
    for p in PARAMETERS {
        let [least, most] = [p.least, p.most].map(|v| show(v, p.dimension));
        // The unit is given once if both are the same.
        let unit = |value: &str| value.split_once(' ').map(|(_, unit)| unit.to_owned());
        let from = if unit(&least) == unit(&most) { least.split(' ').next().unwrap_or_default() } else { &least };
        let sure = format!("{:?}", p.confidence).to_lowercase();
        let range = format!("{from} to {most}");
        text += &set_in(&line(p.path, &show(p.default, p.dimension), &range, &sure), 0, 2);
        text += &set_in(p.meaning, 4, 4);
    }
    text
}
