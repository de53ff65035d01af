//! The command line of the program.

use crate::access::keys;
use crate::address;
use crate::browser::{self, Browser};
use crate::check;
use crate::configuration::{Configuration, Settings};
use crate::environment;
use crate::invitation::invitation;
use crate::observability::logs;
use crate::shared::Shared;
use crate::solve::Solve;
use clap::builder::Resettable;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};
use std::ffi::OsString;
use std::io::{self, Write};
use std::path::PathBuf;
use std::sync::Arc;
use sumpwright_engine::VERSION;
use sumpwright_openapi::service::Services;

/// Mass balance of water-mix cutting fluid, as a JSON service.
///
/// Without a command it starts the service: a reading and a sump go in, what to add comes
/// out, with the material balance that proves it. Nothing is stored.
#[derive(Debug, Parser)]
#[command(name = "sumpwright", version, max_term_width = 100, before_help = EXAMPLES,
          after_help = FIRST_OF_ALL)]
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
    /// The word `check`, which takes the flags of the program.
    #[arg(long, hide = true)]
    pub check: bool,
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
    #[must_use]
    pub fn of_process() -> Self {
        Self::of(std::env::args_os().collect()).unwrap_or_else(|error| error.exit())
    }

    /// Reads the words of a command line, the program's name first.
    fn of(mut words: Vec<OsString>) -> Result<Self, clap::Error> {
        // The flags of `serve` and of `check` are the program's own.
        if words.get(1).is_some_and(|word| word == "serve") {
            words.remove(1);
        }
        if let Some(word) = words.get_mut(1).filter(|word| *word == "check") {
            *word = "--check".into();
        }
        // A variable that is blank counts as not given, as a blank line of a file does.
        let command = Self::command().mut_args(|flag| match flag.get_env() {
            Some(name) if environment::is_blank(name) => flag.env(Resettable::Reset),
            _ => flag,
        });
        let matches = command.try_get_matches_from(&words).map_err(|error| {
            let numbers = words.iter().filter_map(|word| word.to_str());
            let mut numbers = numbers.flat_map(|word| word.split(['=', ':']));
            with_bind(error, numbers.find_map(|word| word.parse().ok()))
        })?;
        let mut read = Self::from_arg_matches(&matches)?;
        if read.check {
            read.command = Some(Command::Check);
        }
        read.given = read.settings.given(&matches).expect("every setting has a name in a file");
        Ok(read)
    }
}

/// Names `--bind` to somebody who looked for it by another name.
fn with_bind(mut error: clap::Error, port: Option<u16>) -> clap::Error {
    let Some(ContextValue::String(unknown)) = error.get(ContextKind::InvalidArg) else {
        return error;
    };
    let flag = unknown.split('=').next().unwrap_or_default();
    if error.kind() == ErrorKind::UnknownArgument
        && ["--port", "--host", "--address", "--listen", "-p"].contains(&flag)
    {
        let port = port.unwrap_or(9000);
        let tip = format!("the address and its port are one setting: --bind 127.0.0.1:{port}");
        error.insert(ContextKind::Suggested, ContextValue::StyledStrs(vec![tip.into()]));
    }
    error
}

const EXAMPLES: &str = "\
Examples:
  sumpwright                                    serve this machine at 127.0.0.1:8787
  sumpwright --bind 127.0.0.1:9000              use another port
  sumpwright key mes >> keys                    make a key for a caller
  sumpwright key cells --in-address top-up >> keys    one for cells of a spreadsheet
  sumpwright --bind 0.0.0.0:8787 --keys keys    serve other machines too
  sumpwright check --configuration s.toml       what would keep it from starting
  sumpwright solve top-up request.json          answer one document without a server
  sumpwright solve top-up sumps.csv --units us  answer every row of a table
  curl -s localhost:8787/v1/top-up/example | sumpwright solve top-up -
  sumpwright spec > openapi.json                the OpenAPI document";

const FIRST_OF_ALL: &str = "\
Answers are calculations, not permissions: the fluid's safety data sheet, local
codes and licensed practice come first.";

/// What to do instead of starting the service.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Start the service, as without a command.
    Serve,
    /// Check everything that would keep the service from starting, or from going on, and exit.
    ///
    /// The settings, the keys, the certificate, the page's engine and the address. Prints the settings in
    /// effect, then what is wrong and what will be. The exit status is 1 if the service would not start.
    Check,
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
        /// Calculations that the key reads, if it may stand in an address (`?key=KEY`), for
        /// spreadsheets whose cells can send no header. Such a key does nothing else.
        #[arg(long, value_name = "CALCULATION", num_args = 1.., value_delimiter = ',')]
        in_address: Vec<String>,
    },
}

