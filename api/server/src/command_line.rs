//! What the program can be told.

use crate::access::keys;
use crate::configuration::{Configuration, Settings};
use crate::observability::logs;
use crate::shared::Shared;
use clap::{Parser, Subcommand};
use std::io::{self, Read, Write};
use std::net::TcpListener;
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
    /// File of settings (TOML), under the names of the flags with _ for -. The
    /// environment goes before it, and flags before both.
    #[arg(long, env = "SUMPWRIGHT_CONFIGURATION", value_name = "FILE", global = true)]
    pub configuration: Option<PathBuf>,
    /// Say what is wrong with the configuration, keys and certificate, or print
    /// what would hold, and serve nothing.
    #[arg(long)]
    pub check_config: bool,
    /// What the service can be told.
    #[command(flatten)]
    pub settings: Settings,
}

const AFTER_HELP: &str = "\
Examples:
  sumpwright                                    serve on 127.0.0.1:8787
  sumpwright --bind 127.0.0.1:9000              serve elsewhere
  sumpwright key mes >> keys                    make a key for a caller
  sumpwright --bind 0.0.0.0:8787 --keys keys    serve other machines too
  sumpwright --configuration s.toml --check-config
  sumpwright solve top-up request.json          answer one document, no server
  curl -s localhost:8787/v1/top-up/example | sumpwright solve top-up -
  sumpwright spec > openapi.json                the OpenAPI document

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
    /// Make a key for a caller.
    ///
    /// The line for the file of keys goes to standard output, the key itself to
    /// standard error: hand it to the caller, it is kept nowhere.
    Key {
        /// The caller's name, as the log will have it.
        name: String,
    },
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

/// Makes a key.
pub fn key(name: &str) -> io::Result<()> {
    let (key, line) = keys::new_key(name).map_err(io::Error::other)?;
    writeln!(io::stdout(), "{line}")?;
    writeln!(io::stderr(), "The key of {name}, shown once: {key}")
}

/// Serves until the process is told to stop, or says only whether it could.
pub fn serve(services: Services, command_line: &CommandLine) -> io::Result<()> {
    let file = command_line.configuration.as_deref();
    let configuration =
        Configuration::of(&command_line.settings, file).map_err(io::Error::other)?;
    logs::begin(&configuration).map_err(io::Error::other)?;
    let services = Arc::new(services);
    let shared = Shared::of(Arc::clone(&services), &configuration).map_err(io::Error::other)?;
    if command_line.check_config {
        let table = toml::to_string(&configuration).map_err(io::Error::other)?;
        return io::stdout().write_all(table.as_bytes());
    }
    // Every connection is a file; a system that gives fewer is served as it is.
    let files = rlimit::increase_nofile_limit(u64::MAX);
    let bind = configuration.bind;
    let listener = TcpListener::bind(bind).map_err(|error| {
        io::Error::new(error.kind(), format!("cannot serve on {bind}: {error}"))
    })?;
    let bound = listener.local_addr()?;
    let scheme = if configuration.tls_certificate.is_some() { "https" } else { "http" };
    invite(&services, &format!("{scheme}://{bound}"));
    tracing::info!(address = %bound, version = VERSION, files = files.ok(), "serving");
    crate::serve(listener, shared, &configuration)
}

/// Prints a request that is ready to paste.
fn invite(services: &Services, address: &str) {
    println!("Sumpwright {VERSION} serves {address}");
    println!("For people: {address}/");
    println!("Calculations: {address}/v1   Documentation: {address}/docs/");
    let Some(service) = services.get("top-up") else { return };
    let Ok(example) = serde_json::from_str::<serde_json::Value>(service.example) else { return };
    println!("\nTry it, in another terminal:\n");
    println!(
        "curl -s {address}/v1/{} -H 'content-type: application/json' -d '{example}'\n",
        service.name
    );
}
