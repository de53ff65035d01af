//! The service on a plant's network: access, load, shutdown.

mod address_keys;
mod deploy;
mod door;
mod faults;
mod going_out;
mod keys;
mod limits;
mod operations;
mod seen;
mod shares;
mod shown;
mod spans;
mod stop;
mod tls;

use crate::support::program::{Program, program};
use reqwest::blocking::Response;
use std::process::Output;

/// The program's message when it is started with these flags and does not serve.
fn refuses(flags: &[&str]) -> String {
    let output: Output = program().args(flags).output().expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    String::from_utf8(output.stderr).expect("text")
}

/// The type of a problem, without the common prefix.
fn kind_of(response: Response) -> String {
    let problem: serde_json::Value = response.json().expect("a problem");
    let kind = problem["type"].as_str().expect("its type");
    kind.strip_prefix("/problems/").expect("an address of this service").to_owned()
}
