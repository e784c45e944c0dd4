//! Which spring: the command's options made into a question, and its answer as text.

use super::options::{quantity, usage};
use super::{Question, Stock, shipped};
use crate::Trouble;
use crate::arguments::Choose;
use crate::sheet;
use crate::table::{CAUTIONS, both, table, turns};
use crate::units::duration;
use slipsoak_engine::choice::{Choice, Found, Judged, Wish, sketch};
use slipsoak_engine::parts::Dimension as D;
use std::f64::consts::PI;

const RPM: f64 = PI / 30.0;

/// The question that the command line asks.
pub fn choose(given: &Choose) -> Result<Question, Trouble> {
    let mut machine = sheet::machine(&given.machine)?;
    let turns =
        |option, text, range: (f64, f64)| quantity(option, text, (range.0 * RPM, range.1 * RPM), D::AngularSpeed);
    if let Some(idle) = turns("--idle", given.idle.as_ref(), (800.0, 4000.0))? {
        machine.motor.idle = idle;
    }
    let power = quantity("--power", given.power.as_ref(), (100.0, 1e5), D::Power)?;
    let rated = turns("--rated", given.rated.as_ref(), (1500.0, 19000.0))?;
    let sketched = power.zip(rated).map(|(power, speed)| sketch(&mut machine, power, speed));
    let load = quantity("--load", given.load.as_ref(), (0.0, 2000.0), D::Mass)?.unwrap_or(0.0);
    machine.vehicle.mass += load;
    machine.check().map_err(crate::variant::Unfit::from)?;
    let usage = usage(&given.usage, &machine)?;
    let mut wish = Wish { load, ..Wish::new(machine, usage) };
    if let Some(wander) = turns("--wander", given.wander.as_ref(), (0.0, 500.0))? {
        wish.wander = wander;
    }
    if let Some(grade) = quantity("--grade", given.grade.as_ref(), (-0.5, 0.5), D::Ratio)? {
        wish.grade = grade;
    }
    wish.crawl = quantity("--crawl", given.crawl.as_ref(), (0.1, 30.0), D::Speed)?;
    if let Some(season) = quantity("--season", given.season.as_ref(), (3600.0, 3.6e8), D::Time)? {
        wish.season = season;
    }
    let springs = match &given.stock {
        None => shipped()?,
        Some(path) => {
            let text = std::fs::read_to_string(path)
                .map_err(|e| Trouble::Unreadable { path: path.clone(), why: e.to_string() })?;
            Stock::read(&path.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned()), &text)?
        }
    };
    Ok(Question::Choose(Box::new(wish), springs, sketched))
}

/// For the terminal.
pub(super) fn text(choice: &Choice) -> String {
    let mut all =
        table(&["spring", "fits", "margin", "locks at", "launch", "slip heat", "lining", "drum", "life", "ended by"]);
    let none = || "–".to_owned();
    for spring in &choice.springs {
        let f = spring.found.as_ref();
        let of = |show: &dyn Fn(&Found) -> Option<String>| f.and_then(show).unwrap_or_else(none);
        all.add_row(vec![
            spring.name.clone(),
            if spring.fits { "yes" } else { "no" }.to_owned(),
            of(&|f| Some(turns(f.margin))),
            of(&|f| f.balance.map(|b| format!("{:.1} km/h", 3.6 * b.vehicle))),
            of(&|f| f.launch.time.map(|t| format!("{t:.1} s"))),
            of(&|f| Some(format!("{:.1} kJ", f.launch.heat / 1e3))),
            of(&|f| Some(both(f.peaks.lining))),
            of(&|f| Some(both(f.peaks.drum))),
            of(&|f| f.life.map(duration)),
            of(&|f| f.ended_by.clone()),
        ]);
    }
    let mut lines = vec![
        format!(
            "Which spring for the {} that idles at {} ± {}? Use: {}; it must start on slopes of {:.0} %.",
            choice.machine,
            turns(choice.idle),
            turns(choice.wander),
            choice.usage,
            100.0 * choice.grade
        ),
        all.to_string(),
        String::new(),
    ];
    lines.extend(choice.statement.iter().cloned());
    lines.push(String::new());
    let told = |s: &&Judged| [choice.best.as_ref(), Some(&choice.trade.spring)].contains(&Some(&s.name));
    for spring in choice.springs.iter().filter(told) {
        lines.push(format!("{}: {}", spring.name, if spring.fits { "fits" } else { "does not fit" }));
        lines.extend(spring.reasons.iter().map(|r| format!("  - {r}")));
    }
    for spring in choice.springs.iter().filter(|s| !told(s)) {
        let verdict = if spring.fits { "fits" } else { "does not fit" };
        let reasons = &spring.reasons[..spring.against.max(1).min(spring.reasons.len())];
        lines.push(format!("{}: {verdict}: {}", spring.name, reasons.join("; ")));
    }
    lines.push(String::new());
    let fit = choice.springs.iter().filter(|s| s.fits || choice.best.is_none());
    let rising = fit.filter_map(|s| s.found.as_ref()).map(|f| f.peaks.rising);
    lines.push(format!(
        "Peaks are those of {} of stop-and-go on the level from cold; the lining's still rose by up to {:.1} K in the last quarter.",
        duration(choice.simulated),
        rising.fold(0.0, f64::max)
    ));
    lines.extend(choice.assumed.iter().map(|a| format!("Assumed: {a}.")));
    lines.push(CAUTIONS.to_owned());
    lines.join("\n") + "\n"
}
