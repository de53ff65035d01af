//! What would keep the service from starting, or from going on, said before it is started.

use crate::access::keys::Keys;
use crate::access::tls::Tls;
use crate::address;
use crate::configuration::{Configuration, Settings};
use crate::environment;
use crate::load::receive::HELD_MOST;
use crate::observability::spans::Spans;
use crate::operator_page::engine::Engine;
use crate::shared::Shared;
use std::io::{self, Write};
use std::net::{TcpStream, ToSocketAddrs};
use std::path::Path;
use std::process::ExitCode;
use std::time::Duration;
use sumpwright_openapi::service::Services;

/// What was found.
#[derive(Default)]
struct Found {
    /// What keeps the service from starting.
    wrong: Vec<String>,
    /// What will be wrong later, or under load.
    doubtful: Vec<String>,
}

/// Checks all of it, and says all of it at once.
pub fn check(services: &Services, given: Settings, file: Option<&Path>) -> io::Result<ExitCode> {
    let mut found = Found::default();
    found.wrong.extend(environment::check().err());
    match Configuration::of(given, file) {
        Err(wrong) => found.wrong.push(wrong),
        Ok(configuration) => {
            io::stdout().write_all(written(&configuration)?.as_bytes())?;
            found.look(&configuration, services);
        }
    }
    let mut out = io::stdout().lock();
    for wrong in &found.wrong {
        writeln!(out, "# WRONG: {wrong}")?;
    }
    for doubtful in &found.doubtful {
        writeln!(out, "# to see to: {doubtful}")?;
    }
    if found.wrong.is_empty() {
        writeln!(out, "# The service would start.")?;
        return Ok(ExitCode::SUCCESS);
    }
    writeln!(out, "# The service would not start.")?;
    Ok(ExitCode::FAILURE)
}

/// Prints the settings in effect, and what each key is for.
pub(crate) fn print_settings(configuration: &Configuration, shared: &Shared) -> io::Result<()> {
    io::stdout().write_all(written(configuration)?.as_bytes())?;
    let mut keys = shared.keys.iter().flat_map(Keys::in_words);
    keys.try_for_each(|words| writeln!(io::stdout(), "# {words}"))
}

fn written(configuration: &Configuration) -> io::Result<String> {
    toml::to_string(configuration).map_err(io::Error::other)
}

impl Found {
    fn look(&mut self, configuration: &Configuration, services: &Services) {
        match Keys::of(configuration, services) {
            Ok(Some(keys)) => self.look_at_keys(configuration, &keys),
            Ok(None) => {}
            Err(wrong) => self.wrong.push(wrong),
        }
        if let (Some(chain), Some(key)) = (&configuration.tls_certificate, &configuration.tls_key) {
            match Tls::of(chain, key) {
                Ok(tls) => self.doubtful.extend(tls.expires_soon()),
                Err(wrong) => self.wrong.push(wrong),
            }
        } else if !configuration.bind.ip().is_loopback() && configuration.has_keys() {
            self.doubtful.push(
                "keys travel in clear text: there is no TLS here. Give tls_certificate and tls_key, or \
                 put something that speaks TLS in front."
                    .to_owned(),
            );
        }
        self.wrong.extend(Engine::of(configuration).err());
        self.wrong.extend(Spans::of(configuration.otlp_endpoint.as_deref()).err());
        if let Some(endpoint) = &configuration.otlp_endpoint
            && !is_there(endpoint)
        {
            self.doubtful.push(format!(
                "nothing answers at otlp_endpoint {endpoint}: spans will be lost until it does."
            ));
        }
        self.wrong.extend(address::listen(configuration.bind).err());
        let connections = u64::try_from(configuration.connections.get()).unwrap_or(u64::MAX);
        let files = rlimit::increase_nofile_limit(u64::MAX).unwrap_or(u64::MAX);
        if files < connections {
            self.doubtful.push(format!(
                "the system gives this process {files} open files, and {connections} connections are \
                 allowed: raise the limit (LimitNOFILE of systemd, ulimit -n) or lower connections."
            ));
        }
        if std::env::temp_dir().metadata().is_err() || tempfile::tempfile().is_err() {
            let folder = std::env::temp_dir();
            self.wrong.push(format!(
                "nothing can be written in {}, where answers to long tables wait.",
                folder.display()
            ));
        }
        self.doubtful.extend(too_little_memory());
    }

    fn look_at_keys(&mut self, configuration: &Configuration, keys: &Keys) {
        let _ = writeln!(io::stdout(), "# {} keys", keys.count());
        for words in keys.in_words() {
            let _ = writeln!(io::stdout(), "# {words}");
        }
        if let Some(file) = &configuration.keys
            && can_be_read_by_everybody(file)
        {
            self.doubtful.push(format!(
                "{} can be read by everybody on this machine. It has hashes alone, but nobody else needs \
                 them: chmod o-r.",
                file.display()
            ));
        }
    }
}

#[cfg(unix)]
fn can_be_read_by_everybody(file: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    file.metadata().is_ok_and(|metadata| metadata.permissions().mode() & 0o004 != 0)
}

#[cfg(not(unix))]
fn can_be_read_by_everybody(_: &Path) -> bool {
    false
}

/// Whether something listens at an address of plain HTTP.
fn is_there(endpoint: &str) -> bool {
    let host = endpoint.strip_prefix("http://").and_then(|rest| rest.split('/').next());
    let host =
        host.map(|host| if host.contains(':') { host.to_owned() } else { format!("{host}:80") });
    let mut addresses = host.and_then(|host| host.to_socket_addrs().ok()).into_iter().flatten();
    addresses.any(|address| TcpStream::connect_timeout(&address, Duration::from_secs(1)).is_ok())
}

/// Whether the control group of this process allows less memory than documents that are arriving may take.
fn too_little_memory() -> Option<String> {
    let group = std::fs::read_to_string("/proc/self/cgroup").ok()?;
    let group = group.lines().find_map(|line| line.strip_prefix("0::"))?;
    let limit = std::fs::read_to_string(format!("/sys/fs/cgroup{group}/memory.max")).ok()?;
    let limit: usize = limit.trim().parse().ok()?;
    (limit < 2 * HELD_MOST).then(|| {
        format!(
            "this process may use {} MiB of memory, and documents that are arriving may take {} MiB.",
            limit >> 20,
            HELD_MOST >> 20
        )
    })
}
