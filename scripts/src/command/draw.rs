//! Figures drawn from a saved result.

use crate::command::deliver::write_figures;
use crate::command::draw_arguments::Draw;
use crate::command::progress::Progress;
use crate::error::Error;
use crate::keep::folder::Folder;
use crate::read::refusal::Refusal;
use crate::read::saved;
use crate::read::units::nearest;
use slipsoak_engine::document::{Kind, Saved, Shown};
use slipsoak_engine::names::distinct;
use slipsoak_plots::{Figure, Look, Size, Theme, figures};

/// Figures of a kind of result with what each shows, a line each.
fn figures_of(kind: Kind) -> String {
    let lines: Vec<String> =
        Figure::of(kind).map(|figure| format!("\n  {}: {}", figure.name(), figure.shows())).collect();
    lines.concat()
}

/// Refuses names that no run of a study has.
fn check_names(saved: &Saved, names: &[String]) -> Result<(), Error> {
    let Shown::Record(record) = saved.shown() else {
        let why = "--of chooses runs of a study, and this result holds none; leave it out";
        return if names.is_empty() { Ok(()) } else { Err(Refusal::of_command(why.to_owned()).into()) };
    };
    let runs = || record.runs.iter().flat_map(|run| [run.variant.as_str(), run.duty.as_str()]);
    let pairs: Vec<String> = record.runs.iter().map(|run| format!("{}, {}", run.variant, run.duty)).collect();
    match names.iter().find(|name| !runs().any(|known| known == name.as_str()) && !pairs.contains(name)) {
        None => Ok(()),
        Some(name) => {
            let known: Vec<String> = distinct(runs()).iter().map(|known| format!("\n  {known}")).collect();
            Err(Refusal::of_command(format!("no run is called `{name}`; machines and duties:{}", known.concat()))
                .into())
        }
    }
}

/// Draws figures from a saved result.
pub fn draw(arguments: &Draw) -> Result<String, Error> {
    let saved = saved::read(&arguments.record)?;
    let all = figures(&saved);
    if all.is_empty() {
        let why = "this result has no figure: what it would show fails or is beyond the model; `slipsoak report` writes its page";
        return Err(Refusal::new(why).into());
    }
    let known: Vec<&str> = all.iter().map(|figure| figure.0).collect();
    if let Some(given) = arguments.figures.iter().find(|f| !known.contains(&f.as_str())) {
        let near = nearest(given, known.iter().copied()).map(|near| format!(" (did you mean `{near}`?)"));
        let (near, known) = (near.unwrap_or_default(), figures_of(saved.kind()));
        let why = format!("this result has no figure `{given}`{near}; its figures:{known}");
        return Err(Refusal::of_command(why).into());
    }
    let wanted = |name: &str| arguments.figures.is_empty() || arguments.figures.iter().any(|given| given == name);
    let chosen: Vec<_> = all.into_iter().filter(|figure| wanted(figure.0)).collect();
    check_names(&saved, &arguments.of)?;
    if arguments.out.read_dir().is_ok_and(|mut files| files.next().is_some()) {
        let why = "exists and is not empty; choose another --out for the figures";
        return Err(Refusal::of_command(format!("{} {why}", arguments.out.display())).into());
    }
    let folder = Folder::prepare(&arguments.out, false)?;
    let look = Look {
        size: Size { width: arguments.width, ..Size::default() },
        theme: if arguments.dark { Theme::Dark } else { Theme::Light },
        title: arguments.title.clone(),
        caption: arguments.caption.clone(),
        fahrenheit: arguments.fahrenheit,
        at: arguments.at.clone(),
        from: arguments.from,
        to: arguments.to,
        of: arguments.of.clone(),
    };
    let bar = Progress::of("figures drawn", chosen.len() as u64, false);
    let mut names = String::new();
    for (name, draw) in chosen {
        write_figures(&folder, &vec![(name, draw(&look))], "", arguments.svg_only)?;
        names = names + name + "\n";
        bar.add(1.0);
    }
    bar.end();
    Ok(names + folder.finish()?.as_str())
}
