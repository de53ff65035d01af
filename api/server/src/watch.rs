//! Background tasks: stops the service when it is told to, and reads keys and
//! certificate again when they change.

use crate::access::keys::{Keys, Reloaded};
use crate::access::tls::Tls;
use crate::configuration::Configuration;
use crate::observability::metrics::Reload;
use crate::shared::Shared;
use actix_web::dev::ServerHandle;
use actix_web::web;
use std::path::PathBuf;
use std::time::{Duration, SystemTime};
use tokio::signal;
use tokio::time::{Instant, sleep};

/// Interval at which the files are checked.
const LOOK: Duration = Duration::from_secs(1);
/// Time for a written answer to leave the machine.
const TO_LEAVE: Duration = Duration::from_millis(200);

/// Waits for the signal to stop, reports "not ready" for a while, lets the accepted
/// requests finish, and stops.
pub(crate) async fn stop(
    server: ServerHandle,
    shared: web::Data<Shared>,
    configuration: Configuration,
) {
    let word = word_to_stop().await;
    tracing::info!(word, "told to stop");
    shared.stop();
    sleep(Duration::from_secs(configuration.drain_seconds.into())).await;
    server.pause().await;
    let latest = Instant::now() + Duration::from_secs(configuration.stop_seconds.into());
    loop {
        sleep(TO_LEAVE).await;
        let under_way = shared.count_under_way();
        if under_way == 0 || Instant::now() >= latest {
            tracing::info!(unanswered = under_way, "stopping");
            break;
        }
    }
    server.stop(false).await;
}

#[cfg(unix)]
async fn word_to_stop() -> &'static str {
    let Ok(mut terminated) = signal::unix::signal(signal::unix::SignalKind::terminate()) else {
        let _ = signal::ctrl_c().await;
        return "interrupt";
    };
    tokio::select! {
        _ = terminated.recv() => "terminate",
        _ = signal::ctrl_c() => "interrupt",
    }
}

/// On Windows a window that is closed, and a machine that is shut down, leave a few seconds.
#[cfg(windows)]
async fn word_to_stop() -> &'static str {
    use signal::windows::{ctrl_break, ctrl_close, ctrl_shutdown};
    let (Ok(mut broken), Ok(mut closed), Ok(mut shut_down)) =
        (ctrl_break(), ctrl_close(), ctrl_shutdown())
    else {
        let _ = signal::ctrl_c().await;
        return "interrupt";
    };
    tokio::select! {
        _ = broken.recv() => "break",
        _ = closed.recv() => "window closed",
        _ = shut_down.recv() => "shutdown",
        _ = signal::ctrl_c() => "interrupt",
    }
}

#[cfg(not(any(unix, windows)))]
async fn word_to_stop() -> &'static str {
    let _ = signal::ctrl_c().await;
    "interrupt"
}

/// Reads keys and certificate again whenever their files have changed and are as they were a look before: a
/// file that is being written is not read half.
pub(crate) async fn reload(shared: web::Data<Shared>) {
    let keys: Vec<PathBuf> = shared.keys.iter().filter_map(|keys| keys.file()).cloned().collect();
    let certificate: Vec<PathBuf> =
        shared.tls.iter().flat_map(|tls| tls.files()).cloned().collect();
    if keys.is_empty() && certificate.is_empty() {
        return;
    }
    let (mut keys, mut certificate) = (Watched::new(keys), Watched::new(certificate));
    loop {
        sleep(LOOK).await;
        if keys.has_changed()
            && let Some(keys) = &shared.keys
        {
            reload_keys(&shared, keys);
        }
        if certificate.has_changed()
            && let Some(tls) = &shared.tls
        {
            reload_certificate(&shared, tls);
        }
    }
}

fn reload_keys(shared: &Shared, keys: &Keys) {
    match keys.reload() {
        Ok(Reloaded { keys: count, wrong }) => {
            tracing::info!(count, "keys read again");
            if count == 0 {
                tracing::warn!("no key is left: nobody is answered any more");
            }
            for wrong in &wrong {
                tracing::error!(wrong, "a line of the new keys is invalid and is no key");
            }
            shared.metrics.reloaded(Reload::Keys, wrong.is_empty());
        }
        Err(wrong) => {
            tracing::error!(wrong, "the new keys cannot be read; the old ones stay in force");
            shared.metrics.reloaded(Reload::Keys, false);
        }
    }
}

fn reload_certificate(shared: &Shared, tls: &Tls) {
    let reloaded = tls.reload();
    shared.metrics.reloaded(Reload::Certificate, reloaded.is_ok());
    match reloaded {
        Ok(()) => {
            shared.metrics.expires(tls.not_after());
            tracing::info!("certificate read again");
        }
        Err(wrong) => {
            tracing::error!(wrong, "the new certificate is invalid; the old one stays in use");
        }
    }
}

/// When a file was last changed, and its length; nothing where it is not there.
type Stamp = Option<(SystemTime, u64)>;

/// Files that are looked at.
struct Watched {
    files: Vec<PathBuf>,
    /// As they were when they were read, and as they were at the last look.
    read: Vec<Stamp>,
    seen: Vec<Stamp>,
}

impl Watched {
    fn new(files: Vec<PathBuf>) -> Self {
        let seen = stamps(&files);
        Self { files, read: seen.clone(), seen }
    }

    /// Whether they are others than those that were read, and no longer change.
    fn has_changed(&mut self) -> bool {
        let now = stamps(&self.files);
        let is_settled = now == self.seen;
        let changed = is_settled && now != self.read;
        if changed {
            self.read.clone_from(&now);
        }
        self.seen = now;
        changed
    }
}

/// The times of last change and the lengths of the files.
fn stamps(files: &[PathBuf]) -> Vec<Stamp> {
    let stamp = |file: &PathBuf| {
        let metadata = std::fs::metadata(file).ok()?;
        Some((metadata.modified().ok()?, metadata.len()))
    };
    files.iter().map(stamp).collect()
}
