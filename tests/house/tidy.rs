//! Rules for all source files that a compiler does not enforce.

use std::path::{Path, PathBuf};
use std::process::Command;

pub(super) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("a workspace").to_owned()
}

/// Every file of the project that may contain code, with its text.
fn files() -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                if !["target", "node_modules", "__pycache__"]
                    .iter()
                    .any(|name| path.ends_with(name))
                {
                    walk(&path, found);
                }
            } else if let Ok(text) = std::fs::read_to_string(&path) {
                found.push((path, text));
            }
        }
    }
    let mut found = Vec::new();
    for folder in ["engine", "openapi", "api", "examples", "tests"] {
        walk(&root().join(folder), &mut found);
    }
    found
}

/// Every Rust file of the workspace, with its text.
pub(super) fn sources() -> Vec<(PathBuf, String)> {
    let rust = |path: &Path| path.extension().is_some_and(|kind| kind == "rs");
    let found: Vec<_> = files().into_iter().filter(|(path, _)| rust(path)).collect();
    assert!(found.len() > 30, "the sources were not found");
    found
}

/// Every file of JavaScript, TypeScript, Python and the shell: by its extension, or by its
/// first line if it has none.
fn scripts() -> Vec<(PathBuf, String)> {
    let script = |path: &Path, text: &str| match path.extension().and_then(|kind| kind.to_str()) {
        Some(kind) => ["js", "ts", "py", "css"].contains(&kind),
        None => text.starts_with("#!"),
    };
    let found: Vec<_> = files().into_iter().filter(|(path, text)| script(path, text)).collect();
    assert!(found.len() > 40, "the scripts were not found");
    found
}

#[test]
fn the_top_of_the_project_holds_what_it_should() {
    let expected = [
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE-APACHE",
        "LICENSE-MIT",
        "README.md",
        "api",
        "engine",
        "examples",
        "openapi",
        "target",
        "tests",
    ];
    for entry in std::fs::read_dir(root()).expect("the workspace") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        assert!(name.starts_with('.') || expected.contains(&name.as_str()), "{name} is at the top");
    }
}

#[test]
fn the_engine_knows_nothing_of_http() {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let tree = Command::new(cargo)
        .args([
            "tree",
            "--package",
            "sumpwright-engine",
            "--edges",
            "normal",
            "--prefix",
            "none",
            "--offline",
        ])
        .current_dir(root())
        .output()
        .expect("cargo tree runs");
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let tree = String::from_utf8_lossy(&tree.stdout).into_owned();
    assert!(tree.contains("microlp"), "{tree}");
    for banned in ["actix", "tokio", "reqwest", "tracing", "hyper"] {
        let found = tree.lines().find(|line| line.starts_with(banned));
        assert_eq!(found, None, "the engine depends on {banned}");
    }
}

#[test]
fn every_module_opens_with_a_sentence() {
    for (path, text) in sources() {
        let first = text.lines().next().unwrap_or_default();
        let opens = first.strip_prefix("//! ").is_some_and(|sentence| sentence.len() > 10);
        assert!(opens, "{} opens with {first:?}", path.display());
    }
}

#[test]
fn files_are_as_long_as_a_person_reads_in_one_go() {
    let mut lengths: Vec<usize> = Vec::new();
    for (path, text) in sources().into_iter().chain(scripts()) {
        let length = text.lines().count();
        if path.components().any(|part| part.as_os_str() == "vendored") {
            continue; // as others published it
        }
        assert!(length <= 400, "{} has {length} lines", path.display());
        lengths.push(length);
    }
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    assert!(median <= 160, "the median file has {median} lines");
}

/// A status is chosen in one file: the table of problems.
#[test]
fn a_status_is_chosen_in_one_file() {
    for (path, text) in sources() {
        let is_table = path.ends_with("openapi/src/request/problem_kind.rs");
        let is_product = path.components().any(|part| part.as_os_str() == "src");
        if is_table || !is_product {
            continue;
        }
        for status in [
            "BadRequest",
            "BAD_REQUEST",
            "UNPROCESSABLE",
            "UnprocessableEntity",
            "NotFound()",
            "NOT_FOUND",
        ] {
            assert!(!text.contains(status), "{} chooses {status}", path.display());
        }
    }
}

#[test]
fn nothing_unfinished_is_left_in_the_code() {
    // Put together here, so that this file does not find itself.
    let marks = [
        ["TO", "DO"].concat(),
        ["FIX", "ME"].concat(),
        ["XX", "X"].concat(),
        ["unimpl", "emented!"].concat(),
    ];
    for (path, text) in sources().into_iter().chain(scripts()) {
        // Libraries of others stand as they were published.
        if path.components().any(|part| part.as_os_str() == "vendored") {
            continue;
        }
        for mark in &marks {
            assert!(!text.contains(mark.as_str()), "{} holds a {mark}", path.display());
        }
    }
}

/// Everything uncertain goes through the one sampler: generator, number of draws, bound on
/// the work and percentiles are the same everywhere.
#[test]
fn no_calculation_draws_by_itself() {
    let folder = root().join("engine/src/calculations");
    let mut read = 0;
    for (path, text) in sources().into_iter().filter(|(path, _)| path.starts_with(&folder)) {
        read += 1;
        // With a letter before or after it, as in "operand", it is a different word.
        let words = text.split(|letter: char| !letter.is_alphanumeric());
        let drawn = words.into_iter().find(|word| ["rand", "Pcg64"].contains(word));
        assert_eq!(drawn, None, "{} draws by itself", path.display());
    }
    assert!(read > 100, "only {read} files of calculations were read");
}
