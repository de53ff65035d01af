//! Every calculation has figures from outside, and a test of each kind of refusal.

use super::arrows::engine;
use super::arrows::modules::{Module, texts};
use super::tidy::root;
use crate::SERVICES;
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use sumpwright_engine::text::Kind;

const KINDS: [Kind; 5] = [
    Kind::OutOfRange,
    Kind::Inconsistent,
    Kind::Unreachable,
    Kind::NotIdentifiable,
    Kind::Unproven,
];

/// The kind as in the code, `OutOfRange`.
fn in_code(kind: Kind) -> String {
    format!("{kind:?}")
}

/// The kind as in a problem's type, `out-of-range`.
fn on_the_wire(kind: Kind) -> String {
    let mut slug = String::new();
    for letter in in_code(kind).chars() {
        if letter.is_ascii_uppercase() && !slug.is_empty() {
            slug.push('-');
        }
        slug.push(letter.to_ascii_lowercase());
    }
    slug
}

fn folder_of(name: &str) -> PathBuf {
    root().join("tests/calculations").join(name.replace('-', "_"))
}

#[test]
fn a_folder_of_tests_for_each_calculation_and_none_besides() {
    let expected: BTreeSet<PathBuf> =
        SERVICES.iter().map(|service| folder_of(service.name)).collect();
    let entries = std::fs::read_dir(root().join("tests/calculations")).expect("a folder");
    let found = entries.map(|entry| entry.expect("an entry").path());
    assert_eq!(found.filter(|path| path.is_dir()).collect::<BTreeSet<_>>(), expected);
}

/// A figure from outside is only as good as its source, which stands beside the check.
#[test]
fn every_calculation_has_published_values() {
    for service in SERVICES.iter() {
        let folder = folder_of(service.name);
        let file = folder.join("published.rs");
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(text.contains("#[test]"), "{} has no published values", service.name);
        // A test reads the recorded figures, and the script is beside them.
        for entry in std::fs::read_dir(&folder).expect("its tests") {
            let path = entry.expect("an entry").path();
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            if path.extension().is_some_and(|kind| kind == "json") {
                assert!(path.with_extension("py").exists(), "no script made {name}");
                let tests = texts(&folder).into_values().collect::<String>();
                assert!(tests.contains(&format!("{name}\"")), "no test reads {name}");
            }
        }
    }
}

/// The kinds of refusal in a source.
fn kinds_of(text: &str) -> Vec<Kind> {
    let named = |kind: &Kind| text.contains(&format!("Kind::{}", in_code(*kind)));
    KINDS.into_iter().filter(named).collect()
}

/// For every calculation, by its name in the source, the kinds of refusal in its own files
/// and in the shared ones that these use.
fn refused_with() -> BTreeMap<String, BTreeSet<String>> {
    let texts = texts(&root().join("engine/src"));
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (module, targets) in engine() {
        let [room, _, calculation, ..] = module.as_slice() else { continue };
        if room != "calculations" {
            continue;
        }
        let shared = |target: &&Module| ["fluid", "dynamics"].contains(&target[0].as_str());
        // Every answer proves that its balance closes, and no request is known for which it
        // does not; a test beside that proof has a balance that does not close.
        let balance = ["fluid", "balance"].map(str::to_owned);
        let used = targets.iter().filter(|target| !target.is_empty()).filter(shared);
        let files = used.filter(|target| target[..] != balance).chain([&module]);
        let kinds = files.flat_map(|file| kinds_of(&texts[file])).map(in_code);
        found.entry(calculation.clone()).or_default().extend(kinds);
    }
    found
}

#[test]
fn every_kind_of_refusal_of_a_calculation_is_raised_by_a_test_of_it() {
    let refused_with = refused_with();
    let mut missing: Vec<String> = Vec::new();
    for service in SERVICES.iter() {
        let tests = texts(&folder_of(service.name)).into_values().collect::<String>();
        let raised = |kind: Kind| {
            let slug = on_the_wire(kind);
            let types = [format!("\"{slug}\""), format!("\"/problems/{slug}\"")];
            let expected = types.iter().any(|expected| tests.contains(expected));
            expected || tests.contains(&format!("Kind::{}", in_code(kind)))
        };
        let raised: BTreeSet<String> =
            KINDS.into_iter().filter(|kind| raised(*kind)).map(in_code).collect();
        let expected = &refused_with[&service.name.replace('-', "_")];
        let kinds = expected.difference(&raised);
        missing.extend(kinds.map(|kind| format!("{} has no test of {kind}", service.name)));
    }
    assert!(missing.is_empty(), "{missing:#?}");
}
