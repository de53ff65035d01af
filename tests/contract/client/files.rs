//! The files that the client writes, and those that it never overwrites.

use super::{TABLE, rows};
use clap::Parser;
use std::path::Path;
use sumpwright_client::command_line::ClientCommandLine;

const ROW: &str = "lathe,200,140,7,8\n";

/// The program's message when it refuses to run.
fn refused(input: &Path, output: &Path, more: &[&str]) -> String {
    let files = [input, output].map(|path| path.to_str().expect("a path"));
    let words = ["sumpwright-client", "rows", "top-up", files[0], "-o", files[1]];
    let words = words.iter().chain(&["--units", "metric"]).chain(more);
    ClientCommandLine::parse_from(words).run().expect_err("it is refused").to_string()
}

#[test]
fn the_file_that_is_read_is_never_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let table = format!("{TABLE}{ROW}");
    std::fs::write(at("sumps.csv"), &table).expect("a file");

    std::fs::create_dir(at("below")).expect("a folder");
    let by_a_folder = at("below").join("../sumps.csv");
    for output in [at("sumps.csv"), by_a_folder] {
        for more in [&[][..], &["--force"]] {
            let said = refused(&at("sumps.csv"), &output, more);
            assert!(said.contains("the file that is read"), "{said}");
        }
    }

    assert_eq!(std::fs::read_to_string(at("sumps.csv")).expect("the file"), table);
}

#[cfg(unix)]
#[test]
fn a_link_to_the_file_that_is_read_is_that_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("sumps.csv"), format!("{TABLE}{ROW}")).expect("a file");
    std::os::unix::fs::symlink(at("sumps.csv"), at("link.csv")).expect("a link");
    let said = refused(&at("sumps.csv"), &at("link.csv"), &["--force"]);
    assert!(said.contains("the file that is read"), "{said}");
}

#[test]
fn a_file_that_is_there_is_written_over_by_force_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("sumps.csv"), format!("{TABLE}{ROW}")).expect("a file");
    std::fs::write(at("answers.csv"), "mine").expect("a file");
    let said = refused(&at("sumps.csv"), &at("answers.csv"), &[]);
    assert!(said.contains("--force"), "{said}");
    assert_eq!(std::fs::read_to_string(at("answers.csv")).expect("the file"), "mine");
    let forced = ["--units", "metric", "--force"];
    assert_eq!(rows(&forced, &at("sumps.csv"), &at("answers.csv")), 0);
    let written = std::fs::read_to_string(at("answers.csv")).expect("the file");
    assert!(written.starts_with("machine,"), "{written}");
}
