//! Answers on a new sheet of the workbook that was read: everything else in it stays.

use super::Shown;
use super::cells::with_part;
use super::messages::run;
use calamine::{Data, Reader, Xlsx, open_workbook};
use rust_xlsxwriter::{Chart, ChartType, Format, Formula, Workbook};
use std::collections::BTreeMap;
use std::io::Read;
use std::path::Path;
use sumpwright_client::sheet::{Cell, Sheet};
use zip::ZipArchive;

/// A shop's workbook: sumps with dates, a percentage and a formula, and a sheet with a chart.
fn shop(path: &Path) {
    let mut workbook = Workbook::new();
    let page = workbook.add_worksheet().set_name("Sumps & more").expect("a name");
    let (head, day, scrap) = (
        Format::new().set_bold().set_background_color("#DDEEFF"),
        Format::new().set_num_format("dd.mm.yyyy"),
        Format::new().set_num_format("0%"),
    );
    let headings = [
        "machine",
        "sump.capacity",
        "sump.volume",
        "sump.concentration",
        "target.concentration",
        "seen",
        "scrap",
    ];
    for (column, heading) in (0..).zip(headings) {
        page.write_string_with_format(0, column, heading, &head).expect("a heading");
    }
    for (row, name) in [(1, "=1+1"), (3, "a < b & \"c\"")] {
        page.write_string(row, 0, name).expect("a cell");
        page.write_number(row, 1, 200.0).expect("a cell");
        page.write_formula(row, 2, Formula::new("=150-10").set_result("140")).expect("a formula");
        page.write_number(row, 3, 7.0).expect("a cell");
        page.write_number(row, 4, 8.0).expect("a cell");
        page.write_number_with_format(row, 5, 46_083.25, &day).expect("a date");
        page.write_number_with_format(row, 6, 0.05, &scrap).expect("a cell");
    }
    let other = workbook.add_worksheet().set_name("Picture").expect("a name");
    let mut chart = Chart::new(ChartType::Column);
    chart.add_series().set_values("'Sumps & more'!$C$2:$C$4");
    other.insert_chart(1, 1, &chart).expect("a chart");
    workbook.save(path).expect("a file");
}

/// The parts of a workbook.
fn parts(path: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut archive = ZipArchive::new(std::fs::File::open(path).expect("a file")).expect("a zip");
    let mut parts = BTreeMap::new();
    for place in 0..archive.len() {
        let mut part = archive.by_index(place).expect("a part");
        let mut content = Vec::new();
        part.read_to_end(&mut content).expect("a part");
        parts.insert(part.name().to_owned(), content);
    }
    parts
}

const CHANGED: [&str; 3] = ["[Content_Types].xml", "xl/_rels/workbook.xml.rels", "xl/workbook.xml"];

#[test]
fn everything_else_in_the_workbook_stays_byte_for_byte() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    shop(&at("shop.xlsx"));
    let before = parts(&at("shop.xlsx"));
    let words = "rows top-up @shop.xlsx --units metric --new-sheet";
    assert_eq!(run(folder.path(), &format!("{words} Answers -o @copy.xlsx")), Ok(0));
    assert_eq!(parts(&at("shop.xlsx")), before, "the copy alone has it");
    assert_eq!(run(folder.path(), &format!("{words} Answers")), Ok(0));
    let after = parts(&at("shop.xlsx"));
    assert_eq!(after, parts(&at("copy.xlsx")));
    assert_eq!(std::fs::read_dir(folder.path()).expect("the folder").count(), 2);

    for (name, content) in &before {
        assert_eq!(after[name] == *content, !CHANGED.contains(&name.as_str()), "{name}");
    }
    let new: Vec<&String> = after.keys().filter(|name| !before.contains_key(*name)).collect();
    assert_eq!(new, ["xl/worksheets/sheet3.xml"]);

    let mut workbook: Xlsx<_> = open_workbook(at("shop.xlsx")).expect("a workbook");
    assert_eq!(workbook.sheet_names(), ["Sumps & more", "Picture", "Answers"]);
    let formulas = workbook.worksheet_formula("Sumps & more").expect("a sheet");
    assert_eq!(formulas.get_value((1, 2)).map(String::as_str), Some("150-10"));
    let answers = workbook.worksheet_range("Answers").expect("a sheet");
    // Dates have the look that they have on their own sheet.
    assert!(matches!(answers.get_value((1, 5)), Some(Data::DateTime(_))), "{answers:?}");

    let sheet = Sheet::read(&at("shop.xlsx"), Some("Answers"), None).expect("a sheet");
    let shown = Shown::of(&sheet);
    assert_eq!(shown.cell(0, "machine"), &Cell::Text("=1+1".to_owned()));
    assert_eq!(shown.cell(2, "machine"), &Cell::Text("a < b & \"c\"".to_owned()));
    assert_eq!(shown.cell(2, "sump.volume"), &Cell::Number(140.0));
    assert_eq!(shown.cell(2, "scrap"), &Cell::Percentage(0.05));
    assert_eq!(shown.cell(0, "seen").text(), "2026-03-02 06:00");
    // 200 · 8 % − 140 · 7 % = 6.2 L of concentrate.
    let Cell::Number(add) = shown.cell(2, "answer.add.0.volume [L]") else { panic!("{shown:?}") };
    crate::assert_near(*add, 6.2, 1e-12);

    // Next week's come beside them.
    assert_eq!(run(folder.path(), &format!("{words} Week_11")), Ok(0));
    let workbook: Xlsx<_> = open_workbook(at("shop.xlsx")).expect("a workbook");
    assert_eq!(workbook.sheet_names().len(), 4);
    for name in CHANGED {
        assert_ne!(parts(&at("shop.xlsx"))[name], after[name], "{name}");
    }
    assert_eq!(
        parts(&at("shop.xlsx"))["xl/worksheets/sheet3.xml"],
        after["xl/worksheets/sheet3.xml"]
    );
}