/// Makes a key.
pub fn key(name: &str, in_address: &[String], services: &Services) -> io::Result<()> {
    let known: Vec<&str> = services.iter().map(|service| service.name).collect();
    let made = match in_address {
        [] => keys::new_key(name),
        reads => keys::new_address_key(name, reads, &known),
    };
    let (key, line) = made.map_err(io::Error::other)?;
    writeln!(io::stdout(), "{line}")?;
    if !in_address.is_empty() {
        writeln!(io::stderr(), "{READABLE}")?;
    }
    writeln!(io::stderr(), "The key of {name}, shown once: {key}")
}

const READABLE: &str = "\
An address is written down where a header is not: in the spreadsheet, in histories and
in the logs of what stands between. Whoever reads it can ask what this key asks.";

/// Serves until the process is told to stop, or only checks the settings.
pub fn serve(services: Services, command_line: &CommandLine) -> io::Result<()> {
    environment::check().map_err(io::Error::other)?;
    let file = command_line.configuration.as_deref();
    let configuration =
        Configuration::of(command_line.given.clone(), file).map_err(io::Error::other)?;
    logs::begin(&configuration).map_err(io::Error::other)?;
    let services = Arc::new(services);
    let shared = Shared::of(Arc::clone(&services), &configuration).map_err(io::Error::other)?;
    if command_line.check_config {
        return check::print_settings(&configuration, &shared);
    }
    // Every connection is a file; a system that gives fewer is served as it is. The largest
    // number stands for no limit, and for a system that knows none.
    let files = rlimit::increase_nofile_limit(u64::MAX).ok().filter(|files| *files != u64::MAX);
    let bind = configuration.bind;
    let listener = address::listen(bind).map_err(io::Error::other)?;
    let bound = listener.local_addr()?;
    // The service answers whether or not anybody reads this.
    let _ = io::stdout().write_all(invitation(&services, &configuration, bound).as_bytes());
    if command_line.browser.is_wanted() {
        let scheme = if configuration.tls_certificate.is_some() { "https" } else { "http" };
        browser::open(format!("{scheme}://{}/", address::from_here(bound)));
    }
    tracing::info!(address = %bound, version = VERSION, files, "serving");
    crate::serve(listener, shared, &configuration)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &str) -> Result<CommandLine, clap::Error> {
        let words = format!("sumpwright {words}");
        CommandLine::of(words.split_whitespace().map(OsString::from).collect())
    }

    #[test]
    fn the_word_serve_is_taken() {
        for words in ["serve", "serve --bind :9000", "--bind 9000", "--bind localhost:9000 serve"] {
            let read = read(words).expect("it is taken");
            assert!(matches!(read.command, None | Some(Command::Serve)), "{words}");
            let bind = read.given.get("bind").and_then(|bind| bind.as_str());
            assert_eq!(bind, words.contains("9000").then_some("127.0.0.1:9000"), "{words}");
        }
        for words in ["check", "check --bind :9000", "--bind :9000 check"] {
            let read = read(words).expect("it is taken");
            assert!(matches!(read.command, Some(Command::Check)), "{words}");
        }
        let solve = read("solve top-up serve").expect("it is taken");
        assert!(matches!(solve.command, Some(Command::Solve(_))));
    }

    #[test]
    fn what_is_wrong_with_a_flag_is_told_with_what_is_right() {
        for (words, part) in [
            ("--port 9123", "one setting: --bind 127.0.0.1:9123"),
            ("--port=9123", "one setting: --bind 127.0.0.1:9123"),
            ("serve --host 127.0.0.1", "one setting: --bind 127.0.0.1:9000"),
            ("--bind shop-pc:9000", "it must be an IP address and a port"),
            ("--workers 0", "a whole number of at least 1"),
            ("--at-once 0", "a whole number of at least 1"),
            ("--connections many", "a whole number of at least 1"),
            ("--answer-seconds 0", "a whole number of at least 1"),
            ("--requests-per-minute 5000000000", "too large"),
        ] {
            let said = read(words).expect_err("it is wrong").to_string();
            assert!(said.contains(part), "{words}: {said}");
        }
    }

    #[test]
    fn help_begins_with_examples_and_fits_the_screen() {
        for words in ["--help", "-h", "solve --help", "key --help"] {
            let help = read(words).expect_err("it is help").to_string();
            if let Some(options) = help.find("--bind <") {
                assert!(help.starts_with("Examples:\n"), "{words}: {help}");
                assert!(help.find("Usage:").is_some_and(|usage| usage < options), "{help}");
            }
            let long = help.lines().find(|line| line.chars().count() > 100);
            assert_eq!(long, None, "{words}");
        }
    }
}
