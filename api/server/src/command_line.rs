//! The command line of the program.

use crate::access::keys;
use crate::browser::{self, Browser};
use crate::configuration::{Configuration, Settings};
use crate::http::format::Format;
use crate::http::options::AnswerOptions;
use crate::http::render;
use crate::observability::logs;
use crate::shared::Shared;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, CommandFactory, FromArgMatches, Parser, Subcommand};
use std::io::{self, Read, Write};
use std::net::TcpListener;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use sumpwright_engine::VERSION;
use sumpwright_openapi::service::Services;
use sumpwright_openapi::table::{TableOptions, answer_whole};

/// Mass balance of water-mix cutting fluid, as a JSON service.
///
/// Without a command it starts the service: a reading and a sump go in, what to add comes
/// out, with the material balance that proves it. Nothing is stored.
#[derive(Debug, Parser)]
#[command(name = "sumpwright", version, after_help = AFTER_HELP)]
pub struct CommandLine {
    /// What to do instead of starting the service.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Settings file (TOML). Its names are those of the flags, with _ instead of -.
    /// Environment variables override the file; flags override both.
    #[arg(long, env = "SUMPWRIGHT_CONFIGURATION", value_name = "FILE", global = true)]
    pub configuration: Option<PathBuf>,
    /// Check the settings, the keys and the certificate, print the settings in effect,
    /// and exit.
    #[arg(long)]
    pub check_config: bool,
    /// Whether the page is opened in a browser.
    #[command(flatten)]
    pub browser: Browser,
    /// The settings as flags and the environment give them, defaults included.
    #[command(flatten)]
    pub settings: Configuration,
    /// Those among them that are no defaults.
    #[arg(skip)]
    pub given: Settings,
}

impl CommandLine {
    /// Reads the command line of this process; where it cannot be read, says so and exits.
    ///
    /// # Panics
    ///
    /// When a setting has no name in a file, which the tests rule out.
    #[must_use]
    pub fn of_process() -> Self {
        let matches = Self::command().get_matches();
        let mut read = Self::from_arg_matches(&matches).unwrap_or_else(|error| error.exit());
        read.given = read.settings.given(&matches).expect("every setting has a name in a file");
        read
    }
}

const AFTER_HELP: &str = "\
Examples:
  sumpwright                                    serve this machine at 127.0.0.1:8787
  sumpwright --bind 127.0.0.1:9000              use another port
  sumpwright key mes >> keys                    make a key for a caller
  sumpwright --bind 0.0.0.0:8787 --keys keys    serve other machines too
  sumpwright --configuration s.toml --check-config
  sumpwright solve top-up request.json          answer one document without a server
  sumpwright solve top-up sumps.csv             answer every row of a table
  curl -s localhost:8787/v1/top-up/example | sumpwright solve top-up -
  sumpwright spec > openapi.json                the OpenAPI document

Answers are calculations, not permissions: the fluid's safety data sheet, local
codes and licensed practice come first.";

/// What to do instead of starting the service.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Answer a document or a table in the terminal, with the same code as the server.
    ///
    /// The answer goes to standard output. If there is a problem, it goes to standard
    /// error and the exit status is 1.
    Solve(Solve),
    /// Print the OpenAPI document.
    Spec,
    /// Make a key for a caller.
    ///
    /// The line for the file of keys goes to standard output, the key itself to standard
    /// error. Give the key to the caller: it is not stored anywhere.
    Key {
        /// Name of the caller, used in the log.
        name: String,
    },
}

/// What to answer.
#[derive(Debug, Args)]
pub struct Solve {
    /// Calculation, as listed at /v1, for example top-up.
    calculation: String,
    /// File with the document (JSON), or with a table whose rows are documents (a name that
    /// ends in .csv; answered as CSV). Use - for a document from standard input.
    file: PathBuf,
    /// Format of the answer to a document.
    #[arg(long, value_name = "FORMAT", default_value = "json", value_parser = formats())]
    format: Format,
}