#[test]
fn a_sheet_that_is_there_and_a_file_that_is_no_excel_workbook_stay_as_they_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    shop(&at("shop.xlsx"));
    std::fs::write(at("shop.csv"), "sump.capacity,sump.volume\n200,140\n").expect("a file");
    let before = std::fs::read(at("shop.xlsx")).expect("a file");
    for (words, part) in [
        ("@shop.xlsx --new-sheet picture", "There is a sheet \"picture\" already"),
        ("@shop.xlsx --new-sheet a/b", "is no name of a sheet"),
        ("@shop.xlsx --new-sheet Week -o @shop.xlsx --force", "leave out --output"),
        ("@shop.xlsx --new-sheet Week -o @o.csv", "Give it the same ending"),
        ("@shop.csv --new-sheet Week", "goes into an Excel workbook"),
    ] {
        let said = run(folder.path(), &format!("rows top-up --units metric {words}"));
        let said = said.expect_err(words);
        assert!(said.contains(part), "{words}: {said}");
    }
    std::fs::write(at(".~lock.shop.xlsx#"), "").expect("a file");
    let said = run(folder.path(), "rows top-up @shop.xlsx --units metric --new-sheet Week");
    assert!(said.expect_err("it is open").contains("is open in a spreadsheet"));
    assert_eq!(std::fs::read(at("shop.xlsx")).expect("a file"), before);
}

/// Some programs declare the namespace of relationships at each sheet and not above them.
#[test]
fn a_namespace_that_is_declared_at_each_sheet_is_declared_at_the_new_one() {
    const DECLARED: &str =
        "xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"";
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("shop.xlsx");
    shop(&file);
    with_part(&file, "xl/workbook.xml", |workbook| {
        assert!(workbook.contains(DECLARED), "{workbook}");
        let workbook = workbook.replace(&format!(" {DECLARED}"), "");
        workbook.replace("<sheet ", &format!("<sheet {DECLARED} "))
    });
    let words = "rows top-up @shop.xlsx --units metric --new-sheet Answers";
    assert_eq!(run(folder.path(), words), Ok(0));
    let workbook = String::from_utf8(parts(&file)["xl/workbook.xml"].clone()).expect("text");
    assert!(workbook.contains(&format!("<sheet {DECLARED} name=\"Answers\"")), "{workbook}");
}

#[test]
fn a_workbook_whose_structure_is_protected_stays_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("shop.xlsx");
    shop(&file);
    with_part(&file, "xl/workbook.xml", |workbook| {
        workbook.replace("<sheets>", "<workbookProtection lockStructure=\"1\"/><sheets>")
    });
    let before = std::fs::read(&file).expect("a file");
    let words = "rows top-up @shop.xlsx --units metric --new-sheet Answers";
    let said = run(folder.path(), words).expect_err("it is protected");
    assert!(said.contains("cannot have a new sheet: its structure is protected"), "{said}");
    assert_eq!(std::fs::read(&file).expect("a file"), before);
}

/// Where days are counted from 1904, a date has the same number on the new sheet.
#[test]
fn dates_counted_from_1904_stay_the_same_days() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("shop.xlsx");
    shop(&file);
    with_part(&file, "xl/workbook.xml", |workbook| {
        assert!(workbook.contains("<workbookPr "), "{workbook}");
        workbook.replace("<workbookPr ", "<workbookPr date1904=\"1\" ")
    });
    let words = "rows top-up @shop.xlsx --units metric --new-sheet Answers";
    assert_eq!(run(folder.path(), words), Ok(0));
    let parts = parts(&file);
    for sheet in ["xl/worksheets/sheet1.xml", "xl/worksheets/sheet3.xml"] {
        let sheet = std::str::from_utf8(&parts[sheet]).expect("text");
        assert_eq!(sheet.matches("<v>46083.25</v>").count(), 2, "{sheet}");
    }
}
