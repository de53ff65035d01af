//! Cells that a spreadsheet would misread: percentages, formulas, and headings in capitals.

use super::{over_http, rows};
use crate::service;
use rust_xlsxwriter::{Format, Workbook};
use std::io::Write;
use std::path::Path;
use sumpwright_client::Client;
use sumpwright_client::rows::percentages;
use sumpwright_client::sheet::{Cell, Sheet};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

const HEADINGS: [&str; 6] = [
    "machine",
    "sump.capacity",
    "sump.volume",
    "sump.concentration",
    "Target.concentration",
    "scrap",
];

/// A workbook that begins below an empty row: lathe 1 with 6% typed for its target, lathe 2
/// with 8, and a column of the caller's own that may contain a percentage.
fn excel(path: &Path) {
    let mut workbook = Workbook::new();
    workbook.add_worksheet().set_name("notes").expect("a name");
    let page = workbook.add_worksheet().set_name("sumps").expect("a name");
    let (percent, text) =
        (Format::new().set_num_format("0.0%"), Format::new().set_num_format("0.0\" %\""));
    for (column, heading) in (1..).zip(HEADINGS) {
        page.write_string(1, column, heading).expect("a heading");
    }
    for (row, name, target) in [(2, "lathe 1", 0.06), (3, "lathe 2", 8.0)] {
        page.write_string(row, 1, name).expect("a cell");
        for (column, number) in (2..).zip([200.0, 140.0]) {
            page.write_number(row, column, number).expect("a cell");
        }
        // A literal percent sign after the number does not change its value.
        page.write_number_with_format(row, 4, 7.0, &text).expect("a cell");
        let format = if target < 1.0 { &percent } else { &text };
        page.write_number_with_format(row, 5, target, format).expect("a cell");
        page.write_number_with_format(row, 6, 0.05, &percent).expect("a cell");
    }
    workbook.save(path).expect("a file");
}

/// The same as a minimal OpenDocument workbook.
fn open_document(path: &Path) {
    let cell = |kind: &str, value: f64| {
        format!(
            "<table:table-cell office:value-type=\"{kind}\" office:value=\"{value}\"><text:p/>\
             </table:table-cell>"
        )
    };
    let text = |text: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p>\
             </table:table-cell>"
        )
    };
    let headings = HEADINGS.map(text).concat();
    let row = |name: &str, kind: &str, target: f64| {
        let cells = [
            text(name),
            cell("float", 200.0),
            cell("float", 140.0),
            cell("float", 7.0),
            cell(kind, target),
            cell("percentage", 0.05),
        ];
        format!("<table:table-row><table:table-cell/>{}</table:table-row>", cells.concat())
    };
    let content = format!(
        "<?xml version=\"1.0\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body>\
         <office:spreadsheet><table:table table:name=\"notes\"/><table:table table:name=\"sumps\">\
         <table:table-row table:number-rows-repeated=\"1\"><table:table-cell \
         table:number-columns-repeated=\"7\"/></table:table-row>\
         <table:table-row><table:table-cell/>{headings}</table:table-row>{}{}</table:table>\
         </office:spreadsheet></office:body></office:document-content>",
        row("lathe 1", "percentage", 0.06),
        row("lathe 2", "float", 8.0),
    );
    let manifest = "<?xml version=\"1.0\"?><manifest:manifest \
                    xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"/>";
    let mut file = ZipWriter::new(std::fs::File::create(path).expect("a file"));
    for (name, part) in [
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", &content),
        ("META-INF/manifest.xml", manifest),
    ] {
        file.start_file(name, SimpleFileOptions::default()).expect("a part");
        file.write_all(part.as_bytes()).expect("a part");
    }
    file.finish().expect("a file");
}

#[test]
fn six_per_cent_in_a_cell_is_not_taken_for_six_hundredths() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    excel(&at("sumps.xlsx"));
    open_document(&at("sumps.ods"));
    for file in ["sumps.xlsx", "sumps.ods"] {
        let sheet = Sheet::read(&at(file), Some("sumps")).expect("it can be read");
        let said: Vec<String> = percentages(&sheet, service("top-up")).collect();
        let wanted = "Row 3, column \"Target.concentration\": this cell is a percentage, which \
                      shows 6% and holds 0.06. Format it as a number and type 6.";
        assert_eq!(said, [wanted], "{file}");

        let output = at(&format!("{file}-answers.xlsx"));
        let arguments = ["--units", "metric", "--sheet", "sumps"];
        assert_eq!(rows(&arguments, &at(file), &output), 1, "{file}");
        let answered = Sheet::read(&output, None).expect("it can be read");
        let Some(Cell::Text(problem)) = answered.rows[0].last() else { panic!("{answered:?}") };
        assert!(problem.contains("write 6, without the per cent sign"), "{file}: {problem}");
        assert_eq!(answered.rows[1].last(), Some(&Cell::Blank), "{file}");
        let scrap = answered.headings.iter().position(|heading| heading == "scrap");
        for row in &answered.rows {
            assert_eq!(row[scrap.expect("a column")], Cell::Percentage(0.05), "{file}");
        }
    }
}

#[test]
fn a_csv_file_holds_nothing_that_a_spreadsheet_executes() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let table = "=A1,reference,sump.capacity,sump.volume,sump.concentration,target.concentration\n\
                 =1+1,+49 lathe,200,140,7,8\n\
                 -5.5,\"=HYPERLINK(\"\"http://x\"\")\",200,140,7,8\n";
    std::fs::write(at("sumps.csv"), table).expect("a file");
    assert_eq!(rows(&["--units", "metric"], &at("sumps.csv"), &at("a.csv")), 0);
    let written = Sheet::read(&at("a.csv"), None).expect("it can be read");
    let text = |text: &str| Cell::Text(text.to_owned());
    assert_eq!(written.headings[0], "'=A1");
    assert_eq!(written.rows[0][..2], [text("'=1+1"), text("'+49 lathe")]);
    assert_eq!(written.rows[1][..2], [Cell::Number(-5.5), text("'=HYPERLINK(\"http://x\")")]);
}

/// A heading in capitals names the member, both in this process and on a server.
#[test]
fn headings_in_capitals_are_members_here_and_at_a_server() {
    let table = "Units,Sump capacity,SUMP.VOLUME,sump.reading.Method,sump.reading.brix,\
                 sump.reading.factor,target.concentration,Draining\n\
                 us,50,50,refractometer,3,1.25,6,not_allowed\n";
    for client in [Client::in_process(), over_http()] {
        let answered = client.solve_table("top-up", table.as_bytes(), &[]).expect("a table");
        let answered = Sheet::from_csv(&answered);
        let drain = answered.headings.iter().position(|heading| heading == "answer.drain");
        assert_eq!(answered.rows[0][drain.expect("a column")], Cell::Number(0.0));
        let misspelt = table.replace("Draining", "Drainng");
        let refused = client.solve_table("top-up", misspelt.as_bytes(), &[]);
        let said = refused.expect_err("it is misspelt").to_string();
        assert!(said.contains("Did you mean \"draining\"?"), "{said}");
    }
}
