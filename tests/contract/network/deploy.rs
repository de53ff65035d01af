//! Deployment files name only settings and addresses that exist.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use sumpwright_server::configuration::{Configuration, Settings, names};
use tempfile::NamedTempFile;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../api/deploy")
}

#[test]
fn the_file_of_settings_lists_every_one_with_what_holds_without_it() {
    let text = std::fs::read_to_string(folder().join("sumpwright.toml")).expect("the file");
    let settings: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("# "))
        .filter(|l| l.contains(" = "))
        .collect();
    let named: BTreeSet<&str> =
        settings.iter().filter_map(|line| line.split(" = ").next()).collect();
    assert_eq!(named, names().iter().map(String::as_str).collect());

    // A setting without a default is shown with an example instead.
    let examples = [
        "workers",
        "keys",
        "key_hashes",
        "tls_certificate",
        "tls_key",
        "requests_per_minute",
        "cors_origins",
        "page_engine",
        "at_once",
        "at_once_each",
        "waiting_each",
        "trusted_proxies",
        "otlp_endpoint",
    ];
    let file = NamedTempFile::new().expect("room for a file");
    let read = |lines: &[&&str]| {
        let text: Vec<&str> = lines.iter().map(|line| **line).collect();
        std::fs::write(file.path(), text.join("\n")).expect("it takes text");
        Configuration::of(Settings::new(), Some(file.path())).expect("it is sound")
    };
    assert_ne!(read(&settings.iter().collect::<Vec<_>>()), Configuration::default());
    let is_example =
        |line: &&&str| examples.iter().any(|name| line.starts_with(&format!("{name} =")));
    let defaults: Vec<&&str> = settings.iter().filter(|line| !is_example(line)).collect();
    assert_eq!(read(&defaults), Configuration::default());
}

#[test]
fn every_file_names_settings_that_there_are() {
    let known = names();
    let mut found = 0;
    for entry in std::fs::read_dir(folder()).expect("the folder") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("text");
        for (at, _) in text.match_indices("SUMPWRIGHT_") {
            let rest = &text[at + "SUMPWRIGHT_".len()..];
            let end = rest.find(|c: char| !c.is_ascii_uppercase() && c != '_');
            let name = rest[..end.unwrap_or(rest.len())].to_ascii_lowercase();
            // The last of these is read where the program is built.
            let others = ["", "configuration", "commit"];
            let is_known = others.contains(&name.as_str()) || known.contains(&name);
            assert!(is_known, "{} speaks of {name}", path.display());
            found += 1;
        }
    }
    assert!(found > 10, "{found} settings were found");
}