fn formats() -> impl TypedValueParser<Value = Format> {
    let names = Format::NAMED.map(|(name, _)| name);
    PossibleValuesParser::new(names).try_map(|name| {
        let named = Format::NAMED.iter().find(|(known, _)| *known == name);
        named.map(|(_, format)| *format).ok_or("there is no such format")
    })
}

/// Answers a document or a table.
pub fn solve(services: &Services, question: &Solve) -> io::Result<ExitCode> {
    let Solve { calculation, file, format } = question;
    let document = if file.as_os_str() == "-" {
        let mut document = Vec::new();
        io::stdin().read_to_end(&mut document)?;
        document
    } else {
        std::fs::read(file)
            .map_err(|error| io::Error::new(error.kind(), format!("{}: {error}", file.display())))?
    };
    let is_csv = file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    let answered = match services.get(calculation) {
        Some(service) if is_csv => answer_whole(service, &document, &TableOptions::default()),
        Some(service) => render::of_document(service, &document, &AnswerOptions::plain(*format)),
        None => Err(services.unknown(calculation)),
    };
    match answered {
        Ok(answer) if *format == Format::Json && !is_csv => {
            let record: serde_json::Value = serde_json::from_slice(&answer)?;
            writeln!(io::stdout(), "{record:#}")?;
        }
        Ok(answer) => {
            let mut out = io::stdout();
            out.write_all(&answer)?;
            if !answer.ends_with(b"\n") {
                out.write_all(b"\n")?;
            }
        }
        Err(problem) => {
            writeln!(io::stderr(), "{}", serde_json::to_string_pretty(&problem)?)?;
            return Ok(ExitCode::FAILURE);
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// Makes a key.
pub fn key(name: &str) -> io::Result<()> {
    let (key, line) = keys::new_key(name).map_err(io::Error::other)?;
    writeln!(io::stdout(), "{line}")?;
    writeln!(io::stderr(), "The key of {name}, shown once: {key}")
}

/// Serves until the process is told to stop, or only checks the settings.
pub fn serve(services: Services, command_line: &CommandLine) -> io::Result<()> {
    let file = command_line.configuration.as_deref();
    let configuration =
        Configuration::of(command_line.given.clone(), file).map_err(io::Error::other)?;
    logs::begin(&configuration).map_err(io::Error::other)?;
    let services = Arc::new(services);
    let shared = Shared::of(Arc::clone(&services), &configuration).map_err(io::Error::other)?;
    if command_line.check_config {
        let table = toml::to_string(&configuration).map_err(io::Error::other)?;
        return io::stdout().write_all(table.as_bytes());
    }
    // Every connection is a file; a system that gives fewer is served as it is. The largest
    // number stands for no limit, and for a system that knows none.
    let files = rlimit::increase_nofile_limit(u64::MAX).ok().filter(|files| *files != u64::MAX);
    let bind = configuration.bind;
    let listener = TcpListener::bind(bind).map_err(|error| {
        io::Error::new(error.kind(), format!("cannot serve on {bind}: {error}"))
    })?;
    let bound = listener.local_addr()?;
    let scheme = if configuration.tls_certificate.is_some() { "https" } else { "http" };
    invite(&services, &format!("{scheme}://{bound}"));
    if command_line.browser.is_wanted() {
        browser::open(browser::page(scheme, bound));
    }
    tracing::info!(address = %bound, version = VERSION, files, "serving");
    crate::serve(listener, shared, &configuration)
}

/// Prints a request that is ready to paste.
fn invite(services: &Services, address: &str) {
    println!("Sumpwright {VERSION} serves {address}");
    println!("Page for the shop: {address}/");
    println!("Calculations: {address}/v1   Documentation: {address}/docs/");
    let Some(service) = services.get("top-up") else { return };
    let Ok(example) = serde_json::from_str::<serde_json::Value>(service.example) else { return };
    println!("\nTry it, in another terminal:\n");
    println!(
        "curl -s {address}/v1/{} -H 'content-type: application/json' -d '{example}'\n",
        service.name
    );
}
