//! What a browser keeps of the page, for where no service answers. `tests/tools/browser/run` uses it there.

use crate::assert_problem;
use crate::server::{client, get, header, start};
use reqwest::blocking::Response;
use serde_json::{Map, Value};
use std::path::Path;
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;

/// The shortest module that a browser compiles, and whatever stands behind it.
fn engine(file: &Path, behind: &[u8]) -> Configuration {
    std::fs::write(file, [b"\0asm\x01\0\0\0".as_slice(), behind].concat()).expect("room");
    Configuration { page_engine: Some(file.to_owned()), ..Configuration::default() }
}

/// The names and tags in the first lines of what keeps the page: its files, and the engine.
fn named(response: Response) -> [Map<String, Value>; 2] {
    let script = response.text().expect("text");
    let mut lines = script.lines();
    ["const FILES = ", "const ENGINE = "].map(|start| {
        let line = lines.next().and_then(|line| line.strip_prefix(start)?.strip_suffix(';'));
        serde_json::from_str(line.expect("names and tags")).expect("JSON")
    })
}

#[test]
fn every_file_of_the_page_is_kept_as_it_is_sent() {
    let [files, engine] = named(get("/service-worker.js"));
    for name in ["./", "page/page.js", "page/style.css", "page/forms.json", "page/icon-512.png"] {
        assert!(files.contains_key(name), "{name} is not kept: {files:?}");
    }
    for (name, tag) in &files {
        let response = get(&format!("/{}", name.trim_start_matches("./")));
        assert_eq!(header(&response, "etag"), tag.as_str().expect("a text"), "{name}");
    }
    assert!(!files.keys().any(|name| name.starts_with("v1")), "an answer is kept: {files:?}");
    assert!(engine.is_empty(), "{engine:?}");
    assert_problem(get("/page/engine.wasm"), 404, "not-found", &[]);
}

#[test]
fn an_engine_is_sent_as_one_and_changes_the_version_of_the_page() {
    let folder = tempfile::tempdir().expect("room");
    let file = folder.path().join("engine.wasm");
    let mut versions = vec![named(get("/service-worker.js"))[0]["./"].clone()];
    for behind in [b"".as_slice(), b"\0\x05\x04note"] {
        let address = start(Services::new(), engine(&file, behind));
        let kept = client().get(format!("{address}/service-worker.js")).send().expect("it answers");
        let [files, engine] = named(kept);
        let sent = client().get(format!("{address}/page/engine.wasm"));
        let sent = sent.header("accept-encoding", "gzip").send().expect("it answers");
        assert_eq!(sent.status(), 200);
        assert_eq!(header(&sent, "content-type"), "application/wasm");
        assert_eq!(header(&sent, "content-encoding"), "gzip");
        let tag = engine["page/engine.wasm"].as_str().expect("a tag");
        assert_eq!(header(&sent, "etag"), tag);
        let again = client().get(format!("{address}/page/engine.wasm"));
        assert_eq!(again.header("if-none-match", tag).send().expect("it answers").status(), 304);
        versions.push(files["./"].clone());
    }
    assert!(versions.iter().all(Value::is_string));
    versions.dedup();
    assert_eq!(versions.len(), 3, "two versions of the page have one tag");
}
