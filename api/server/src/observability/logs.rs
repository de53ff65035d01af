//! The log, on standard error.

use crate::configuration::{Configuration, LogFormat};
use std::io::{self, IsTerminal};
use std::str::FromStr;
use tracing::level_filters::LevelFilter;
use tracing_subscriber::filter::Targets;
use tracing_subscriber::layer::SubscriberExt;
use tracing_subscriber::util::SubscriberInitExt;

/// Starts the log as configured, for panics too.
pub fn begin(configuration: &Configuration) -> Result<(), String> {
    let levels = Targets::from_str(&configuration.log)
        .map_err(|error| format!("log is {:?}: {error}", configuration.log))?
        // A caller that does not send HTTP is not an error of the service.
        .with_target("actix_http::h1", LevelFilter::OFF);
    let log = tracing_subscriber::registry().with(levels);
    let lines = tracing_subscriber::fmt::layer().with_writer(io::stderr);
    match configuration.log_format {
        LogFormat::Text => log.with(lines.with_ansi(io::stderr().is_terminal())).try_init(),
        LogFormat::Json => log.with(lines.json().flatten_event(true)).try_init(),
    }
    .map_err(|error| error.to_string())?;
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        tracing::error!(place, panic = panic.payload_as_str(), "a panic");
    }));
    Ok(())
}
