//! The headings of a sheet: where they are, what they are, and what is told of them.

use super::Shown;
use super::messages::run;
use rust_xlsxwriter::Workbook;
use std::path::Path;
use sumpwright_client::sheet::Cell;

const HEADINGS: &str = "machine,sump.capacity,sump.volume,sump.concentration,target.concentration";
const ROW: &str = "lathe,200,140,7,8";

fn folder_with(name: &str, table: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join(name), table).expect("a file");
    folder
}

/// A workbook with these sheets, each of lines of cells.
fn workbook(path: &Path, sheets: &[(&str, &[&str])]) {
    let mut workbook = Workbook::new();
    for (name, lines) in sheets {
        let page = workbook.add_worksheet().set_name(*name).expect("a name");
        for (row, line) in (0..).zip(*lines) {
            for (column, text) in (0..).zip(line.split(',')) {
                match text.parse::<f64>() {
                    Ok(number) => drop(page.write_number(row, column, number).expect("a cell")),
                    Err(_) => drop(page.write_string(row, column, text).expect("a cell")),
                }
            }
        }
    }
    workbook.save(path).expect("a file");
}

const WORDS: &str = "rows top-up @a.csv -o @o.csv --units metric";

#[test]
fn a_title_above_the_headings_is_told_and_passed_over() {
    let folder = folder_with("a.csv", &format!("My sumps; March\n\n{HEADINGS}\n{ROW}\n"));
    let said = run(folder.path(), WORDS).expect_err("no heading is known");
    assert_eq!(
        said,
        "No heading in row 1 is a member of top-up. Row 3 has some that are: say \
         --headings-in-row 3, or delete what stands above it."
    );
    assert!(!folder.path().join("o.csv").exists());
    assert_eq!(run(folder.path(), &format!("{WORDS} --headings-in-row 3")), Ok(0));
    let said = run(folder.path(), &format!("{WORDS} --headings-in-row 2 --force"));
    assert!(said.expect_err("it is empty").contains("no headings in row 2, which is empty"));
}

#[test]
fn a_sheet_without_a_heading_that_is_known_names_the_one_that_has_them() {
    let folder = tempfile::tempdir().expect("a folder");
    let titled = ["Sumps in March", HEADINGS, ROW];
    workbook(
        &folder.path().join("a.xlsx"),
        &[("Notes", &["see the next sheet"]), ("Sumps", &titled[1..])],
    );
    let words = "rows top-up @a.xlsx -o @o.csv --force --units metric";
    let said = run(folder.path(), words).expect_err("no heading is known");
    assert_eq!(
        said,
        "No heading in row 1 of sheet \"Notes\" is a member of top-up. Sheet \"Sumps\" has some \
         that are: say --sheet \"Sumps\"."
    );
    assert_eq!(run(folder.path(), &format!("{words} --sheet Sumps")), Ok(0));
    workbook(&folder.path().join("a.xlsx"), &[("Notes", &["nothing"]), ("Sumps", &titled)]);
    let said = run(folder.path(), words).expect_err("no heading is known");
    assert!(said.ends_with("say --sheet \"Sumps\" --headings-in-row 2."), "{said}");
    workbook(&folder.path().join("a.xlsx"), &[("Notes", &["nothing"])]);
    let said = run(folder.path(), words).expect_err("no heading is known");
    assert!(said.contains("`sumpwright-client template top-up -o top-up.xlsx`"), "{said}");
}

#[test]
fn every_heading_with_a_fault_is_told_with_its_column() {
    let table = "machine,capacity,sump.volume [lb],sump.concentraton,target\nlathe,200,140,7,8\n";
    let folder = folder_with("a.csv", table);
    let said = run(folder.path(), WORDS).expect_err("they are wrong");
    let lines: Vec<&str> = said.lines().collect();
    assert!(lines.iter().any(|line| line.starts_with("Row 1, column C: The unit in")), "{said}");
    assert!(lines.iter().any(|line| line.starts_with("Row 1, column D: ")), "{said}");
}

/// Units in words, and a system of units that a column says.
#[test]
fn units_are_words_that_people_write() {
    let table = "Units,Sump capacity [litres],Sump volume (gal),sump.concentration [%],\
                 target.concentration [% vol]\nmetric,200,37,7,8\nus,200,37,7,8\n";
    let folder = folder_with("a.csv", table);
    // The column says it, and what is said besides does not count.
    assert_eq!(run(folder.path(), WORDS), Ok(0));
    let shown = Shown::read(&folder.path().join("o.csv"));
    let drain = |row| match shown.cell(row, "answer.add.0.volume") {
        Cell::Number(number) => *number,
        other => panic!("{other:?}"),
    };
    // 200 L in litres and in US gallons of 3.785411784 L.
    crate::assert_near(drain(0), drain(1) * 3.785411784, 1e-9);
    let folder = folder_with("a.csv", &format!("{HEADINGS}\n{ROW}\n"));
    let said = run(folder.path(), "rows top-up @a.csv -o @o.csv").expect_err("nobody says units");
    assert!(said.contains("Say --units metric or --units us"), "{said}");
}

/// What is wrong with a row is told with its row and in its own headings.
#[test]
fn faults_are_told_in_the_headings_of_the_sheet() {
    let table = format!(
        "{}\n{ROW}\n\nmill,200,,7,8\nmill,200,270,7,8\n",
        HEADINGS.replace("sump.volume", "In the sump now [L]")
    );
    let folder = folder_with("a.csv", &table);
    assert_eq!(run(folder.path(), WORDS), Ok(2));
    let shown = Shown::read(&folder.path().join("o.csv"));
    assert_eq!(shown.problem(shown.rows.len() - 2), "In the sump now [L]: This is blank.");
    assert_eq!(
        shown.problem(shown.rows.len() - 1),
        "In the sump now [L]: It is fuller than full: 270 L in a capacity of 200 L."
    );
}
