//! The `sumpwright` program.

use clap::Parser;
use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;
use sumpwright_openapi::service::Services;
use sumpwright_server::command_line::{Command, CommandLine, serve, solve};
use tracing_subscriber::EnvFilter;

fn main() -> ExitCode {
    let command_line = CommandLine::parse();
    let filter = EnvFilter::builder()
        .with_default_directive(tracing::Level::INFO.into())
        .with_env_var("SUMPWRIGHT_LOG")
        .from_env_lossy();
    let colour = io::stderr().is_terminal();
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(io::stderr)
        .with_ansi(colour)
        .init();

    match run(command_line) {
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

fn run(command_line: CommandLine) -> io::Result<ExitCode> {
    let services = Services::new();
    match command_line.command {
        None => serve(services, command_line.bind, command_line.workers)?,
        Some(Command::Spec) => io::stdout().write_all(services.openapi.as_bytes())?,
        Some(Command::Solve { calculation, file }) => return solve(&services, &calculation, &file),
    }
    Ok(ExitCode::SUCCESS)
}
