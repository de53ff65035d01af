//! The `sumpwright` program.

use std::io::{self, Write};
use std::process::ExitCode;
use sumpwright_openapi::service::Services;
use sumpwright_server::check::check;
use sumpwright_server::command_line::{Command, CommandLine, key, serve};
use sumpwright_server::solve::solve;

fn main() -> ExitCode {
    match run(&CommandLine::of_process()) {
        Ok(code) => code,
        Err(error) => {
            // A reader that has gone away, as in `sumpwright spec | head`, is no failure.
            if error.kind() == io::ErrorKind::BrokenPipe {
                return ExitCode::SUCCESS;
            }
            eprintln!("sumpwright: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(command_line: &CommandLine) -> io::Result<ExitCode> {
    let services = Services::new();
    match &command_line.command {
        None | Some(Command::Serve) => serve(services, command_line)?,
        Some(Command::Check) => {
            let given = command_line.given.clone();
            return check(&services, given, command_line.configuration.as_deref());
        }
        Some(Command::Spec) => io::stdout().write_all(services.openapi.as_bytes())?,
        Some(Command::Key { name, in_address }) => key(name, in_address, &services)?,
        Some(Command::Solve(question)) => return solve(&services, question),
    }
    Ok(ExitCode::SUCCESS)
}
