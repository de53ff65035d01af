//! The log, on standard error.

use crate::configuration::{Configuration, LogFormat};
use std::io::{self, IsTerminal};
use tracing_subscriber::EnvFilter;

/// Starts the log as configured, for panics too.
pub fn begin(configuration: &Configuration) -> Result<(), String> {
    // A caller that does not send HTTP is not an error of the service.
    let filter = EnvFilter::builder()
        .parse(format!("{},actix_http::h1=off", configuration.log))
        .map_err(|error| format!("log is {:?}: {error}", configuration.log))?;
    let lines = tracing_subscriber::fmt().with_env_filter(filter).with_writer(io::stderr);
    match configuration.log_format {
        LogFormat::Text => lines.with_ansi(io::stderr().is_terminal()).try_init(),
        LogFormat::Json => lines.json().flatten_event(true).try_init(),
    }
    .map_err(|error| error.to_string())?;
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        tracing::error!(place, panic = panic.payload_as_str(), "a panic");
    }));
    Ok(())
}
