//! What the service can be told: by a file, by the environment and by flags.
//!
//! The three say the same things under the same names. What the environment says
//! goes before the file, and what a flag says before both.

use clap::{Args, ValueEnum};
use serde::{Deserialize, Serialize};
use std::net::{Ipv4Addr, SocketAddr};
use std::num::{NonZeroU32, NonZeroUsize};
use std::path::{Path, PathBuf};
use std::time::Duration;
use sumpwright_engine::text::nearest;
use toml::Table;

/// How lines of the log are written.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogFormat {
    /// For people.
    #[default]
    Text,
    /// For programs: a JSON object a line.
    Json,
}

/// What flags and the environment say.
#[derive(Debug, Clone, Default, PartialEq, Args, Serialize)]
pub struct Settings {
    /// Address to serve on; 127.0.0.1:8787 when left out.
    #[arg(long, env = "SUMPWRIGHT_BIND")]
    pub bind: Option<SocketAddr>,
    /// Threads that answer; one for each core when left out.
    #[arg(long, env = "SUMPWRIGHT_WORKERS")]
    pub workers: Option<NonZeroUsize>,
    /// File of keys, a line each as `sumpwright key` prints it. It is read again
    /// when it changes.
    #[arg(long, env = "SUMPWRIGHT_KEYS", value_name = "FILE")]
    pub keys: Option<PathBuf>,
    /// Keys without a file: the same lines, with commas between them.
    #[arg(long, env = "SUMPWRIGHT_KEY_HASHES", value_name = "LINES", value_delimiter = ',')]
    pub key_hashes: Option<Vec<String>>,
    /// Serve others than this machine without keys.
    #[arg(long, env = "SUMPWRIGHT_WITHOUT_KEYS", value_name = "YES", num_args = 0..=1,
          default_missing_value = "true")]
    pub without_keys: Option<bool>,
    /// Certificate chain (PEM) to serve by TLS with; read again when it changes.
    #[arg(long, env = "SUMPWRIGHT_TLS_CERTIFICATE", value_name = "FILE")]
    pub tls_certificate: Option<PathBuf>,
    /// The certificate's private key (PEM).
    #[arg(long, env = "SUMPWRIGHT_TLS_KEY", value_name = "FILE")]
    pub tls_key: Option<PathBuf>,
    /// Requests a minute for each key, or without keys for each address; no
    /// limit when left out.
    #[arg(long, env = "SUMPWRIGHT_REQUESTS_PER_MINUTE", value_name = "NUMBER")]
    pub requests_per_minute: Option<NonZeroU32>,
    /// Origins of other sites whose pages may ask, with commas between them; none
    /// when left out.
    #[arg(long, env = "SUMPWRIGHT_CORS_ORIGINS", value_name = "ORIGINS", value_delimiter = ',')]
    pub cors_origins: Option<Vec<String>>,
    /// Calculations that may take long, answered at once; one for each core when
    /// left out.
    #[arg(long, env = "SUMPWRIGHT_AT_ONCE", value_name = "NUMBER")]
    pub at_once: Option<NonZeroUsize>,
    /// Such calculations that may wait, 64 when left out; more are answered 503.
    #[arg(long, env = "SUMPWRIGHT_WAITING", value_name = "NUMBER")]
    pub waiting: Option<usize>,
    /// Connections that are held open, 16384 when left out.
    #[arg(long, env = "SUMPWRIGHT_CONNECTIONS", value_name = "NUMBER")]
    pub connections: Option<NonZeroUsize>,
    /// Seconds after which a calculation is cut off, 30 when left out.
    #[arg(long, env = "SUMPWRIGHT_ANSWER_SECONDS", value_name = "SECONDS")]
    pub answer_seconds: Option<NonZeroU32>,
    /// Seconds in which a document must arrive, and between two parts of a
    /// table; 30 when left out.
    #[arg(long, env = "SUMPWRIGHT_RECEIVE_SECONDS", value_name = "SECONDS")]
    pub receive_seconds: Option<NonZeroU32>,
    /// Seconds for which a service that is told to stop says so before it takes
    /// no more; 0 when left out.
    #[arg(long, env = "SUMPWRIGHT_DRAIN_SECONDS", value_name = "SECONDS")]
    pub drain_seconds: Option<u32>,
    /// Seconds for what was taken to be answered after that, 30 when left out.
    #[arg(long, env = "SUMPWRIGHT_STOP_SECONDS", value_name = "SECONDS")]
    pub stop_seconds: Option<u32>,
    /// What is logged: error, warn, info (when left out) or debug. At info there
    /// is a line for each request, never its document.
    #[arg(long, env = "SUMPWRIGHT_LOG", value_name = "LEVEL")]
    pub log: Option<String>,
    /// How lines of the log are written; text when left out.
    #[arg(long, env = "SUMPWRIGHT_LOG_FORMAT", value_name = "FORMAT")]
    pub log_format: Option<LogFormat>,
    /// Collector that spans go to by OTLP over HTTP, as in
    /// http://127.0.0.1:4318/v1/traces; none when left out.
    #[arg(long, env = "SUMPWRIGHT_OTLP_ENDPOINT", value_name = "ADDRESS")]
    pub otlp_endpoint: Option<String>,
}

