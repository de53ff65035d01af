//! What every job sheet holds.

use super::page;
use sumpwright_engine::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use sumpwright_engine::quantity::{Quantity, UnitSystem, Volume};
use sumpwright_engine::sentence;
use sumpwright_engine::text::{Caution, Finding};
use sumpwright_openapi::sheet::SheetToDraw;

fn sheet(parts: Vec<SheetPart>, records: SheetRecords) -> SheetToDraw {
    SheetToDraw {
        calculation: "invented",
        reference: Some("mill <3> & \"lathe\"".to_owned()),
        units: UnitSystem::Us,
        statement: sentence!("Pour it in."),
        findings: vec![Finding::act("too-old", "", "The reading is a week old.")],
        sheet: JobSheet { parts, notes: vec![sentence!("Slowly.")], records },
        cautions: vec![Caution::MACHINE],
        pictures: Vec::new(),
    }
}

fn pour(litres: f64) -> SheetTask {
    SheetTask::of(sentence!("Pour {} of {} in.", Volume::measure_of(litres), "water <b>"))
}

#[test]
fn each_step_has_its_box_and_its_amount_stands_out() {
    let task = SheetTask { times: 3, ..pour(378.541_178_4) }.at("mill <3>").read();
    let page = page(&sheet(vec![SheetPart::plain(vec![task, pour(2.0)])], SheetRecords::Once));
    assert_eq!(page.matches("type=\"checkbox\"").count(), 4, "{page}");
    assert!(page.contains("<b>100 gal</b> of water &lt;b&gt; in."), "{page}");
    assert!(page.contains("<strong>mill &lt;3&gt;:</strong>") && page.contains("\"reading\""));
    let often = SheetTask { times: 40, ..pour(1.0) };
    let page = super::page(&sheet(vec![SheetPart::plain(vec![often])], SheetRecords::Once));
    assert_eq!(page.matches("type=\"checkbox\"").count(), 1);
    assert!(page.contains("<b>40 times</b>"), "{page}");
}

#[test]
fn the_caller_is_quoted_and_the_page_says_what_it_is() {
    let page = page(&sheet(Vec::new(), SheetRecords::BeforeAndAfter));
    let quoted = "mill &lt;3&gt; &amp; &quot;lathe&quot;";
    assert!(page.contains(&format!("<title>Job sheet: invented, {quoted}</title>")), "{page}");
    assert!(page.contains("<html lang=\"en\">") && page.contains("name=\"viewport\""));
    assert!(page.contains("size: letter") && page.contains("There are no steps: see above."));
    for line in ["Date", "Who", "Reading before", "Reading after", "Signature"] {
        assert!(page.contains(&format!("<p>{line}</p>")), "{line}");
    }
    let place = |text: &str| page.find(text).unwrap_or_else(|| panic!("no {text:?}: {page}"));
    assert!(place("Pour it in.") < place("Act first:"));
    assert!(place("Act first:") < place("Slowly.") && place("Slowly.") < place("Lock it out"));
    assert!(place("Lock it out") < place("<p>Signature"));
}

#[test]
fn a_job_that_is_done_again_has_a_line_for_each_time() {
    let page = page(&sheet(vec![SheetPart::plain(vec![pour(1.0)])], SheetRecords::EachTime));
    assert_eq!(page.matches("<tr>").count(), 9);
}

#[test]
fn a_long_job_stands_in_two_columns() {
    let class = |steps: usize| {
        let tasks = (0..steps).map(|_| pour(1.0)).collect();
        let page = page(&sheet(vec![SheetPart::plain(tasks)], SheetRecords::Once));
        ["wide", "medium", "close", "dense"]
            .map(|class| page.contains(&format!("class=\"sheet {class}\"")))
    };
    assert_eq!(class(4), [true, false, false, false]);
    assert_eq!(class(20), [false, false, true, false]);
    assert_eq!(class(60), [false, false, false, true]);
}
