//! The settings of the service, from a file, environment variables and flags.
//!
//! All three use the same names. Environment variables override the file; flags override
//! both.

use crate::address;
use clap::builder::Resettable;
use clap::parser::ValueSource;
use clap::{ArgAction, ArgMatches, Args, Command, FromArgMatches, ValueEnum};
use serde::{Deserialize, Serialize};
use std::net::{IpAddr, SocketAddr};
use std::num::{IntErrorKind, NonZeroU32, NonZeroUsize, ParseIntError};
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::time::Duration;
use sumpwright_engine::text::text_with_nearest;

/// Some of the settings, by name, as a file has them.
pub type Settings = toml::Table;

/// The levels of the log, the quietest first.
const LEVELS: [&str; 6] = ["off", "error", "warn", "info", "debug", "trace"];

/// Format of the log.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogFormat {
    /// For people.
    #[default]
    Text,
    /// For programs: a JSON object a line.
    Json,
}

/// Everything that the service can be told. This is the only list: the file's names, the
/// environment's, the flags, their help and their defaults are read from it.
#[derive(Debug, Clone, PartialEq, Args, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Configuration {
    /// Address and port to serve on. A port alone is one of this machine.
    #[arg(long, env = "SUMPWRIGHT_BIND", value_name = "ADDRESS:PORT",
          default_value = "127.0.0.1:8787", value_parser = address::parse)]
    #[serde(deserialize_with = "address::deserialize")]
    pub bind: SocketAddr,
    /// Number of threads that answer requests. Default: one per core.
    #[arg(long, env = "SUMPWRIGHT_WORKERS", value_name = "NUMBER", value_parser = at_least_one::<NonZeroUsize>)]
    pub workers: Option<NonZeroUsize>,
    /// File of keys, one per line as `sumpwright key` prints them. The file is read again
    /// whenever it changes.
    #[arg(long, env = "SUMPWRIGHT_KEYS", value_name = "FILE")]
    pub keys: Option<PathBuf>,
    /// Keys given directly instead of in a file: the same lines, separated by commas.
    #[arg(long, env = "SUMPWRIGHT_KEY_HASHES", value_name = "LINES", value_delimiter = ',')]
    pub key_hashes: Vec<String>,
    /// Serve other machines without asking for a key.
    #[arg(long, env = "SUMPWRIGHT_WITHOUT_KEYS", value_name = "BOOLEAN", num_args = 0..=1,
          action = ArgAction::Set, default_missing_value = "true", default_value_t = false)]
    pub without_keys: bool,
    /// Certificate chain (PEM) for TLS. The file is read again whenever it changes.
    #[arg(long, env = "SUMPWRIGHT_TLS_CERTIFICATE", value_name = "FILE")]
    pub tls_certificate: Option<PathBuf>,
    /// Private key (PEM) of the certificate.
    #[arg(long, env = "SUMPWRIGHT_TLS_KEY", value_name = "FILE")]
    pub tls_key: Option<PathBuf>,
    /// Requests per minute allowed for each key, or for each IP address where there are no
    /// keys. Default: no limit.
    #[arg(long, env = "SUMPWRIGHT_REQUESTS_PER_MINUTE", value_name = "NUMBER", value_parser = at_least_one::<NonZeroU32>)]
    pub requests_per_minute: Option<NonZeroU32>,
    /// Web origins whose pages may call the service (CORS), separated by commas. Default:
    /// none.
    #[arg(long, env = "SUMPWRIGHT_CORS_ORIGINS", value_name = "ORIGINS", value_delimiter = ',')]
    pub cors_origins: Vec<String>,
    /// Engine for browsers (WebAssembly), with which the page calculates where the service cannot
    /// be reached. Default: `engine.wasm` beside the program, if it is there.
    #[arg(long, env = "SUMPWRIGHT_PAGE_ENGINE", value_name = "FILE")]
    pub page_engine: Option<PathBuf>,
    /// Number of long calculations that run at the same time. Default: one more than cores.
    #[arg(long, env = "SUMPWRIGHT_AT_ONCE", value_name = "NUMBER", value_parser = at_least_one::<NonZeroUsize>)]
    pub at_once: Option<NonZeroUsize>,
    /// Number of long calculations that may wait for their turn. Further ones are answered
    /// with status 503.
    #[arg(long, env = "SUMPWRIGHT_WAITING", value_name = "NUMBER", default_value_t = 64)]
    pub waiting: usize,
    /// Number of those that run at the same time for one caller (a key, or an address without
    /// one). Default: one fewer than run at all, so that a slot is left for others.
    #[arg(long, env = "SUMPWRIGHT_AT_ONCE_EACH", value_name = "NUMBER", value_parser = at_least_one::<NonZeroUsize>)]
    pub at_once_each: Option<NonZeroUsize>,
    /// Number of long calculations of one caller that may wait. Default: half of those that may
    /// wait at all.
    #[arg(long, env = "SUMPWRIGHT_WAITING_EACH", value_name = "NUMBER")]
    pub waiting_each: Option<usize>,
    /// Addresses of proxies in front of the service, separated by commas. Whom they name in
    /// X-Forwarded-For is counted as the caller. Default: none, and a proxy is one caller.
    #[arg(
        long,
        env = "SUMPWRIGHT_TRUSTED_PROXIES",
        value_name = "ADDRESSES",
        value_delimiter = ','
    )]
    pub trusted_proxies: Vec<IpAddr>,
    /// Maximum number of open connections.
    #[arg(long, env = "SUMPWRIGHT_CONNECTIONS", value_name = "NUMBER", default_value = "16384", value_parser = at_least_one::<NonZeroUsize>)]
    pub connections: NonZeroUsize,
    /// Seconds after which a calculation is cut off.
    #[arg(long, env = "SUMPWRIGHT_ANSWER_SECONDS", value_name = "SECONDS", default_value = "30", value_parser = at_least_one::<NonZeroU32>)]
    pub answer_seconds: NonZeroU32,
    /// Seconds within which a document, or the next part of a table, must arrive.
    #[arg(long, env = "SUMPWRIGHT_RECEIVE_SECONDS", value_name = "SECONDS", default_value = "30", value_parser = at_least_one::<NonZeroU32>)]
    pub receive_seconds: NonZeroU32,
    /// When told to stop: seconds during which `/readyz` says so while requests are still
    /// accepted.
    #[arg(long, env = "SUMPWRIGHT_DRAIN_SECONDS", value_name = "SECONDS", default_value_t = 0)]
    pub drain_seconds: u32,
    /// When told to stop: seconds allowed after that for accepted requests to be answered.
    #[arg(long, env = "SUMPWRIGHT_STOP_SECONDS", value_name = "SECONDS", default_value_t = 30)]
    pub stop_seconds: u32,
    /// Log level: error, warn, info or debug. At info there is one line per request, which
    /// never contains the document.
    #[arg(long, env = "SUMPWRIGHT_LOG", value_name = "LEVEL", default_value = "info")]
    pub log: String,
    /// Format of the log.
    #[arg(long, env = "SUMPWRIGHT_LOG_FORMAT", value_name = "FORMAT", value_enum, default_value_t)]
    pub log_format: LogFormat,
    /// OpenTelemetry collector that receives spans (OTLP over HTTP), for example
    /// http://127.0.0.1:4318/v1/traces. Default: none.
    #[arg(long, env = "SUMPWRIGHT_OTLP_ENDPOINT", value_name = "URL")]
    pub otlp_endpoint: Option<String>,
}

