//! The page in a browser, for somebody who starts the program by a click.
//!
//! # Decisions
//!
//! **A click is told from a start by a program by what the system says of itself.** A file manager
//! gives no arguments and no terminal, and there is a desktop; a supervisor says that it started the
//! process, and a container says what it is. On Windows the only question that tells, how many
//! processes share the console, takes code that the compiler does not check; there `start.cmd`
//! asks for the page instead.

use clap::Args;
use std::env;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::{Command, Stdio};
use std::thread;

/// Whether the page is opened in a browser.
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

/// Whether it was a click that started this process without arguments and without a terminal,
/// by the variables that it was started with.
fn is_click(process: u32, variable: impl Fn(&str) -> String) -> bool {
    let has_desktop = ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| !variable(name).is_empty());
    // Programs of a desktop inherit systemd's mark, with the number of another process.
    let has_supervisor = variable("SYSTEMD_EXEC_PID") == process.to_string();
    has_desktop && !has_supervisor && variable("container").is_empty()
}

/// Opens an address in the browser that the system prefers, without waiting for it.
pub fn open(address: String) {
    thread::spawn(move || {
        let mut command = opener();
        command.arg(&address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        let done = command.status();
        if !done.as_ref().is_ok_and(std::process::ExitStatus::success) {
            tracing::warn!(address, "no browser could be opened; open this address in one");
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
    fn asked_for_it_is_opened_and_forbidden_it_is_not() {
        assert!(Browser { open: true, no_open: false }.is_wanted());
        assert!(!Browser { open: false, no_open: true }.is_wanted());
    }
}
