//! Choice of a spring: a question from the command's options, and its answer as text.

use crate::command::arguments::Choose;
use crate::command::machine::{MachineArgumentError, machine, of_machine};
use crate::command::shop::options::{OptionError, quantity};
use crate::command::table::{NONE, beside, cautions, in_brackets, turns};
use crate::command::terminal::{Set, set_in, strong, table, wrapped};
use crate::read::file;
use crate::read::stock::{Stock, shipped};
use crate::read::units::{duration, rpm};
use crate::read::uses::usage;
use crate::study::question::Question;
use slipsoak_engine::choice::{Choice, Found, Judged, Peaks, Verdict, Wish, sketch};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::RPM;
use slipsoak_plots::words::say::time;
use slipsoak_plots::words::{self, cautions::of_choice, granted};

/// The question of the command line.
pub fn choose(given: &Choose) -> Result<Question, OptionError> {
    let mut machine = machine(&given.machine)?;
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
    machine.check().map_err(MachineArgumentError::from)?;
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
            let text = file::text(path, file::Kind::Stock)?;
            Stock::read(&path.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned()), &text)?
        }
    };
    let stock = given.stock.as_ref().map(|path| path.display().to_string());
    let options = [
        ("--idle", given.idle.clone()),
        ("--wander", given.wander.clone()),
        ("--power", given.power.clone()),
        ("--rated", given.rated.clone()),
        ("--grade", given.grade.clone()),
        ("--load", given.load.clone()),
        ("--use", Some(given.usage.clone())),
        ("--crawl", given.crawl.clone()),
        ("--season", given.season.clone()),
        ("--stock", stock),
    ];
    let question = Question::Choose(Box::new(wish), springs, sketched);
    Ok(question.of(of_machine("choose", &given.machine, &options)))
}

/// The answer as text for the terminal.
pub(crate) fn text(choice: &Choice) -> String {
    let title = format!("Which spring for the {}?", choice.machine);
    let asked = format!(
        "Idle {:.0} ± {}; use: {}; {}.",
        rpm(choice.idle),
        turns(choice.wander),
        choice.usage,
        if choice.grade == 0.0 {
            "level ground".to_owned()
        } else {
            format!("it must start on slopes of {:.0} %", 100.0 * choice.grade)
        }
    );
    let mut text = format!("{}\n{}\n", strong(wrapped(&title, 0).trim_end()), wrapped(&asked, 0));
    text.extend(words::choice::statement(choice).iter().map(|s| wrapped(&s.text(), 2)));
    text += &beside(&of_choice(choice));
    text.push('\n');
    text += &(springs(choice) + "\n");
    let (full, brief): (Vec<_>, Vec<_>) = choice.springs.iter().partition(|s| words::choice::in_full(choice, s));
    for spring in full {
        text += &wrapped(&format!("{} {}:", spring.name, words::choice::verdict(spring.verdict)), 2);
        let reasons = spring.reasons.iter().map(|r| words::choice::reason(r).text());
        text.extend(reasons.map(|r| set_in(&format!("- {r}"), 2, 4)));
    }
    for spring in brief {
        let why = match spring.verdict {
            Verdict::Warned => words::choice::warnings(spring),
            _ => words::choice::why(spring).text(),
        };
        text += &wrapped(&format!("{} {}: {why}.", spring.name, words::choice::verdict(spring.verdict)), 2);
    }
    text.push('\n');
    let fit = choice.springs.iter().filter(|s| s.verdict != Verdict::Unfit || choice.best.is_none());
    let peaks: Vec<&Peaks> = fit.filter_map(|s| Some(&s.found.as_ref()?.peaks)).collect();
    let most = |of: fn(&Peaks) -> f64| peaks.iter().map(|p| of(p)).fold(0.0, f64::max);
    text += &wrapped(
        &format!(
            "Margin: engagement, hot and relaxed, over the highest idle; below zero it drags. Launch and slip energy: once at full throttle on the slope. Peaks: {} of stop-and-go on level ground from cold; the lining's still rose by up to {:.1} K in the last quarter, and the drum's is within {:.0} K of it.",
            duration(choice.simulated),
            most(|p| p.rising),
            most(|p| p.lining - p.drum).ceil()
        ),
        0,
    );
    text.extend(granted::clauses(&choice.assumed).iter().map(|a| wrapped(&format!("Assumed: {}.", a.text()), 2)));
    text + cautions().as_str()
}

fn springs(choice: &Choice) -> String {
    let heads = [
        ("spring", Set::Whole),
        ("verdict", Set::Words),
        ("\nmargin\nrpm", Set::Numbers),
        ("locks\nup\nkm/h", Set::Numbers),
        ("slip\nenergy\nkJ", Set::Numbers),
        ("lining\npeak\n°C (°F)", Set::Numbers),
        ("\nlife,\nrunning", Set::Numbers),
        ("worn\nout\nfirst", Set::Words),
    ];
    let row = |spring: &Judged| {
        let of = |show: &dyn Fn(&Found) -> Option<String>| {
            spring.found.as_ref().and_then(show).unwrap_or_else(|| NONE.to_owned())
        };
        vec![
            spring.name.clone(),
            match spring.verdict {
                Verdict::Fits => "fits",
                Verdict::Warned => "warnings",
                Verdict::Unfit => "no",
            }
            .to_owned(),
            of(&|f| Some(format!("{:.0}", rpm(f.margin)))),
            of(&|f| f.balance.map(|b| format!("{:.1}", 3.6 * b.vehicle))),
            of(&|f| Some(format!("{:.1}", f.launch.heat / 1e3))),
            of(&|f| Some(in_brackets(f.peaks.lining))),
            of(&|f| f.life.map(time)),
            of(&|f| f.ended_by.map(|part| part.name().to_owned())),
        ]
    };
    // A blank line between verdicts.
    let mut rows: Vec<Vec<String>> = vec![];
    for (k, spring) in choice.springs.iter().enumerate() {
        if k > 0 && choice.springs[k - 1].verdict != spring.verdict {
            rows.push(vec![String::new(); heads.len()]);
        }
        rows.push(row(spring));
    }
    table(&heads, rows)
}