impl Default for Configuration {
    /// The defaults of the flags, whatever the environment says.
    fn default() -> Self {
        let flags = Self::augment_args(Command::new("defaults").no_binary_name(true));
        let matches = flags.mut_args(|flag| flag.env(Resettable::Reset)).get_matches_from([""; 0]);
        Self::from_arg_matches(&matches).expect("every default is a value of its setting")
    }
}

impl Configuration {
    /// The settings of the file, if there is one, overridden by those of `given`; or a
    /// sentence that says what is wrong with them.
    pub fn of(given: Settings, file: Option<&Path>) -> Result<Self, String> {
        let mut settings = match file {
            Some(file) => read(file)?,
            None => Settings::new(),
        };
        settings.extend(given);
        let configuration: Self =
            settings.try_into().map_err(|error: toml::de::Error| error.message().to_owned())?;
        configuration.check()?;
        Ok(configuration)
    }

    /// The settings that flags or the environment gave; the others are defaults.
    pub fn given(&self, matches: &ArgMatches) -> Result<Settings, String> {
        let given = |name: &str| {
            let source = matches.value_source(name);
            matches!(source, Some(ValueSource::CommandLine | ValueSource::EnvVariable))
        };
        let mut settings = Settings::try_from(self).map_err(|error| error.to_string())?;
        settings.retain(|name, _| given(name));
        Ok(settings)
    }

