//! The plan of a round over HTTP: its refusals and its job sheet.

use crate::problems::assert_problem;
use crate::server::{header, post, request};
use crate::{number, service};
use serde_json::Value;
use sumpwright_engine::sentence::round_to;

fn example() -> Value {
    serde_json::from_str(service("recharge").example).expect("an example is JSON")
}

/// What is wrong with a round is said of each sump at its place.
#[test]
fn a_round_is_refused_at_the_sumps_at_fault() {
    let mut heavy = example();
    heavy["sumps"][0]["chips"] = 5000.into();
    heavy["vessels"][3].as_object_mut().unwrap().remove("emptied_on_the_way");
    heavy.as_object_mut().unwrap().remove("chip_density");
    assert_problem(post("/v1/recharge", &heavy), 422, "unreachable", &["/sumps/0/chips"]);

    let mut twice = example();
    for sump in [1, 4] {
        twice["sumps"][sump]["name"] = twice["sumps"][0]["name"].clone();
    }
    let pointers = ["/sumps/1/name", "/sumps/4/name"];
    assert_problem(post("/v1/recharge", &twice), 422, "inconsistent", &pointers);
}

/// The job sheet of the demo round names every machine, trip and batch, with its
/// figures in the units that were asked for.
#[test]
fn a_round_can_be_printed_as_a_job_sheet() {
    let service = service("recharge");
    let question: Value = serde_json::from_str(service.example).expect("JSON");
    for question in [question.clone(), crate::catalogue::in_us_units(service, &question)] {
        let sheet = request("POST", "/v1/recharge").header("accept", "text/html").json(&question);
        let sheet = sheet.send().expect("a sheet");
        assert_eq!(header(&sheet, "content-type"), "text/html; charset=utf-8");
        let sheet = sheet.text().expect("a page");
        let record: Value = post("/v1/recharge", &question).json().expect("an answer");
        for sump in question["sumps"].as_array().expect("sumps") {
            assert!(
                sheet.contains(&format!("<strong>{}</strong>", sump["name"].as_str().unwrap()))
            );
        }
        let trips = record["answer"]["trips"].as_array().expect("trips").len();
        assert!(
            sheet.contains(&format!("Trip {trips}"))
                && !sheet.contains(&format!("Trip {}", trips + 1))
        );
        let clean = round_to(number(&record, "/answer/trips/6/clean"), 3);
        let unit = if question["units"] == "us" { "gal" } else { "L" };
        assert!(sheet.contains(&format!("<b>{clean} {unit}</b>")), "{clean} {unit}");
        for caution in record["cautions"].as_array().expect("cautions") {
            let words = caution["text"].as_str().unwrap().split('\'').next().unwrap();
            assert!(sheet.contains(words), "{words}");
        }
    }
}

/// A shop that says nothing of its vessels gets batches, quantities and a sheet, in
/// either system of units; a job sheet without trips has a line for each machine.
#[test]
fn a_round_without_vessels_has_a_sheet_without_trips() {
    let mut question = example();
    let members = question.as_object_mut().expect("a question");
    for member in ["vessels", "times", "chip_density"] {
        members.remove(member);
    }
    let record: Value = post("/v1/recharge", &question).json().expect("an answer");
    assert!(
        record["answer"].get("trips").is_none() && record["answer"].get("crew_hours").is_none()
    );
    let sheet = request("POST", "/v1/recharge").header("accept", "text/html").json(&question);
    let sheet = sheet.send().expect("a sheet").text().expect("a page");
    assert!(sheet.contains("Batch 1") && !sheet.contains("Trip 1"));
    for sump in question["sumps"].as_array().expect("sumps") {
        assert!(sheet.contains(&format!("<strong>{}</strong>", sump["name"].as_str().unwrap())));
    }
}

#[test]
fn what_a_caller_writes_is_text_on_the_sheet_and_never_markup() {
    let mut question: Value = serde_json::from_str(service("top-up").example).expect("JSON");
    question["reference"] = "<script>alert(1)</script>".into();
    let sheet = request("POST", "/v1/top-up").header("accept", "text/html").json(&question);
    let sheet = sheet.send().expect("a sheet").text().expect("a page");
    assert!(sheet.contains("&lt;script&gt;") && !sheet.contains("<script>"), "{sheet}");
}

#[test]
fn an_answer_without_steps_has_no_sheet() {
    let example = service("concentration").example;
    let asked = request("POST", "/v1/concentration")
        .header("accept", "text/html")
        .header("content-type", "application/json");
    assert_eq!(asked.body(example).send().expect("an answer").status(), 406);
}
