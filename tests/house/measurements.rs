//! Every figure in `tests/tools/measurements.md` belongs to the script that takes it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const MEASUREMENTS: &str = include_str!("../tools/measurements.md");

/// The names of the sections, each the script and a word for its part, and the text outside
/// all sections.
fn sections(text: &str) -> (Vec<String>, Vec<&str>) {
    let (mut names, mut outside): (Vec<String>, Vec<&str>) = Default::default();
    let mut open: Option<&str> = None;
    for line in text.lines() {
        let marker = line.strip_prefix("<!-- ").and_then(|rest| rest.strip_suffix(" -->"));
        match (marker, open) {
            (Some(marker), Some(name)) => {
                assert_eq!(marker, format!("end of {name}"), "a section is not closed");
                open = None;
            }
            (Some(marker), None) => {
                assert!(!names.iter().any(|name| name == marker), "{marker} comes twice");
                names.push(marker.to_owned());
                open = Some(marker);
            }
            (None, None) => outside.push(line),
            (None, Some(_)) => {}
        }
    }
    assert_eq!(open, None, "the last section is not closed");
    (names, outside)
}

/// The scripts that can write a section, by their path in the project.
fn recording(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry")) {
        let path = entry.path();
        let name = entry.file_name().into_string().expect("a plain name");
        if path.is_dir() {
            recording(&path, found);
        } else if !name.contains('.') && !["record", "long"].contains(&name.as_str()) {
            let text = fs::read_to_string(&path).expect("a script is text");
            if text.contains("--record") {
                let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the project");
                let path = path.strip_prefix(root).expect("it is in the project");
                found.insert(path.to_str().expect("a plain path").replace('\\', "/"));
            }
        }
    }
}

#[test]
fn every_section_has_its_script_and_every_script_its_section() {
    let (names, _) = sections(MEASUREMENTS);
    let script = |name: &String| name.split(' ').next().unwrap_or_default().to_owned();
    let named: BTreeSet<String> = names.iter().map(script).collect();
    let mut scripts = BTreeSet::new();
    recording(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tools"), &mut scripts);
    assert_eq!(named, scripts, "left: sections; right: scripts that take --record");
}

#[test]
fn no_figure_stands_outside_a_section() {
    let (_, outside) = sections(MEASUREMENTS);
    let first = outside.iter().position(|line| line.starts_with("## ")).expect("a heading");
    for line in &outside[first..] {
        assert!(line.is_empty() || line.starts_with("## "), "{line}");
    }
    assert!(!outside[..first].concat().contains(|letter: char| letter.is_ascii_digit()));
}

#[test]
fn a_section_that_is_not_closed_or_comes_twice_is_found() {
    for wrong in ["<!-- a -->\n1\n", "<!-- a -->\n<!-- end of b -->\n<!-- end of a -->\n"] {
        assert!(std::panic::catch_unwind(|| sections(wrong)).is_err(), "{wrong}");
    }
    let twice = "<!-- a -->\n<!-- end of a -->\n".repeat(2);
    assert!(std::panic::catch_unwind(|| sections(&twice)).is_err());
}
