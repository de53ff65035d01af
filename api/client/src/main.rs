//! Asks Sumpwright from a terminal.

use clap::Parser;
use std::process::ExitCode;
use sumpwright_client::command_line::ClientCommandLine;

fn main() -> ExitCode {
    match ClientCommandLine::parse().run() {
        Ok(0) => ExitCode::SUCCESS,
        Ok(_) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}
