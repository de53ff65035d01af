//! The service on a plant's network: who may call, what it bears, how it stops.

mod deploy;
mod door;
mod faults;
mod keys;
mod limits;
mod seen;
mod spans;
mod stop;
mod tls;

use crate::program::program;
use reqwest::blocking::Response;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Output, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// The program, serving on a free port until it is dropped.
pub(crate) struct Program {
    child: Child,
    address: String,
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
        let first = lines_of_output.next().expect("it says where it serves");
        std::thread::spawn(move || lines_of_output.for_each(drop));
        let (_, address) = first.split_once("serves ").expect("an address");
        Self { child, address: address.to_owned(), log }
    }

    /// An address of it.
    pub(crate) fn at(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }

    /// The number of its process.
    pub(crate) fn id(&self) -> u32 {
        self.child.id()
    }

    /// Sends it a signal by name.
    fn signal(&self, name: &str) {
        let sent = Command::new("kill").args(["-s", name, &self.id().to_string()]).status();
        assert!(sent.expect("kill runs").success());
    }

    /// The first line of its log from now on that holds `text`.
    fn logs(&self, text: &str) -> String {
        let until = Instant::now() + Duration::from_secs(20);
        loop {
            let left = until.saturating_duration_since(Instant::now());
            let line =
                self.log.recv_timeout(left).unwrap_or_else(|_| panic!("no line has {text:?}"));
            if line.contains(text) {
                return line;
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
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// What the program says when it is started so and does not serve.
fn refuses(flags: &[&str]) -> String {
    let output: Output = program().args(flags).output().expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    String::from_utf8(output.stderr).expect("text")
}

/// The type of a problem, without what all of them begin with.
fn kind_of(response: Response) -> String {
    let problem: serde_json::Value = response.json().expect("a problem");
    let kind = problem["type"].as_str().expect("its type");
    kind.strip_prefix("/problems/").expect("an address of this service").to_owned()
}
