//! Cells that a spreadsheet would misread: percentages, formulas, and headings in capitals.

use super::messages::run;
use super::{Shown, over_http, rows};
use rust_xlsxwriter::{Format, Formula, Workbook};
use std::io::{Cursor, Read, Write};
use std::path::Path;
use sumpwright_client::Client;
use sumpwright_client::sheet::{Cell, Row, Sheet};
use sumpwright_openapi::table::TableOptions;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

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
        let output = at(&format!("{file}-answers.xlsx"));
        let arguments = ["--units", "metric", "--sheet", "sumps"];
        assert_eq!(rows(&arguments, &at(file), &output), 1, "{file}");
        let answered = Shown::read(&output);
        let wanted = "Target.concentration: this cell is a percentage, which shows 6% \
                      and holds 0.06. Format it as a number and type 6.";
        assert!(answered.problem(0).starts_with(wanted), "{file}: {}", answered.problem(0));
        assert_eq!(answered.cell(0, "answer.drain [L]"), &Cell::Blank, "{file}");
        assert_eq!(answered.problem(1), "", "{file}");
        assert_ne!(answered.cell(1, "answer.drain [L]"), &Cell::Blank, "{file}");
        for row in 0..2 {
            assert_eq!(answered.cell(row, "scrap"), &Cell::Percentage(0.05), "{file}");
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
    let written = Shown::read(&at("a.csv"));
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
        let options = TableOptions::default();
        let answered = client.solve_table("top-up", table.as_bytes(), &options).expect("a table");
        let mut answered = csv::Reader::from_reader(&answered[..]);
        let headings = answered.headers().expect("headings");
        let drain = headings.iter().position(|heading| heading == "answer.drain");
        let row = answered.records().next().expect("a row").expect("CSV");
        assert_eq!(row.get(drain.expect("a column")), Some("0.0"));
        let misspelt = table.replace("Draining", "Drainng");
        let refused = client.solve_table("top-up", misspelt.as_bytes(), &options);
        let said = refused.expect_err("it is misspelt").to_string();
        assert!(said.contains("Did you mean \"draining\"?"), "{said}");
    }
}

/// A workbook with a cell of each kind that has no value for a member.
fn odd(path: &Path) {
    let mut workbook = Workbook::new();
    let page = workbook.add_worksheet();
    for (column, heading) in (0..).zip(HEADINGS) {
        page.write_string(0, column, heading).expect("a heading");
    }
    let day = Format::new().set_num_format("dd.mm.yyyy");
    for row in 1..=4 {
        page.write_string(row, 0, format!("lathe {row}")).expect("a cell");
        for (column, number) in (1..).zip([200.0, 140.0, 7.0, 8.0]) {
            page.write_number(row, column, number).expect("a cell");
        }
    }
    page.write_number_with_format(1, 3, 46_026.0, &day).expect("a date");
    page.write_formula(2, 2, Formula::new("=1/0").set_result("#DIV/0!")).expect("a formula");
    page.write_formula(3, 2, Formula::new("=150-10").set_result("12345")).expect("a formula");
    page.merge_range(4, 2, 5, 2, "", &Format::new()).expect("merged cells");
    page.write_number(4, 2, 140.0).expect("a cell");
    page.write_string(5, 0, "lathe 5").expect("a cell");
    for (column, number) in [(1, 200.0), (3, 7.0), (4, 8.0)] {
        page.write_number(5, column, number).expect("a cell");
    }
    workbook.save(path).expect("a file");
}

/// A part of a workbook with other text in it.
pub(super) fn with_part(path: &Path, part: &str, change: impl Fn(&str) -> String) {
    let file = std::fs::read(path).expect("a file");
    let mut archive = ZipArchive::new(Cursor::new(file)).expect("an archive");
    let mut written = ZipWriter::new(std::fs::File::create(path).expect("a file"));
    for place in 0..archive.len() {
        let mut own = archive.by_index(place).expect("a part");
        let mut content = Vec::new();
        own.read_to_end(&mut content).expect("a part");
        if own.name() == part {
            content = change(std::str::from_utf8(&content).expect("text")).into_bytes();
        }
        written.start_file(own.name(), SimpleFileOptions::default()).expect("a part");
        written.write_all(&content).expect("a part");
    }
    written.finish().expect("a file");
}

