//! Keys: missing, wrong, withdrawn; and addresses that need none.

use super::{Program, kind_of, refuses};
use crate::server::{client, header};
use crate::support::program::program;
use std::io::Write;
use std::time::{Duration, Instant};
use tempfile::NamedTempFile;

/// A key as the program makes it with these words, and its line.
pub(super) fn make(words: &[&str]) -> (String, String) {
    let output = program().arg("key").args(words).output().expect("the program starts");
    let said = String::from_utf8(output.stderr).expect("text");
    assert!(output.status.success(), "{said}");
    let key = said.trim().rsplit(' ').next().expect("a key").to_owned();
    (key, String::from_utf8(output.stdout).expect("text"))
}

fn status(program: &Program, path: &str, key: Option<&str>) -> u16 {
    let request = client().get(program.at(path));
    let request = match key {
        Some(key) => request.bearer_auth(key),
        None => request,
    };
    request.send().expect("an answer").status().as_u16()
}

#[test]
fn only_those_with_a_key_are_answered_and_keys_change_without_a_restart() {
    let (first, its_line) = make(&["mes"]);
    let (second, other_line) = make(&["spreadsheets"]);
    assert_eq!(first.len(), 64);
    assert!(!its_line.contains(&first), "the key itself is not kept");
    let mut file = NamedTempFile::new().expect("room for a file");
    write!(file, "# invented callers\n{its_line}").expect("it takes text");
    let path = file.path().to_str().expect("a path").to_owned();
    let service = Program::start(&["--keys", &path]);

    assert_eq!(status(&service, "/v1", Some(&first)), 200);
    for (key, challenge) in
        [(None, "Bearer realm=\"sumpwright\""), (Some(&second), "error=\"invalid_token\"")]
    {
        for path in ["/v1", "/v1/top-up/example", "/v1/nowhere", "/metrics"] {
            let request = client().get(service.at(path));
            let request = key.iter().fold(request, reqwest::blocking::RequestBuilder::bearer_auth);
            let refused = request.send().expect("an answer");
            assert_eq!(refused.status(), 401, "{path}");
            assert!(header(&refused, "www-authenticate").contains(challenge));
            assert_eq!(kind_of(refused), "no-key");
        }
    }
    for open in ["/", "/docs/", "/openapi.json", "/problems/no-key", "/livez", "/readyz"] {
        assert_eq!(status(&service, open, None), 200, "{open}");
    }

    // One key is withdrawn and another one added.
    std::fs::write(&path, other_line).expect("it takes text");
    let until = Instant::now() + Duration::from_secs(20);
    while status(&service, "/v1", Some(&second)) != 200 {
        assert!(Instant::now() < until, "the file was not read again");
        std::thread::sleep(Duration::from_millis(100));
    }
    assert_eq!(status(&service, "/v1", Some(&first)), 401);
    service.logs("keys read again");

    // A file that cannot be read changes nothing.
    std::fs::remove_file(&path).expect("it is there");
    std::fs::create_dir(&path).expect("a folder in its place");
    service.logs("the new keys cannot be read; the old ones stay in force");
    assert_eq!(status(&service, "/v1", Some(&second)), 200);
    std::fs::remove_dir(&path).expect("it is empty");
}

#[test]
fn other_machines_are_not_served_without_keys_unless_on_purpose() {
    let said = refuses(&["--bind", "0.0.0.0:0"]);
    assert!(said.contains("anyone there could ask"), "{said}");
    assert!(said.contains("--without-keys"), "{said}");
    let checked = |flags: &[&str]| {
        let output = program().args(flags).arg("--check-config").output().expect("it starts");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).expect("text")
    };
    assert!(checked(&["--bind", "0.0.0.0:0", "--without-keys"]).contains("without_keys = true"));
    let (_, line) = make(&["mes"]);
    let keyed = checked(&["--bind", "0.0.0.0:0", "--key-hashes", line.trim()]);
    assert!(keyed.contains("mes sha256:"), "{keyed}");
}

#[test]
fn a_configuration_is_checked_before_anything_is_served() {
    let mut file = NamedTempFile::new().expect("room for a file");
    writeln!(file, "answer_secnds = 10").expect("it takes text");
    let path = file.path().to_str().expect("a path").to_owned();
    let said = refuses(&["--configuration", &path, "--check-config"]);
    assert!(said.contains("Did you mean \"answer_seconds\"?"), "{said}");
    let said = refuses(&["--keys", "/nowhere/keys", "--check-config"]);
    assert!(said.contains("/nowhere/keys cannot be read"), "{said}");

    std::fs::write(&path, "answer_seconds = 10\nwaiting = 7\n").expect("it takes text");
    let mut command = program();
    command.env("SUMPWRIGHT_WAITING", "8").env("SUMPWRIGHT_CONNECTIONS", "9");
    let flags = ["--configuration", &path, "--connections", "10", "--check-config"];
    let output = command.args(flags).output().expect("it starts");
    let said = String::from_utf8(output.stdout).expect("text");
    for holds in ["answer_seconds = 10", "waiting = 8", "connections = 10"] {
        assert!(said.lines().any(|line| line == holds), "{holds} is not in\n{said}");
    }
}
