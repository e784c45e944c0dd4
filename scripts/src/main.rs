//! Entry point: prints the result of a command and returns the exit code.

use clap::Parser;
use clap::error::ErrorKind;
use slipsoak::command::arguments::Arguments;
use slipsoak::command::terminal::{printable, say};
use slipsoak::command::tips::helpful;
use std::io::{IsTerminal, Write};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(mut refused) => {
            let words: Vec<String> = std::env::args().skip(1).collect();
            helpful(&mut refused, &words);
            if refused.kind() == ErrorKind::UnknownArgument
                && let Some(said) = slipsoak::read::quantity::unquoted(&words)
            {
                anstream::eprintln!("error: {}", printable(&said));
                return ExitCode::from(2);
            }
            refused.exit();
        }
    };
    slipsoak::keep::interrupt::heed(say);
    slipsoak::panic::heed(told);
    match slipsoak::perform(&arguments) {
        Ok(text) => {
            let mut out = anstream::stdout();
            match out.write_all(printable(&text).as_bytes()).and_then(|()| out.flush()) {
                Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
                    anstream::eprintln!("error: the output cannot be written: {e}");
                    ExitCode::FAILURE
                }
                _ => ExitCode::SUCCESS,
            }
        }
        Err(trouble) => {
            // Half of a quantity without quotes is taken for a file.
            let words: Vec<String> = std::env::args().skip(1).collect();
            if let Some(said) = slipsoak::read::quantity::unquoted(&words)
                && words.iter().any(|word| trouble.to_string().starts_with(&format!("{word} cannot be read")))
            {
                anstream::eprintln!("error: {}", printable(&said));
                return ExitCode::from(2);
            }
            told(&trouble);
            ExitCode::from(trouble.exit_code())
        }
    }
}

/// Prints the error that ends the program.
fn told(trouble: &slipsoak::Error) {
    anstream::eprintln!("{}", printable(&trouble.render(std::io::stderr().is_terminal())));
}