    /// What can be seen to be wrong without opening anything.
    fn check(&self) -> Result<(), String> {
        check_log(&self.log)?;
        if self.is_open_to_others() && !self.has_keys() && !self.without_keys {
            return Err(format!(
                "{} can be reached from other machines, and anyone there could ask. Give keys \
                 (keys, or --keys FILE; `sumpwright key NAME` makes one), or say without_keys \
                 (--without-keys) where something else guards the service.",
                self.bind
            ));
        }
        if self.tls_certificate.is_some() != self.tls_key.is_some() {
            return Err("tls_certificate and tls_key go together: TLS takes both.".to_owned());
        }
        if let Some(origin) = self.cors_origins.iter().find(|origin| !is_origin(origin)) {
            return Err(format!(
                "cors_origins holds {origin:?}, which is no origin. An origin is a scheme and a \
                 host and nothing after, as in https://planning.example."
            ));
        }
        let plain = |endpoint: &&String| !endpoint.starts_with("http://");
        if let Some(endpoint) = self.otlp_endpoint.as_ref().filter(plain) {
            return Err(format!(
                "otlp_endpoint is {endpoint:?}. Spans are sent by plain HTTP, usually to a \
                 collector on the same machine: http://127.0.0.1:4318/v1/traces."
            ));
        }
        Ok(())
    }

    fn is_open_to_others(&self) -> bool {
        !self.bind.ip().is_loopback()
    }

    /// Whether callers must have a key.
    #[must_use]
    pub fn has_keys(&self) -> bool {
        self.keys.is_some() || !self.key_hashes.is_empty()
    }

    /// After so long a calculation is cut off.
    #[must_use]
    pub fn answer_within(&self) -> Duration {
        Duration::from_secs(self.answer_seconds.get().into())
    }

    /// So long a document may take to arrive.
    #[must_use]
    pub fn receive_within(&self) -> Duration {
        Duration::from_secs(self.receive_seconds.get().into())
    }
}

fn read(file: &Path) -> Result<Settings, String> {
    let text = std::fs::read_to_string(file)
        .map_err(|error| format!("{} cannot be read: {error}", file.display()))?;
    let table: Settings = text.parse().map_err(|error| format!("{}: {error}", file.display()))?;
    let known = names();
    for name in table.keys() {
        if !known.contains(name) {
            let detail = format!("{}: there is no setting {name:?}.", file.display());
            return Err(text_with_nearest(detail, name, known.iter().map(String::as_str)));
        }
    }
    // Each setting by itself, so that the sentence can say which one is wrong.
    for (name, value) in &table {
        let alone = Settings::from_iter([(name.clone(), value.clone())]);
        let read: Result<Configuration, toml::de::Error> = alone.try_into();
        read.map_err(|error| format!("{}: {name}: {}", file.display(), error.message()))?;
    }
    Ok(table)
}

/// The names of all settings, as a file has them.
#[must_use]
pub fn names() -> Vec<String> {
    let command = Configuration::augment_args(Command::new("settings"));
    command.get_arguments().map(|argument| argument.get_id().to_string()).collect()
}

/// Reads a whole number that must not be 0.
fn at_least_one<Number: FromStr<Err = ParseIntError>>(text: &str) -> Result<Number, String> {
    text.trim().parse().map_err(|error: ParseIntError| match error.kind() {
        IntErrorKind::PosOverflow => "it is too large".to_owned(),
        _ => "it must be a whole number of at least 1".to_owned(),
    })
}

/// Refuses a level of the log that there is not, which would log nothing.
fn check_log(log: &str) -> Result<(), String> {
    // Beside a level for all, one for a part of the service: info,actix_web=debug.
    let level = |directive: &str| directive.rsplit('=').next().unwrap_or_default().to_owned();
    let levels = log.split(',').map(|directive| level(directive.trim()));
    match levels.into_iter().find(|level| !LEVELS.contains(&level.to_lowercase().as_str())) {
        None => Ok(()),
        Some(level) => {
            let detail = format!("log is {log:?}; it must be one of {}.", LEVELS.join(", "));
            Err(text_with_nearest(detail, &level, LEVELS))
        }
    }
}

