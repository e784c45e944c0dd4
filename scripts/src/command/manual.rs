//! What a system shows of the command line: completions of shells, and manual pages.

use crate::command::arguments::Arguments;
use crate::read::refusal::Refusal;
use crate::read::units::{maybe, nearest};
use clap::CommandFactory;
use clap_complete::Shell;

/// The completions of a shell, as it reads them.
pub fn completions(shell: Shell) -> String {
    let mut text = vec![];
    clap_complete::generate(shell, &mut Arguments::command(), "slipsoak", &mut text);
    String::from_utf8(text).unwrap_or_default()
}

/// The manual page of the program, or of one command.
pub fn page(of: Option<&str>) -> Result<String, Refusal> {
    let mut program = Arguments::command();
    program.build();
    let named = of.map(|word| program.find_subcommand(word).cloned().ok_or(word)).transpose();
    let shown = named.map_err(|word| {
        let known = || program.get_subcommands().map(clap::Command::get_name);
        let near = maybe(nearest(word, known()).as_deref());
        let all = known().collect::<Vec<_>>().join(", ");
        Refusal::of_command(format!("there is no command `{word}`{near}; commands: {all}"))
    })?;
    let shown = shown.unwrap_or(program);
    let mut text = vec![];
    let written = clap_mangen::Man::new(shown.disable_help_subcommand(true)).render(&mut text);
    written.map_err(|e| Refusal::new(format!("the manual cannot be written: {e}")))?;
    Ok(String::from_utf8(text).unwrap_or_default())
}
