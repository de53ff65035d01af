//! Sheets to fill in: what is made for a calculation is answered as it stands.

use super::Shown;
use super::messages::run;
use crate::SERVICES;
use std::io::Read;
use sumpwright_client::UnitSystem;
use sumpwright_client::sheet::Cell;
use sumpwright_client::template::SheetToFillIn;
use zip::ZipArchive;

/// Every calculation, in either file and in either system of units: the example is answered by
/// the command that is told.
#[test]
fn every_template_is_answered_as_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    for service in SERVICES.iter() {
        for (units, word) in [(UnitSystem::Metric, "metric"), (UnitSystem::Us, "us")] {
            for ending in ["xlsx", "csv"] {
                let name = service.name;
                let words = format!("template {name} -o @t.{ending} --units {word} --force");
                assert_eq!(run(folder.path(), &words), Ok(0), "{words}");
                let template = SheetToFillIn::of(service, units);
                let command = template.command(&format!("@t.{ending}"), "@o.csv");
                let words = command.strip_prefix("sumpwright-client ").expect("the program");
                let answered = run(folder.path(), &format!("{words} --force"));
                assert_eq!(answered, Ok(0), "{command}");
                let answers = std::fs::read_to_string(folder.path().join("o.csv"));
                let answers = answers.expect("the answers");
                let headings = answers.lines().next().unwrap_or_default();
                // Every row says the same units: what was answered in them says so too.
                let bare = headings.split(',').find(|heading| heading.ends_with(".volume"));
                assert_eq!(bare, None, "{command}: {headings}");
            }
        }
    }
}

#[test]
fn a_template_speaks_as_a_shop_does() {
    let folder = tempfile::tempdir().expect("a folder");
    assert_eq!(run(folder.path(), "template top-up -o @t.xlsx --units us"), Ok(0));
    let shown = Shown::read(&folder.path().join("t.xlsx"));
    assert!(
        shown.headings.iter().any(|heading| heading == "In the sump now [US gal]"),
        "{shown:?}"
    );
    // 140 L of the example in US gallons, to four digits.
    assert_eq!(shown.cell(0, "In the sump now [US gal]"), &Cell::Number(36.98));
    assert_eq!(shown.cell(0, "Units"), &Cell::Text("us".to_owned()));
    for heading in &shown.headings {
        assert!(!heading.contains('.') && !heading.contains('_'), "a path: {heading}");
    }

    let file = std::fs::File::open(folder.path().join("t.xlsx")).expect("the file");
    let mut archive = ZipArchive::new(file).expect("an archive");
    let mut page = String::new();
    let mut part = archive.by_name("xl/worksheets/sheet1.xml").expect("a sheet");
    part.read_to_string(&mut page).expect("text");
    for part in ["type=\"list\"", "metric,us", "type=\"decimal\"", "Type 6, not 6%."] {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert_eq!(run(folder.path(), "template top-up -o @t.csv"), Ok(0));
    let table = std::fs::read_to_string(folder.path().join("t.csv")).expect("the file");
    assert!(table.starts_with("\u{feff}Units,"), "a spreadsheet sees its encoding: {table}");
    let again = run(folder.path(), "template top-up -o @t.xlsx").expect_err("it is there");
    assert!(again.contains("--force"), "{again}");
    let other = run(folder.path(), "template top-up -o @t.ods").expect_err("none is made");
    assert!(
        other.contains("a template is not written as .ods. Name a file that ends in"),
        "{other}"
    );
}