fn is_origin(origin: &str) -> bool {
    let host = origin.strip_prefix("https://").or_else(|| origin.strip_prefix("http://"));
    host.is_some_and(|host| !host.is_empty() && !host.contains(['/', '?', '#', '*', ' ']))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn configured(file: &str, given: Settings) -> Result<Configuration, String> {
        let path = tempfile::NamedTempFile::new().expect("room for a file");
        std::fs::write(path.path(), file).expect("it takes text");
        Configuration::of(given, Some(path.path()))
    }

    fn flags(words: &[&str]) -> Settings {
        let command = Configuration::augment_args(Command::new("flags").no_binary_name(true));
        let matches = command.get_matches_from(words);
        let parsed = Configuration::from_arg_matches(&matches).expect("they are sound");
        parsed.given(&matches).expect("a table")
    }

    #[test]
    fn a_flag_overrides_the_file_and_the_file_the_default() {
        let flags = flags(&["--waiting", "64", "--without-keys"]);
        let file = "waiting = 2\nanswer_seconds = 5\n";
        let read = configured(file, flags).expect("it is sound");
        assert_eq!((read.waiting, read.answer_seconds.get()), (64, 5));
        assert!(read.without_keys);
        assert_eq!(read.stop_seconds, Configuration::default().stop_seconds);
    }

    #[test]
    fn the_file_has_the_names_of_the_flags() {
        let every = Configuration {
            workers: NonZeroUsize::new(1),
            keys: Some("keys".into()),
            tls_certificate: Some("chain.pem".into()),
            tls_key: Some("key.pem".into()),
            requests_per_minute: NonZeroU32::new(1),
            page_engine: Some("engine.wasm".into()),
            at_once: NonZeroUsize::new(1),
            at_once_each: NonZeroUsize::new(1),
            waiting_each: Some(1),
            otlp_endpoint: Some("http://127.0.0.1:4318/v1/traces".to_owned()),
            ..Configuration::default()
        };
        let table = Settings::try_from(&every).expect("it is a table");
        let mut known = names();
        known.sort();
        assert_eq!(table.keys().cloned().collect::<Vec<_>>(), known);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        let refused = |file: &str| configured(file, Settings::new()).expect_err("it is wrong");
        assert!(
            refused("wating = 2")
                .ends_with("there is no setting \"wating\". Did you mean \"waiting\"?")
        );
        assert!(refused("waiting = -2").contains("waiting: "));
        assert!(refused("answer_seconds = 0").contains("answer_seconds: "));
        assert!(refused("waiting = ").contains("line 1"));
        assert!(refused("tls_key = 'key.pem'").contains("go together"));
        assert!(refused("cors_origins = ['*']").contains("no origin"));
        assert!(refused("otlp_endpoint = 'collector:4318'").contains("plain HTTP"));
        assert!(refused("bind = 'shop-pc:9000'").contains("bind: \"shop-pc:9000\" is no address"));
        assert!(refused("log = 'loud'").contains("one of off, error"));
        assert!(refused("log = 'inf'").ends_with("Did you mean \"info\"?"));
    }

    #[test]
    fn an_address_and_a_level_are_taken_as_people_write_them() {
        for bind in ["'localhost:9000'", "':9000'", "'9000'", "9000"] {
            let read = configured(&format!("bind = {bind}"), Settings::new());
            assert_eq!(read.expect("it is sound").bind.to_string(), "127.0.0.1:9000", "{bind}");
        }
        for log in ["warn", "INFO", "info,actix_web=debug"] {
            assert!(configured(&format!("log = '{log}'"), Settings::new()).is_ok(), "{log}");
        }
    }

    #[test]
    fn other_machines_are_served_only_with_keys_or_on_purpose() {
        let refused = configured("bind = '0.0.0.0:8787'", Settings::new());
        assert!(refused.expect_err("there are no keys").contains("anyone there could ask"));
        for sound in ["without_keys = true", "keys = 'keys'", "key_hashes = ['a sha256:00']"] {
            let file = format!("bind = '0.0.0.0:8787'\n{sound}\n");
            assert!(configured(&file, Settings::new()).is_ok(), "{sound}");
        }
        assert!(configured("bind = '[::1]:8787'", Settings::new()).is_ok());
    }
}
