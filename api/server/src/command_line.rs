//! What the program can be told.

use clap::{Parser, Subcommand};
use std::io::{self, Read, Write};
use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use sumpwright_engine::VERSION;
use sumpwright_openapi::service::Services;

/// Mass balance of water-mix cutting fluid, as a JSON service.
///
/// Without a command it serves: a reading and a sump in, what to add out, with
/// the material balance that proves it. Nothing is stored.
#[derive(Debug, Parser)]
#[command(name = "sumpwright", version, after_help = AFTER_HELP)]
pub struct CommandLine {
    /// What to do instead of serving.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Address to serve on.
    #[arg(long, env = "SUMPWRIGHT_BIND", default_value = "127.0.0.1:8787")]
    pub bind: SocketAddr,
    /// Threads that answer; one for each core when left out.
    #[arg(long, env = "SUMPWRIGHT_WORKERS")]
    pub workers: Option<usize>,
}

const AFTER_HELP: &str = "\
Examples:
  sumpwright                                    serve on 127.0.0.1:8787
  sumpwright --bind 127.0.0.1:9000              serve elsewhere
  sumpwright solve top-up request.json          answer one document, no server
  curl -s localhost:8787/v1/top-up/example | sumpwright solve top-up -
  sumpwright spec > openapi.json                the OpenAPI document

SUMPWRIGHT_LOG sets what is logged: error, warn, info (the default) or debug.

Answers are calculations, not permissions: the fluid's safety data sheet, local
codes and licensed practice come first.";

/// What to do instead of serving.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Answer one document in the terminal, by the same code as the server.
    ///
    /// The answer goes to standard output. A problem goes to standard error, and
    /// the exit status is 1.
    Solve {
        /// The calculation: one of those listed at /v1, such as top-up.
        calculation: String,
        /// The file with the document, or - for standard input.
        file: PathBuf,
    },
    /// Print the OpenAPI document.
    Spec,
}

/// Answers one document.
pub fn solve(services: &Services, calculation: &str, file: &PathBuf) -> io::Result<ExitCode> {
    let document = if file.as_os_str() == "-" {
        let mut document = Vec::new();
        io::stdin().read_to_end(&mut document)?;
        document
    } else {
        std::fs::read(file)
            .map_err(|error| io::Error::new(error.kind(), format!("{}: {error}", file.display())))?
    };
    let answered = match services.get(calculation) {
        Some(service) => service.answer(&document),
        None => Err(services.unknown(calculation)),
    };
    match answered {
        Ok(record) => {
            let record: serde_json::Value = serde_json::from_slice(&record)?;
            writeln!(io::stdout(), "{record:#}")?;
            Ok(ExitCode::SUCCESS)
        }
        Err(problem) => {
            writeln!(io::stderr(), "{}", serde_json::to_string_pretty(&problem)?)?;
            Ok(ExitCode::FAILURE)
        }
    }
}

/// Serves until the process is told to stop.
pub fn serve(services: Services, bind: SocketAddr, workers: Option<usize>) -> io::Result<()> {
    let listener = TcpListener::bind(bind).map_err(|error| {
        io::Error::new(error.kind(), format!("cannot serve on {bind}: {error}"))
    })?;
    let bound = listener.local_addr()?;
    invite(&services, bound);
    tracing::info!(address = %bound, version = VERSION, "serving");
    crate::serve(listener, Arc::new(services), workers)
}

/// Prints a request that is ready to paste.
fn invite(services: &Services, bound: SocketAddr) {
    println!("Sumpwright {VERSION} serves http://{bound}");
    println!("For people: http://{bound}/");
    println!("Calculations: http://{bound}/v1   Documentation: http://{bound}/docs/");
    let Some(service) = services.get("top-up") else { return };
    let Ok(example) = serde_json::from_str::<serde_json::Value>(service.example) else { return };
    println!("\nTry it, in another terminal:\n");
    println!(
        "curl -s http://{bound}/v1/{} -H 'content-type: application/json' -d '{example}'\n",
        service.name
    );
}
