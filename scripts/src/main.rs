//! The command line's front: prints what comes back and gives the exit code.

use clap::Parser;
use slipsoak::arguments::Arguments;
use std::io::{IsTerminal, Write};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match slipsoak::mishap::told(|| slipsoak::perform(&arguments)) {
        Ok(text) => match anstream::stdout().write_all(text.as_bytes()) {
            Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => ExitCode::FAILURE,
            _ => ExitCode::SUCCESS,
        },
        Err(trouble) => {
            anstream::eprintln!("{}", trouble.render(std::io::stderr().is_terminal()));
            ExitCode::from(trouble.exit_code())
        }
    }
}
