//! Builds the program and starts it, as a user would.

use std::ffi::OsStr;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::LazyLock;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// The program, which cargo builds for the tests only on request.
static PROGRAM: LazyLock<PathBuf> = LazyLock::new(|| {
    let mut folder = std::env::current_exe().expect("the tests run from somewhere");
    folder.pop();
    if folder.ends_with("deps") {
        folder.pop();
    }
    // In the profile and folder of the tests.
    let (profile, target) = (folder.file_name(), folder.parent());
    let (profile, target) = (profile.expect("a profile"), target.expect("a target directory"));
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let mut build = Command::new(cargo);
    // All that the test command has built, so that every library gets the same features and
    // profile as there; otherwise they and the suite would be compiled again.
    build.args(["build", "--quiet", "--workspace", "--bins", "--tests"]);
    build.arg("--profile").arg(if profile == "debug" { OsStr::new("dev") } else { profile });
    build.arg("--target-dir").arg(target);
    // The variables that cargo sets for these tests must not reach the build: a library
    // that reads them would be compiled again, with everything that depends on it.
    for (name, _) in std::env::vars_os() {
        if name
            .to_str()
            .is_some_and(|n| n.starts_with("CARGO_PKG_") || n.starts_with("CARGO_MANIFEST_"))
        {
            build.env_remove(name);
        }
    }
    let built = build.current_dir(env!("CARGO_MANIFEST_DIR")).status().expect("cargo runs");
    assert!(built.success(), "the program does not build");
    folder.join(format!("sumpwright{}", std::env::consts::EXE_SUFFIX))
});

pub(crate) fn program() -> Command {
    Command::new(PROGRAM.as_path())
}

/// The program, serving on a free port until it is dropped.
pub(crate) struct Program {
    pub(crate) child: Child,
    pub(crate) address: String,
    /// Its log, line by line.
    log: Receiver<String>,
}

impl Program {
    /// Starts it with these flags and waits until it serves.
    pub(crate) fn start(flags: &[&str]) -> Self {
        let mut child = serving(flags).spawn().expect("the program starts");
        let output = BufReader::new(child.stdout.take().expect("its output"));
        let errors = BufReader::new(child.stderr.take().expect("its log"));
        let (lines, log) = channel();
        std::thread::spawn(move || {
            errors.lines().map_while(Result::ok).all(|l| lines.send(l).is_ok())
        });
        let mut lines_of_output = output.lines().map_while(Result::ok);
        let address =
            lines_of_output.find_map(|line| Some(line.split_once("serves ")?.1.to_owned()));
        let address = address.expect("it says where it serves");
        std::thread::spawn(move || lines_of_output.for_each(drop));
        Self { child, address, log }
    }

    /// An address of the program.
    pub(crate) fn at(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }

    /// The id of its process.
    pub(crate) fn id(&self) -> u32 {
        self.child.id()
    }

    /// Sends it a signal by name.
    pub(crate) fn signal(&self, name: &str) {
        let sent = Command::new("kill").args(["-s", name, &self.id().to_string()]).status();
        assert!(sent.expect("kill runs").success());
    }

    /// The next line of its log that contains `text`.
    pub(crate) fn logs(&self, text: &str) -> String {
        self.log_until(text).pop().unwrap_or_default()
    }

    /// The lines of its log up to the next one that contains `text`.
    pub(crate) fn log_until(&self, text: &str) -> Vec<String> {
        let mut lines = Vec::new();
        let until = Instant::now() + Duration::from_secs(20);
        loop {
            let left = until.saturating_duration_since(Instant::now());
            let line =
                self.log.recv_timeout(left).unwrap_or_else(|_| panic!("no line has {text:?}"));
            let is_last = line.contains(text);
            lines.push(line);
            if is_last {
                return lines;
            }
        }
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn serving(flags: &[&str]) -> Command {
    let mut command = program();
    command.args(["--bind", "127.0.0.1:0"]).args(flags);
    // As on a machine without certificates: nothing here needs one.
    command.env("SSL_CERT_FILE", "/nowhere").env_remove("SSL_CERT_DIR");
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}
