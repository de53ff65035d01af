//! Opens the page in a browser, if asked to or if the program was started by a click.
//!
//! # Decisions
//!
//! **A click is recognised by the arguments, the terminal and the environment.** A file manager
//! passes no arguments and no terminal, and the environment names a desktop. systemd and containers
//! mark the environment, too. On Windows a click can be recognised only by the number of processes
//! at the console, and asking for that takes unsafe code; there `start.cmd` passes `--open`.

use clap::Args;
use std::env;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::{Command, Stdio};
use std::thread;

/// Flags for opening the page in a browser.
#[derive(Debug, Clone, Copy, Default, Args)]
pub struct Browser {
    /// Open the page in a browser as soon as the service runs. Default: only when the
    /// program was started by a click in a Linux desktop.
    #[arg(long, conflicts_with = "no_open")]
    open: bool,
    /// Never open the page in a browser.
    #[arg(long)]
    no_open: bool,
}

impl Browser {
    /// Whether it was asked for, or the program was started by a click.
    #[must_use]
    pub fn is_wanted(self) -> bool {
        self.open || (!self.no_open && was_clicked())
    }
}

fn was_clicked() -> bool {
    let has_terminal = stdin().is_terminal() || stdout().is_terminal() || stderr().is_terminal();
    let is_bare = env::args_os().len() <= 1 && !has_terminal;
    cfg!(target_os = "linux")
        && is_bare
        && is_click(std::process::id(), |name| env::var(name).unwrap_or_default())
}

/// Whether the environment is that of a click, for a process without arguments and terminal.
fn is_click(process: u32, variable: impl Fn(&str) -> String) -> bool {
    let has_desktop = ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| !variable(name).is_empty());
    // Programs of a desktop inherit systemd's variable, with the number of another process.
    let has_supervisor = variable("SYSTEMD_EXEC_PID") == process.to_string();
    has_desktop && !has_supervisor && variable("container").is_empty()
}

/// Opens an address in the default browser, without waiting for it.
pub fn open(address: String) {
    thread::spawn(move || {
        let mut command = opener();
        command.arg(&address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        let done = command.status();
        if !done.as_ref().is_ok_and(std::process::ExitStatus::success) {
            tracing::warn!(address, "no browser could be started; open this address in one");
        }
    });
}

fn opener() -> Command {
    if cfg!(windows) {
        let mut command = Command::new("rundll32");
        command.arg("url.dll,FileProtocolHandler");
        command
    } else if cfg!(target_os = "macos") {
        Command::new("open")
    } else {
        Command::new("xdg-open")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_click_in_a_desktop_opens_the_page_unasked() {
        let is_click = |variables: &[(&str, &str)]| {
            let variable = |wanted: &str| {
                let found = variables.iter().find(|(name, _)| *name == wanted);
                found.map_or_else(String::new, |(_, value)| (*value).to_owned())
            };
            is_click(4711, variable)
        };
        assert!(is_click(&[("DISPLAY", ":0")]));
        assert!(is_click(&[("WAYLAND_DISPLAY", "wayland-0"), ("SYSTEMD_EXEC_PID", "12")]));
        assert!(!is_click(&[]));
        assert!(!is_click(&[("DISPLAY", "")]));
        assert!(!is_click(&[("DISPLAY", ":0"), ("SYSTEMD_EXEC_PID", "4711")]));
        assert!(!is_click(&[("DISPLAY", ":0"), ("container", "podman")]));
    }

    #[test]
    fn flags_decide_first() {
        assert!(Browser { open: true, no_open: false }.is_wanted());
        assert!(!Browser { open: false, no_open: true }.is_wanted());
    }
}