/// What a cell cannot be is told with its column and with what to do.
#[test]
fn a_cell_without_a_value_says_why() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    odd(&at("odd.xlsx"));
    // As a program writes a formula that does not calculate.
    with_part(&at("odd.xlsx"), "xl/worksheets/sheet1.xml", |sheet| {
        assert!(sheet.contains("<v>12345</v>"), "{sheet}");
        sheet.replace("<v>12345</v>", "<v></v>")
    });
    let failed = rows(&["--units", "metric"], &at("odd.xlsx"), &at("o.csv"));
    let answered = Shown::read(&at("o.csv"));
    let problems: Vec<String> = (0..5).map(|row| answered.problem(row)).collect();
    for (row, part) in [
        (
            0,
            "sump.concentration: the spreadsheet made the date 2026-01-04 of what was \
             typed, 4.1 perhaps.",
        ),
        (1, "sump.volume: the formula in this cell comes to #DIV/0!."),
        (
            2,
            "sump.volume: the file has a formula here without its value. Open the \
             file in a spreadsheet and save it once.",
        ),
        (4, "sump.volume: this cell is merged with C5 and empty."),
    ] {
        assert!(problems[row].starts_with(part), "{}", problems[row]);
    }
    assert_eq!((failed, problems[3].as_str()), (4, ""));
}

/// The same in an OpenDocument workbook, as LibreOffice writes such cells.
#[test]
fn a_cell_of_an_open_document_without_a_value_says_why() {
    const FULL: &str = "<table:table-cell office:value-type=\"float\" office:value=\"200\">\
                        <text:p/></table:table-cell>";
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("odd.ods");
    let of_140 = FULL.replace("200", "140");
    let both = format!("{FULL}{of_140}");
    for (cells, part) in [
        (
            format!(
                "{FULL}<table:table-cell table:formula=\"of:=1/0\" office:value-type=\"string\" \
                 office:string-value=\"\" calcext:value-type=\"error\" xmlns:calcext=\"urn:org:\
                 documentfoundation:names:experimental:calc:xmlns:calcext:1.0\">\
                 <text:p>#DIV/0!</text:p></table:table-cell>"
            ),
            "the formula in this cell comes to #DIV/0!.",
        ),
        (
            format!("{FULL}<table:table-cell table:formula=\"of:=150-10\"/>"),
            "the file has a formula here without its value.",
        ),
        (
            format!(
                "{FULL}<table:table-cell office:value-type=\"date\" \
                 office:date-value=\"2026-01-04\"><text:p/></table:table-cell>"
            ),
            "the spreadsheet made the date 2026-01-04 of what was typed",
        ),
        (
            FULL.replacen("cell ", "cell table:number-columns-spanned=\"2\" ", 1)
                + "<table:covered-table-cell/>",
            "this cell is merged with C3 and empty.",
        ),
    ] {
        open_document(&file);
        with_part(&file, "content.xml", |content| {
            assert!(content.contains(&both), "{content}");
            content.replacen(&both, &cells, 1)
        });
        let words = "rows top-up @odd.ods -o @o.csv --force --units metric --sheet sumps";
        assert_eq!(run(folder.path(), words), Ok(1), "{part}");
        let problem = Shown::read(&folder.path().join("o.csv")).problem(0);
        assert!(problem.starts_with(&format!("sump.volume: {part}")), "{part}: {problem}");
    }
}

/// The file's own columns are what they were: dates stay dates, and blank rows are no rows.
#[test]
fn dates_and_blank_rows_stay_what_they_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let mut workbook = Workbook::new();
    let page = workbook.add_worksheet();
    let (day, time) =
        (Format::new().set_num_format("yyyy-mm-dd"), Format::new().set_num_format("d/m/yy h:mm"));
    page.write_string(0, 0, "reference").expect("a heading");
    page.write_string(0, 5, "seen").expect("a heading");
    for (column, heading) in (1..).zip(&HEADINGS[1..5]) {
        page.write_string(0, column, *heading).expect("a heading");
    }
    for row in [1, 4] {
        page.write_number_with_format(row, 0, 46_083.0, &day).expect("a date");
        for (column, number) in (1..).zip([200.0, 140.0, 7.0, 8.0]) {
            page.write_number(row, column, number).expect("a cell");
        }
        page.write_number_with_format(row, 5, 46_083.25, &time).expect("a moment");
    }
    workbook.save(at("days.xlsx")).expect("a file");
    for output in ["o.xlsx", "o.csv"] {
        let words = format!("rows top-up @days.xlsx -o @{output} --units metric");
        assert_eq!(run(folder.path(), &words), Ok(0));
        let sheet = Sheet::read(&at(output), None, None).expect("it can be read");
        let filled: Vec<&Row> = sheet.rows.iter().filter(|row| !row.is_blank()).collect();
        assert_eq!(filled.iter().map(|row| row.place).collect::<Vec<_>>(), [2, 5], "{output}");
        for row in filled {
            let shown = [row.cells[0].text(), row.cells[5].text()];
            assert_eq!(shown, ["2026-03-02", "2026-03-02 06:00"], "{output}");
        }
    }
}