/// What the service does: the settings with what they leave out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
#[expect(missing_docs, reason = "each is the setting of the same name")]
pub struct Configuration {
    pub bind: SocketAddr,
    pub workers: Option<NonZeroUsize>,
    pub keys: Option<PathBuf>,
    pub key_hashes: Vec<String>,
    pub without_keys: bool,
    pub tls_certificate: Option<PathBuf>,
    pub tls_key: Option<PathBuf>,
    pub requests_per_minute: Option<NonZeroU32>,
    pub cors_origins: Vec<String>,
    pub at_once: Option<NonZeroUsize>,
    pub waiting: usize,
    pub connections: NonZeroUsize,
    pub answer_seconds: NonZeroU32,
    pub receive_seconds: NonZeroU32,
    pub drain_seconds: u32,
    pub stop_seconds: u32,
    pub log: String,
    pub log_format: LogFormat,
    pub otlp_endpoint: Option<String>,
}

impl Default for Configuration {
    fn default() -> Self {
        const HALF_A_MINUTE: NonZeroU32 = NonZeroU32::new(30).unwrap();
        Self {
            bind: SocketAddr::from((Ipv4Addr::LOCALHOST, 8787)),
            workers: None,
            keys: None,
            key_hashes: Vec::new(),
            without_keys: false,
            tls_certificate: None,
            tls_key: None,
            requests_per_minute: None,
            cors_origins: Vec::new(),
            at_once: None,
            waiting: 64,
            connections: const { NonZeroUsize::new(16_384).unwrap() },
            answer_seconds: HALF_A_MINUTE,
            receive_seconds: HALF_A_MINUTE,
            drain_seconds: 0,
            stop_seconds: 30,
            log: "info".to_owned(),
            log_format: LogFormat::Text,
            otlp_endpoint: None,
        }
    }
}

impl Configuration {
    /// What the file says, if there is one, under what `settings` say; or in a
    /// sentence what is wrong with it.
    pub fn of(settings: &Settings, file: Option<&Path>) -> Result<Self, String> {
        let mut said = match file {
            Some(file) => read(file)?,
            None => Table::new(),
        };
        said.extend(Table::try_from(settings).map_err(|error| error.to_string())?);
        let configuration: Self =
            said.try_into().map_err(|error: toml::de::Error| error.message().to_owned())?;
        configuration.check()?;
        Ok(configuration)
    }

