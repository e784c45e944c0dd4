//! The machine named on the command line, with its settings.

use crate::command::options::Part;
use crate::command::terminal::print;
use crate::read::file;
use crate::read::quantity::read_near;
use crate::read::refusal::Refusal;
use crate::read::shipped;
use crate::read::variant;
use crate::study::head::{command, head};
use slipsoak_engine::document::Head;
use slipsoak_engine::parts::{Machine, parameter};
use slipsoak_engine::parts_file;
use slipsoak_engine::usage::USES;

/// Reads the machine named on the command line.
pub fn machine(arguments: &Part) -> Result<Machine, Refusal> {
    let mut machine = if let Some(own) = file::nearby(&arguments.part, "parts", ".json") {
        if own != arguments.part {
            print(&[format!("note: {} is read from {}", arguments.part.display(), own.display())]);
        }
        let (file, text) = file::named(&own, file::Kind::Part)?;
        parts_file::read(&file, &text)?
    } else if let Some(machine) = arguments.part.to_str().and_then(variant::built_in) {
        if arguments.part.to_str() != Some(variant::BUILT_IN) {
            let name = arguments.part.display();
            print(&[format!("note: the built-in machine is now called `{}`; `{name}` still works", variant::BUILT_IN)]);
        }
        machine
    } else if let Some((file, text)) = shipped::instead_of(&arguments.part, ".json") {
        print(&[format!("note: {file} is the shipped machine; there is no such file here")]);
        parts_file::read(file, text)?
    } else if let Some(named) = arguments.part.to_str().filter(|name| USES.iter().any(|one| one.0 == *name)) {
        return Err(Refusal::of_command(format!("`{named}` is a use, not a machine: write --use {named}")));
    } else {
        let (file, text) = file::named(&arguments.part, file::Kind::Part)?;
        parts_file::read(&file, &text)?
    };
    let wrong: Vec<Refusal> =
        arguments.settings.iter().filter_map(|setting| set(&mut machine, setting).err()).collect();
    if !wrong.is_empty() {
        return Err(Refusal::several(wrong));
    }
    machine.check()?;
    Ok(machine)
}

/// Changes a setting as the command line says.
fn set(machine: &mut Machine, (path, value): &(String, String)) -> Result<(), Refusal> {
    let p = parameter(path).ok_or_else(|| variant::unknown(&machine.name, path))?;
    let value = read_near(value, p.dimension, Some((p.of)(machine)));
    let value = value.map_err(|why| Refusal::new(format!("--set {path}: {why}")))?;
    Ok(parts_file::set(machine, p, value)?)
}

/// The head of a command's result on a machine, with the given options.
pub fn of_machine<'a>(word: &str, machine: &Part, options: impl IntoIterator<Item = (&'a str, &'a str)>) -> Head {
    let worded =
        |(option, value): (&str, &str)| [Some(format!("--{option}")), (!value.is_empty()).then(|| value.to_owned())];
    let given = options.into_iter().flat_map(worded).flatten();
    let set = machine.settings.iter().map(|(path, value)| (path, value.clone()));
    head(command(word, machine.part.display().to_string(), set, given), None, vec![])
}