    /// What can be seen to be wrong without opening anything.
    fn check(&self) -> Result<(), String> {
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
        if let Some(endpoint) = &self.otlp_endpoint {
            if !endpoint.starts_with("http://") {
                return Err(format!(
                    "otlp_endpoint is {endpoint:?}. Spans go out by plain HTTP, as a rule to a \
                     collector on the same machine: http://127.0.0.1:4318/v1/traces."
                ));
            }
            if cfg!(not(feature = "otlp")) {
                return Err(
                    "otlp_endpoint is set, but this program was built without OTLP.".to_owned()
                );
            }
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

fn read(file: &Path) -> Result<Table, String> {
    let text = std::fs::read_to_string(file)
        .map_err(|error| format!("{} cannot be read: {error}", file.display()))?;
    let table: Table = text.parse().map_err(|error| format!("{}: {error}", file.display()))?;
    let known = names();
    for name in table.keys() {
        if !known.contains(name) {
            let near = nearest(name, known.iter().map(String::as_str));
            let near = near.map(|near| format!(" Did you mean {near}?")).unwrap_or_default();
            return Err(format!("{}: there is no setting {name}.{near}", file.display()));
        }
    }
    // Each setting by itself, so that the sentence can say which one is wrong.
    for (name, value) in &table {
        let alone = Table::from_iter([(name.clone(), value.clone())]);
        let read: Result<Configuration, toml::de::Error> = alone.try_into();
        read.map_err(|error| format!("{}: {name}: {}", file.display(), error.message()))?;
    }
    Ok(table)
}

/// The names of all settings, as a file has them.
#[must_use]
pub fn names() -> Vec<String> {
    let command = Settings::augment_args(clap::Command::new("settings"));
    command.get_arguments().map(|argument| argument.get_id().to_string()).collect()
}

fn is_origin(origin: &str) -> bool {
    let host = origin.strip_prefix("https://").or_else(|| origin.strip_prefix("http://"));
    host.is_some_and(|host| !host.is_empty() && !host.contains(['/', '?', '#', '*', ' ']))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(file: &str, settings: &Settings) -> Result<Configuration, String> {
        let path = tempfile::NamedTempFile::new().expect("room for a file");
        std::fs::write(path.path(), file).expect("it takes text");
        Configuration::of(settings, Some(path.path()))
    }

    #[test]
    fn a_flag_goes_before_the_file_and_the_file_before_what_is_left_out() {
        let flags = Settings { waiting: Some(3), ..Settings::default() };
        let read = said("waiting = 2\nanswer_seconds = 5\n", &flags).expect("it is sound");
        assert_eq!((read.waiting, read.answer_seconds.get()), (3, 5));
        assert_eq!(read.stop_seconds, Configuration::default().stop_seconds);
    }

    #[test]
    fn settings_and_configuration_have_the_same_names() {
        let every = Settings {
            workers: NonZeroUsize::new(1),
            keys: Some("keys".into()),
            tls_certificate: Some("chain.pem".into()),
            tls_key: Some("key.pem".into()),
            requests_per_minute: NonZeroU32::new(1),
            at_once: NonZeroUsize::new(1),
            otlp_endpoint: Some("http://127.0.0.1:4318/v1/traces".to_owned()),
            ..Settings::default()
        };
        let whole = Configuration::of(&every, None).expect("it is sound");
        let table = Table::try_from(&whole).expect("it is a table");
        let mut known = names();
        known.sort();
        assert_eq!(table.keys().cloned().collect::<Vec<_>>(), known);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        let refused = |file: &str| said(file, &Settings::default()).expect_err("it is wrong");
        assert!(
            refused("wating = 2").ends_with("there is no setting wating. Did you mean waiting?")
        );
        assert!(refused("waiting = -2").contains("waiting: "));
        assert!(refused("answer_seconds = 0").contains("answer_seconds: "));
        assert!(refused("waiting = ").contains("line 1"));
        assert!(refused("tls_key = 'key.pem'").contains("go together"));
        assert!(refused("cors_origins = ['*']").contains("no origin"));
        assert!(refused("otlp_endpoint = 'collector:4318'").contains("plain HTTP"));
    }

    #[test]
    fn other_machines_are_served_only_with_keys_or_on_purpose() {
        let refused = said("bind = '0.0.0.0:8787'", &Settings::default());
        assert!(refused.expect_err("there are no keys").contains("anyone there could ask"));
        for sound in ["without_keys = true", "keys = 'keys'", "key_hashes = ['a sha256:00']"] {
            let file = format!("bind = '0.0.0.0:8787'\n{sound}\n");
            assert!(said(&file, &Settings::default()).is_ok(), "{sound}");
        }
        assert!(said("bind = '[::1]:8787'", &Settings::default()).is_ok());
    }
}
